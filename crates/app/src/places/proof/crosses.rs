//! How many trees came to which verdict, in all and by cross.

use std::sync::Arc;

use language::say;
use leptos::prelude::*;
use proof::{CrossReport, Report, Verdict};
use scene::words;

use super::ranking::Picked;

/// The four verdicts with their counts; tapping one lists its trees.
#[component]
pub fn VerdictCounts(report: Arc<Report>, picked: RwSignal<Picked>) -> impl IntoView {
    let of =
        |verdict: Verdict| report.trees.iter().filter(|it| it.judgement.verdict == verdict).count();
    let one = move |verdict: Verdict| {
        let count = of(verdict);
        let is = move || picked.with(|picked| picked.verdict == Some(verdict));
        view! {
            <button
                class="verdict-count"
                data-verdict=verdict.as_str()
                aria-pressed=move || is().to_string()
                on:click=move |_| picked.update(|picked| picked.toggle(verdict))
            >
                <span class="verdict-number">{count}</span>
                <span class="verdict-word">{words::verdict(verdict)}</span>
                <span class="verdict-meaning">{words::verdict_meaning(verdict)}</span>
            </button>
        }
    };
    view! { <div class="verdict-counts">{Verdict::ALL.map(one)}</div> }
}

/// A line for each cross.
#[component]
pub fn Crosses(report: Arc<Report>, picked: RwSignal<Picked>) -> impl IntoView {
    let any_expected = report.crosses.iter().any(|cross| cross.segregation.is_some());
    let line = move |cross: &CrossReport| {
        let name = cross.cross.clone().unwrap_or_else(|| say!("parents unknown").to_owned());
        let key = cross.cross.clone();
        let share = cross.resistant_share.as_ref().map(words::estimate);
        let position = cross.position_test.map(|test| {
            let p = words::number(test.p);
            match test.p <= 0.05 {
                true => say!("follows position, p {p}"),
                false => say!("no sign of it, p {p}"),
            }
        });
        let counts = cross.verdicts.map(|count| view! { <td class="number">{count}</td> });
        let counts_as_expected =
            cross.segregation.as_ref().map(|counts| words::segregation(cross, counts));
        let pick = key.clone();
        view! {
            <tr>
                <th scope="row">
                    <button
                        class="as-link"
                        aria-pressed=move || picked.with(|picked| picked.cross == Some(key.clone())).to_string()
                        on:click=move |_| picked.update(|picked| picked.toggle_cross(pick.clone()))
                    >
                        {name}
                    </button>
                </th>
                <td class="number">{cross.scored}</td>
                {counts}
                <td>{share}</td>
                {any_expected.then(|| view! { <td>{counts_as_expected}</td> })}
                <td>{position}</td>
            </tr>
        }
    };
    let heads = Verdict::ALL
        .map(|verdict| view! { <th scope="col" class="number">{words::verdict(verdict)}</th> });
    view! {
        <section aria-labelledby="proof-crosses">
            <h2 id="proof-crosses">{say!("By cross")}</h2>
            <div class="scroll" tabindex="0" role="region" aria-label=say!("Table of the crosses")>
                <table class="proof-crosses">
                    <thead>
                        <tr>
                            <th scope="col">{say!("Cross")}</th>
                            <th scope="col" class="number">{say!("scored")}</th>
                            {heads}
                            <th scope="col">{say!("resistant, corrected for escapes")}</th>
                            {any_expected.then(|| view! { <th scope="col">{say!("clean ones against those expected")}</th> })}
                            <th scope="col">{say!("cleanliness and position")}</th>
                        </tr>
                    </thead>
                    <tbody>{report.crosses.iter().map(line).collect_view()}</tbody>
                </table>
            </div>
            <p class="hint">
                {say!("Cleanliness that follows position in a cross is luck more than blood: the clean ones \
                 stand where fewer neighbours took the disease. More clean seedlings than a cross can \
                 have is the fingerprint of escapes.")}
            </p>
        </section>
    }
}
