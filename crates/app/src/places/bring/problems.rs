//! Every fault of the list by line, and what asks for a look.

use leptos::prelude::*;
use plot::{Problem, Weight};

use super::more::more;
use super::state::Bring;
use crate::parts::lean::{changing, element, said};

/// Problems shown at first, and how many more each time.
const SHOWN: usize = 20;
const MORE: usize = 100;

pub(super) fn problems(bring: Bring) -> AnyView {
    let shown = RwSignal::new(SHOWN);
    changing(move || {
        bring.seen.with(|seen| {
            let Some(seen) = seen.as_ref().filter(|seen| !seen.problems.is_empty()) else {
                return ().into_any();
            };
            let faults = seen.problems.iter().filter(|it| it.weight == Weight::Fault).count();
            let head = match (faults, seen.problems.len() - faults) {
                (0, looks) => format!("Worth a look: {looks}"),
                (faults, 0) => format!("Faults: {faults}"),
                (faults, looks) => format!("Faults: {faults}, worth a look: {looks}"),
            };
            let lines = seen.problems.iter().take(shown.get()).map(one).collect();
            let unlisted = (seen.unlisted > 0)
                .then(|| said("p", "hint", format!("{} more are counted only.", seen.unlisted)));
            view! {
                <section aria-label="Faults of the list">
                    <h4>{head}</h4>
                    {element("ul", "bring-problems", lines)}
                    {more(shown, MORE, seen.problems.len())}
                    {unlisted}
                </section>
            }
            .into_any()
        })
    })
}

fn one(problem: &Problem) -> AnyView {
    let place = match (problem.line, &problem.column) {
        (Some(line), Some(column)) => format!("Line {line}, {column}"),
        (Some(line), None) => format!("Line {line}"),
        (None, Some(column)) => column.clone(),
        (None, None) => "The list".to_owned(),
    };
    let class = if problem.weight == Weight::Fault { "fault" } else { "notice" };
    let words = format!("found {}; expected {}.", problem.found, problem.expected);
    view! { <li><span class=class>{place}</span> " " <span>{words}</span></li> }.into_any()
}
