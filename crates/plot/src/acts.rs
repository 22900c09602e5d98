//! What a person does to a tree, in words and as the parts of an edit: nothing is changed here.

mod graft;
mod leave;
mod plant;
mod relabel;

use language::say;
use time::Date;

use crate::words::quoted;
use crate::{EditPart, Plot, Refusal, Status, Tree, TreeField, TreeId, TreeIx, When, WhereGiven};

/// What a person does to a tree.
#[derive(Clone, Debug, PartialEq)]
pub enum Act {
    /// Plants a new tree; what is known of it by column.
    Plant(Stand, Vec<(TreeField, String)>),
    /// Enters a tree that stands and that nobody wrote down, planted nobody knows when.
    Enter(Stand, Vec<(TreeField, String)>),
    /// Writes into a tree's note what was seen of it.
    Note(TreeId, String),
    /// Moves a tree to another row and place.
    Move {
        /// Which tree.
        tree: TreeId,
        /// Row number.
        row: i32,
        /// Place number.
        place: i32,
        /// Whether it was dug up and moved; else its place was entered wrongly.
        truly: bool,
    },
    /// It died or was taken out.
    Gone(TreeId, Status),
    /// Grafts onto a tree.
    Graft(TreeId, Vec<Scion>),
    /// Corrects what is known of a tree, by column.
    Relabel {
        /// Which tree.
        tree: TreeId,
        /// What cells are to say.
        cells: Vec<(TreeField, String)>,
        /// Whether it got another tag; else its tag was entered wrongly.
        truly: bool,
    },
}

/// Where a new tree is to stand.
#[derive(Clone, Debug, PartialEq)]
pub enum Stand {
    /// In a row and place.
    At(i32, i32),
    /// In the hole of a tree, whether that stands or is gone.
    With(TreeId),
    /// Behind a tree, as places rise: in the next place where nothing was ever planted, else
    /// between the two.
    Behind(TreeId),
    /// The same, and every tree behind it counts one place further.
    BehindMovingOn(TreeId),
}

/// What is grafted onto a tree.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Scion {
    /// The genotype's name.
    pub genotype: String,
    /// Which limb, in the person's words.
    pub limb: String,
    /// The tag on it.
    pub tag: String,
}

/// What would be done, before it is.
#[derive(Clone, Debug, PartialEq)]
pub struct Plan {
    /// What it is, as it is listed later.
    pub words: String,
    /// What will be, sentence by sentence.
    pub will_be: Vec<String>,
    /// The parts of the edit.
    pub parts: Vec<EditPart>,
}

/// A whole number that a person typed.
///
/// # Errors
/// Anything else.
pub fn whole_number(field: TreeField, text: &str) -> Result<i32, Refusal> {
    let text = text.trim();
    text.parse().map_err(|_| Refusal::new(field.as_str(), quoted(text), say!("a whole number")))
}

/// A day that a person chose.
///
/// # Errors
/// Anything but a day that exists, as `2031-06-14`.
pub fn day_of(text: &str) -> Result<Date, Refusal> {
    When::parse_date(text.trim()).ok_or_else(|| {
        Refusal::new("day", quoted(text), say!("a day that exists, such as 2031-06-14"))
    })
}

impl Plot {
    /// What an act would do, on a day.
    ///
    /// # Errors
    /// No such tree; an act that makes no sense for it (see each field). What the file would be
    /// faulted for is found when the edit is made.
    pub fn plan(&self, act: &Act, day: Date) -> Result<Plan, Refusal> {
        match act {
            Act::Plant(stand, cells) => plant::plan(self, stand, cells, Some(day)),
            Act::Enter(stand, cells) => plant::plan(self, stand, cells, None),
            Act::Note(tree, words) => {
                let one = self.tree(self.of(tree)?);
                Ok(Plan {
                    words: say!("Noted of {name}: {words}", name = one.name()),
                    will_be: vec![say!("Note of {name}: {words}.", name = one.name())],
                    parts: vec![noted(one, day, words)],
                })
            }
            Act::Move { tree, row, place, truly } => {
                relabel::moving(self, self.of(tree)?, (*row, *place), *truly, day)
            }
            Act::Gone(tree, status) => leave::plan(self, self.of(tree)?, *status, day),
            Act::Graft(tree, scions) => graft::plan(self, self.of(tree)?, scions, day),
            Act::Relabel { tree, cells, truly } => {
                relabel::plan(self, self.of(tree)?, cells, *truly, day)
            }
        }
    }

    fn of(&self, tree: &TreeId) -> Result<TreeIx, Refusal> {
        self.tree_ix(tree.as_str()).ok_or_else(|| Refusal::no_tree(tree.as_str()))
    }

    /// Whether a tree stands or stood in the next place behind a tree, as places rise.
    pub fn is_followed(&self, tree: &TreeId) -> bool {
        self.of(tree).is_ok_and(|tree| plant::is_followed(self, tree))
    }

    /// The trees that a tree carries, and those that they carry.
    fn carried(&self, tree: TreeIx) -> Vec<TreeIx> {
        let mut carried = vec![tree];
        // A graft is always taken in after its carrier.
        for (ix, one) in self.trees_ix() {
            if one.carrier().is_some_and(|carrier| carried.contains(&carrier)) {
                carried.push(ix);
            }
        }
        carried.remove(0);
        carried
    }
}

/// A row and place, and nothing else, as a line gives them.
fn numbered(row: i32, place: i32) -> WhereGiven {
    WhereGiven { row: Some(row), place: Some(place), ..WhereGiven::default() }
}

/// A row and place as a person says them.
fn place_words(row: i32, place: i32) -> String {
    say!("row {row}, place {place}")
}

/// Where a tree stands, as a person says it.
fn place_of(tree: &Tree) -> String {
    match (tree.row(), tree.place()) {
        (Some(row), Some(place)) => place_words(row, place),
        _ => say!(
            "{along:.1} m along, {across:.1} m across",
            along = tree.spot().x_m,
            across = tree.spot().y_m
        ),
    }
}

/// The same as a note has it, in whose file there is no language but one.
fn place_noted(tree: &Tree) -> String {
    match (tree.row(), tree.place()) {
        (Some(row), Some(place)) => format!("row {row}, place {place}"),
        _ => format!("{:.1} m along, {:.1} m across", tree.spot().x_m, tree.spot().y_m),
    }
}

/// A note with words of a day behind what it says.
fn noted(tree: &Tree, day: Date, words: &str) -> EditPart {
    let said = format!("{day}: {words}");
    let note = match tree.draft().note.as_deref() {
        Some(note) => format!("{note}; {said}"),
        None => said,
    };
    EditPart::set(tree.id(), TreeField::Note, note)
}

#[cfg(test)]
mod tests;
