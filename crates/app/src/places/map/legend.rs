//! The legend: every class with its mark, its words and how many there are.

use language::say;
use leptos::prelude::*;
use scene::{Class, Layer, Look, Moment, Shade, Theme, Underlay, pieces};

use super::shown::{Shown, shown};
use crate::parts::JudgeProgress;
use crate::parts::lean::{changing, changing_words, element, said, when};
use crate::state::{App, app};

/// The legend of the layer, always there.
#[component]
pub fn Legend() -> impl IntoView {
    let (app, shown) = (app(), shown());
    let waits = move || {
        let tinted = shown.under.underlay.get() != Underlay::Plain;
        tinted || shown.layer.with(Layer::needs_report)
    };
    let judging = move || waits() && app.judging.get().is_some();
    view! {
        <section class="legend" aria-label=say!("Legend")>
            <h2>{changing_words(move || title(app, shown))}</h2>
            {when(judging, || view! { <JudgeProgress /> }.into_any())}
            <ul>{changing(move || lines(shown))}</ul>
            {changing(move || below(shown))}
            {changing(move || notes(shown))}
        </section>
    }
}

/// `Scab on leaves: Season 2031 | Season 2029`, the second where there are two pictures.
fn title(app: App, shown: Shown) -> Option<String> {
    let title = shown.title()?;
    let beside = shown.season_beside.get().map(Moment::Season);
    let beside = beside.and_then(|season| shown.words_of(app, &season));
    Some(match beside {
        Some(season) => format!("{title} | {season}"),
        None => title,
    })
}

fn lines(shown: Shown) -> AnyView {
    let Some(sheet) = shown.pane.sheet.get() else { return ().into_any() };
    let (beside, theme) = (shown.beside.sheet.get(), shown.theme.get());
    let line = |(class, there)| line(class, there, theme);
    sheet.legend_beside(beside.as_deref()).map(line).collect::<Vec<_>>().into_any()
}

/// A class with its count, and with that of the picture beside where there is one.
fn line(class: &Class, beside: Option<usize>, theme: Theme) -> AnyView {
    let mut words = vec![class.label.clone().into_any()];
    words.extend(class.detail.as_ref().map(|detail| said("span", "legend-detail", detail)));
    let mut parts = vec![
        mark(class.kind.look(), theme),
        element("span", "legend-label", words),
        said("span", "legend-count", class.count.to_string()),
    ];
    parts.extend(beside.map(|count| said("span", "legend-count legend-beside", count.to_string())));
    let is_none = class.count == 0 && beside.unwrap_or(0) == 0;
    element("li", if is_none { "legend-none" } else { "" }, parts)
}

/// The legend of the tinted ground.
fn below(shown: Shown) -> AnyView {
    let Some(wash) = shown.pane.wash.get() else { return ().into_any() };
    let theme = shown.theme.get();
    let shades: Vec<AnyView> = wash.legend().map(|one| shade(one, theme)).collect();
    element("div", "legend-ground", vec![said("h2", "", wash.title()), element("ul", "", shades)])
}

fn shade(shade: &Shade, theme: Theme) -> AnyView {
    let parts = vec![
        mark(shade.look(), theme),
        said("span", "legend-label", &shade.label),
        said("span", "legend-area", shade.area()),
    ];
    element("li", if shade.area_m2 == 0.0 { "legend-none" } else { "" }, parts)
}

fn notes(shown: Shown) -> AnyView {
    let (sheet, wash) = (shown.pane.sheet.get(), shown.pane.wash.get());
    let of_marks = sheet.iter().flat_map(|sheet| sheet.notes());
    let notes: Vec<&String> = of_marks.chain(wash.iter().flat_map(|wash| wash.notes())).collect();
    if notes.is_empty() {
        return ().into_any();
    }
    let mut parts = vec![said("summary", "", say!("What this says, and what not"))];
    parts.extend(notes.into_iter().map(|note| said("p", "hint", note)));
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
