//! The map as a table: every mark a line, for keyboard and screen reader and for looking things up.
//! Only the lines on the screen exist.

mod head;
mod keys;
mod line;

use std::sync::Arc;

use language::say;
use leptos::html;
use leptos::prelude::*;
use plot::TreeIx;
use scene::Sorting;

use super::shown::shown;
use crate::parts::lean::changing;
use crate::parts::rem_px;
use crate::state::app;

/// Height of a line, rem; the style sheet has the same.
const LINE_REM: f64 = 3.0;
/// Lines that exist beyond either edge of the screen.
const BEYOND: usize = 6;

/// The trees in order.
type Lines = Memo<Option<Arc<Vec<TreeIx>>>>;

/// The table.
#[component]
pub fn Table() -> impl IntoView {
    let (app, shown) = (app(), shown());
    let sorting = RwSignal::new(Sorting::default());
    let lines: Lines = Memo::new(move |_| {
        let sheet = shown.pane.sheet.get()?;
        app.plot(|plot| Arc::new(scene::lines(plot, &sheet, sorting.get())))
    });
    let count = move || lines.with(|lines| lines.as_ref().map_or(0, |lines| lines.len()));
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
        let line_px = LINE_REM * rem_px();
        let first = ((top.get() / line_px) as usize).saturating_sub(BEYOND);
        let last = ((top.get() + height.get()) / line_px) as usize + BEYOND;
        (first.min(count()), last.min(count()))
    });
    keep_in_view(lines, frame);
    let active = move || {
        let chosen = app.chosen.get()?;
        let (first, last) = window.get();
        let exists =
            lines.with(|lines| lines.as_ref()?.get(first..last).map(|all| all.contains(&chosen)));
        (exists == Some(true)).then(|| line::id(chosen))
    };
    let made = move || {
        let (first, last) = window.get();
        let trees = lines.get().unwrap_or_default();
        let trees = trees[first..last.min(trees.len())].iter().zip(first..);
        trees.map(|(tree, nth)| line::line(app, shown, *tree, nth)).collect::<Vec<_>>().into_any()
    };
    view! {
        <div
            node_ref=frame
            class="twin"
            role="grid"
            tabindex="0"
            aria-label=say!("All trees")
            aria-rowcount=move || (count() + 1).to_string()
            aria-activedescendant=active
            on:scroll=move |_| look()
            on:keydown=move |event| keys::pressed(app, lines, &event)
        >
            {head::head(shown, sorting)}
            <div class="twin-space" role="presentation" style:height=move || format!("{}rem", count() as f64 * LINE_REM)>
                <div class="twin-window" role="presentation" style:top=move || format!("{}rem", window.get().0 as f64 * LINE_REM)>
                    {changing(made)}
                </div>
            </div>
        </div>
    }
}

/// The chosen tree's line comes into view.
fn keep_in_view(lines: Lines, frame: NodeRef<html::Div>) {
    let app = app();
    Effect::new(move || {
        let chosen = app.chosen.get();
        let nth = lines.with(|lines| lines.as_ref()?.iter().position(|tree| Some(*tree) == chosen));
        let (Some(nth), Some(frame)) = (nth, frame.get()) else { return };
        let line_px = LINE_REM * rem_px();
        let (at, top_px) = (nth as f64 * line_px, f64::from(frame.scroll_top()));
        let height_px = f64::from(frame.client_height()) - line_px;
        if at < top_px || at + line_px > top_px + height_px {
            frame.set_scroll_top((at - height_px / 2.0).max(0.0) as i32);
        }
    });
}
