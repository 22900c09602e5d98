//! The slider through the rounds, so that one sees the disease walk through the plot.

use std::time::Duration;

use language::say;
use leptos::prelude::*;
use scene::{Layer, Moment, Underlay};

use super::events::marks;
use super::shown::{Shown, shown};
use crate::parts::lean::{changing_words, when};
use crate::state::{App, app};

/// How long each round is shown when they run by themselves.
const EACH: Duration = Duration::from_millis(900);

/// Shown where there are rounds: a stop for each, one for each season, and all of it at the end.
#[component]
pub fn RoundSlider() -> impl IntoView {
    let (app, shown) = (app(), shown());
    let runs = RwSignal::new(false);
    // A layer without the chosen round shows all rounds.
    Effect::new(move || {
        let moment = shown.moment.get();
        let known = shown.under.rounds.with(Option::is_some);
        if known && moment != Moment::All && !stops(shown).contains(&moment) {
            shown.moment.set(Moment::All);
        }
    });
    when(move || stops(shown).len() > 2, move || slider(app, shown, runs))
}

fn slider(app: App, shown: Shown, runs: RwSignal<bool>) -> AnyView {
    let face = move || if runs.get() { "❚❚" } else { "►" };
    let words = move || if runs.get() { say!("Stop") } else { say!("Run through the rounds") };
    let slide = move |event| {
        runs.set(false);
        go(shown, event_target_value(&event).parse().unwrap_or(0));
    };
    view! {
        <div class="map-rounds">
            <button class="button button-small map-run" aria-label=words on:click=move |_| run(shown, runs)>
                {face}
            </button>
            <label>
                <span class="map-round-name">{changing_words(move || label(app, shown))}</span>
                <input
                    type="range"
                    min="0"
                    max=move || (stops(shown).len() - 1).to_string()
                    step="1"
                    aria-valuetext=move || heard(app, shown)
                    prop:value=move || at(shown).to_string()
                    on:input=slide
                />
                {marks(shown.events, Signal::derive(move || stops(shown).len()))}
            </label>
        </div>
    }
    .into_any()
}

/// The rounds of the layer's trait or disease, their seasons and then all; none for the crosses
/// while the ground under them is plain.
fn stops(shown: Shown) -> Vec<Moment> {
    let still = shown.layer.with(|layer| *layer == Layer::Cross)
        && shown.under.underlay.get() == Underlay::Plain;
    let rounds = shown.under.rounds.get().filter(|_| !still);
    rounds.map_or_else(Vec::new, |rounds| Moment::stops(&rounds))
}

fn at(shown: Shown) -> usize {
    let (stops, moment) = (stops(shown), shown.moment.get());
    stops.iter().position(|stop| *stop == moment).unwrap_or(stops.len().saturating_sub(1))
}

fn label(app: App, shown: Shown) -> Option<String> {
    shown.words_of(app, &shown.moment.get())
}

/// The stop, and what happened before it.
fn heard(app: App, shown: Shown) -> Option<String> {
    let since = shown.events.since(&shown.moment.get());
    label(app, shown).map(|label| match since {
        Some(since) => say!("{label}. {since}"),
        None => label,
    })
}

fn go(shown: Shown, nth: usize) {
    if let Some(stop) = untrack(move || stops(shown)).get(nth) {
        shown.moment.set(stop.clone());
    }
}

/// Begins to run through the rounds, from the first one after the last; or stops.
fn run(shown: Shown, runs: RwSignal<bool>) {
    if runs.get_untracked() {
        runs.set(false);
        return;
    }
    runs.set(true);
    let (at, last) = untrack(move || (at(shown), stops(shown).len()));
    if at + 1 >= last {
        go(shown, 0);
    }
    run_on(shown, runs);
}

/// A step after each pause, until the last round or until somebody stops it.
fn run_on(shown: Shown, runs: RwSignal<bool>) {
    let step = move || {
        if runs.try_get_untracked() != Some(true) {
            return;
        }
        let (next, last) = untrack(move || (at(shown) + 1, stops(shown).len()));
        go(shown, next);
        if next + 1 < last {
            run_on(shown, runs);
        } else {
            runs.set(false);
        }
    };
    set_timeout(step, EACH);
}
