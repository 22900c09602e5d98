//! What to mind before one sets out: diseases that travel on hands and tools.

use language::say;
use leptos::prelude::*;
use scene::words::cautions;

use crate::state::app;

/// Shown where such a disease was seen in this plot.
#[component]
pub fn ToolsCaution() -> impl IntoView {
    let seen = app().plot_now(cautions::on_tools).unwrap_or_default();
    (!seen.is_empty()).then(|| {
        let lines = seen.iter().map(|(line, _)| format!("{line} ")).collect::<String>();
        let of_diseases = seen.into_iter().flat_map(|(_, cautions)| cautions);
        let cautions: Vec<String> = of_diseases.chain([cautions::ladder().to_owned()]).collect();
        view! {
            <aside class="walk-caution">
                <p><strong>{lines.trim_end().to_owned()}</strong> " " {cautions::clean_first()}</p>
                <details>
                    <summary>{say!("What else to mind")}</summary>
                    {cautions.into_iter().map(|words| view! { <p>{words}</p> }).collect_view()}
                </details>
            </aside>
        }
    })
}
