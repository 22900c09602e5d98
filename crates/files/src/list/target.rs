//! What a column of a list is taken as.

use plot::TreeField;

/// What a column of a list is taken as.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Target {
    /// Nothing: it is left out.
    Skip,
    /// The tree's own name, `tree_id`.
    TreeId,
    /// One column of `trees.csv`.
    Field(TreeField),
    /// Row and place in one cell, such as `3/12` or `R3 P12`.
    RowPlace,
    /// Both parents in one cell, such as `Marl × TR-9`.
    Cross,
}

use TreeField as F;

impl Target {
    /// All of them, in the order in which a person chooses.
    pub fn all() -> impl Iterator<Item = Self> {
        let fields = F::ALL.iter().map(|&field| Self::Field(field));
        [Self::Skip, Self::TreeId, Self::RowPlace, Self::Cross].into_iter().chain(fields)
    }

    /// A word for it: the column's name in `trees.csv`, where it is one.
    pub fn as_str(self) -> &'static str {
        match self {
            Self::Skip => "skip",
            Self::TreeId => "tree_id",
            Self::Field(field) => field.as_str(),
            Self::RowPlace => "row_place",
            Self::Cross => "cross",
        }
    }

    /// The target of such a word.
    pub fn parse(word: &str) -> Option<Self> {
        Self::all().find(|target| target.as_str() == word)
    }

    /// Whether several columns may be taken as it.
    pub fn takes_several(self) -> bool {
        matches!(self, Self::Skip | Self::Field(F::Note))
    }

    /// Whether its cells are days.
    pub fn is_date(self) -> bool {
        matches!(self, Self::Field(F::PlantedOn | F::RemovedOn))
    }
}
