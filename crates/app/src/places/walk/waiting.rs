//! A walk that was planned while another one is under way.

use leptos::prelude::*;

use super::walker::Walker;
use crate::state::app;

/// Says that a planned walk waits, and goes over to it; nothing where none does.
#[component]
pub fn Waiting(walker: Walker) -> impl IntoView {
    let app = app();
    move || {
        app.walk_wanted.with(Option::is_some).then(|| {
            view! {
                <p class="row walk-waiting">
                    <span>"A walk is under way; the planned one waits."</span>
                    <button class="button" on:click=move |_| walker.leave()>"End this walk, set up the planned one"</button>
                </p>
            }
        })
    }
}
