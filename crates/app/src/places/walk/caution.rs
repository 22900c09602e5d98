//! What to mind before one sets out: diseases that travel on hands and tools.

use leptos::prelude::*;
use plot::{Plot, capital};
use scene::words::{self, cautions};
use walk::seen_on_tools;

use crate::state::app;

/// Shown where such a disease was seen in this plot.
#[component]
pub fn ToolsCaution() -> impl IntoView {
    let seen = app().plot_now(seen).unwrap_or_default();
    (!seen.is_empty()).then(|| {
        let lines = seen.iter().map(|(line, _)| format!("{line} ")).collect::<String>();
        let cautions: Vec<String> = seen.into_iter().flat_map(|(_, cautions)| cautions).collect();
        view! {
            <aside class="walk-caution">
                <p><strong>{lines.trim_end().to_owned()}</strong> " " {cautions::CLEAN_FIRST}</p>
                {(!cautions.is_empty()).then(|| view! {
                    <details>
                        <summary>"What else to mind"</summary>
                        {cautions.into_iter().map(|words| view! { <p>{words}</p> }).collect_view()}
                    </details>
                })}
            </aside>
        }
    })
}

/// Each of them in a sentence, with its cautions.
fn seen(plot: &Plot) -> Vec<(String, Vec<String>)> {
    let told = |(disease, trees): (&plot::Disease, usize)| {
        let name = capital(&disease.label);
        let line = match trees {
            1 => format!("{name} was seen on 1 tree of this plot."),
            more => format!("{name} was seen on {more} trees of this plot."),
        };
        (line, words::cautions::of_disease(plot, &disease.id))
    };
    seen_on_tools(plot).into_iter().map(told).collect()
}
