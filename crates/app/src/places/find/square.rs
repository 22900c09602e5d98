//! A tag's square code read by the camera; where the browser cannot, its short code is typed.

use language::say;
use leptos::html::Video;
use leptos::prelude::*;
use leptos::task::spawn_local;

use crate::parts::lean::{button, said, when};
use crate::route::Route;
use crate::work::camera;

/// The section; `ask` gets what was read and is no tree's address.
#[component]
pub fn Square(ask: impl Fn(String) + Copy + Send + Sync + 'static) -> impl IntoView {
    let is_on = RwSignal::new(false);
    let trouble = RwSignal::new(None::<String>);
    let video = NodeRef::<Video>::new();
    on_cleanup(move || {
        is_on.try_set(false);
    });
    let read = move |text: String| match text.split_once('#') {
        Some((_, place)) if Route::parse(place) != Route::First => Route::parse(place).go(),
        _ => ask(text),
    };
    Effect::new(move || {
        let Some(video) = video.get() else { return };
        spawn_local(async move {
            let goes_on = move || is_on.try_get_untracked() == Some(true);
            let looked = camera::look(video, goes_on, read).await;
            is_on.try_set(false);
            if looked.is_err() {
                let words = say!(
                    "The camera could not be used. Type the short code that stands under \
                             the square."
                );
                trouble.try_set(Some(words.to_owned()));
            }
        });
    });
    let start = move || {
        trouble.set(None);
        is_on.set(true);
    };
    let body = if camera::reads_codes() {
        view! {
            {when(move || !is_on.get(), move || button("button", say!("Read a square code"), start))}
            {when(
                move || is_on.get(),
                move || view! {
                    <div class="square-sight">
                        <video node_ref=video muted playsinline aria-label=say!("What the camera sees")></video>
                        <button class="button" on:click=move |_| is_on.set(false)>{say!("Stop")}</button>
                    </div>
                }
                .into_any(),
            )}
            {move || trouble.get().map(|words| said("p", "", words))}
        }
        .into_any()
    } else {
        said(
            "p",
            "hint",
            say!(
                "This browser reads no square codes. Type the short code under the square, as \
             T00143-2: its last character tells a slip."
            ),
        )
    };
    view! {
        <section class="square" aria-labelledby="square-head">
            <h2 id="square-head">{say!("From its tag")}</h2>
            {body}
        </section>
    }
}
