//! Whether strong trees take a disease more: among trees that can be compared, and in the judgement.

use std::sync::Arc;

use judge::Grown;
use language::say;
use leptos::prelude::*;
use scene::words;
use vigour::{Link, Third};

use crate::parts::JudgeProgress;
use crate::parts::lean::{changing, element, said};
use crate::state::App;

/// A part for each disease; nothing where the plot has none.
pub(super) fn diseases(app: App, grown: Arc<Grown>) -> AnyView {
    if grown.links.is_empty() {
        return ().into_any();
    }
    let parts: Vec<AnyView> =
        grown.links.iter().map(|(disease, link)| of_disease(app, disease, link)).collect();
    view! {
        <section class="vigour-diseases" aria-labelledby="vigour-diseases">
            <h2 id="vigour-diseases">{say!("Do strong trees take more disease?")}</h2>
            <p class="hint">
                {say!("Both are associations: vigour and disease may follow the same good soil, and a \
                 disease weakens a tree that is measured after it.")}
            </p>
            {parts}
            <JudgeProgress />
        </section>
    }
    .into_any()
}

fn of_disease(app: App, disease: &str, link: &Link) -> AnyView {
    let known = app.plot_now(|plot| {
        (words::disease(plot, disease), words::cautions::of_disease(plot, disease))
    });
    let (name, cautions) = known.unwrap_or_default();
    let told = words::vigour_link(&name, link);
    let (asked, of) = (disease.to_owned(), name.clone());
    let effect = move || {
        let report = app.report(&asked);
        let fit = report.as_ref().and_then(|report| report.fit.as_ref());
        match fit {
            Some(fit) => said("p", "vigour-effect", words::vigour_effect(&of, fit.vigour_effect)),
            None if report.is_some() => {
                said("p", "hint", say!("Too few scores for a judgement of the whole plot."))
            }
            None => said("p", "hint", say!("The judgement is not made yet.")),
        }
    };
    let has_groups = link.groups > 0;
    let thirds = has_groups.then(|| thirds(&name, &link.thirds));
    let mut parts = vec![said("p", "", told), thirds.into_any(), changing(effect)];
    parts.extend(cautions.into_iter().map(|words| said("p", "caution", words)));
    element("div", "vigour-disease", parts)
}

/// The share infected among weak, middling and strong trees, as a bar with its number.
fn thirds(name: &str, thirds: &[Third; 3]) -> AnyView {
    let row = |(what, third): (&'static str, &Third)| {
        let share = third.infected as f64 / (third.trees as f64).max(1.0);
        let percent = match third.trees {
            0 => "–".to_owned(),
            _ => words::percent(share),
        };
        view! {
            <tr>
                <th scope="row">{what}</th>
                <td class="number">{say!("{some} of {all}", some = third.infected, all = third.trees)}</td>
                <td class="number">{percent}</td>
                <td class="vigour-bar" aria-hidden="true">
                    <svg viewBox="0 0 100 10" preserveAspectRatio="none">
                        <rect class="vigour-bar-all" width="100" height="10" />
                        <rect class="vigour-bar-share" width=format!("{:.1}", share * 100.0) height="10" />
                    </svg>
                </td>
            </tr>
        }
        .into_any()
    };
    let named = [say!("weakest third"), say!("middle third"), say!("strongest third")];
    let rows: Vec<AnyView> = named.into_iter().zip(thirds).map(row).collect();
    let infected = say!("with {name}");
    view! {
        <table class="vigour-thirds">
            <thead><tr>
                <th scope="col">{say!("of its group")}</th>
                <th scope="col" class="number">{infected}</th>
                <th scope="col" class="number">{say!("share")}</th>
                <th scope="col" aria-hidden="true"></th>
            </tr></thead>
            <tbody>{rows}</tbody>
        </table>
    }
    .into_any()
}
