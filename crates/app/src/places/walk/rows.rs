//! How far the walk is: the present row tree by tree, all rows on demand, and who was left behind.

use leptos::prelude::*;
use walk::{Command, Content, LegProgress};

use super::walker::Walker;

/// The present row.
#[component]
pub fn RowProgress(walker: Walker) -> impl IntoView {
    let legs = move || {
        walker
            .read(|walk| walk.legs().into_iter().map(Leg::from).collect::<Vec<_>>())
            .unwrap_or_default()
    };
    let said = move || {
        let (legs, total) = (legs(), walker.read(walk::Walk::total).unwrap_or_default());
        let title = match legs.iter().find(|leg| leg.here) {
            Some(leg) => format!("{} · {} of {}", leg.name, leg.done, leg.trees),
            None => "The end".to_owned(),
        };
        let left = (total.left_behind > 0).then(|| format!("{} left behind", total.left_behind));
        view! {
            <span class="walk-row">{title}</span>
            <span class="walk-all">{format!("{} of {} in all", total.done, total.trees)}</span>
            <span class="walk-left">{left}</span>
        }
        .into_any()
    };
    let no_one_left = move || walker.read(|walk| walk.total().left_behind == 0) == Some(true);
    view! {
        <details class="walk-rows">
            <summary>{said}</summary>
            <div class="walk-rows-open">
                <button
                    class="side-key"
                    hidden=no_one_left
                    on:click=move |_| { walker.say(Command::GoToLeftBehind); }
                >
                    "To the first tree left behind"
                </button>
                <ul>
                    {move || legs()
                        .into_iter()
                        .map(|leg| view! { <LegLine walker leg /> }.into_any())
                        .collect_view()}
                </ul>
                <button class="side-key" on:click=move |_| walker.leave()>"End this walk"</button>
            </div>
        </details>
        <RowTicks walker />
    }
}

#[component]
fn LegLine(walker: Walker, leg: Leg) -> impl IntoView {
    let left = (leg.left_behind > 0).then(|| format!(", {} left behind", leg.left_behind));
    let could_not = (leg.could_not > 0).then(|| format!(", {} could not be scored", leg.could_not));
    view! {
        <li>
            <button
                class="walk-leg"
                aria-current=leg.here.then_some("true")
                on:click=move |_| { walker.say(Command::GoTo(leg.from)); }
            >
                <span>{leg.name}</span>
                <span>{format!("{} of {}", leg.done, leg.trees)} {could_not} {left}</span>
            </button>
        </li>
    }
}

/// A tick for each tree of the present row: full when scored, half when it could not be, hollow
/// when not yet, tall where one stands.
#[component]
fn RowTicks(walker: Walker) -> impl IntoView {
    let ticks = move || {
        walker
            .read(|walk| {
                let leg = walk.legs().into_iter().find(|leg| leg.here)?.leg;
                let here = walk.cursor()?.stop;
                let slots = walk.setup().traits.len();
                let tick = |stop| {
                    let mut said = (0..slots).map(|slot| walk.content(walk::Cursor { stop, slot }));
                    let kind = if said.clone().any(Content::is_open) {
                        "open"
                    } else if said.any(|it| matches!(it, Content::CouldNot { .. })) {
                        "could-not"
                    } else {
                        "done"
                    };
                    (kind, stop == here)
                };
                Some((leg.from..leg.to).map(tick).collect::<Vec<_>>())
            })
            .flatten()
            .unwrap_or_default()
    };
    view! {
        <div class="walk-ticks" aria-hidden="true">
            {move || ticks().into_iter().map(|(kind, here)| view! {
                <span data-kind=kind class:tick-here=here></span>
            }.into_any()).collect_view()}
        </div>
    }
}

#[derive(Clone, Debug, PartialEq)]
struct Leg {
    name: String,
    from: usize,
    trees: usize,
    done: usize,
    could_not: usize,
    left_behind: usize,
    here: bool,
}

impl From<LegProgress> for Leg {
    fn from(progress: LegProgress) -> Self {
        let LegProgress { leg, tally, here } = progress;
        let row = leg.row.map_or_else(|| "No row".to_owned(), |row| format!("Row {row}"));
        Self {
            name: if leg.sick { format!("{row}, the sick") } else { row },
            from: leg.from,
            trees: tally.trees,
            done: tally.done,
            could_not: tally.could_not,
            left_behind: tally.left_behind,
            here,
        }
    }
}
