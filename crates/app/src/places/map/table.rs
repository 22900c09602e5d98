//! The map as a table: every mark a line, for keyboard and screen reader and for looking things up.
//! Only the lines on the screen exist.

use std::sync::Arc;

use leptos::html;
use leptos::prelude::*;
use plot::{Plot, TreeIx};
use scene::{Class, Sheet, words};
use web_sys::KeyboardEvent;

use super::choose;
use super::legend::mark;
use super::shown::{Shown, shown};
use crate::parts::lean::{changing, changing_words};
use crate::state::{App, app};

/// Height of a line, CSS pixels; the style sheet has the same.
const LINE_PX: f64 = 48.0;
/// Lines that exist beyond either edge of the screen.
const BEYOND: usize = 6;

/// How lines are ordered.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Order {
    Place,
    Tag,
    Class,
}

const ORDERS: [(Order, &str, &str); 3] = [
    (Order::Place, "place", "by row and place"),
    (Order::Tag, "tag", "by tag"),
    (Order::Class, "class", "by what the layer shows"),
];

/// The table.
#[component]
pub fn Table() -> impl IntoView {
    let (app, shown) = (app(), shown());
    let order = RwSignal::new(Order::Place);
    let lines = Memo::new(move |_| {
        let sheet = shown.sheet.get()?;
        app.plot(|plot| Arc::new(ordered(plot, &sheet, order.get())))
    });
    let count = move || lines.get().map_or(0, |lines| lines.len());
    let top = RwSignal::new(0.0_f64);
    let height = RwSignal::new(800.0_f64);
    let frame = NodeRef::<html::Div>::new();
    let look = move || {
        if let Some(frame) = frame.get_untracked() {
            top.set(f64::from(frame.scroll_top()));
            height.set(f64::from(frame.client_height()));
        }
    };
    Effect::new(move || {
        if frame.get().is_some() {
            look();
        }
    });
    let window = Memo::new(move |_| {
        let first = ((top.get() / LINE_PX) as usize).saturating_sub(BEYOND);
        let last = ((top.get() + height.get()) / LINE_PX) as usize + BEYOND;
        (first.min(count()), last.min(count()))
    });
    // The chosen tree's line comes into view.
    Effect::new(move || {
        let chosen = app.chosen.get();
        let nth = lines.with(|lines| lines.as_ref()?.iter().position(|tree| Some(*tree) == chosen));
        let (Some(nth), Some(frame)) = (nth, frame.get()) else { return };
        let (at, top_px) = (nth as f64 * LINE_PX, f64::from(frame.scroll_top()));
        let height_px = f64::from(frame.client_height()) - LINE_PX;
        if at < top_px || at + LINE_PX > top_px + height_px {
            frame.set_scroll_top((at - height_px / 2.0).max(0.0) as i32);
        }
    });
    let key = move |event: KeyboardEvent| {
        let step = match event.key().as_str() {
            "ArrowDown" => 1,
            "ArrowUp" => -1,
            "PageDown" => 10,
            "PageUp" => -10,
            "Home" => isize::MIN,
            "End" => isize::MAX,
            "Escape" => {
                super::put_away(app);
                return;
            }
            _ => return,
        };
        event.prevent_default();
        let Some(lines) = lines.get_untracked().filter(|lines| !lines.is_empty()) else { return };
        let chosen = app.chosen.get_untracked();
        let at = lines.iter().position(|tree| Some(*tree) == chosen);
        let at = at.map_or(0, |at| (at as isize).saturating_add(step));
        let next = lines.get(at.clamp(0, lines.len() as isize - 1) as usize).copied();
        if let Some(tree) = next {
            choose(app, tree);
        }
    };
    view! {
        <div class="twin">
            <label class="twin-order">
                <span>"Order"</span>
                <select on:change=move |event| {
                    let word = event_target_value(&event);
                    let found = ORDERS.into_iter().find(|(_, key, _)| *key == word);
                    order.set(found.map_or(Order::Place, |(order, _, _)| order));
                }>
                    {ORDERS.map(|(_, key, label)| view! { <option value=key>{label}</option> })}
                </select>
            </label>
            <div
                node_ref=frame
                class="twin-frame"
                role="grid"
                tabindex="0"
                aria-label="All trees"
                aria-rowcount=move || (count() + 1).to_string()
                aria-activedescendant=move || app.chosen.get().map(|tree| format!("twin-{}", tree.get()))
                on:scroll=move |_| look()
                on:keydown=key
            >
                <div class="twin-line twin-head" role="row" aria-rowindex="1">
                    <span role="columnheader">"Tag"</span>
                    <span role="columnheader">"Row, place"</span>
                    <span role="columnheader" class="twin-cross">"Cross"</span>
                    <span role="columnheader">{changing_words(move || shown.title())}</span>
                </div>
                <div class="twin-space" role="presentation" style:height=move || format!("{}px", count() as f64 * LINE_PX)>
                    <div class="twin-window" role="presentation" style:top=move || format!("{}px", window.get().0 as f64 * LINE_PX)>
                        {changing(move || {
                            let (first, last) = window.get();
                            let trees = lines.get().unwrap_or_default();
                            let trees = trees[first..last.min(trees.len())].iter().zip(first..);
                            trees.map(|(tree, nth)| line(app, shown, *tree, nth)).collect::<Vec<_>>().into_any()
                        })}
                    </div>
                </div>
            </div>
        </div>
    }
}

fn line(app: App, shown: Shown, tree: TreeIx, nth: usize) -> AnyView {
    let words = app.plot_now(|plot| {
        let one = plot.tree(tree);
        let place = one.row().zip(one.place());
        [
            words::tree(plot, tree),
            place.map_or_else(|| "–".to_owned(), |(row, place)| format!("{row}, {place}")),
            words::parentage(one).unwrap_or_default(),
        ]
    });
    let [name, place, cross] = words.unwrap_or_default();
    let class = move || {
        let sheet = shown.sheet.get();
        let class = sheet.as_ref().and_then(|sheet| sheet.class(tree));
        let words = |class: &Class| {
            vec![mark(class.kind.look(), shown.theme.get()), class.label.clone().into_any()]
        };
        class.map_or_else(Vec::new, words).into_any()
    };
    let is_chosen = move || app.chosen.get() == Some(tree);
    view! {
        <div
            class="twin-line"
            id=format!("twin-{}", tree.get())
            role="row"
            aria-rowindex=(nth + 2).to_string()
            aria-selected=move || is_chosen().to_string()
            on:click=move |_| choose(app, tree)
        >
            <span role="gridcell">{name}</span>
            <span role="gridcell" class="number">{place}</span>
            <span role="gridcell" class="twin-cross">{cross}</span>
            <span role="gridcell" class="twin-class">{changing(class)}</span>
        </div>
    }
    .into_any()
}

fn ordered(plot: &Plot, sheet: &Sheet, order: Order) -> Vec<TreeIx> {
    let mut trees = sheet.order().to_vec();
    let place = |tree: &TreeIx| {
        let one = plot.tree(*tree);
        (one.row().unwrap_or(i32::MAX), one.place().unwrap_or(i32::MAX), *tree)
    };
    match order {
        Order::Place => trees.sort_by_cached_key(place),
        Order::Tag => trees.sort_by_cached_key(|tree| {
            let tag = plot.tree(*tree).tag().map(natural);
            (tag.is_none(), tag, place(tree))
        }),
        // The weightiest last on the map is first in the table.
        Order::Class => trees.sort_by_cached_key(|tree| {
            let kind = sheet.class(*tree).map(|class| class.kind);
            (std::cmp::Reverse(kind), place(tree))
        }),
    }
    trees
}

/// A tag in the order of people: `Q-9` before `Q-11`.
fn natural(tag: &str) -> Vec<(String, u64)> {
    let mut parts: Vec<(String, u64)> = Vec::new();
    let (mut word, mut digits) = (String::new(), String::new());
    for letter in tag.chars() {
        if letter.is_ascii_digit() {
            digits.push(letter);
        } else {
            if !digits.is_empty() {
                parts.push((std::mem::take(&mut word), digits.parse().unwrap_or(u64::MAX)));
                digits.clear();
            }
            word.extend(letter.to_lowercase());
        }
    }
    parts.push((word, digits.parse().unwrap_or(0)));
    parts
}
