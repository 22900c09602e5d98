//! The cells of a tree's line that may be changed: all but its name.

use crate::words::cell_of as say;
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
            Self::Row => "Row",
            Self::Place => "Place",
            Self::X | Self::Y => "Metres",
            Self::Lon | Self::Lat => "Degrees",
            Self::Tag => "Tag",
            Self::Genotype => "Genotype",
            Self::SeedParent => "Seed parent",
            Self::PollenParent => "Pollen parent",
            Self::CrossYear => "Year of the cross",
            Self::SeedlingNo => "Seedling number",
            Self::Role => "Kind",
            Self::GraftedOn => "Grafted on",
            Self::Status => "State",
            Self::PlantedOn => "Planted on",
            Self::RemovedOn => "Gone on",
            Self::Note => "Note",
        }
    }

    /// What a tree's cell says.
    pub fn of(self, tree: &Tree) -> String {
        self.in_draft(tree.draft())
    }

    /// What the cell of a draft says.
    pub fn in_draft(self, draft: &TreeDraft) -> String {
        match self {
            Self::Tag => say(draft.tag.as_deref()),
            Self::Genotype => say(draft.genotype.as_ref()),
            Self::SeedParent => say(draft.cross.seed_parent.as_deref()),
            Self::PollenParent => say(draft.cross.pollen_parent.as_deref()),
            Self::CrossYear => say(draft.cross_year),
            Self::SeedlingNo => say(draft.seedling_no.as_deref()),
            Self::Role => draft.role.as_str().to_owned(),
            Self::GraftedOn => say(draft.grafted_on.as_ref()),
            Self::Status => draft.status.as_str().to_owned(),
            Self::PlantedOn => say(draft.planted_on),
            Self::RemovedOn => say(draft.removed_on),
            Self::Note => say(draft.note.as_deref()),
            Self::Row => say(draft.location.row),
            Self::Place => say(draft.location.place),
            Self::X => say(draft.location.spot.map(|spot| spot.x_m)),
            Self::Y => say(draft.location.spot.map(|spot| spot.y_m)),
            Self::Lon => say(draft.location.globe.map(|globe| globe.lon)),
            Self::Lat => say(draft.location.globe.map(|globe| globe.lat)),
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
        let expected = format!("\"{from}\", as the tree had when it was changed");
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
