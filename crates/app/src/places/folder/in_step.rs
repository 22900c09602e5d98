//! A folder on this machine that every score is written into as well.

use language::say;
use leptos::prelude::*;
use leptos::task::spawn_local;

use crate::state::{InStep as Stands, app};
use crate::work::clock;
use crate::work::folders::{self, ToDo};

/// Which folder, and how it stands to the plot; nothing where the browser opens no folders.
#[component]
pub fn InStep() -> impl IntoView {
    let app = app();
    let choose = move |_| {
        spawn_local(async move {
            // Closing the picker is an answer, too.
            if let Ok(folder) = folders::choose(ToDo::Write).await {
                app.keep_in_step(folder);
            }
        });
    };
    let said = move || {
        let name = app.step_name().unwrap_or_default();
        match app.in_step.get() {
            Stands::Nothing => say!(
                "Every score is then written there, too, and what other programs \
                                change in it is taken in. Choose the folder of this plot, or an \
                                empty one."
            )
            .to_owned(),
            Stands::Asleep => say!(
                "\"{name}\" was kept in step. The browser wants a tap on each visit before it may \
                 be written."
            ),
            Stands::Working => say!("\"{name}\" is being looked through and written …"),
            Stands::Since(at_ms) => {
                say!("\"{name}\" holds every score, as of {when}.", when = clock::said(at_ms))
            }
            Stands::Trouble(why) => say!(
                "\"{name}\" is not in step: {why}. Nothing in it was written over, and every score \
                 is in this browser."
            ),
        }
    };
    let stands = Memo::new(move |_| app.in_step.get());
    folders::has_picker().then(|| view! {
        <section aria-labelledby="folder-step">
            <h2 id="folder-step">{say!("A folder kept in step")}</h2>
            <p class="in-step" role="status">{said}</p>
            <div class="row">
                <Show when=move || matches!(stands.get(), Stands::Nothing | Stands::Trouble(_))>
                    <button class="button" on:click=choose>{say!("Keep a folder in step")}</button>
                </Show>
                <Show when=move || matches!(stands.get(), Stands::Asleep | Stands::Trouble(_))>
                    <button class="button" on:click=move |_| app.wake_step()>{say!("Go on with it")}</button>
                </Show>
                <Show when=move || stands.get() != Stands::Nothing>
                    <button class="button" on:click=move |_| app.leave_step()>{say!("Stop keeping it in step")}</button>
                </Show>
            </div>
        </section>
    })
}
