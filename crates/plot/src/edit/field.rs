//! The cells of a tree's line that may be changed: all but its name.

use crate::{Role, Status, TreeCell};

macro_rules! fields {
    ($($(#[$doc:meta])* $variant:ident = $word:literal),+ $(,)?) => {
        /// A cell of a tree's line, by its column in `trees.csv`.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum TreeField { $($(#[$doc])* $variant),+ }

        impl TreeField {
            /// All, in the order in which a new file has them.
            pub const ALL: &[Self] = &[$(Self::$variant),+];

            /// Its column's name.
            pub fn as_str(self) -> &'static str {
                match self { $(Self::$variant => $word),+ }
            }
        }
    };
}
fields!(
    /// Row number.
    Row = "row",
    /// Place number.
    Place = "place",
    /// Metres along the row.
    X = "x_m",
    /// Metres across the rows.
    Y = "y_m",
    /// Degrees east.
    Lon = "lon",
    /// Degrees north.
    Lat = "lat",
    /// What the tag says.
    Tag = "tag",
    /// Name shared with other copies.
    Genotype = "genotype",
    /// Seed parent.
    SeedParent = "seed_parent",
    /// Pollen parent.
    PollenParent = "pollen_parent",
    /// Year of the cross.
    CrossYear = "cross_year",
    /// Seedling number.
    SeedlingNo = "seedling_no",
    /// What it is there for.
    Role = "role",
    /// The tree that carries this graft.
    GraftedOn = "grafted_on",
    /// Whether it stands.
    Status = "status",
    /// When it was planted.
    PlantedOn = "planted_on",
    /// When it was taken out or died.
    RemovedOn = "removed_on",
    /// Free words.
    Note = "note",
);

impl TreeField {
    /// The field of a column's name.
    pub fn parse(text: &str) -> Option<Self> {
        Self::ALL.iter().copied().find(|field| field.as_str() == text)
    }

    /// Whether two texts say the same in this cell: an empty status and `alive` do.
    pub fn says_the_same(self, one: &str, other: &str) -> bool {
        match self {
            Self::Status => one == other || Status::parse(one) == Status::parse(other),
            Self::Role => one == other || Role::parse(one) == Role::parse(other),
            _ => one == other,
        }
    }
}

impl From<TreeCell> for TreeField {
    fn from(cell: TreeCell) -> Self {
        match cell {
            TreeCell::Status => Self::Status,
            TreeCell::Note => Self::Note,
        }
    }
}
