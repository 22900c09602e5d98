//! A list brought in: any table, its columns matched, every fault told before anything is taken.

mod columns;
mod lines;
mod more;
mod problems;
mod select;
mod sniffed;
mod source;
mod state;
mod take;
mod words;
mod workbook;

use leptos::html;
use leptos::prelude::*;

use crate::parts::Bar;
use crate::parts::lean::{changing, said, when};
use crate::state::{Busy, app};
use columns::columns;
use lines::lines;
use problems::problems;
use sniffed::sniffed;
use source::source;
use state::Bring;
use take::{take, taken};

/// From a file or a paste to trees of the plot.
#[component]
pub fn BringList() -> impl IntoView {
    let app = app();
    let bring = Bring::new(app);
    on_cleanup(move || bring.forget_workbook());
    // A tree that changes meanwhile changes what the list brings.
    Effect::new(move |before: Option<()>| {
        app.version();
        if before.is_some() {
            bring.plot_changed();
        }
    });
    let result = NodeRef::<html::H3>::new();
    Effect::new(move |before: Option<bool>| {
        let is_there = bring.seen.with(Option::is_some);
        if is_there && before == Some(false) {
            request_animation_frame(move || {
                if let Some(result) = result.get_untracked() {
                    let _ = result.focus();
                    result.scroll_into_view();
                }
            });
        }
        is_there
    });
    let shown = move || {
        view! {
            <h3 tabindex="-1" node_ref=result>{move || bring.name()}</h3>
            {sniffed(bring)}
            {columns(bring)}
            {lines(bring)}
            {problems(bring)}
            {take(bring)}
        }
        .into_any()
    };
    view! {
        <div class="bring">
            {source(bring)}
            {changing(move || match bring.busy.get() {
                Some(Busy { what, done, of, .. }) => {
                    let (done, of) = (done as u64, of as u64);
                    view! { <Bar what done of stop=move || bring.put_away() /> }.into_any()
                }
                None => ().into_any(),
            })}
            {changing(move || match bring.trouble.get() {
                Some(words) => view! { <div role="alert">{said("p", "fault", words)}</div> }.into_any(),
                None => ().into_any(),
            })}
            {when(move || bring.seen.with(Option::is_some), shown)}
            {taken(bring)}
        </div>
    }
}
