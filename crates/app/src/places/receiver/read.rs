//! What was read: how many positions, how they were found, how good they are, and what is broken.

use language::say;
use leptos::prelude::*;

use super::state::Receiver;
use super::words;
use crate::parts::lean::{changing, said};
use crate::places::intake::{SHOWN, problem_lines};

/// What the log or list holds.
pub(super) fn read(receiver: Receiver) -> AnyView {
    let shown = RwSignal::new(SHOWN);
    changing(move || {
        let Some(read) = receiver.read.get() else { return ().into_any() };
        let found = &read.positions.read;
        let facts: Vec<AnyView> =
            words::held(&read.positions).into_iter().map(|line| said("p", "", line)).collect();
        let problems = (!found.problems.is_empty()).then(|| {
            view! {
                <section aria-label=say!("Lines that give no position")>
                    {problem_lines(&found.problems, say!("The file"), shown)}
                </section>
            }
        });
        view! { <section>{said("h4", "", say!("What was read"))}{facts}</section>{problems} }
            .into_any()
    })
}
