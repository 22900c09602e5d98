//! What to mind before one sets out: fire blight travels on hands and tools.

use leptos::prelude::*;
use scene::words::cautions;
use walk::fire_blight_seen;

use crate::state::app;

/// Shown where fire blight was seen in this plot.
#[component]
pub fn FireBlightCaution() -> impl IntoView {
    let trees = app().plot_now(fire_blight_seen).unwrap_or_default();
    (trees > 0).then(|| {
        let seen = match trees {
            1 => "Fire blight was seen on 1 tree of this plot.".to_owned(),
            more => format!("Fire blight was seen on {more} trees of this plot."),
        };
        view! {
            <aside class="walk-caution">
                <p><strong>{seen}</strong> " " {cautions::CLEAN_FIRST}</p>
                <details>
                    <summary>"What else to mind"</summary>
                    {cautions::of_disease("fire_blight").iter().map(|&words| view! { <p>{words}</p> }).collect_view()}
                </details>
            </aside>
        }
    })
}
