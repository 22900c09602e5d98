//! What one can ask for, shown by example from the open plot.

use language::say;
use leptos::prelude::*;
use plot::{Plot, Role, Status};

use crate::state::app;

/// Examples to tap.
#[component]
pub fn Asked(ask: impl Fn(String) + Copy + Send + Sync + 'static) -> impl IntoView {
    let app = app();
    let examples = app.plot_now(examples).unwrap_or_default();
    let one = move |(what, words): (&'static str, String)| {
        let asked = words.clone();
        view! {
            <li>
                <button class="button" on:click=move |_| ask(asked.clone())>{words}</button>
                <span class="hint">{what}</span>
            </li>
        }
    };
    if examples.is_empty() {
        return view! { <p>{say!("This plot has no trees yet: there is nobody to find.")}</p> }
            .into_any();
    }
    view! {
        <p>{say!("Type as you would say it. Typing slips, spaces and accents do not matter.")}</p>
        <ul class="find-asked">{examples.into_iter().map(one).collect_view()}</ul>
    }
    .into_any()
}

/// One example of each kind, from a tree in the middle of the plot that has most to be asked for.
fn examples(plot: &Plot) -> Vec<(&'static str, String)> {
    let trees = plot.trees();
    let from_the_middle = trees[trees.len() / 2..].iter().chain(&trees[..trees.len() / 2]);
    let told = |tree: &&plot::Tree| {
        let draft = tree.draft();
        tree.status() == Status::Alive
            && tree.role() == Role::Seedling
            && (tree.tag().is_some(), !tree.cross().is_unknown(), draft.seedling_no.is_some())
                == (true, true, true)
    };
    let Some(tree) = from_the_middle.clone().find(told).or(from_the_middle.clone().next()) else {
        return Vec::new();
    };
    let draft = tree.draft();
    let mut examples = Vec::new();
    if let Some(tag) = tree.tag() {
        examples.push((say!("what its tag says, or a part of it"), tag.to_owned()));
    }
    if let (Some(seed), Some(pollen)) = (&tree.cross().seed_parent, &tree.cross().pollen_parent) {
        let number = draft.seedling_no.as_deref().unwrap_or_default();
        let words = format!("{pollen} x {seed} {number}");
        examples
            .push((say!("its parents in either order, and its number"), words.trim().to_owned()));
    }
    if let Some(genotype) = trees.iter().find_map(|tree| tree.draft().genotype.as_ref()) {
        examples.push((say!("a name that copies share"), genotype.to_string()));
    }
    if let (Some(row), Some(place)) = (tree.row(), tree.place()) {
        examples
            .push((say!("where it stands"), say!("row {row} place {place}"; "as Find reads it")));
    }
    examples
}
