//! What things are called: a disease, a tree, its parents, its role.

use language::say;
use plot::{Disease, Plot, Role, Status, Tree, TreeIx};

/// What the disease is called amid a sentence: as its profile has it, else the name itself with
/// spaces.
pub fn disease(plot: &Plot, name: &str) -> String {
    let label = |disease: &Disease| language::said_of(&disease.label).to_owned();
    plot.disease(name).map_or_else(|| spaced(name), label)
}

/// A name as words: `brown_rot` is *brown rot*.
fn spaced(name: &str) -> String {
    name.replace('_', " ")
}

/// What a person calls the tree, see [`Tree::name_on_the_spot`].
pub fn tree(plot: &Plot, tree: TreeIx) -> String {
    plot.tree(tree).name_on_the_spot()
}

/// Cross, year and seedling number: `Marl Beauty × TR-9, 2027, no. 14`; none where nothing of it
/// is known.
pub fn parentage(tree: &Tree) -> Option<String> {
    tree.parentage()
}

/// What a tree is there for.
pub fn role(role: Role) -> &'static str {
    match role {
        Role::Seedling => say!("seedling"),
        Role::Named => say!("named sort"),
        Role::SusceptibleCheck => say!("susceptible check"),
        Role::ResistantCheck => say!("resistant check"),
        Role::Guard => say!("guard tree"),
    }
}

/// What several trees are there for.
pub fn roles(role: Role) -> &'static str {
    match role {
        Role::Seedling => say!("seedlings"),
        Role::Named => say!("named sorts"),
        Role::SusceptibleCheck => say!("susceptible checks"),
        Role::ResistantCheck => say!("resistant checks"),
        Role::Guard => say!("guard trees"),
    }
}

/// Whether a tree stands.
pub fn standing(status: Status) -> &'static str {
    match status {
        Status::Alive => say!("standing"),
        Status::Dead => say!("dead"),
        Status::Removed => say!("taken out"),
        Status::Empty => say!("empty place"),
    }
}
