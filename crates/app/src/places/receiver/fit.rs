//! Where the plan lies by the positions: bearing, spacing, what is left over, and whether it tells
//! trees apart.

use language::say;
use leptos::prelude::*;

use super::state::Receiver;
use super::{of_survey, words};
use crate::parts::lean::{changing, said};

/// The fit in words.
pub(super) fn fit(receiver: Receiver) -> AnyView {
    changing(move || {
        of_survey(receiver, |survey| {
            let facts: Vec<AnyView> = words::facts(survey)
                .into_iter()
                .map(|(what, value)| view! { <dt>{what}</dt><dd>{value}</dd> }.into_any())
                .collect();
            let warned: Vec<AnyView> =
                words::warned(survey).into_iter().map(|line| said("p", "", line)).collect();
            let warned = (!warned.is_empty())
                .then(|| view! { <div class="receiver-warned" role="status">{warned}</div> });
            view! {
                <section>
                    <h4>{say!("How the positions fit the plan")}</h4>
                    <dl class="facts">{facts}</dl>
                    {warned}
                </section>
            }
            .into_any()
        })
        .into_any()
    })
}
