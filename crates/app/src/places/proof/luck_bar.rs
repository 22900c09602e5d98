//! Luck as a picture: a point with its 90 % interval between 0 and 1, the verdicts' limits marked.

use leptos::prelude::*;
use proof::{Estimate, Verdict};

/// The picture; the words beside it say the same.
#[component]
pub fn LuckBar(luck: Estimate) -> impl IntoView {
    let x = |share: f64| format!("{:.1}", 2.0 + share.clamp(0.0, 1.0) * 96.0);
    let limit = |share: f64| {
        view! { <line class="luck-limit" x1=x(share) x2=x(share) y1="1" y2="15" /> }
    };
    view! {
        <svg class="luck-bar" viewBox="0 0 100 16" preserveAspectRatio="none" aria-hidden="true">
            <line class="luck-way" x1="2" x2="98" y1="8" y2="8" />
            {limit(Verdict::PROVEN_AT_MOST)}
            {limit(Verdict::LEANING_AT_MOST)}
            <line class="luck-interval" x1=x(luck.low) x2=x(luck.high) y1="8" y2="8" />
            <line class="luck-point" x1=x(luck.value) x2=x(luck.value) y1="2" y2="14" />
        </svg>
    }
}
