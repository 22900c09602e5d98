//! A walk that was planned while another one is under way.

use leptos::prelude::*;

use super::walker::Walker;
use crate::state::app;

/// Says that a planned walk waits, and goes over to it or lets it be; nothing where none does.
#[component]
pub fn Waiting(walker: Walker) -> impl IntoView {
    let app = app();
    move || {
        app.walk_wanted.with(Option::is_some).then(|| {
            view! {
                <div class="walk-waiting">
                    <span>"A planned walk waits."</span>
                    <button class="button button-small" on:click=move |_| walker.leave()>"End this one for it"</button>
                    <button class="button button-small" on:click=move |_| app.walk_wanted.set(None)>"Stay on this one"</button>
                </div>
            }
        })
    }
}
