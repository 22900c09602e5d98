//! A tree or graft: what it is, where it stands, since when and until when.

use language::say;
use std::sync::Arc;
use time::Date;

use crate::{CrossKey, GenotypeId, Globe, Spot, TreeId, TreeIx};

/// What a tree is there for.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Role {
    /// A seedling of a cross, to be judged.
    #[default]
    Seedling,
    /// A named sort.
    Named,
    /// Known to be susceptible: a witness.
    SusceptibleCheck,
    /// Known to be resistant.
    ResistantCheck,
    /// Planted to fill an edge; not judged.
    Guard,
}

/// Whether something stands there.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Status {
    /// It stands.
    #[default]
    Alive,
    /// It died.
    Dead,
    /// It was taken out.
    Removed,
    /// A place with nothing in it.
    Empty,
}

macro_rules! words {
    ($name:ident: $($variant:ident = $word:literal),+ $(,)?) => {
        impl $name {
            /// All of them, in the order of the documentation.
            pub const ALL: &[Self] = &[$(Self::$variant),+];
            /// The word that files use.
            pub fn as_str(self) -> &'static str {
                match self { $(Self::$variant => $word),+ }
            }
            /// Reads the word that files use; empty is the default, any other word `None`.
            pub fn parse(text: &str) -> Option<Self> {
                match text {
                    "" => Some(Self::default()),
                    $($word => Some(Self::$variant),)+
                    _ => None,
                }
            }
        }
    };
}
words!(Role: Seedling = "seedling", Named = "named", SusceptibleCheck = "susceptible_check",
       ResistantCheck = "resistant_check", Guard = "guard");
words!(Status: Alive = "alive", Dead = "dead", Removed = "removed", Empty = "empty");

/// Where a line of `trees.csv` says that a tree stands; each way on its own may be absent.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct WhereGiven {
    /// Row number.
    pub row: Option<i32>,
    /// Place number.
    pub place: Option<i32>,
    /// Metres in the plot's plane; wins over row and place.
    pub spot: Option<Spot>,
    /// Degrees on the globe; used when `spot` is absent.
    pub globe: Option<Globe>,
}

/// A tree as a file or a person describes it, not yet part of a plot.
#[derive(Clone, Debug, PartialEq)]
pub struct TreeDraft {
    /// Its own name.
    pub id: TreeId,
    /// Where it is said to stand.
    pub location: WhereGiven,
    /// What its tag says.
    pub tag: Option<Arc<str>>,
    /// Name shared with other copies of the same genotype.
    pub genotype: Option<GenotypeId>,
    /// Its parents.
    pub cross: CrossKey,
    /// Year of the cross.
    pub cross_year: Option<i32>,
    /// Seedling number within cross and year.
    pub seedling_no: Option<Arc<str>>,
    /// What it is there for.
    pub role: Role,
    /// The tree that carries this graft.
    pub grafted_on: Option<TreeId>,
    /// Whether it stands.
    pub status: Status,
    /// When it was planted.
    pub planted_on: Option<Date>,
    /// When it was taken out or died.
    pub removed_on: Option<Date>,
    /// Free words.
    pub note: Option<Arc<str>>,
}

impl TreeDraft {
    /// A draft with nothing but a name.
    pub fn new(id: TreeId) -> Self {
        Self {
            id,
            location: WhereGiven::default(),
            tag: None,
            genotype: None,
            cross: CrossKey { seed_parent: None, pollen_parent: None },
            cross_year: None,
            seedling_no: None,
            role: Role::default(),
            grafted_on: None,
            status: Status::default(),
            planted_on: None,
            removed_on: None,
            note: None,
        }
    }
}

/// A tree of a plot: a draft whose place is settled.
#[derive(Clone, Debug, PartialEq)]
pub struct Tree {
    pub(crate) draft: TreeDraft,
    pub(crate) spot: Spot,
    pub(crate) carrier: Option<TreeIx>,
}

impl Tree {
    /// What the file said of it.
    pub fn draft(&self) -> &TreeDraft {
        &self.draft
    }
    /// Its own name.
    pub fn id(&self) -> &TreeId {
        &self.draft.id
    }
    /// Where it stands, in metres; a graft stands where its carrier stands.
    pub fn spot(&self) -> Spot {
        self.spot
    }
    /// Row number; a graft has its carrier's.
    pub fn row(&self) -> Option<i32> {
        self.draft.location.row
    }
    /// Place number; a graft has its carrier's.
    pub fn place(&self) -> Option<i32> {
        self.draft.location.place
    }
    /// What its tag says.
    pub fn tag(&self) -> Option<&str> {
        self.draft.tag.as_deref()
    }
    /// What can be read on its tag: without the spaces around it; none where nothing else is there.
    pub fn tag_to_read(&self) -> Option<&str> {
        self.tag().map(str::trim).filter(|tag| !tag.is_empty())
    }
    /// Its parents.
    pub fn cross(&self) -> &CrossKey {
        &self.draft.cross
    }
    /// What it is there for.
    pub fn role(&self) -> Role {
        self.draft.role
    }
    /// Whether it stands.
    pub fn status(&self) -> Status {
        self.draft.status
    }
    /// The tree that carries this graft.
    pub fn carrier(&self) -> Option<TreeIx> {
        self.carrier
    }
    /// What a person calls it: its tag, else its genotype, else its parentage with a number, else
    /// its id.
    pub fn name(&self) -> String {
        let tag = self.tag_to_read();
        let numbered = self.draft.seedling_no.is_some() && !self.cross().is_unknown();
        tag.map(str::to_owned)
            .or_else(|| self.draft.genotype.as_ref().map(ToString::to_string))
            .or_else(|| self.parentage().filter(|_| numbered))
            .unwrap_or_else(|| self.id().to_string())
    }
    /// How to speak of it to someone who stands before it: its name, and whether it has no tag to
    /// read.
    pub fn name_on_the_spot(&self) -> String {
        match self.tag_to_read().is_some() {
            true => self.name(),
            false => say!("{name} (no tag)", name = self.name()),
        }
    }
    /// Cross, year and seedling number as far as they are known: `Marl Beauty × TR-9, 2029,
    /// no. 14`; none when nothing of it is.
    pub fn parentage(&self) -> Option<String> {
        let cross = (!self.cross().is_unknown()).then(|| self.cross().to_string());
        let year = self.draft.cross_year.map(|year| year.to_string());
        let number = self.draft.seedling_no.as_ref().map(|number| say!("no. {number}"));
        let parts: Vec<String> = [cross, year, number].into_iter().flatten().collect();
        (!parts.is_empty()).then(|| parts.join(", "))
    }
    /// The genotype it is a copy of; a tree without one is its own genotype, named by its id.
    pub fn genotype(&self) -> GenotypeId {
        self.draft.genotype.clone().unwrap_or_else(|| GenotypeId::new(self.id().as_str()))
    }
}
