//! Setting up a walk: what to score, which round, from where, which rows.

use std::sync::Arc;

use language::{count, say};
use leptos::prelude::*;
use plot::{Plot, TraitIx};
use scene::words;
use walk::{Route, Setup, Way, Wish, rows_from_text, rows_in_text};

use super::caution::ToolsCaution;
use super::choice::choice;
use super::corner::CornerChoice;
use super::remembered::Remembered;
use super::round_choice::{RoundChoice, choices};
use super::scorer::ScorerChoice;
use super::walker::Walker;
use super::which::WhichTrees;
use crate::state::app;
use crate::work::clock;

/// The form before a walk.
#[component]
pub fn WalkSetup(walker: Walker) -> impl IntoView {
    let app = app();
    let left = app.plot_now(Remembered::of).flatten();
    // Whoever comes from a plan walks it.
    let planned = app.walk_wanted.get_untracked();
    app.walk_wanted.set(None);
    let of_plan = planned.as_ref().and_then(|disease| {
        app.plot_now(|plot| plot.traits_of_disease(disease)).filter(|traits| !traits.is_empty())
    });
    let is_planned = of_plan.is_some();
    let traits = RwSignal::new(of_plan.unwrap_or_else(|| first_traits(left.as_ref())));
    let round = RwSignal::new(first_round(&traits.get_untracked(), left.as_ref()));
    let is_on_tools = app.plot_now(|plot| !walk::seen_on_tools(plot).is_empty()).unwrap_or(false);
    let wish = RwSignal::new(left.as_ref().map_or_else(
        || Wish { sick_last: is_on_tools, ..Wish::default() },
        |left| Wish { rows: None, only: None, ..left.wish.clone() },
    ));
    let rows = RwSignal::new(
        left.as_ref()
            .and_then(|left| left.wish.rows.as_ref())
            .map(rows_in_text)
            .unwrap_or_default(),
    );
    let blind = RwSignal::new(left.as_ref().is_some_and(|left| left.blind));
    let scorer = RwSignal::new(left.and_then(|left| left.scorer).unwrap_or_default());
    let only = RwSignal::new(None);
    let chosen_rows = move || rows.with(|text| rows_from_text(text));
    let full_wish =
        move || Wish { rows: chosen_rows().ok().flatten(), only: only.get(), ..wish.get() };
    let count = Memo::new(move |_| {
        app.look_up(|plot, look| {
            Route::plan(plot, &look.rows, &full_wish(), |_| false, |_| false).stops.len()
        })
        .unwrap_or_default()
    });
    let why_not = move || {
        if traits.with(Vec::is_empty) {
            Some(say!("Choose what to score.").to_owned())
        } else if let Err(refusal) = chosen_rows() {
            Some(say!(
                "Rows: {found} is not {expected}.",
                found = refusal.found,
                expected = refusal.expected
            ))
        } else if blind.get() && scorer.with(|name| name.trim().is_empty()) {
            Some(
                say!("Blind: say who scores, so that the two scorers can be told apart.")
                    .to_owned(),
            )
        } else {
            (count.get() == 0).then(|| match only.with(Option::is_some) {
                true => say!("None of these trees is in these rows.").to_owned(),
                false => say!("No standing tree is in these rows.").to_owned(),
            })
        }
    };
    let set_out = move |_| {
        let season = app.plot_now(|plot| plot.season_on(clock::now().date()));
        let Some(season) = season else { return };
        let scorer = scorer.get_untracked();
        let setup = Setup {
            season,
            round: round.get_untracked().into(),
            traits: traits.get_untracked(),
            wish: full_wish(),
            scorer: (!scorer.trim().is_empty()).then(|| Arc::from(scorer.trim())),
            blind: blind.get_untracked(),
        };
        if let Err(unable) = walker.begin(setup, None) {
            app.trouble.set(Some(say!("The walk cannot begin: {unable}.")));
        }
    };
    view! {
        <div class="walk-setup">
            <h1>{say!("Walk")}</h1>
            <ToolsCaution />
            <TraitChoice traits />
            <RoundChoice traits=traits.into() round />
            <CornerChoice wish />
            <WayChoice wish />
            <label class="field">
                <span>{say!("Rows")}</span>
                <input type="text" inputmode="text" placeholder=say!("all rows, or 3-7, 9") prop:value=rows on:input=move |event| rows.set(event_target_value(&event)) />
            </label>
            <label class="check">
                <input
                    type="checkbox"
                    prop:checked=move || wish.with(|wish| wish.sick_last)
                    on:change=move |event| wish.update(|wish| wish.sick_last = event_target_checked(&event))
                />
                <span>{say!("Trees seen sick before come last")}</span>
            </label>
            <WhichTrees traits only is_planned />
            <ScorerChoice scorer blind />
            <p class="walk-why" role="status">{why_not}</p>
            <button class="button button-first walk-start" disabled=move || why_not().is_some() on:click=set_out>
                {move || count!(count.get(), "Walk 1 trees", "Walk {trees} trees", trees = count.get())}
            </button>
        </div>
    }
}

#[component]
fn TraitChoice(traits: RwSignal<Vec<TraitIx>>) -> impl IntoView {
    let all = app().plot_now(|plot| {
        let all = plot.head().traits.iter().enumerate();
        all.map(|(nth, one)| (TraitIx::new(nth), one.label.clone())).collect::<Vec<_>>()
    });
    let one = move |(ix, label): (TraitIx, String)| {
        let toggle = move |_| {
            traits.update(|traits| match traits.iter().position(|&it| it == ix) {
                Some(at) => {
                    traits.remove(at);
                }
                None => traits.push(ix),
            });
        };
        view! {
            <label class="check">
                <input type="checkbox" prop:checked=move || traits.with(|traits| traits.contains(&ix)) on:change=toggle />
                <span>{label}</span>
            </label>
        }
        .into_any()
    };
    view! {
        <fieldset>
            <legend>{say!("What to score at each tree")}</legend>
            {all.as_ref().is_none_or(Vec::is_empty).then(|| view! {
                <p>
                    {say!("This plot has no traits yet. A trait says what is scored and on which scale; \
                     it stands in plot.json. The demo plot shows how.")}
                </p>
            })}
            {all.unwrap_or_default().into_iter().map(one).collect_view()}
            <UsualRounds traits />
        </fieldset>
    }
}

/// When in the season what is chosen is usually rated.
#[component]
fn UsualRounds(traits: RwSignal<Vec<TraitIx>>) -> impl IntoView {
    let app = app();
    let lines = move || {
        let of = |plot: &Plot| traits.with(|traits| words::usual_rounds(plot, traits));
        let lines = app.plot_now(of).unwrap_or_default();
        lines.into_iter().map(|line| view! { <p class="hint">{line}</p> }).collect_view()
    };
    view! { {lines} }
}

#[component]
fn WayChoice(wish: RwSignal<Wish>) -> impl IntoView {
    let one = move |way: Way, words: &str| {
        let is_chosen = move || wish.with(|wish| wish.way == way);
        choice("walk-way", words.to_owned(), is_chosen, move || wish.update(|wish| wish.way = way))
    };
    view! {
        <fieldset>
            <legend>{say!("From row to row")}</legend>
            {one(Way::Serpentine, say!("up one row and down the next"))}
            {one(Way::OneWay, say!("each row from the same end"))}
        </fieldset>
    }
}

/// What was scored last, else the first trait of a disease, else the first trait.
fn first_traits(left: Option<&Remembered>) -> Vec<TraitIx> {
    app()
        .plot_now(|plot| {
            if let Some(setup) = left.and_then(|left| left.setup(plot)) {
                return setup.traits;
            }
            let traits = &plot.head().traits;
            let first = traits.iter().position(|one| one.disease.is_some()).unwrap_or(0);
            if traits.is_empty() { Vec::new() } else { vec![TraitIx::new(first)] }
        })
        .unwrap_or_default()
}

/// The round that was walked lately, else a new one.
fn first_round(traits: &[TraitIx], left: Option<&Remembered>) -> String {
    let Some(choices) = choices(traits) else { return String::new() };
    let same = left.filter(|left| choices.likely.as_deref() == Some(left.round.as_str()));
    match (same, choices.likely) {
        (Some(left), _) => left.round.clone(),
        (None, Some(likely)) => likely.to_string(),
        (None, None) => choices.new_name.to_string(),
    }
}
