//! Crosses and repeated genotypes of one season: as measured, and predicted in the middle of the
//! field.

use language::say;
use leptos::prelude::*;
use vigour::{Ranked, SeasonFit};

use super::two;
use crate::parts::lean::{element, said};

/// A table of each, folded away; nothing where there are none.
pub(super) fn groups(fit: &SeasonFit, unit: &str) -> AnyView {
    let crosses = fit.crosses.iter().map(|(cross, ranked)| (cross.to_string(), *ranked)).collect();
    let copies = fit.genotypes.iter().map(|(own, ranked)| (own.to_string(), *ranked)).collect();
    let parts = vec![
        table(say!("Cross by cross"), say!("cross"), crosses, unit),
        table(say!("Copies together"), say!("genotype"), copies, unit),
    ];
    element("div", "vigour-groups", parts)
}

fn table(
    title: &'static str,
    what: &'static str,
    mut groups: Vec<(String, Ranked)>,
    unit: &str,
) -> AnyView {
    if groups.is_empty() {
        return ().into_any();
    }
    groups.sort_by(|a, b| best(&b.1).total_cmp(&best(&a.1)).then_with(|| a.0.cmp(&b.0)));
    let row = |(name, ranked): &(String, Ranked)| {
        let interval = ranked.predicted.map_or_else(String::new, |effect| {
            let (low, high) = effect.interval_90();
            say!("{low} to {high}", low = two(low), high = two(high))
        });
        let name = view! { <th scope="row">{name.clone()}</th> }.into_any();
        let numbers = [ranked.trees.to_string(), two(ranked.raw_mean), two(best(ranked)), interval];
        let cells = numbers.map(|words| said("td", "number", words));
        element("tr", "", std::iter::once(name).chain(cells).collect())
    };
    let rows: Vec<AnyView> = groups.iter().map(row).collect();
    let means = match unit {
        "" => say!("Means").to_owned(),
        unit => say!("Means in{unit}"),
    };
    let caption = say!(
        "{means}, as measured and in the middle of the field, drawn towards each other the more, \
         the fewer trees there are; with the 90\u{a0}% interval"
    );
    view! {
        <details>
            <summary>{title}</summary>
            <div class="scroll">
                <table>
                    <caption>{caption}</caption>
                    <thead><tr>
                        <th scope="col">{what}</th>
                        <th scope="col" class="number">{say!("trees")}</th>
                        <th scope="col" class="number">{say!("as measured")}</th>
                        <th scope="col" class="number">{say!("adjusted")}</th>
                        <th scope="col" class="number">{say!("interval")}</th>
                    </tr></thead>
                    <tbody>{rows}</tbody>
                </table>
            </div>
        </details>
    }
    .into_any()
}

/// The adjusted mean, whichever way it was had; else the plain one.
fn best(ranked: &Ranked) -> f64 {
    ranked.adjusted().unwrap_or(ranked.raw_mean)
}
