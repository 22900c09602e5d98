//! What was read around a tree, in the order it was said, and what it comes to.

use leptos::prelude::*;
use serde::{Deserialize, Serialize};
use walk::{CannotTell, Seen, Side, WhichTree};

use wasm_bindgen::JsCast;
use web_sys::HtmlElement;

use crate::places::find::planted::{Planted, planted};
use crate::state::App;
use crate::work::kept::{For, keep, kept};

/// Tags offered at most.
const OFFERED: usize = 6;
/// The name under which the tab keeps them.
const KEPT: &str = "which";

/// One tree that was said, and at which end.
#[derive(Clone, Debug, Serialize, Deserialize)]
pub struct Add {
    seen: Seen,
    side: Side,
}

/// What was read; a handle to copy.
#[derive(Clone, Copy, Debug)]
pub struct Reads {
    app: App,
    /// In the order it was said: the last is taken back first.
    pub adds: RwSignal<Vec<Add>>,
    /// The row, where it is known.
    pub row: RwSignal<Option<i32>>,
    /// The end at which the next tree is added.
    pub side: RwSignal<Side>,
    /// The tag being typed.
    pub typed: RwSignal<String>,
    planted: Planted,
}

impl Reads {
    /// Those of this plot that the tab still remembers: a look at the map loses nothing.
    pub fn new(app: App) -> Self {
        Self {
            app,
            adds: RwSignal::new(
                app.plot_now(|plot| kept(For::Tab, plot, KEPT)).flatten().unwrap_or_default(),
            ),
            row: RwSignal::new(None),
            side: RwSignal::new(Side::After),
            typed: RwSignal::new(String::new()),
            planted: planted(),
        }
    }

    /// The trees in walking order.
    pub fn steps(self) -> Vec<Seen> {
        self.adds.with(|adds| in_order(adds))
    }

    /// Adds a tree at the chosen end.
    pub fn add(self, seen: Seen) {
        let side = self.side.get_untracked();
        self.adds.update(|adds| adds.push(Add { seen, side }));
        self.typed.set(String::new());
        self.remember();
    }

    /// Adds what was typed, if it is a tag.
    pub fn add_typed(self) {
        let tag = self.typed.get_untracked().trim().to_owned();
        if tag.chars().any(char::is_alphanumeric) {
            self.add(Seen::Tag(tag));
        }
    }

    /// Goes on at an end: the next tag is typed there.
    pub fn go_on_at(self, side: Side) {
        self.side.set(side);
        let field = document().get_element_by_id("which-tag");
        if let Some(field) = field.and_then(|field| field.dyn_into::<HtmlElement>().ok()) {
            let _ = field.focus();
        }
    }

    /// Takes the last one back.
    pub fn take_back(self) {
        self.adds.update(|adds| {
            adds.pop();
        });
        self.remember();
    }

    /// Begins anew.
    pub fn start_over(self) {
        self.adds.set(Vec::new());
        self.side.set(Side::After);
        self.remember();
    }

    /// Who it is, or what is lacking. Follows.
    pub fn answer(self) -> Result<WhichTree, CannotTell> {
        let (steps, row) = (self.steps(), self.row.get());
        self.planted.read(|list| list.which(&steps, row)).unwrap_or(Err(CannotTell::NoRows))
    }

    /// Tags that may come next. Follows.
    pub fn offered(self) -> Vec<String> {
        let steps = self.steps();
        let tag = |seen: &Seen| match seen {
            Seen::Tag(tag) if self.is_listed(tag) => Some(tag.clone()),
            _ => None,
        };
        let last = match self.side.get() {
            Side::After => steps.iter().rev().find_map(tag),
            Side::Before => steps.iter().find_map(tag),
        };
        let (typed, row) = (self.typed.get(), self.row.get());
        self.planted
            .read(|list| list.suggest(&typed, last.as_deref(), row, OFFERED))
            .unwrap_or_default()
    }

    /// Whether the list has a tag.
    pub fn is_listed(self, tag: &str) -> bool {
        self.planted.read(|list| list.has(tag)).unwrap_or_default()
    }

    fn remember(self) {
        self.app.plot_now(|plot| self.adds.with_untracked(|adds| keep(For::Tab, plot, KEPT, adds)));
    }
}

fn in_order(adds: &[Add]) -> Vec<Seen> {
    let of =
        |side: Side| adds.iter().filter(move |add| add.side == side).map(|add| add.seen.clone());
    let mut steps: Vec<Seen> = of(Side::Before).collect();
    steps.reverse();
    steps.extend(of(Side::After));
    steps
}
