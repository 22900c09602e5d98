//! One tree of the ranking: its sentence, its luck, the reasons, and what would settle it.

use std::sync::Arc;

use language::say;
use leptos::prelude::*;
use plot::{Plot, TreeIx};
use proof::{Judgement, Report, Verdict};
use scene::words;
use walk::Whereabouts;

use super::luck_bar::LuckBar;
use super::ranking::Who;
use crate::places::decided::decided;
use crate::route::Route;
use crate::state::{Lookup, app};

/// What is known of the chosen one.
#[component]
pub fn Detail(report: Arc<Report>, who: Who, close: impl Fn() + 'static) -> impl IntoView {
    let told = app().look_up(|plot, look| told(plot, look, &report, who)).flatten();
    let Some(told) = told else { return ().into_any() };
    let line = |words: String| view! { <li>{words}</li> };
    let decision = match who {
        Who::Tree(tree) => decided(app(), tree),
        Who::Genotype(_) => ().into_any(),
    };
    let address = told.tree_id.map(|id| Route::Tree { id }.address());
    view! {
        <article class="proof-detail" aria-labelledby="proof-detail">
            <header>
                <h2 id="proof-detail">{told.name}</h2>
                <button class="button button-small proof-close" on:click=move |_| close()>{say!("Close")}</button>
            </header>
            {told.about.map(|about| view! { <p class="hint">{about}</p> })}
            <p class="proof-sentence">{told.sentence}</p>
            {told.luck.map(|(luck, words)| view! {
                <p class="proof-luck">{say!("Luck "; "before the number")} <strong>{words}</strong></p>
                <LuckBar luck />
            })}
            {told.gap.map(|words| view! { <p>{words}</p> })}
            {told.local.then(|| view! { <p class="proof-local">{words::proof_is_local()}</p> })}
            <h3>{say!("Why")}</h3>
            <ul>{told.reasons.into_iter().map(line).collect_view()}</ul>
            {(!told.settle.is_empty()).then(|| view! {
                <h3>{say!("What would settle it")}</h3>
                <ul>{told.settle.into_iter().map(line).collect_view()}</ul>
            })}
            {decision}
            {told.cautions.into_iter().map(|words| view! { <p class="proof-caution">{words}</p> }).collect_view()}
            {address.map(|address| view! {
                <p class="row"><a class="button button-first" href=address>{say!("See its neighbours on the map")}</a></p>
            })}
        </article>
    }
    .into_any()
}

struct Told {
    name: String,
    about: Option<String>,
    sentence: String,
    luck: Option<(proof::Estimate, String)>,
    local: bool,
    reasons: Vec<String>,
    gap: Option<String>,
    settle: Vec<String>,
    cautions: Vec<String>,
    tree_id: Option<String>,
}

fn told(plot: &Plot, look: &Lookup, report: &Report, who: Who) -> Option<Told> {
    let judgement = who.judgement(report)?;
    let (name, about, tree) = match who {
        Who::Tree(tree) => (plot.tree(tree).name(), about(plot, look, tree), Some(tree)),
        Who::Genotype(nth) => {
            let pooled = &report.genotypes[nth];
            let names: Vec<String> = pooled.trees.iter().map(|&it| plot.tree(it).name()).collect();
            (
                pooled.genotype.to_string(),
                Some(say!("Copies: {names}", names = names.join(", "))),
                None,
            )
        }
    };
    Some(Told {
        name,
        about,
        sentence: words::judgement(&words::disease(plot, &report.disease), judgement),
        luck: judgement.luck.zip(words::luck(judgement)),
        local: judgement.verdict == Verdict::Proven,
        reasons: words::reasons(plot, &report.disease, judgement),
        gap: words::gap(judgement),
        settle: words::settle(plot, judgement),
        cautions: cautions(plot, &report.disease, judgement),
        tree_id: tree.map(|tree| plot.tree(tree).id().to_string()),
    })
}

fn about(plot: &Plot, look: &Lookup, tree: TreeIx) -> Option<String> {
    let place = Whereabouts::of(plot, &look.rows, tree).sentence(plot, &look.ends);
    Some(match plot.tree(tree).parentage() {
        Some(cross) => format!("{cross}. {place}"),
        None => place,
    })
}

/// A sick tree's cautions stand beside it; a clean one's wood is asked for all the more.
fn cautions(plot: &Plot, disease: &str, judgement: &Judgement) -> Vec<String> {
    match judgement.verdict {
        Verdict::Infected => words::cautions::of_disease(plot, disease),
        _ => Vec::new(),
    }
}
