//! What is filled in, and the act that it means.

use std::collections::BTreeMap;

use language::say;
use leptos::prelude::*;
use plot::{Act, Refusal, Scion, Stand, Status, TreeField, TreeId, When, day_of, whole_number};
use time::Date;

use crate::state::App;
use crate::work::clock;

/// What can be done.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    /// A new tree where one stood.
    PlantHere,
    /// A second tree in the same hole.
    Beside,
    /// A new tree behind it or elsewhere.
    Behind,
    /// To another place.
    Move,
    /// It died.
    Died,
    /// It was taken out.
    TakenOut,
    /// Grafts onto it.
    Graft,
    /// What is known of it.
    Relabel,
}

impl Kind {
    /// Words of its button.
    pub(super) fn words(self) -> &'static str {
        match self {
            Self::PlantHere => say!("Plant here"),
            Self::Beside => say!("Two trees here"),
            Self::Behind => say!("Add a tree"),
            Self::Move => say!("Another place"),
            Self::Died => say!("It died"),
            Self::TakenOut => say!("Taken out"),
            Self::Graft => say!("Graft onto it"),
            Self::Relabel => say!("Tag, cross, note"),
        }
    }

    /// Whether a new tree is planted, of which something may be known.
    pub(super) fn plants(self) -> bool {
        matches!(self, Self::PlantHere | Self::Beside | Self::Behind)
    }
}

/// Where an added tree is to stand.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(super) enum Where {
    /// Behind the tree of the card.
    #[default]
    Behind,
    /// The same, and those behind it count on.
    MovingOn,
    /// In a row and place.
    At,
}

/// What is known of a tree, in the order of the form.
pub(super) const KNOWN: [TreeField; 8] = [
    TreeField::Tag,
    TreeField::SeedParent,
    TreeField::PollenParent,
    TreeField::CrossYear,
    TreeField::SeedlingNo,
    TreeField::Genotype,
    TreeField::Role,
    TreeField::Note,
];

/// A small handle of signals.
#[derive(Clone, Copy)]
pub(super) struct Form {
    /// What is to be done; none: nothing yet.
    pub(super) kind: RwSignal<Option<Kind>>,
    /// Texts by the name of their field.
    pub(super) texts: RwSignal<BTreeMap<String, String>>,
    /// The day.
    pub(super) day: RwSignal<String>,
    /// Whether it really changed on that day; else it was entered wrongly.
    pub(super) truly: RwSignal<bool>,
    /// Where an added tree is to stand.
    pub(super) place: RwSignal<Where>,
    /// How many grafts there are fields for.
    pub(super) scions: RwSignal<usize>,
}

impl Form {
    pub(super) fn new() -> Self {
        Self {
            kind: RwSignal::default(),
            texts: RwSignal::default(),
            day: RwSignal::new(today()),
            truly: RwSignal::new(false),
            place: RwSignal::default(),
            scions: RwSignal::new(1),
        }
    }

    /// Begins what is to be done to a tree.
    pub(super) fn choose(self, app: App, tree: &TreeId, kind: Kind) {
        let texts = match kind {
            Kind::Relabel => app.plot_now(|plot| {
                let one = plot.tree(plot.tree_ix(tree.as_str())?);
                Some(KNOWN.iter().map(|field| (field.as_str().to_owned(), field.of(one))).collect())
            }),
            _ => None,
        };
        self.texts.set(texts.flatten().unwrap_or_default());
        self.day.set(today());
        self.truly.set(false);
        self.place.set(Where::default());
        self.scions.set(1);
        self.kind.set(Some(kind));
    }

    /// Follows everything that is filled in.
    pub(super) fn follow(self) {
        self.texts.track();
        self.day.track();
        self.truly.track();
        self.place.track();
    }

    /// A text as it is typed.
    pub(super) fn text(self, name: &str) -> String {
        self.texts.with(|texts| texts.get(name).cloned().unwrap_or_default())
    }

    /// The day.
    ///
    /// # Errors
    /// No day that exists.
    pub(super) fn day(self) -> Result<Date, Refusal> {
        day_of(&self.day.get())
    }

    /// What the form means for a tree.
    ///
    /// # Errors
    /// A row or place that is no whole number.
    pub(super) fn act(self, tree: &TreeId) -> Result<Act, Refusal> {
        let id = || tree.clone();
        let number = |field: TreeField| whole_number(field, &self.text(field.as_str()));
        let known = || KNOWN.map(|field| (field, self.text(field.as_str()))).to_vec();
        Ok(match self.kind.get().unwrap_or(Kind::Relabel) {
            Kind::PlantHere | Kind::Beside => Act::Plant(Stand::With(id()), known()),
            Kind::Behind => {
                let stand = match self.place.get() {
                    Where::Behind => Stand::Behind(id()),
                    Where::MovingOn => Stand::BehindMovingOn(id()),
                    Where::At => Stand::At(number(TreeField::Row)?, number(TreeField::Place)?),
                };
                Act::Plant(stand, known())
            }
            Kind::Move => Act::Move {
                tree: id(),
                row: number(TreeField::Row)?,
                place: number(TreeField::Place)?,
                truly: self.truly.get(),
            },
            Kind::Died => Act::Gone(id(), Status::Dead),
            Kind::TakenOut => Act::Gone(id(), Status::Removed),
            Kind::Graft => Act::Graft(id(), self.scions()),
            Kind::Relabel => Act::Relabel { tree: id(), cells: known(), truly: self.truly.get() },
        })
    }

    fn scions(self) -> Vec<Scion> {
        let text = |what: &str, nth: usize| self.text(&format!("{what} {nth}"));
        let one = |nth| Scion {
            genotype: text("genotype", nth),
            limb: text("limb", nth),
            tag: text("tag", nth),
        };
        (1..=self.scions.get()).map(one).collect()
    }
}

fn today() -> String {
    When::at(clock::now()).date().to_string()
}
