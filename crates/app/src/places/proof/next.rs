//! What to do next: trees worth another season, scores that are missing, where checks would tell, and
//! the walk that goes with it.

use std::sync::Arc;

use language::{count, say};
use leptos::prelude::*;
use plot::{Plot, TreeIx};
use proof::{MOST_PROMISING, Plan, Report};
use scene::words;
use walk::Whereabouts;

use crate::parts::lean::{button, changing, element, link, said};
use crate::route::Route;
use crate::state::{App, Lookup, app};

/// Lines of each list that are shown.
const SHOWN: usize = 8;

/// The plan, drawn up anew when something is decided; nothing without a fit.
#[component]
pub fn Next(report: Arc<Report>) -> impl IntoView {
    let app = app();
    changing(move || {
        app.follow_decisions();
        let parts = app.look_up(|plot, look| {
            let plan = Plan::of(plot, &report, MOST_PROMISING);
            (!plan.promising.is_empty()).then(|| parts(app, plot, look, &report.disease, &plan))
        });
        let parts = parts.flatten().map(|parts| {
            view! { <section class="proof-next" aria-labelledby="proof-next">{parts}</section> }
        });
        parts.into_any()
    })
}

fn parts(app: App, plot: &Plot, look: &Lookup, disease: &str, plan: &Plan) -> Vec<AnyView> {
    let line = |tree: TreeIx, words: String| {
        let one = plot.tree(tree);
        let address = Route::Tree { id: one.id().to_string() }.address();
        let place = Whereabouts::of(plot, &look.rows, tree).sentence(plot, &look.ends);
        let words = format!(": {place} {words}").into_any();
        element("li", "", vec![link("", address, words::tree(plot, tree)), words])
    };
    let heading = view! { <h2 id="proof-next">{say!("What to do next")}</h2> }.into_any();
    let mut parts = vec![
        heading,
        said(
            "p",
            "hint",
            say!(
                "Only trees that stand and that you did not decide to cull. A season counts like the \
             median one so far; a quiet one tells less."
            ),
        ),
    ];
    let promising = plan.promising.iter().map(|one| line(one.tree, words::promising(one)));
    parts.extend(list(say!("Clean trees worth another season"), promising));
    let scores = plan.scores.iter().map(|one| line(one.tree, words::wanted_score(one)));
    parts.extend(list(say!("Trees without a score that would tell most"), scores));
    let checks = plan.checks.iter().map(|one| line(one.place, words::check_place(one)));
    parts.extend(list(say!("Free places where a susceptible check would tell most"), checks));
    let disease = disease.to_owned();
    let walk = button("button button-first", say!("Walk to these trees next"), move || {
        app.walk_wanted.set(Some(disease.clone()));
        Route::Walk.go();
    });
    let trees = count!(
        plan.route.len(),
        "1 tree: they, those without a score, and the best witnesses around them.",
        "{trees} trees: they, those without a score, and the best witnesses around them.",
        trees = plan.route.len()
    );
    parts.push(element("p", "row", vec![walk, said("span", "hint", trees)]));
    parts
}

/// A list under its heading, cut where it is long; nothing where it is empty.
fn list(heading: &'static str, lines: impl ExactSizeIterator<Item = AnyView>) -> Vec<AnyView> {
    let more = lines.len().saturating_sub(SHOWN);
    let shown: Vec<AnyView> = lines.take(SHOWN).collect();
    if shown.is_empty() {
        return Vec::new();
    }
    let mut parts = vec![said("h3", "", heading), element("ul", "", shown)];
    if more > 0 {
        parts.push(said("p", "hint", say!("And {more} more.")));
    }
    parts
}
