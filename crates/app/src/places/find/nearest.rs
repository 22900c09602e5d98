//! Nearest to me: which trees the position leaves, and the row and tag that settle it.

use language::say;
use leptos::prelude::*;
use plot::{Plot, TreeIx};
use walk::{Fix, Here, Stretch, compass_point};

use super::answer::Answer;
use super::standpoint::{Position, Standpoint, standpoint};
use super::way::metres;
use crate::parts::lean::{button, changing, element, said};
use crate::state::{App, app};
use crate::work::position::NoPosition;

/// Rows offered at most, the nearest first.
const ROWS: usize = 6;

/// What the person told beside the position.
#[derive(Clone, Copy, Debug)]
struct Told {
    row: RwSignal<Option<i32>>,
    tree: RwSignal<Option<TreeIx>>,
}

/// The section.
#[component]
pub fn Nearest() -> impl IntoView {
    let (app, stand) = (app(), standpoint());
    let told = Told { row: RwSignal::new(None), tree: RwSignal::new(None) };
    let here = Memo::new(move |_| {
        let fix = stand.fix()?;
        app.plot(|plot| fix.trees(plot)).flatten()
    });
    let body = move || match told.tree.get() {
        Some(tree) => settled(tree, told),
        None => match (here.get(), stand.fix()) {
            (Some(here), Some(fix)) => known(app, &here, fix, told),
            _ => unknown(stand),
        },
    };
    view! {
        <section class="nearest" aria-labelledby="nearest-head">
            <h2 id="nearest-head">{say!("Nearest to me")}</h2>
            <div role="status">{changing(body)}</div>
        </section>
    }
}

/// Before a position is there.
fn unknown(stand: Standpoint) -> AnyView {
    if !stand.is_on_earth() {
        return said(
            "p",
            "hint",
            say!(
                "This plot does not say where on earth it lies, so a position tells nothing of \
                 its trees. Say the row and the place, or read a tag nearby."
            ),
        );
    }
    let look = |words| button("button", words, move || stand.follow());
    match stand.position.get() {
        Position::Off => element(
            "div",
            "nearest-ask",
            vec![
                look(say!("Look where I stand")),
                said(
                    "p",
                    "hint",
                    say!(
                        "A phone knows its place to some metres: that leaves several trees, and you say \
                     which row and tag."
                    ),
                ),
            ],
        ),
        Position::Waiting | Position::Read(_) => element(
            "div",
            "nearest-ask",
            vec![
                said("p", "", say!("Looking where you stand …")),
                button("button", say!("Stop"), move || stand.stop()),
            ],
        ),
        Position::None(why) => element(
            "div",
            "nearest-ask",
            vec![said("p", "", no_position(why)), look(say!("Try again"))],
        ),
    }
}

fn no_position(why: NoPosition) -> &'static str {
    match why {
        NoPosition::NoSuchThing => {
            say!("This browser gives no position. Say the row, or read a tag nearby.")
        }
        NoPosition::Refused => {
            say!(
                "The position was refused. Allow it for this page in the browser's settings, or say \
             the row."
            )
        }
        NoPosition::NotFound => {
            say!(
                "The device finds no position here. Under the open sky it may; else say the row, or \
             read a tag nearby."
            )
        }
    }
}

fn known(app: App, here: &Here, fix: Fix, told: Told) -> AnyView {
    let error = metres(fix.accuracy_m);
    match here {
        Here::Away { nearest, distance_m } => {
            let words = app.plot(|plot| {
                let (_, bearing) = fix.way_to(plot, *nearest);
                say!(
                    "You are not in the plot: its nearest tree, {tree}, stands {distance} to the \
                     {point}, give or take {error}.",
                    tree = plot.tree(*nearest).name(),
                    distance = metres(*distance_m),
                    point = compass_point(bearing)
                )
            });
            said("p", "", words.unwrap_or_default())
        }
        Here::At(tree) => element(
            "div",
            "",
            vec![
                said("p", "", say!("Give or take {error}, no other tree is nearer to you:")),
                view! { <Answer tree=*tree /> }.into_any(),
            ],
        ),
        Here::Among { stretches, trees } => among(app, &error, stretches, *trees, told),
    }
}

/// Several trees may be the nearest: the row is asked for, then the tag.
fn among(app: App, error: &str, stretches: &[Stretch], trees: usize, told: Told) -> AnyView {
    let mut parts =
        vec![said("p", "", say!("Give or take {error}, any of {trees} trees may be the nearest."))];
    let chosen = match stretches {
        [only] => Some(only),
        more => told.row.get().and_then(|row| more.iter().find(|it| it.row == row)),
    };
    if stretches.is_empty() {
        parts.push(said("p", "hint", say!("They have no rows: read a tag nearby and type it.")));
    }
    if stretches.len() > 1 {
        parts.push(said("p", "nearest-which", say!("Which row do you stand at?")));
        let rows = stretches.iter().take(ROWS).map(|stretch| {
            let row = stretch.row;
            let is_chosen = move || told.row.get() == Some(row);
            view! {
                <button class="button" aria-pressed=move || is_chosen().to_string() on:click=move |_| told.row.set(Some(row))>
                    {say!("Row {row}")}
                </button>
            }
            .into_any()
        });
        parts.push(element("div", "nearest-rows", rows.collect()));
    }
    if let Some(stretch) = chosen {
        parts.push(said(
            "p",
            "nearest-which",
            say!("Which tag do you read in row {row}?", row = stretch.row),
        ));
        let trees = stretch.trees.iter().map(|&tree| {
            let (name, place) = app.plot(|plot| named(plot, tree)).unwrap_or_default();
            view! {
                <button class="button" on:click=move |_| told.tree.set(Some(tree))>
                    <span class="strip-place">{place}</span>
                    {name}
                </button>
            }
            .into_any()
        });
        parts.push(element("div", "nearest-trees", trees.collect()));
    }
    element("div", "", parts)
}

fn named(plot: &Plot, tree: TreeIx) -> (String, Option<i32>) {
    (plot.tree(tree).name(), plot.tree(tree).place())
}

fn settled(tree: TreeIx, told: Told) -> AnyView {
    let again = move || {
        told.tree.set(None);
        told.row.set(None);
    };
    element(
        "div",
        "",
        vec![
            view! { <Answer tree /> }.into_any(),
            button("button button-small", say!("Another one"), again),
        ],
    )
}
