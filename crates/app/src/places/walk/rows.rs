//! How far the walk is: the present row tree by tree, all rows on demand, and who was left behind.

use language::say;
use leptos::prelude::*;
use walk::{Command, LegProgress, Looked};

use super::walker::Walker;

/// The present row; all rows when they are unfolded, and only then: there may be hundreds.
#[component]
pub fn RowProgress(walker: Walker) -> impl IntoView {
    let is_open = RwSignal::new(false);
    let unfold = move |event: web_sys::Event| {
        let details = event_target::<web_sys::Element>(&event);
        is_open.set(details.has_attribute("open"));
    };
    view! {
        <details class="walk-rows" on:toggle=unfold>
            <summary>{move || said(walker)}</summary>
            {move || is_open.get().then(|| all_rows(walker))}
        </details>
        <RowTicks walker />
    }
}

fn said(walker: Walker) -> AnyView {
    let here = walker.read(walk::Walk::leg_here).flatten().map(Leg::from);
    let total = walker.read(walk::Walk::total).unwrap_or_default();
    let title = match here {
        Some(leg) => {
            say!("{name} · {done} of {trees}", name = leg.name, done = leg.done, trees = leg.trees)
        }
        None => say!("The end").to_owned(),
    };
    let left = (total.left_behind > 0)
        .then(|| say!("{left_behind} left behind", left_behind = total.left_behind));
    view! {
        <span class="walk-row">{title}</span>
        <span class="walk-all">{say!("{done} of {trees} in all", done = total.done, trees = total.trees)}</span>
        <span class="walk-left">{left}</span>
    }
    .into_any()
}

fn all_rows(walker: Walker) -> AnyView {
    let legs = move || {
        walker
            .read(|walk| walk.legs().into_iter().map(Leg::from).collect::<Vec<_>>())
            .unwrap_or_default()
    };
    let no_one_left = move || walker.read(|walk| walk.total().left_behind == 0) == Some(true);
    view! {
        <div class="walk-rows-open">
            <button
                class="side-key"
                hidden=no_one_left
                on:click=move |_| { walker.say(Command::GoToLeftBehind); }
            >
                {say!("To the first tree left behind")}
            </button>
            <ul>
                {move || legs()
                    .into_iter()
                    .map(|leg| view! { <LegLine walker leg /> }.into_any())
                    .collect_view()}
            </ul>
            <button class="side-key" on:click=move |_| walker.leave()>{say!("End this walk")}</button>
        </div>
    }
    .into_any()
}

#[component]
fn LegLine(walker: Walker, leg: Leg) -> impl IntoView {
    let Leg { done, trees, could_not, left_behind, .. } = leg;
    let left = (left_behind > 0).then(|| say!(", {left_behind} left behind"));
    let could_not = (could_not > 0).then(|| say!(", {could_not} could not be scored"));
    view! {
        <li>
            <button
                class="walk-leg"
                aria-current=leg.here.then_some("true")
                on:click=move |_| { walker.say(Command::GoTo(leg.from)); }
            >
                <span>{leg.name}</span>
                <span>{say!("{done} of {trees}")} {could_not} {left}</span>
            </button>
        </li>
    }
}

/// A tick for each tree of the present row: full when scored, half when it could not be, hollow
/// when not yet, none where nothing stands, tall where one stands.
#[component]
fn RowTicks(walker: Walker) -> impl IntoView {
    let ticks = move || {
        walker
            .read(|walk| {
                let leg = walk.leg_here()?.leg;
                let here = walk.cursor()?.stop;
                // Of a very long row the stretch around the walker.
                let from = leg.from.max(here.saturating_sub(TICKS / 2));
                let to = leg.to.min(from + TICKS);
                let tick = |stop| {
                    let kind = match walk.looked(stop) {
                        Looked::Open => "open",
                        Looked::CouldNot => "could-not",
                        Looked::Scored => "done",
                        Looked::Gone => "gone",
                    };
                    (kind, stop == here)
                };
                Some((from..to).map(tick).collect::<Vec<_>>())
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

/// Ticks that are drawn at the most.
const TICKS: usize = 120;

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
        let row = leg.row.map_or_else(|| say!("No row").to_owned(), |row| say!("Row {row}"));
        Self {
            name: if leg.sick { say!("{row}, the sick") } else { row },
            from: leg.from,
            trees: tally.trees,
            done: tally.done,
            could_not: tally.could_not,
            left_behind: tally.left_behind,
            here,
        }
    }
}
