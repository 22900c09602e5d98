//! The neighbours of the tree, as the lines on the map say them, with the slider through the
//! rounds where the card hides the map's own.

use language::{say, text};
use leptos::prelude::*;
use plot::TreeIx;
use scene::{Link, NeighbourView, Stroke, Tells, words};
use web_sys::Element;

use crate::parts::lean::{changing, changing_words, element, link, said};
use crate::places::map::rounds::RoundSlider;
use crate::places::map::shown::{Shown, shown};
use crate::route::Route;
use crate::state::App;

const KEY: &str = text!(
    "On the map: full lines lead to trees that took it, hollow ones to clean trees \
    that could have, dashed ones to trees that are probably resistant, dotted ones to trees \
    without a score. The wider a line, the more the neighbour counts. Rings tell the distance."
);

/// The neighbours, nearest first.
pub fn around(app: App, tree: TreeIx) -> AnyView {
    let shown = shown();
    let words =
        move |of: fn(&NeighbourView) -> String| changing_words(move || view_of(shown, tree, of));
    let is_open = shown.lists_neighbours;
    // Whoever opens the list wants to see the lines, too.
    let toggled = move |event: web_sys::Event| {
        let opened = event_target::<Element>(&event).has_attribute("open");
        if opened && !is_open.get_untracked() {
            shown.go_to.set(Some(tree));
        }
        is_open.set(opened);
    };
    view! {
        <details class="around" prop:open=move || is_open.get() on:toggle=toggled>
            <summary>
                <span>{say!("Neighbours")}</span>
                <span class="hint">{words(|view| view.summary.clone())}</span>
            </summary>
            <div class="around-rounds">{RoundSlider()}</div>
            <div role="status">
                <p class="around-itself">{words(|view| view.itself.clone())}</p>
                <p class="around-all">{words(|view| view.summary.clone())}</p>
            </div>
            {changing(move || lines(app, shown, tree))}
            <p class="hint">{words(|view| view.weighing.clone())}</p>
            <p class="hint">{language::said(KEY)}</p>
        </details>
    }
    .into_any()
}

fn view_of<R>(shown: Shown, tree: TreeIx, read: impl FnOnce(&NeighbourView) -> R) -> Option<R> {
    shown
        .pane
        .neighbours
        .with(|view| view.as_ref().filter(|view| view.of == tree).map(|view| read(view)))
}

fn lines(app: App, shown: Shown, tree: TreeIx) -> AnyView {
    let lines = view_of(shown, tree, |view| {
        let mut lines: Vec<AnyView> =
            view.links.iter().filter_map(|near| line(app, near)).collect();
        let farther = view.farther.as_ref();
        lines.extend(farther.map(|farther| said("li", "around-farther", farther)));
        lines
    });
    element("ol", "", lines.unwrap_or_default())
}

fn line(app: App, near: &Link) -> Option<AnyView> {
    let (id, name) =
        app.plot(|plot| (plot.tree(near.tree).id().to_string(), words::tree(plot, near.tree)))?;
    let parts = vec![
        sample(near.stroke()),
        link("", Route::Tree { id }.address(), name),
        said("span", "around-counts", near.counts.clone().unwrap_or_default()),
        said("span", "around-words", &near.words),
    ];
    Some(element("li", class(near.tells), parts))
}

/// The line as the map draws it.
fn sample(stroke: Stroke) -> AnyView {
    let dash: Vec<String> = stroke.dash.iter().map(f64::to_string).collect();
    view! {
        <svg class="around-way" viewBox="0 0 36 16" width="36" height="16" aria-hidden="true">
            <path d="M2 8H34" stroke-width=stroke.width_px.to_string() stroke-dasharray=dash.join(" ")></path>
            <path class="around-core" d="M2 8H34" stroke-width=stroke.core_px.to_string()></path>
        </svg>
    }
    .into_any()
}

fn class(tells: Tells) -> &'static str {
    match tells {
        Tells::Infected => "tells-infected",
        Tells::CouldHave => "tells-could-have",
        Tells::NoWitness => "tells-no-witness",
        Tells::Unknown => "tells-unknown",
    }
}
