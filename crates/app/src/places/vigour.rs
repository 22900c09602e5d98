//! Vigour: how strongly the trees grow, how much of it is their place, and how diseases go with it.

mod detail;
mod diseases;
mod groups;
mod model;
mod picks;
mod ranking;

use std::sync::Arc;

use judge::{Growing, Grown};
use language::say;
use leptos::prelude::*;
use plot::{Kind, Plot, Season, TraitIx};
use scene::words;
use vigour::{SeasonFit, Trend};

use crate::parts::lean::{changing, link, said, when};
use crate::parts::{GrowingProgress, go_to};
use crate::route::Route;
use crate::state::{App, KnownGrown, app};
use diseases::diseases;
use groups::groups;
use model::model;
use picks::{SeasonPick, TraitPick, TrendPick};
use ranking::{List, Ranking};

/// The vigour of the trees, told by one trait.
#[component]
pub fn VigourOfTrees() -> impl IntoView {
    let app = app();
    let trait_ix = Memo::new(move |_| {
        let asked = match app.route.get() {
            Route::Vigour { trait_id } => trait_id,
            _ => None,
        };
        let of_plot = |plot: &Plot| {
            let named = asked.and_then(|id| plot.trait_ix(&id));
            let first = || measured_traits(plot).first().copied();
            named.or_else(|| plot.vigour_trait()).or_else(first)
        };
        app.plot(of_plot).flatten()
    });
    let of_trait = move || match trait_ix.get() {
        Some(trait_ix) => of_trait(app, trait_ix),
        None => no_trait(),
    };
    view! {
        <section class="vigour">
            <h1>{say!("Vigour")}</h1>
            <p class="row">
                {link("button button-small", Route::Proof { disease: None }.address(), say!("To Proof").to_owned())}
                {link("button button-small", Route::Map.address(), say!("To the map").to_owned())}
            </p>
            {changing(of_trait)}
        </section>
    }
}

/// Traits that may tell vigour or yield: those of no disease.
fn measured_traits(plot: &Plot) -> Vec<TraitIx> {
    let all = (0..plot.head().traits.len()).map(TraitIx::new);
    all.filter(|&ix| plot.trait_of(ix).disease.is_none()).collect()
}

fn no_trait() -> AnyView {
    let words = say!(
        "No trait of this plot tells how strongly trees grow. A trunk diameter or girth \
                 (trunk_diameter, trunk_girth, with a unit) or a visual score (vigour) does; so \
                 does any number that belongs to no disease, such as a yield."
    );
    said("p", "", words)
}

fn of_trait(app: App, trait_ix: TraitIx) -> AnyView {
    let trend = RwSignal::new(None::<Trend>);
    let season = RwSignal::new(None::<Season>);
    // Kept from one trend and season to the next.
    let list = List::new(app);
    let growing = move || Growing { trait_ix, trend: trend.get() };
    Effect::new(move || app.ask_grown(growing()));
    let known = Memo::new(move |_| app.grown(growing()).map(Shown));
    let is_stale =
        move || known.with(|it| it.as_ref().is_some_and(|it| it.0.version != app.version()));
    let waits = move || app.growing_now.get().is_none() && (known.get().is_none() || is_stale());
    let again = move || {
        let words =
            move || if is_stale() { say!("Scores came since.") } else { say!("Not fitted.") };
        view! {
            <p class="row">
                <span>{words}</span>
                <button class="button" on:click=move |_| app.ask_grown(growing())>{say!("Fit now")}</button>
            </p>
        }
        .into_any()
    };
    view! {
        <TraitPick trait_ix />
        <TrendPick trend />
        <GrowingProgress />
        {when(waits, again)}
        {changing(move || match known.get().map(|it| it.0.found) {
            Some(Some(grown)) => shows(app, grown, season, list),
            Some(None) => said("p", "fault", say!("The plot cannot be read.")),
            None => ().into_any(),
        })}
    }
    .into_any()
}

/// An answer to be shown; the same one is shown once.
#[derive(Clone)]
struct Shown(KnownGrown);

impl PartialEq for Shown {
    fn eq(&self, other: &Self) -> bool {
        let same = match (&self.0.found, &other.0.found) {
            (Some(a), Some(b)) => Arc::ptr_eq(a, b),
            (a, b) => a.is_none() && b.is_none(),
        };
        same && self.0.version == other.0.version
    }
}

fn shows(app: App, grown: Arc<Grown>, season: RwSignal<Option<Season>>, list: List) -> AnyView {
    if grown.vigour.lines.is_empty() {
        return said("p", "", say!("Nobody was measured yet. The walk takes measurements."));
    }
    let unit = app.plot_now(|plot| unit(plot, grown.vigour.trait_ix)).unwrap_or_default();
    let fit_of = {
        let grown = grown.clone();
        move || shown_season(&grown, season.get()).cloned()
    };
    let in_season = {
        let (grown, unit) = (grown.clone(), unit.clone());
        move || {
            let Some(fit) = fit_of() else { return ().into_any() };
            view! {
                {model(app, &fit, &unit)}
                {groups(&fit, &unit)}
                {diseases(app, grown.clone())}
                // Last, since it may be longer than anyone scrolls.
                <Ranking grown=grown.clone() season=fit.season unit=unit.clone() list />
            }
            .into_any()
        }
    };
    view! {
        <SeasonPick grown=grown.clone() season />
        <p class="row">
            <button class="button button-small" on:click=move |_| go_to("vigour-ranking")>{say!("To the trees")}</button>
        </p>
        <aside class="vigour-caution" aria-label=say!("Caution")><p>{words::trend_caution()}</p></aside>
        {changing(in_season)}
    }
    .into_any()
}

/// The season that is chosen, else the last one.
fn shown_season(grown: &Grown, chosen: Option<Season>) -> Option<&SeasonFit> {
    let seasons = &grown.vigour.seasons;
    seasons.iter().find(|one| Some(one.season) == chosen).or(seasons.last())
}

/// The unit of the number that is adjusted, with a space before it; empty without one.
fn unit(plot: &Plot, trait_ix: TraitIx) -> String {
    let one = plot.trait_of(trait_ix);
    match (&one.kind, one.trunk_area_cm2()) {
        (_, Some(_)) => "\u{a0}cm²".to_owned(),
        (Kind::Number { unit: Some(unit), .. }, None) => format!("\u{a0}{unit}"),
        _ => String::new(),
    }
}

/// A number of the model to two decimals.
fn two(value: f64) -> String {
    words::number((value * 100.0).round() / 100.0)
}

/// The same with its sign.
fn signed(value: f64) -> String {
    let text = two(value.abs());
    let sign = match (text.as_str(), value < 0.0) {
        ("0", _) => "",
        (_, true) => "−",
        (_, false) => "+",
    };
    format!("{sign}{text}")
}
