//! One line of the list of trees that were found.

use language::say;
use leptos::prelude::*;
use plot::Status;
use walk::{Field, Hit, How};

use crate::state::app;

/// A tree to choose from the list.
#[component]
pub fn HitLine(hit: Hit, nth: usize, best: RwSignal<usize>) -> impl IntoView {
    let app = app();
    let tree = hit.tree;
    let lines = app.plot_now(|plot| {
        let one = plot.tree(tree);
        let place = one.row().zip(one.place());
        let place = place.map(|(row, place)| say!("row {row}, place {place}"));
        let gone = match one.status() {
            Status::Alive => None,
            Status::Dead => Some(say!("died")),
            Status::Removed => Some(say!("taken out")),
            Status::Empty => Some(say!("empty place")),
        };
        (plot.tree(tree).name(), one.parentage(), place, gone)
    });
    let (name, cross, place, gone) = lines.unwrap_or_default();
    let about = [cross, place].into_iter().flatten().collect::<Vec<_>>().join(" · ");
    let nearly = nearly(&hit);
    view! {
        <li>
            <button
                class="find-hit"
                aria-current=move || (best.get() == nth).then_some("true")
                on:click=move |_| best.set(nth)
            >
                <span class="find-name">{name}</span>
                {gone.map(|gone| view! { <span class="find-gone">{gone}</span> })}
                <span class="find-about">{about}</span>
                {nearly.map(|nearly| view! { <span class="find-nearly">{nearly}</span> })}
            </button>
        </li>
    }
}

/// What was matched where the line's own words do not show it.
fn nearly(hit: &Hit) -> Option<String> {
    let close: Vec<&str> =
        hit.matched.iter().filter(|it| it.how == How::Close).map(|it| it.text.as_str()).collect();
    if !close.is_empty() {
        return Some(say!("not quite what you typed: {typed}", typed = close.join(", ")));
    }
    hit.matched.iter().find_map(|it| match it.field {
        Field::Genotype => Some(say!("a copy of {genotype}", genotype = it.text)),
        Field::Id => Some(say!("id {id}", id = it.text)),
        Field::Note => Some(say!("note: {note}", note = it.text)),
        _ => None,
    })
}
