//! Which trees: all of the rows, or only those where a score would tell most.

use std::collections::BTreeSet;

use language::{count, say};
use leptos::prelude::*;
use plot::{TraitIx, TreeId};
use proof::{MOST_PROMISING, Plan};

use super::choice::choice;
use crate::parts::lean::{changing, changing_words, when};
use crate::state::{Judging, Question, app};

/// The choice; `only` holds the chosen trees, none for all of them. `is_planned`: the few are wanted.
#[component]
pub fn WhichTrees(
    traits: RwSignal<Vec<TraitIx>>,
    only: RwSignal<Option<BTreeSet<TreeId>>>,
    is_planned: bool,
) -> impl IntoView {
    let app = app();
    let few = RwSignal::new(is_planned);
    let disease = Memo::new(move |_| {
        let chosen = traits.get();
        app.plot_now(|plot| chosen.iter().find_map(|&ix| plot.trait_of(ix).disease.clone()))
            .flatten()
    });
    // What the judge says comes later than the choice.
    Effect::new(move || {
        let report = few.get().then(|| app.report(&disease.get()?)).flatten();
        let worth = report.and_then(|report| {
            app.plot_now(|plot| {
                let plan = Plan::of(plot, &report, MOST_PROMISING);
                plan.route.into_iter().map(|tree| plot.tree(tree).id().clone()).collect()
            })
        });
        only.set(match few.get() && disease.with(Option::is_some) {
            true => Some(worth.unwrap_or_default()),
            false => None,
        });
    });
    let one = move |value: bool, words: &str| {
        choice("walk-which", words.to_owned(), move || few.get() == value, move || few.set(value))
    };
    let said = move || {
        let disease = few.get().then(|| disease.get()).flatten()?;
        let question = Question { disease: disease.clone(), seasons: Vec::new() };
        let answer = app.judged(&disease);
        Some(match (answer.map(|it| it.report), app.judging.get()) {
            (Some(Err(why)), _) => say!("The proof does not tell: {why}"),
            (Some(Ok(_)), _) => match only.with(|only| only.as_ref().map_or(0, BTreeSet::len)) {
                0 => say!("There is no tree whose luck one more round would change by much.")
                    .to_owned(),
                trees => count!(
                    trees,
                    "1 trees: clean ones that are not proven yet, trees near them without a \
                     score, and the best witnesses around.",
                    "{trees} trees: clean ones that are not proven yet, trees near them without a \
                     score, and the best witnesses around."
                ),
            },
            (None, Some(Judging { question: asked, done, of })) if asked == question && of > 0 => {
                say!("The proof is being made: {percent} %", percent = 100 * done / of)
            }
            (None, _) => say!("The proof is being made …").to_owned(),
        })
    };
    when(
        move || disease.with(Option::is_some),
        move || {
            view! {
                <fieldset>
                    <legend>{say!("Which trees")}</legend>
                    {one(false, say!("every standing tree"))}
                    {one(true, say!("only those where a score tells most"))}
                    {changing(move || few.get().then(|| view! {
                        <p class="hint" role="status">{changing_words(said)}</p>
                    }).into_any())}
                </fieldset>
            }
            .into_any()
        },
    )
}
