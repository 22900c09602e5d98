//! The end of a walk: what was done, in which time, who was left behind, what to look at again.

use language::{count, decimal, say};
use leptos::prelude::*;
use plot::Plot;
use walk::{Command, Jump, Odd, Summary};

use super::walker::Walker;
use crate::route::Route;

/// Odd jumps that are listed.
const LISTED: usize = 20;

/// Behind the last tree.
#[component]
pub fn WalkOver(walker: Walker) -> impl IntoView {
    let summary = Memo::new(move |_| walker.read_on(walk::Walk::summary));
    let left =
        move || summary.with(|it| it.as_ref().map_or(0, |summary| summary.tally.left_behind));
    let facts = move || {
        let facts = summary.with(|it| it.as_ref().map(facts)).unwrap_or_default();
        let fact =
            |(what, value): (&'static str, String)| view! { <dt>{what}</dt><dd>{value}</dd> };
        facts.into_iter().map(fact).collect_view()
    };
    view! {
        <section class="walk-over" aria-labelledby="walk-over">
            <h2 id="walk-over">{move || if left() == 0 { say!("Every tree of the route was looked at") } else { say!("The end of the route") }}</h2>
            <dl class="facts">{facts}</dl>
            {move || summary.with(|it| it.as_ref().map(|it| jumps(walker, &it.jumps)))}
            <div class="row">
                {move || (left() > 0).then(|| view! {
                    <button class="button button-first" on:click=move |_| { walker.say(Command::GoToLeftBehind); }>
                        {count!(left(), "Walk the 1 left behind", "Walk the {left} left behind", left = left())}
                    </button>
                })}
                <button
                    class="button"
                    disabled=move || walker.read(|walk| walk.undo_takes_back().is_none()) == Some(true)
                    on:click=move |_| walker.undo()
                >
                    {say!("Undo the last")}
                </button>
                <button class="button" on:click=move |_| walker.leave()>{say!("End this walk")}</button>
                <a class="button" href=Route::Proof { disease: None }.address()>{say!("See what it proves")}</a>
            </div>
        </section>
    }
}

fn facts(summary: &Summary) -> Vec<(&'static str, String)> {
    let tally = summary.tally;
    let left = match (tally.left_behind, summary.skipped) {
        (left, 0) => left.to_string(),
        (left, skipped) => say!("{left}, of these {skipped} skipped"),
    };
    let mut facts = vec![
        (say!("Scored"), (tally.done - tally.could_not - tally.gone).to_string()),
        (say!("Could not be scored"), tally.could_not.to_string()),
        (say!("Left behind"), left),
    ];
    if tally.gone > 0 {
        facts.push((say!("Dead or nothing there"), tally.gone.to_string()));
    }
    facts.push((say!("Time, without pauses"), time_said(summary)));
    facts
}

fn time_said(summary: &Summary) -> String {
    let seconds = summary.time.whole_seconds();
    let whole = match seconds {
        0..60 => say!("{seconds} s"),
        60..3600 => say!("{minutes} min", minutes = (seconds + 30) / 60),
        _ => say!("{hours} h {minutes} min", hours = seconds / 3600, minutes = seconds % 3600 / 60),
    };
    match summary.tally.done as i64 {
        0 => whole,
        trees => say!("{whole}, {each} s for a tree", each = (seconds + trees / 2) / trees),
    }
}

/// Scores that ask for a second look; a tap leads to the tree.
fn jumps(walker: Walker, jumps: &[Jump]) -> Option<AnyView> {
    if jumps.is_empty() {
        return None;
    }
    let more = jumps.len().saturating_sub(LISTED);
    let lines: Vec<_> = jumps
        .iter()
        .take(LISTED)
        .filter_map(|jump| {
            let words = walker.read_on_now(|walk, plot| said(walk, plot, jump))?;
            let stop = jump.at.stop;
            let look = move |_| {
                walker.say(Command::GoTo(stop));
            };
            Some(
                view! { <li><button class="walk-leg" on:click=look>{words}</button></li> }
                    .into_any(),
            )
        })
        .collect();
    Some(
        view! {
            <h3>{say!("Odd against earlier this season")}</h3>
            <p>{say!("A slip, a wrong tree, or true: look again. A tap leads there.")}</p>
            <ul class="walk-jumps">{lines}</ul>
            {(more > 0).then(|| view! { <p>{say!("and {more} more")}</p> })}
        }
        .into_any(),
    )
}

fn said(walk: &walk::Walk, plot: &Plot, jump: &Jump) -> String {
    let name = plot.tree(walk.route().stops[jump.at.stop]).name();
    let label = &plot.trait_of(walk.setup().traits[jump.at.slot]).label;
    let why = match jump.odd {
        Odd::CleanAgain => say!("sick before, clean now").to_owned(),
        Odd::Classes(leap) => say!("{leap} classes apart"),
        Odd::ByHalf => say!("changed by more than half").to_owned(),
    };
    say!(
        "{name}, {label}: {earlier} before, {now} now: {why}",
        earlier = decimal(jump.earlier.to_string()),
        now = decimal(jump.now.to_string())
    )
}
