//! Lines that two folders do not agree on, one by one, with both sides.

use std::collections::{BTreeMap, BTreeSet};

use files::{Choice, Conflict};
use language::say;
use leptos::prelude::*;

/// What a person decided, by the conflict's place in the list.
pub type Decisions = BTreeMap<usize, (Conflict, Choice)>;

/// One conflict at a time, and a way past all of them.
#[component]
pub fn Decide(conflicts: Vec<Conflict>, decided: RwSignal<Decisions>) -> impl IntoView {
    let all = conflicts.len();
    if all == 0 {
        return ().into_any();
    }
    let conflicts = StoredValue::new(conflicts);
    let at = RwSignal::new(0_usize);
    let choose = move |choice: Choice| {
        let nth = at.get_untracked();
        let conflict = conflicts.with_value(|all| all[nth].clone());
        decided.update(|decided| _ = decided.insert(nth, (conflict, choice)));
        at.set((nth + 1).min(all - 1));
    };
    let keep_all = move |_| {
        let each = |(nth, conflict): (usize, &Conflict)| (nth, (conflict.clone(), Choice::Kept));
        decided.set(conflicts.with_value(|all| all.iter().enumerate().map(each).collect()));
    };
    let chosen = move || decided.with(|decided| decided.get(&at.get()).map(|one| one.1));
    let is = move |choice: Choice| (chosen() == Some(choice)).to_string();
    let turn = move |by: isize| at.update(|at| *at = at.saturating_add_signed(by).min(all - 1));
    view! {
        <section class="decide" aria-labelledby="decide-head">
            <h3 id="decide-head">
                {move || say!(
                    "{nth} of {all}: {what}",
                    nth = at.get() + 1,
                    what = conflicts.with_value(|all| name(&all[at.get()]))
                )}
            </h3>
            {move || conflicts.with_value(|all| view! { <Sides conflict=all[at.get()].clone() /> })}
            <div class="row">
                <button class="button" aria-pressed=move || is(Choice::Kept) on:click=move |_| choose(Choice::Kept)>
                    {say!("Keep the first")}
                </button>
                <button class="button" aria-pressed=move || is(Choice::Other) on:click=move |_| choose(Choice::Other)>
                    {say!("Take the second")}
                </button>
            </div>
            <div class="row">
                <button class="button button-small" disabled=move || at.get() == 0 on:click=move |_| turn(-1)>{say!("Back")}</button>
                <button class="button button-small" disabled=move || at.get() + 1 == all on:click=move |_| turn(1)>{say!("Later")}</button>
                <button class="button button-small" on:click=keep_all>{say!("Keep the first of all")}</button>
                <span class="hint" role="status">
                    {move || say!(
                        "{decided} of {all} decided; the others stay open.",
                        decided = decided.with(BTreeMap::len)
                    )}
                </span>
            </div>
        </section>
    }
    .into_any()
}

/// Both versions of a line, cell by cell, those that differ marked.
#[component]
fn Sides(conflict: Conflict) -> impl IntoView {
    let columns: BTreeSet<String> =
        conflict.kept.keys().chain(conflict.other.keys()).cloned().collect();
    let line = |column: String| {
        let cell = |row: &BTreeMap<String, String>| match row.get(&column) {
            Some(cell) => view! { <td>{cell.clone()}</td> }.into_any(),
            None => view! { <td class="decide-empty">{say!("empty")}</td> }.into_any(),
        };
        let differs = conflict.kept.get(&column) != conflict.other.get(&column);
        let (kept, other) = (cell(&conflict.kept), cell(&conflict.other));
        view! {
            <tr class:decide-differs=differs>
                <th scope="row">{column.clone()}{differs.then_some(" ≠")}</th>
                {kept}
                {other}
            </tr>
        }
    };
    view! {
        <div class="scroll" tabindex="0" role="region" aria-label=say!("Both versions")>
            <table class="decide-sides">
                <thead>
                    <tr><th scope="col">{say!("Column")}</th><th scope="col">{say!("First")}</th><th scope="col">{say!("Second")}</th></tr>
                </thead>
                <tbody>{columns.into_iter().map(line).collect_view()}</tbody>
            </table>
        </div>
    }
}

/// What the line is, as a person would say it.
fn name(conflict: &Conflict) -> String {
    let cell = |column: &str| conflict.kept.get(column).map_or("", String::as_str);
    match conflict.file.as_str() {
        "trees.csv" => match cell("tag") {
            "" => say!("tree {id}", id = conflict.id),
            tag => say!("tree {id} ({tag})", id = conflict.id),
        },
        "scores.csv" => say!(
            "score of {id}, {of}, {day}",
            id = cell("tree_id"),
            of = cell("trait"),
            day = cell("scored_on")
        ),
        "plot.json" => say!("where the plot lies").to_owned(),
        file => format!("{file}, {}", conflict.id),
    }
}
