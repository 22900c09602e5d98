//! Proof: how hard the seasons tested, verdicts, rankings and what would settle a tree.

mod busy;
mod crosses;
mod detail;
mod fit_facts;
mod luck_bar;
mod next;
mod picks;
mod ranking;
mod seasons;

use std::sync::Arc;

use language::say;
use leptos::prelude::*;
use plot::Season;
use proof::{Report, Verdict};
use scene::words;

use crate::parts::JudgeProgress;
use crate::route::Route;
use crate::state::{Judged, Question, app};
use busy::BusyPlaces;
use crosses::{Crosses, VerdictCounts};
use fit_facts::FitFacts;
use next::Next;
use picks::{DiseasePick, SeasonPick};
use ranking::{Picked, Rankings};
use seasons::Seasons;

/// The proof of one disease.
#[component]
pub fn Proof() -> impl IntoView {
    let app = app();
    let disease = Memo::new(move |_| {
        let asked = match app.route.get() {
            Route::Proof { disease } => disease,
            _ => None,
        };
        asked
            .or_else(|| app.plot(|plot| plot.diseases().first().map(|&it| it.to_owned())).flatten())
    });
    let tells_vigour =
        Memo::new(move |_| app.plot(|plot| plot.vigour_trait().is_some()).unwrap_or_default());
    let title = move || match disease.get() {
        Some(disease) => {
            let name = app.plot_now(|plot| words::disease(plot, &disease)).unwrap_or(disease);
            say!("Proof: {name}")
        }
        None => say!("Proof").to_owned(),
    };
    view! {
        <section class="proof">
            <h1>{title}</h1>
            {move || tells_vigour.get().then(|| view! {
                <p class="row"><a class="button button-small" href=Route::Vigour { trait_id: None }.address()>{say!("How strongly the trees grow")}</a></p>
            })}
            {move || match disease.get() {
                Some(disease) => view! { <OfDisease disease /> }.into_any(),
                None => view! { <NoDisease /> }.into_any(),
            }}
        </section>
    }
}

#[component]
fn NoDisease() -> impl IntoView {
    view! {
        <p>
            {say!("No trait of this plot counts for a disease, so there is nothing to prove. In plot.json \
             a trait counts for one when it has a ")} <code>"disease"</code> {say!(", and each class of its \
             scale a ")} <code>"severity"</code> {say!(" from 0 (looked at, and clean) to 1.")}
        </p>
        <p class="row"><a class="button" href=Route::Folder.address()>{say!("To the folder")}</a></p>
    }
}

#[component]
fn OfDisease(disease: String) -> impl IntoView {
    let app = app();
    let seasons = RwSignal::new(Vec::<Season>::new());
    let of = StoredValue::new(disease.clone());
    let question = move || Question { disease: of.get_value(), seasons: seasons.get() };
    let judged = Memo::new(move |_| app.judged_of(&question()).map(Shown));
    let is_stale =
        move || judged.with(|it| it.as_ref().is_some_and(|it| it.0.version != app.version()));
    view! {
        <DiseasePick disease=disease.clone() />
        <SeasonPick disease seasons />
        <JudgeProgress />
        <Show when=move || app.judging.get().is_none() && (judged.get().is_none() || is_stale())>
            <p class="row">
                <span>{move || if is_stale() { say!("Scores came since this was judged.") } else { say!("Not judged yet.") }}</span>
                <button class="button" on:click=move |_| app.ask(&question())>{say!("Judge now")}</button>
            </p>
        </Show>
        {move || match judged.get()?.0.report {
            Ok(report) => Some(view! { <Shows report /> }.into_any()),
            Err(why) => Some(view! { <p class="fault" role="alert">{why}</p> }.into_any()),
        }}
    }
}

/// A judgement to be shown; the same report is shown once.
#[derive(Clone)]
struct Shown(Judged);

impl PartialEq for Shown {
    fn eq(&self, other: &Self) -> bool {
        let same_report = match (&self.0.report, &other.0.report) {
            (Ok(a), Ok(b)) => Arc::ptr_eq(a, b),
            (Err(a), Err(b)) => a == b,
            _ => false,
        };
        same_report && self.0.version == other.0.version
    }
}

#[component]
fn Shows(report: Arc<Report>) -> impl IntoView {
    let picked = RwSignal::new(Picked::default());
    let proven = report.trees.iter().any(|it| it.judgement.verdict == Verdict::Proven);
    let cautions = app()
        .plot_now(|plot| words::cautions::of_disease(plot, &report.disease))
        .unwrap_or_default();
    view! {
        <Limits report=report.clone() />
        <Seasons report=report.clone() />
        <section aria-labelledby="proof-verdicts">
            <h2 id="proof-verdicts">{say!("Verdicts")}</h2>
            <VerdictCounts report=report.clone() picked />
            {proven.then(|| view! { <p class="proof-local">{words::proof_is_local()}</p> })}
            <p class="hint">{words::field_scores_cannot()}</p>
        </section>
        <Crosses report=report.clone() picked />
        <Next report=report.clone() />
        <BusyPlaces report=report.clone() />
        <FitFacts report=report.clone() />
        {(!cautions.is_empty()).then(|| view! {
            <aside class="proof-cautions" aria-label=say!("Cautions")>
                {cautions.into_iter().map(|words| view! { <p>{words}</p> }).collect_view()}
            </aside>
        })}
        // Last, since it may be longer than anyone scrolls.
        <Rankings report picked />
    }
}

/// What the data could not carry, said before anything else.
#[component]
fn Limits(report: Arc<Report>) -> impl IntoView {
    let name = app().plot_now(|plot| words::disease(plot, &report.disease)).unwrap_or_default();
    let line = |limit| view! { <li>{words::limit(&name, limit)}</li> };
    (!report.limits.is_empty()).then(|| {
        view! {
            <aside class="proof-limits" aria-label=say!("What these scores cannot carry")>
                <ul>{report.limits.iter().map(line).collect_view()}</ul>
            </aside>
        }
    })
}
