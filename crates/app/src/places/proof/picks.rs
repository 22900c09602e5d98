//! What the proof is about: the disease, and the seasons that count.

use leptos::prelude::*;
use plot::Season;
use scene::words;

use crate::route::Route;
use crate::state::app;

/// The diseases that the plot's traits name, each an address.
#[component]
pub fn DiseasePick(disease: Signal<String>) -> impl IntoView {
    let diseases = app()
        .plot_now(|plot| plot.diseases().iter().map(|&it| it.to_owned()).collect::<Vec<_>>())
        .unwrap_or_default();
    let one = move |it: String| {
        let address = Route::Proof { disease: Some(it.clone()) }.address();
        let name = words::disease(&it);
        let here = move || disease.with(|disease| *disease == it).then_some("page");
        view! { <li><a href=address aria-current=here>{name}</a></li> }
    };
    view! {
        <nav class="proof-diseases" aria-label="Diseases">
            <ul>{diseases.into_iter().map(one).collect_view()}</ul>
        </nav>
    }
}

/// The seasons in which the disease was scored; with all of them picked, all count.
#[component]
pub fn SeasonPick(disease: Signal<String>, seasons: RwSignal<Vec<Season>>) -> impl IntoView {
    let app = app();
    let known = Memo::new(move |_| {
        app.plot(|plot| {
            let traits = plot.traits_of_disease(&disease.get());
            let rounds = plot.rounds(|score| traits.contains(&score.trait_ix));
            let mut seasons: Vec<(Season, String)> = rounds
                .iter()
                .map(|round| (round.season, words::season_name(plot, round.season)))
                .collect();
            seasons.dedup();
            seasons
        })
        .unwrap_or_default()
    });
    let counts = move |season: Season| {
        seasons.with(|seasons| seasons.is_empty() || seasons.contains(&season))
    };
    let toggle = move |season: Season| {
        let all: Vec<Season> = known.with_untracked(|known| known.iter().map(|it| it.0).collect());
        seasons.update(|seasons| {
            if seasons.is_empty() {
                *seasons = all.clone();
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
    let one = move |(season, name): (Season, String)| {
        view! {
            <label class="check">
                <input type="checkbox" prop:checked=move || counts(season) on:change=move |_| toggle(season) />
                <span>{name}</span>
            </label>
        }
    };
    view! {
        <Show when=move || known.with(|known| known.len() > 1)>
            <fieldset class="proof-seasons">
                <legend>"Seasons that count"</legend>
                {move || known.get().into_iter().map(one).collect_view()}
            </fieldset>
        </Show>
    }
}
