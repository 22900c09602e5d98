//! The legend: every class with its mark, its words and how many there are.

use leptos::prelude::*;
use scene::{Class, Layer, Look, Theme, pieces};

use super::shown::{Shown, shown};
use crate::parts::JudgeProgress;
use crate::parts::lean::{changing, changing_words, element, said, when};
use crate::state::app;

/// The legend of the layer, always there.
#[component]
pub fn Legend() -> impl IntoView {
    let (app, shown) = (app(), shown());
    let judging = move || shown.layer.with(Layer::needs_report) && app.judging.get().is_some();
    view! {
        <section class="legend" aria-label="Legend">
            <h2>{changing_words(move || shown.title())}</h2>
            {when(judging, || view! { <JudgeProgress /> }.into_any())}
            <ul>{changing(move || lines(shown))}</ul>
            {changing(move || notes(shown))}
        </section>
    }
}

fn lines(shown: Shown) -> AnyView {
    let Some(sheet) = shown.sheet.get() else { return ().into_any() };
    let theme = shown.theme.get();
    sheet.legend().map(|class| line(class, theme)).collect::<Vec<_>>().into_any()
}

fn line(class: &Class, theme: Theme) -> AnyView {
    let mut words = vec![class.label.clone().into_any()];
    words.extend(class.detail.as_ref().map(|detail| said("span", "legend-detail", detail)));
    let parts = vec![
        mark(class.kind.look(), theme),
        element("span", "legend-label", words),
        said("span", "legend-count", class.count.to_string()),
    ];
    element("li", if class.count == 0 { "legend-none" } else { "" }, parts)
}

fn notes(shown: Shown) -> AnyView {
    let sheet = shown.sheet.get();
    let notes = sheet.as_ref().map_or(&[][..], |sheet| sheet.notes());
    if notes.is_empty() {
        return ().into_any();
    }
    let mut parts = vec![said("summary", "", "What this says, and what not")];
    parts.extend(notes.iter().map(|note| said("p", "hint", note)));
    element("details", "legend-notes", parts)
}

/// One mark as it is on the map.
pub fn mark(look: Look, theme: Theme) -> AnyView {
    let paths: Vec<AnyView> = pieces(look, 8.5, theme)
        .into_iter()
        .map(|piece| {
            let (ink, width) = piece.line.unwrap_or_else(|| ("none".to_owned(), 0.0));
            view! {
                <path d=piece.path fill=piece.fill stroke=ink stroke-width=format!("{width:.2}")></path>
            }
            .into_any()
        })
        .collect();
    view! {
        <svg class="mark" viewBox="-12 -12 24 24" width="24" height="24" aria-hidden="true">
            {paths}
        </svg>
    }
    .into_any()
}
