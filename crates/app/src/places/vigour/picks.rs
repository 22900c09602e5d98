//! What vigour is told by: the trait, the trend of the field that is taken out, the season.

use std::sync::Arc;

use judge::Grown;
use language::say;
use leptos::prelude::*;
use plot::{Season, TraitIx};
use scene::words;
use vigour::Trend;

use super::{measured_traits, shown_season};
use crate::parts::lean::changing_words;
use crate::route::Route;
use crate::state::app;

/// The traits that may tell it, each an address; nothing where there is one.
#[component]
pub fn TraitPick(trait_ix: TraitIx) -> impl IntoView {
    let traits = app().plot_now(|plot| {
        let one = |ix: TraitIx| {
            let own = plot.trait_of(ix);
            (own.id.to_string(), own.label.clone(), ix == trait_ix)
        };
        measured_traits(plot).into_iter().map(one).collect::<Vec<_>>()
    });
    let one = |(id, label, here): (String, String, bool)| {
        let address = Route::Vigour { trait_id: Some(id) }.address();
        view! { <li><a href=address aria-current=here.then_some("page")>{label}</a></li> }
            .into_any()
    };
    traits.filter(|traits| traits.len() > 1).map(|traits| {
        view! {
            <nav class="proof-diseases" aria-label=say!("Traits")>
                <ul>{traits.into_iter().map(one).collect_view()}</ul>
            </nav>
        }
    })
}

/// The ways to describe the field, and what the chosen one does.
#[component]
pub fn TrendPick(trend: RwSignal<Option<Trend>>) -> impl IntoView {
    const OFFERED: [Option<Trend>; 6] = [
        None,
        Some(Trend::None),
        Some(Trend::Rows),
        Some(Trend::Surface),
        Some(Trend::Ar1),
        Some(Trend::Papadakis),
    ];
    let option = |one: Option<Trend>| {
        let key = one.map_or("auto", Trend::as_str);
        let selected = trend.get_untracked() == one;
        view! { <option value=key selected=selected>{name(one)}</option> }.into_any()
    };
    let choose = move |event| {
        let key = event_target_value(&event);
        trend.set(OFFERED.into_iter().flatten().find(|one| one.as_str() == key));
    };
    view! {
        <div class="vigour-trend">
            <label class="field">
                <span>{say!("Trend of the field")}</span>
                <select aria-describedby="trend-does" on:change=choose>
                    {OFFERED.map(option).into_iter().collect_view()}
                </select>
            </label>
            <p class="hint" id="trend-does">
                {changing_words(move || Some(words::trend_does(trend.get()).to_owned()))}
            </p>
        </div>
    }
}

/// What a trend is called in the list.
pub(super) fn name(trend: Option<Trend>) -> String {
    trend
        .map_or_else(|| say!("The best of four").to_owned(), |one| plot::capital(words::trend(one)))
}

/// The seasons in which somebody was measured.
#[component]
pub fn SeasonPick(grown: Arc<Grown>, season: RwSignal<Option<Season>>) -> impl IntoView {
    let seasons = app().plot_now(|plot| {
        let seasons = grown.vigour.seasons.iter().map(|fit| fit.season);
        seasons.map(|one| (one, words::season_name(plot, one))).collect::<Vec<_>>()
    });
    let one = move |(own, name): (Season, String)| {
        let grown = grown.clone();
        let is_shown = move || {
            let shown = shown_season(&grown, season.get()).map(|fit| fit.season);
            (shown == Some(own)).to_string()
        };
        view! {
            <button class="button" aria-pressed=is_shown on:click=move |_| season.set(Some(own))>
                {name}
            </button>
        }
        .into_any()
    };
    view! {
        <div class="row vigour-seasons" role="group" aria-label=say!("Season")>
            <span>{say!("Season")}</span>
            {seasons.unwrap_or_default().into_iter().map(one).collect_view()}
        </div>
    }
}
