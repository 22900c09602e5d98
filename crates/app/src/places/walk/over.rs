//! The end of a walk: what was done, who was left behind, and what to do now.

use leptos::prelude::*;
use walk::Command;

use super::walker::Walker;
use crate::route::Route;

/// Behind the last tree.
#[component]
pub fn WalkOver(walker: Walker) -> impl IntoView {
    let tally = move || walker.read(walk::Walk::total).unwrap_or_default();
    let left = move || tally().left_behind;
    view! {
        <section class="walk-over" aria-labelledby="walk-over">
            <h2 id="walk-over">{move || if left() == 0 { "Every tree of the route was looked at" } else { "The end of the route" }}</h2>
            <dl class="facts">
                <dt>"Scored"</dt><dd>{move || tally().done - tally().could_not}</dd>
                <dt>"Could not be scored"</dt><dd>{move || tally().could_not}</dd>
                <dt>"Left behind"</dt><dd>{left}</dd>
            </dl>
            <div class="row">
                {move || (left() > 0).then(|| view! {
                    <button class="button button-first" on:click=move |_| { walker.say(Command::GoToLeftBehind); }>
                        {format!("Go to the {} left behind", left())}
                    </button>
                })}
                <button
                    class="button"
                    disabled=move || walker.read(|walk| walk.undo_takes_back().is_none()) == Some(true)
                    on:click=move |_| { walker.say(Command::Undo); }
                >
                    "Undo the last"
                </button>
                <button class="button" on:click=move |_| walker.leave()>"End this walk"</button>
                <a class="button" href=Route::Proof { disease: None }.address()>"See what it proves"</a>
            </div>
        </section>
    }
}
