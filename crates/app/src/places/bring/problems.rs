//! Every fault of the list by line, and what asks for a look.

use language::say;
use leptos::prelude::*;

use super::state::Bring;
use crate::parts::lean::{changing, said};
use crate::places::intake::{SHOWN, problem_lines};

pub(super) fn problems(bring: Bring) -> AnyView {
    let shown = RwSignal::new(SHOWN);
    changing(move || {
        bring.seen.with(|seen| {
            let Some(seen) = seen.as_ref().filter(|seen| !seen.problems.is_empty()) else {
                return ().into_any();
            };
            let unlisted = (seen.unlisted > 0).then(|| {
                said(
                    "p",
                    "hint",
                    say!("{unlisted} more are counted only.", unlisted = seen.unlisted),
                )
            });
            view! {
                <section aria-label=say!("Faults of the list")>
                    {problem_lines(&seen.problems, say!("The list"), shown)}
                    {unlisted}
                </section>
            }
            .into_any()
        })
    })
}
