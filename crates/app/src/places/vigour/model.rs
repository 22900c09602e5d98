//! What the model made of one season: which trend was taken and why, variances, correlations.

use language::say;
use leptos::prelude::*;
use scene::words;
use vigour::{SeasonFit, Tried, Variances};

use super::{picks, two};
use crate::parts::lean::{element, said};
use crate::state::App;

/// The sentences, and the numbers behind them folded away.
pub(super) fn model(app: App, fit: &SeasonFit, unit: &str) -> AnyView {
    let told = app.plot_now(|plot| words::trends(plot, fit)).unwrap_or_default();
    let told = told.into_iter().map(|words| said("p", "", words)).collect();
    let told = element("div", "vigour-told", told);
    let numbers = fit.variances.as_ref().map(|variances| numbers(variances, unit));
    let tried = tried(&fit.tried);
    view! {
        <section aria-labelledby="vigour-model">
            <h2 id="vigour-model">{say!("What the place gives")}</h2>
            {told}
            <details class="vigour-facts">
                <summary>{say!("The numbers of the model")}</summary>
                {numbers}
                {tried}
            </details>
        </section>
    }
    .into_any()
}

fn numbers(variances: &Variances, unit: &str) -> AnyView {
    let cell = |words: String| said("td", "number", words);
    let row = |(what, variance): (&'static str, f64)| {
        let what = view! { <th scope="row">{what}</th> }.into_any();
        element("tr", "", vec![what, cell(two(variance)), cell(two(variance.sqrt()) + unit)])
    };
    let rows: Vec<AnyView> = words::variances(variances).into_iter().map(row).collect();
    let correlation = |(what, value): (&'static str, f64)| {
        let what = view! { <th scope="row">{what}</th> }.into_any();
        element("tr", "", vec![what, cell(two(value))])
    };
    let correlations: Vec<AnyView> =
        words::correlations(variances).into_iter().map(correlation).collect();
    let correlations = (!correlations.is_empty()).then(|| {
        view! {
            <table class="vigour-correlations">
                <caption>{say!("How alike neighbours are: 1 quite, 0 not at all")}</caption>
                <thead><tr><th scope="col">{say!("neighbours")}</th><th scope="col" class="number">{say!("correlation")}</th></tr></thead>
                <tbody>{correlations}</tbody>
            </table>
        }
    });
    view! {
        <div class="scroll">
            <table class="vigour-variances">
                <caption>{say!("Where differences between trees come from")}</caption>
                <thead><tr>
                    <th scope="col">{say!("part")}</th>
                    <th scope="col" class="number">{say!("variance")}</th>
                    <th scope="col" class="number">{say!("standard deviation")}</th>
                </tr></thead>
                <tbody>{rows}</tbody>
            </table>
            {correlations}
        </div>
    }
    .into_any()
}

fn tried(tried: &[Tried]) -> AnyView {
    let row = |one: &Tried| {
        let likelihood = one.outcome.ok();
        let aic = likelihood.and_then(|it| it.aic());
        let aic =
            aic.map_or_else(|| "–".to_owned(), |aic| words::number((aic * 10.0).round() / 10.0));
        let parameters = likelihood.map_or_else(|| "–".to_owned(), |it| it.parameters.to_string());
        let name = picks::name(Some(one.trend));
        let name = view! { <th scope="row">{name}</th> }.into_any();
        let cells = vec![name, said("td", "number", parameters), said("td", "number", aic)];
        element("tr", "", cells)
    };
    let rows: Vec<AnyView> = tried.iter().map(row).collect();
    view! {
        <div class="scroll">
            <table class="vigour-tried">
                <caption>{say!("What was tried; the lowest AIC describes best")}</caption>
                <thead><tr>
                    <th scope="col">{say!("trend")}</th>
                    <th scope="col" class="number">{say!("parameters")}</th>
                    <th scope="col" class="number">{say!("AIC")}</th>
                </tr></thead>
                <tbody>{rows}</tbody>
            </table>
        </div>
    }
    .into_any()
}
