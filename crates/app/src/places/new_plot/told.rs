//! What is wrong with a new plot: fields by their label, lines by number and place in the line.

use language::{count, say};
use leptos::prelude::*;
use plot::Problem;

use super::fields::label;
use crate::parts::lean::{changing, said};

/// Lines told at once; the rest are counted.
const SHOWN: usize = 12;

/// Faults of lines, each with a way to its line.
pub(super) fn of_lines(faults: RwSignal<Vec<Problem>>, go_to: Callback<u64>) -> AnyView {
    let one = move |fault: &Problem| {
        let line = fault.line?;
        let place = fault.column.as_deref().unwrap_or_default();
        let words = told(place, fault);
        Some(view! {
            <li>
                <button class="button" type="button" on:click=move |_| go_to.run(line)>
                    {say!("Line {line}")}
                </button>
                <span>{words}</span>
            </li>
        })
    };
    let list = changing(move || {
        faults.with(|faults| {
            let lines: Vec<_> = faults.iter().filter_map(one).take(SHOWN).collect();
            let more = faults.iter().filter(|fault| fault.line.is_some()).count() - lines.len();
            if lines.is_empty() {
                return ().into_any();
            }
            view! {
                <ul class="planting-faults">{lines}</ul>
                {(more > 0).then(|| said("p", "fault", say!("and {more} more lines")))}
            }
            .into_any()
        })
    });
    view! { <div role="status" aria-label=say!("Faults in the lines")>{list}</div> }.into_any()
}

/// Faults of fields, and that nothing was planted.
#[component]
pub(super) fn FieldFaults(faults: RwSignal<Vec<Problem>>) -> impl IntoView {
    let one = |fault: &Problem| {
        let field = label(fault.column.as_deref().unwrap_or_default());
        said("p", "fault", told(field, fault))
    };
    changing(move || {
        faults.with(|faults| {
            let of_fields: Vec<AnyView> =
                faults.iter().filter(|fault| fault.line.is_none()).map(one).collect();
            let of_lines = faults.len() - of_fields.len();
            let lines = match of_lines {
                0 => None,
                lines => Some(count!(
                    lines,
                    "One line above is wrong; nothing is planted before it is right.",
                    "{lines} lines above are wrong; nothing is planted before they are right."
                )),
            };
            let lines = lines.map(|words| said("p", "fault", words));
            view! { <div role="alert">{of_fields}{lines}</div> }.into_any()
        })
    })
}

fn told(place: &str, Problem { found, expected, .. }: &Problem) -> String {
    say!("{place}: {found}; expected {expected}.")
}
