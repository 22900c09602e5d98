//! Which round the scores belong to: one that was begun, or a new one.

use language::say;
use leptos::prelude::*;
use plot::TraitIx;
use walk::{RoundChoices, round_choices};

use super::choice::choice;
use crate::state::app;
use crate::work::clock;

/// Rounds offered beside the new one.
const OFFERED: usize = 3;

/// What can be chosen on this day.
pub fn choices(traits: &[TraitIx]) -> Option<RoundChoices> {
    app().plot_now(|plot| round_choices(plot, traits, clock::now().date()))
}

/// A choice of rounds.
#[component]
pub fn RoundChoice(traits: Signal<Vec<TraitIx>>, round: RwSignal<String>) -> impl IntoView {
    let option = move |name: String, words: String| {
        let chosen = name.clone();
        let is_chosen = move || round.with(|round| *round == chosen);
        choice("walk-round", words, is_chosen, move || round.set(name.clone()))
    };
    view! {
        <fieldset>
            <legend>{say!("Round")}</legend>
            {move || traits.with(|traits| choices(traits)).map(|choices| {
                let begun = choices.rounds.iter().take(OFFERED).map(|it| {
                    let words = say!(
                        "Go on with round {name} (last on {day}, {scores} scores of these)",
                        name = it.name, day = it.last_day, scores = it.scores
                    );
                    option(it.name.to_string(), words)
                }).collect::<Vec<_>>();
                let new = option(choices.new_name.to_string(), say!("Begin round {name}", name = choices.new_name));
                view! { {begun} {new} }
            })}
        </fieldset>
    }
}
