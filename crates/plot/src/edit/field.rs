//! The cells of a tree's line that may be changed: all but its name.

use language::say;

use crate::words::cell_of;
use crate::{Refusal, Role, Status, Tree, TreeCell, TreeDraft};

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

    /// Its column in the trade's words.
    pub fn label(self) -> &'static str {
        match self {
            Self::Row => say!("Row"),
            Self::Place => say!("Place"),
            Self::X | Self::Y => say!("Metres"),
            Self::Lon | Self::Lat => say!("Degrees"),
            Self::Tag => say!("Tag"),
            Self::Genotype => say!("Genotype"),
            Self::SeedParent => say!("Seed parent"),
            Self::PollenParent => say!("Pollen parent"),
            Self::CrossYear => say!("Year of the cross"),
            Self::SeedlingNo => say!("Seedling number"),
            Self::Role => say!("Kind"),
            Self::GraftedOn => say!("Grafted on"),
            Self::Status => say!("State"),
            Self::PlantedOn => say!("Planted on"),
            Self::RemovedOn => say!("Gone on"),
            Self::Note => say!("Note"),
        }
    }

    /// What a tree's cell says.
    pub fn of(self, tree: &Tree) -> String {
        self.in_draft(tree.draft())
    }

    /// What the cell of a draft says.
    pub fn in_draft(self, draft: &TreeDraft) -> String {
        match self {
            Self::Tag => cell_of(draft.tag.as_deref()),
            Self::Genotype => cell_of(draft.genotype.as_ref()),
            Self::SeedParent => cell_of(draft.cross.seed_parent.as_deref()),
            Self::PollenParent => cell_of(draft.cross.pollen_parent.as_deref()),
            Self::CrossYear => cell_of(draft.cross_year),
            Self::SeedlingNo => cell_of(draft.seedling_no.as_deref()),
            Self::Role => draft.role.as_str().to_owned(),
            Self::GraftedOn => cell_of(draft.grafted_on.as_ref()),
            Self::Status => draft.status.as_str().to_owned(),
            Self::PlantedOn => cell_of(draft.planted_on),
            Self::RemovedOn => cell_of(draft.removed_on),
            Self::Note => cell_of(draft.note.as_deref()),
            Self::Row => cell_of(draft.location.row),
            Self::Place => cell_of(draft.location.place),
            Self::X => cell_of(draft.location.spot.map(|spot| spot.x_m)),
            Self::Y => cell_of(draft.location.spot.map(|spot| spot.y_m)),
            Self::Lon => cell_of(draft.location.globe.map(|globe| globe.lon)),
            Self::Lat => cell_of(draft.location.globe.map(|globe| globe.lat)),
        }
    }

    /// Whether two texts say the same in this cell: an empty status and `alive` do.
    pub fn says_the_same(self, one: &str, other: &str) -> bool {
        match self {
            Self::Status => one == other || Status::parse(one) == Status::parse(other),
            Self::Role => one == other || Role::parse(one) == Role::parse(other),
            _ => one == other,
        }
    }

    /// Whether a cell that says `now` may be changed from one text to another.
    ///
    /// # Errors
    /// It says neither what the change comes from nor what it leads to.
    pub fn check(self, now: &str, from: &str, to: &str) -> Result<(), Refusal> {
        if self.says_the_same(now, from) || self.says_the_same(now, to) {
            return Ok(());
        }
        let expected = say!("\"{from}\", as the tree had when it was changed");
        Err(Refusal::new(self.as_str(), format!("\"{now}\""), expected))
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
