//! One line of the table.

use leptos::prelude::*;
use plot::TreeIx;
use scene::{Class, Column, words};

use super::head::class;
use crate::parts::lean::changing;
use crate::places::map::choose;
use crate::places::map::legend::mark;
use crate::places::map::shown::Shown;
use crate::state::App;

/// The element of a tree's line.
pub(super) fn id(tree: TreeIx) -> String {
    format!("twin-{}", tree.get())
}

/// The line of a tree, the nth of all.
pub(super) fn line(app: App, shown: Shown, tree: TreeIx, nth: usize) -> AnyView {
    let words = app.plot_now(|plot| {
        let one = plot.tree(tree);
        let place = one.row().zip(one.place());
        [
            place.map_or_else(|| "–".to_owned(), |(row, place)| format!("{row}, {place}")),
            words::tree(plot, tree),
            words::parentage(one).unwrap_or_default(),
        ]
    });
    let [place, name, cross] = words.unwrap_or_default();
    let shows = move || {
        let sheet = shown.pane.sheet.get();
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
            id=id(tree)
            role="row"
            aria-rowindex=(nth + 2).to_string()
            aria-selected=move || is_chosen().to_string()
            on:click=move |_| choose(app, tree)
        >
            <span role="gridcell" class=class(Column::Place)>{place}</span>
            <span role="gridcell" class=class(Column::Tag)>{name}</span>
            <span role="gridcell" class=class(Column::Cross)>{cross}</span>
            <span role="gridcell" class=class(Column::Class)>{changing(shows)}</span>
        </div>
    }
    .into_any()
}
