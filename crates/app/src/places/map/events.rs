//! What was done to the plot and what befell it, on the time line of the rounds and in words.

use std::sync::Arc;

use language::{count, say};
use leptos::prelude::*;
use plot::Round;
use scene::{Happening, Moment, words};

use super::shown::shown;
use crate::parts::lean::{changing, element, said, when};
use crate::parts::made_once;
use crate::state::{App, app};

/// How near two marks may lie, in hundredths of the time line, before they become one.
const NEAR: f64 = 4.0;
/// Letters of one mark.
const LETTERS: usize = 3;

/// Events on the walk through the rounds that are shown.
#[derive(Clone, Copy, Debug)]
pub struct Events {
    rounds: Signal<Option<Arc<Vec<Round>>>>,
    all: Signal<Option<Arc<Vec<Happening>>>>,
}

impl Events {
    /// Follows plot and rounds.
    pub(super) fn new(app: App, rounds: Signal<Option<Arc<Vec<Round>>>>) -> Self {
        let all = made_once(move || {
            let rounds = rounds.get()?;
            app.plot(|plot| Arc::new(Happening::all(plot, &rounds)))
        });
        Self { rounds, all }
    }

    fn get(self) -> Arc<Vec<Happening>> {
        self.all.get().unwrap_or_default()
    }

    fn of<'a>(self, all: &'a [Happening], moment: &Moment) -> Vec<&'a Happening> {
        let rounds = self.rounds.get().unwrap_or_default();
        all.iter().filter(|one| one.is_of(moment, &rounds)).collect()
    }

    /// What happened since the round before, for those who hear the slider; none at other stops.
    pub(super) fn since(self, moment: &Moment) -> Option<String> {
        if !matches!(moment, Moment::Round(..)) {
            return None;
        }
        let all = self.get();
        let told: Vec<&str> = self.of(&all, moment).iter().map(|one| one.words.as_str()).collect();
        (!told.is_empty()).then(|| say!("Before it: {told}", told = told.join("; ")))
    }
}

/// Marks under the slider: the first letters of what happened, where in time it lies. The list
/// says the same in words.
pub(super) fn marks(events: Events, stops: Signal<usize>) -> AnyView {
    let marks = move || {
        let last = stops.get().saturating_sub(1).max(1) as f64;
        let mut marks: Vec<(f64, String)> = Vec::new();
        for one in events.get().iter() {
            let at = (one.at / last * 100.0).clamp(0.0, 100.0);
            match marks.last_mut() {
                Some((before, letters)) if at - *before < NEAR => match letters.chars().count() {
                    few if few < LETTERS => letters.push(one.letter),
                    LETTERS => letters.push('+'),
                    _ => {}
                },
                _ => marks.push((at, one.letter.to_string())),
            }
        }
        let mark = |(at, letters): (f64, String)| {
            view! { <span class="map-event" style:left=format!("{at:.2}%")>{letters}</span> }
                .into_any()
        };
        marks.into_iter().map(mark).collect::<Vec<_>>().into_any()
    };
    let strip = move || {
        view! { <span class="map-events" aria-hidden="true">{changing(marks)}</span> }.into_any()
    };
    when(move || !events.get().is_empty(), strip)
}

/// The events in words: those of the slider's stop in bold; nothing where none is known.
#[component]
pub fn EventList() -> impl IntoView {
    let (app, shown) = (app(), shown());
    let events = shown.events;
    let summary = move || {
        let (all, moment) = (events.get(), shown.moment.get());
        let told = |of: &[&Happening]| match of {
            [] => say!("none"; "of events").to_owned(),
            [one] => one.words.clone(),
            many => count!(many.len(), "1 event", "{events} events", events = many.len()),
        };
        let of = events.of(&all, &moment);
        match moment {
            Moment::All => {
                app.plot(|plot| words::events(plot.events().iter())).flatten().unwrap_or_default()
            }
            Moment::Season(_) => say!("Events of this season: {events}", events = told(&of)),
            Moment::Round(..) => {
                say!("Events since the round before: {events}", events = told(&of))
            }
        }
    };
    let list = move || {
        let (all, moment) = (events.get(), shown.moment.get());
        let rounds = events.rounds.get().unwrap_or_default();
        let line = |one: &Happening| {
            let is_now = moment != Moment::All && one.is_of(&moment, &rounds);
            said("li", if is_now { "event-now" } else { "" }, one.words.clone())
        };
        let mut parts = vec![element("ul", "", all.iter().map(line).collect())];
        if all.iter().any(|one| one.is_spray) {
            parts.push(said("p", "caution", words::cautions::sprays()));
        }
        element("div", "", parts)
    };
    let details = move || {
        view! {
            <details class="event-list">
                <summary>{changing(move || summary().into_any())}</summary>
                {changing(list)}
            </details>
        }
        .into_any()
    };
    when(move || !events.get().is_empty(), details)
}
