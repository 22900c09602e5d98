//! Checks that a person can see: predicted against seen, what is left over, and the fit's numbers.

use std::sync::Arc;

use language::say;
use leptos::prelude::*;
use proof::{CalibrationBin, Fit, Report};
use scene::words;

/// Folded away until it is asked for.
#[component]
pub fn FitFacts(report: Arc<Report>) -> impl IntoView {
    let line = |bin: &CalibrationBin| {
        view! {
            <tr>
                <td class="number">{format!("{:.0}", bin.trees)}</td>
                <td class="number">{words::percent(bin.expected)}</td>
                <td class="number">{words::percent(bin.seen)}</td>
            </tr>
        }
    };
    let numbers = report.fit.as_ref().map(|fit| {
        say!(
            "Half of the disease travels less than {distance}; susceptible trees differ by a \
             spread of {spread} (log scale); {leak} of the pressure still reaches a resistant \
             tree. Passes made: {passes}.",
            distance = words::metres(fit.half_distance_m),
            spread = words::number((fit.frailty_sd * 100.0).round() / 100.0),
            leak = words::percent(fit.leak),
            passes = fit.passes
        )
    });
    let learned = report.fit.iter().flat_map(learned).map(|words| view! { <p>{words}</p> });
    let learned = learned.collect_view();
    let leftover = report.leftover.as_ref().map(words::leftover);
    let has_bins = !report.calibration.is_empty();
    (numbers.is_some() || has_bins).then(|| view! {
        <details class="proof-fit">
            <summary>{say!("How well it fits this plot")}</summary>
            {numbers.map(|words| view! { <p>{words}</p> })}
            {learned}
            {leftover.map(|words| view! { <p>{words}</p> })}
            {has_bins.then(|| view! {
                <table>
                    <caption>{say!("Trees and seasons by their predicted chance of infection, as far as they may be susceptible")}</caption>
                    <thead>
                        <tr>
                            <th scope="col" class="number">{say!("trees and seasons")}</th>
                            <th scope="col" class="number">{say!("predicted")}</th>
                            <th scope="col" class="number">{say!("seen")}</th>
                        </tr>
                    </thead>
                    <tbody>{report.calibration.iter().map(line).collect_view()}</tbody>
                </table>
            })}
        </details>
    })
}

/// What this plot showed beyond distance; nothing is said of what it did not show.
fn learned(fit: &Fit) -> Vec<String> {
    let mut said = Vec::new();
    if fit.vigour_effect >= 0.01 {
        let more = words::percent(fit.vigour_effect.exp_m1());
        said.push(say!(
            "Strong trees take more here: {more} more for one standard deviation of vigour."
        ));
    }
    if fit.tissue_power >= 0.01 {
        let power = words::number((fit.tissue_power * 100.0).round() / 100.0);
        said.push(say!(
            "Heavily diseased neighbours press harder than lightly diseased ones (power {power} of \
             the tissue affected)."
        ));
    }
    said
}
