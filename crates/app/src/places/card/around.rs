//! The neighbours of the tree, as the lines on the map say them.

use leptos::prelude::*;
use plot::TreeIx;
use scene::{Tells, words};

use crate::parts::lean::{changing, changing_words, element, link, said};
use crate::places::map::shown::{Shown, disease_shown, shown};
use crate::route::Route;
use crate::state::App;

const KEY: &str = "On the map: thick lines lead to trees that took it, thin ones to clean trees \
    that could have, dashed ones to trees that are probably resistant, dotted ones to trees \
    without a score.";

/// The neighbours, nearest first.
pub fn around(app: App, tree: TreeIx) -> AnyView {
    let shown = shown();
    let summary = changing_words(move || summary(app, shown, tree));
    let parts = vec![
        element(
            "summary",
            "",
            vec![said("span", "", "Neighbours"), element("span", "hint", vec![summary])],
        ),
        changing(move || lines(app, shown, tree)),
        said("p", "hint", KEY),
    ];
    element("details", "around", parts)
}

fn summary(app: App, shown: Shown, tree: TreeIx) -> Option<String> {
    let view = shown.neighbours.get().filter(|view| view.of == tree)?;
    let layer = shown.layer.get();
    let disease = app.plot(|plot| disease_shown(plot, &layer))??;
    Some(view.summary(&disease, app.report(&disease).as_deref()))
}

fn lines(app: App, shown: Shown, tree: TreeIx) -> AnyView {
    let Some(view) = shown.neighbours.get().filter(|view| view.of == tree) else {
        return ().into_any();
    };
    let mut lines = Vec::new();
    for near in &view.links {
        let who =
            app.plot(|plot| (plot.tree(near.tree).id().to_string(), words::tree(plot, near.tree)));
        let Some((id, name)) = who else { continue };
        let name = link("", Route::Tree { id }.address(), name);
        lines.push(element("li", class(near.tells), vec![name, said("span", "", &near.words)]));
    }
    element("ol", "", lines)
}

fn class(tells: Tells) -> &'static str {
    match tells {
        Tells::Infected => "tells-infected",
        Tells::CouldHave => "tells-could-have",
        Tells::NoWitness => "tells-no-witness",
        Tells::Unknown => "tells-unknown",
    }
}
