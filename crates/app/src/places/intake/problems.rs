//! Every fault by line, and what asks for a look.

use language::say;
use leptos::prelude::*;
use plot::{Problem, Weight};

use super::more;
use crate::parts::lean::element;

/// Problems shown at first, and how many more each time.
pub(in crate::places) const SHOWN: usize = 20;
const MORE: usize = 100;

/// Problems, a line each, under a head that counts them; `whole` is what is at fault where no line
/// is.
pub(in crate::places) fn problem_lines(
    problems: &[Problem],
    whole: &'static str,
    shown: RwSignal<usize>,
) -> AnyView {
    let faults = problems.iter().filter(|it| it.weight == Weight::Fault).count();
    let head = match (faults, problems.len() - faults) {
        (0, looks) => say!("Worth a look: {looks}"),
        (faults, 0) => say!("Faults: {faults}"),
        (faults, looks) => say!("Faults: {faults}, worth a look: {looks}"),
    };
    let lines = problems.iter().take(shown.get()).map(|problem| one(problem, whole)).collect();
    view! {
        <h4>{head}</h4>
        {element("ul", "bring-problems", lines)}
        {more(shown, MORE, problems.len())}
    }
    .into_any()
}

fn one(problem: &Problem, whole: &'static str) -> AnyView {
    let place = match (problem.line, &problem.column) {
        (Some(line), Some(column)) => say!("Line {line}, {column}"),
        (Some(line), None) => say!("Line {line}"),
        (None, Some(column)) => column.clone(),
        (None, None) => whole.to_owned(),
    };
    let class = if problem.weight == Weight::Fault { "fault" } else { "notice" };
    let words = say!(
        "found {found}; expected {expected}.",
        found = problem.found,
        expected = problem.expected
    );
    view! { <li><span class=class>{place}</span> " " <span>{words}</span></li> }.into_any()
}
