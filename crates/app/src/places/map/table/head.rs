//! The head of the table: a button in each column that orders the lines by it.

use language::say;
use leptos::prelude::*;
use scene::{Column, Sorting};

use crate::parts::lean::changing_words;
use crate::places::map::shown::Shown;

/// The heads of all columns.
pub(super) fn head(shown: Shown, sorting: RwSignal<Sorting>) -> AnyView {
    let heads = Column::ALL.map(|column| one(shown, sorting, column)).into_iter();
    view! {
        <div class="twin-line twin-head" role="row" aria-rowindex="1">{heads.collect_view()}</div>
    }
    .into_any()
}

fn one(shown: Shown, sorting: RwSignal<Sorting>, column: Column) -> AnyView {
    let words = move || match column {
        Column::Place => Some(say!("Row, place").to_owned()),
        Column::Tag => Some(say!("Tag").to_owned()),
        Column::Cross => Some(say!("Cross").to_owned()),
        Column::Class => shown.title(),
    };
    let is_by_it = move || sorting.with(|sorting| sorting.column == column);
    let sort = move || match (is_by_it(), sorting.with(|sorting| sorting.descending)) {
        (false, _) => "none",
        (true, false) => "ascending",
        (true, true) => "descending",
    };
    let arrow = move || {
        Some(match sort() {
            "ascending" => "▲".to_owned(),
            "descending" => "▼".to_owned(),
            _ => String::new(),
        })
    };
    let press = move |_| sorting.update(|sorting| *sorting = sorting.asked_for(column));
    view! {
        <span class=class(column) role="columnheader" aria-sort=sort>
            <button class="twin-sort" on:click=press>
                <span>{changing_words(words)}</span>
                <span aria-hidden="true">{changing_words(arrow)}</span>
            </button>
        </span>
    }
    .into_any()
}

/// The class of a column's cells.
pub(super) fn class(column: Column) -> &'static str {
    match column {
        Column::Place => "twin-place",
        Column::Tag => "twin-tag",
        Column::Cross => "twin-cross",
        Column::Class => "twin-class",
    }
}
