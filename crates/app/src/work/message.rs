//! What page, keeper and judge say to each other.

use files::FileSet;
use proof::Report;
use serde::{Deserialize, Serialize};
use serde_bytes::ByteBuf;

/// What the page says to the keeper.
#[derive(Debug, Serialize, Deserialize)]
pub enum ToKeeper {
    /// Keep this plot from now on; the one kept so far stays on the shelf.
    Put(NewPlot),
    /// Keep this line of `scores.csv`.
    Append {
        /// Counts the lines of this page, from 1.
        nth: u64,
        /// The line, with its end.
        line: ByteBuf,
    },
    /// A copy outside of this browser now holds every line up to now.
    Copied {
        /// When it was made, milliseconds since 1970.
        at_ms: u64,
    },
    /// Take a plot from the shelf.
    Bring {
        /// Its id.
        id: String,
    },
    /// Forget a plot of the shelf for good.
    Drop {
        /// Its id.
        id: String,
    },
    /// Put the open plot on the shelf; nothing is open then.
    Close,
    /// Ask the tab that writes to hand over.
    TakeOver,
}

/// What the keeper says to the page.
#[derive(Debug, Serialize, Deserialize)]
pub enum FromKeeper {
    /// What it can do in this tab, and what it has kept; said at the start, after `Bring`, and
    /// when another tab handed over.
    Ready {
        /// What it can do.
        standing: Standing,
        /// The plot that was open last.
        plot: Option<Kept>,
    },
    /// The plots on the shelf, the newest first.
    Shelf(Vec<OnShelf>),
    /// The plot is on disk.
    PutDone,
    /// Every line up to the `nth` is on disk.
    Appended {
        /// As in [`ToKeeper::Append`].
        nth: u64,
    },
    /// Something could not be kept, in words; what was kept before stays.
    Trouble(String),
}

/// What the keeper can do in this tab.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
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

/// A plot to be kept.
#[derive(Debug, Serialize, Deserialize)]
pub struct NewPlot {
    /// A new id.
    pub id: String,
    /// The plot's name.
    pub name: String,
    /// Its files.
    pub files: Files,
    /// What copies outside hold.
    pub outside: Outside,
}

/// What copies outside of this browser hold.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Outside {
    /// When the last one was made, milliseconds since 1970; none: there is none.
    pub at_ms: Option<u64>,
    /// Lines of `scores.csv` that it lacks.
    pub lacks: u64,
}

/// A plot as it was kept.
#[derive(Debug, Serialize, Deserialize)]
pub struct Kept {
    /// Its id.
    pub id: String,
    /// Its files as they were put.
    pub files: Files,
    /// The lines of `scores.csv` taken since.
    pub lines: ByteBuf,
    /// What copies outside hold.
    pub outside: Outside,
    /// Bytes that could not be read back.
    pub torn: u64,
}

/// A plot on the shelf.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct OnShelf {
    /// Its id.
    pub id: String,
    /// Its name.
    pub name: String,
    /// When it was put, milliseconds since 1970.
    pub put_ms: u64,
    /// What copies outside hold.
    pub outside: Outside,
}

/// What the page says to the judge.
#[derive(Debug, Serialize, Deserialize)]
pub enum ToJudge {
    /// From now on it is about this plot.
    Plot(Files),
    /// A line was added to `scores.csv`.
    Line(ByteBuf),
    /// Judge a disease, in place of whatever runs.
    Judge {
        /// The disease.
        disease: String,
        /// The plot's version, to come back with the answer.
        version: u64,
    },
    /// Stop whatever runs.
    Stop,
}

/// What the judge says to the page.
#[derive(Debug, Serialize, Deserialize)]
pub enum FromJudge {
    /// How far it is.
    Progress {
        /// The disease.
        disease: String,
        /// Steps done.
        done: u64,
        /// Steps in all, as far as is known.
        of: u64,
    },
    /// It is done.
    Done {
        /// As asked.
        version: u64,
        /// What was found.
        report: Box<Report>,
    },
    /// It cannot be done, in words.
    Unusable {
        /// The disease.
        disease: String,
        /// As asked.
        version: u64,
        /// Why.
        why: String,
    },
}

/// A plot folder's files as they travel.
#[derive(Debug, Serialize, Deserialize)]
pub struct Files(Vec<(String, ByteBuf)>);

impl Files {
    /// Name and bytes of each.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &[u8])> {
        self.0.iter().map(|(name, bytes)| (name.as_str(), bytes.as_slice()))
    }
}

impl From<FileSet> for Files {
    fn from(files: FileSet) -> Self {
        Self(files.into_iter().map(|(name, bytes)| (name, ByteBuf::from(bytes))).collect())
    }
}

impl From<&FileSet> for Files {
    fn from(files: &FileSet) -> Self {
        files.clone().into()
    }
}

impl From<Files> for FileSet {
    fn from(files: Files) -> Self {
        files.0.into_iter().map(|(name, bytes)| (name, bytes.into_vec())).collect()
    }
}
