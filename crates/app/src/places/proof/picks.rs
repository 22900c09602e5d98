//! What the proof is about: the disease, and the seasons that count.

use language::say;
use leptos::prelude::*;
use plot::Season;
use scene::words;

use crate::route::Route;
use crate::state::app;

/// The diseases that the plot's traits name, each an address.
#[component]
pub fn DiseasePick(disease: String) -> impl IntoView {
    let diseases = app()
        .plot_now(|plot| {
            let named = |&it: &&str| (it.to_owned(), words::disease(plot, it));
            plot.diseases().iter().map(named).collect::<Vec<_>>()
        })
        .unwrap_or_default();
    let one = |(it, name): (String, String)| {
        let address = Route::Proof { disease: Some(it.clone()) }.address();
        let here = (disease == it).then_some("page");
        view! { <li><a href=address aria-current=here>{name}</a></li> }.into_any()
    };
    view! {
        <nav class="proof-diseases" aria-label=say!("Diseases")>
            <ul>{diseases.into_iter().map(one).collect_view()}</ul>
        </nav>
    }
}

/// The seasons in which the disease was scored; with all of them picked, all count.
#[component]
pub fn SeasonPick(disease: String, seasons: RwSignal<Vec<Season>>) -> impl IntoView {
    let known: Vec<(Season, String)> = app()
        .plot_now(|plot| {
            let traits = plot.traits_of_disease(&disease);
            let rounds = plot.rounds(|score| traits.contains(&score.trait_ix));
            let mut seasons: Vec<Season> = rounds.iter().map(|round| round.season).collect();
            seasons.dedup();
            seasons.into_iter().map(|it| (it, words::season_name(plot, it))).collect()
        })
        .unwrap_or_default();
    let all: Vec<Season> = known.iter().map(|it| it.0).collect();
    let counts = move |season: Season| {
        seasons.with(|seasons| seasons.is_empty() || seasons.contains(&season))
    };
    let toggle = move |season: Season, all: &[Season]| {
        seasons.update(|seasons| {
            if seasons.is_empty() {
                *seasons = all.to_vec();
            }
            match seasons.iter().position(|&it| it == season) {
                Some(at) => {
                    seasons.remove(at);
                }
                None => seasons.push(season),
            }
            seasons.sort_unstable();
            if seasons.len() == all.len() {
                seasons.clear();
            }
        });
    };
    let one = |(season, name): (Season, String)| {
        let all = all.clone();
        view! {
            <label class="check">
                <input
                    type="checkbox"
                    prop:checked=move || counts(season)
                    on:change=move |_| toggle(season, &all)
                />
                <span>{name}</span>
            </label>
        }
        .into_any()
    };
    (known.len() > 1).then(|| {
        view! {
            <fieldset class="proof-seasons">
                <legend>{say!("Seasons that count")}</legend>
                {known.into_iter().map(one).collect_view()}
            </fieldset>
        }
    })
}
