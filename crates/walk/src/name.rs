//! What a person calls a tree.

use plot::{Plot, Status, Tree, TreeIx};

/// What a person would call it: its tag, else its genotype, else cross and number, else its id.
pub fn tree_name(plot: &Plot, tree: TreeIx) -> String {
    let tree = plot.tree(tree);
    let draft = tree.draft();
    if let Some(tag) = tree.tag().filter(|tag| !tag.trim().is_empty()) {
        return tag.trim().to_owned();
    }
    if let Some(genotype) = &draft.genotype {
        return genotype.to_string();
    }
    match &draft.seedling_no {
        Some(_) if !tree.cross().is_unknown() => cross_and_number(tree).unwrap_or_default(),
        _ if tree.status() == Status::Empty => "an empty place".to_owned(),
        _ => tree.id().to_string(),
    }
}

/// `Marl Beauty × TR-9, 2029, no. 14`, as far as it is known; none when nothing of it is.
pub fn cross_and_number(tree: &Tree) -> Option<String> {
    let draft = tree.draft();
    let mut parts = Vec::new();
    if !tree.cross().is_unknown() {
        parts.push(tree.cross().to_string());
    }
    if let Some(year) = draft.cross_year {
        parts.push(year.to_string());
    }
    if let Some(number) = &draft.seedling_no {
        parts.push(format!("no. {number}"));
    }
    (!parts.is_empty()).then(|| parts.join(", "))
}
