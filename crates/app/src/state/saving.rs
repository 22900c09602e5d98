//! What is on disk: how many scores were taken, how many the keeper has acknowledged.

/// How far the scores are on disk.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Saving {
    /// Scores taken since the page was loaded.
    pub taken: u64,
    /// Of these, acknowledged by the keeper.
    pub kept: u64,
    /// Scores that no copy outside of this browser holds yet.
    pub only_here: u64,
    /// What the keeper can do here.
    pub standing: Standing,
    /// What the keeper could not do, in words.
    pub trouble: Option<String>,
}

/// What the keeper can do in this tab.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Standing {
    /// It has not answered yet.
    #[default]
    Starting,
    /// Every score is written and flushed.
    Writing,
    /// Another tab writes; this one only reads.
    ReadOnly,
    /// This browser gives no storage: scores do not survive the tab.
    Nowhere,
}

impl Saving {
    /// Whether every score taken is on disk.
    pub fn is_all_kept(&self) -> bool {
        self.taken == self.kept
    }
}
