//! What is to be thought of the tree, disease by disease.

use language::say;
use leptos::prelude::*;
use plot::TreeIx;
use proof::Verdict;
use scene::words;

use crate::parts::lean::{changing, element, said};
use crate::state::App;

/// A part for each disease of the plot, with its reasons behind it.
pub fn verdicts(app: App, tree: TreeIx) -> AnyView {
    let diseases = app
        .plot_now(|plot| plot.diseases().into_iter().map(str::to_owned).collect::<Vec<String>>());
    let of_disease = |disease: String| changing(move || of_disease(app, tree, &disease));
    let parts = diseases.unwrap_or_default().into_iter().map(of_disease).collect();
    element("section", "card-verdicts", parts)
}

fn of_disease(app: App, tree: TreeIx, disease: &str) -> AnyView {
    let name = app.plot_now(|plot| words::disease(plot, disease)).unwrap_or_default();
    let mut heading = vec![said("span", "verdict-disease", name)];
    let (sentence, details) = match found(app, tree, disease) {
        Err(sentence) => (sentence, None),
        Ok(found) => {
            heading.push(said("span", word_class(found.verdict), words::verdict(found.verdict)));
            let details = reasons(&found);
            (found.sentence, Some(details))
        }
    };
    let mut parts = vec![element("h3", "", heading), said("p", "", sentence)];
    parts.extend(details);
    // What waits keeps the room that its answer will need: nothing moves under a thumb then.
    let waits = app.judged(disease).is_none();
    element("div", if waits { "verdict verdict-waits" } else { "verdict" }, parts)
}

/// What was found about the tree.
struct Found {
    verdict: Verdict,
    sentence: String,
    reasons: Vec<String>,
    cautions: Vec<String>,
}

/// Or the words for that nothing was.
fn found(app: App, tree: TreeIx, disease: &str) -> Result<Found, String> {
    let Some(judged) = app.judged(disease) else {
        let judging = app.judging.get();
        let now = judging.is_some_and(|judging| judging.question.disease == disease);
        return Err(
            if now { say!("Being judged now.") } else { say!("Not judged yet.") }.to_owned()
        );
    };
    let report = judged.report?;
    let line = report.tree(tree).ok_or(words::unscored())?;
    let found = app.plot(|plot| {
        let mut reasons = words::reasons(plot, disease, &line.judgement);
        reasons.extend(words::settle(plot, &line.judgement));
        Found {
            verdict: line.judgement.verdict,
            sentence: words::judgement(&words::disease(plot, disease), &line.judgement),
            reasons,
            cautions: words::cautions::of_disease(plot, disease),
        }
    });
    found.ok_or_else(|| words::unscored().to_owned())
}

fn reasons(found: &Found) -> AnyView {
    let reasons = found.reasons.iter().map(|reason| said("li", "", reason)).collect();
    let mut parts = vec![
        said("summary", "", say!("Why, and what would settle it")),
        element("ul", "", reasons),
    ];
    match found.verdict {
        Verdict::Proven => parts.push(said("p", "hint", words::proof_is_local())),
        Verdict::Infected => {
            parts.extend(found.cautions.iter().map(|caution| said("p", "caution", caution)));
        }
        Verdict::Leaning | Verdict::Untested => {}
    }
    element("details", "", parts)
}

fn word_class(verdict: Verdict) -> &'static str {
    match verdict {
        Verdict::Proven => "verdict-word verdict-proven",
        Verdict::Leaning => "verdict-word verdict-leaning",
        Verdict::Untested => "verdict-word verdict-untested",
        Verdict::Infected => "verdict-word verdict-infected",
    }
}
