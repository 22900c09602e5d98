//! The question that a tap on several trees at one place asks: which of them?

use language::say;
use leptos::prelude::*;
use plot::TreeIx;
use scene::words;

use super::choose;
use super::legend::mark;
use super::shown::{Shown, shown};
use crate::parts::keys_to;
use crate::parts::lean::{button, changing, said, when};
use crate::state::{App, app};

/// Shown while there is something to choose.
#[component]
pub fn Chooser() -> impl IntoView {
    let (app, shown) = (app(), shown());
    when(
        move || !shown.offered.get().is_empty(),
        move || {
            request_animation_frame(|| keys_to("#chooser-title"));
            let lines = move || {
                let trees = shown.offered.get();
                trees.into_iter().map(|tree| line(app, shown, tree)).collect::<Vec<_>>().into_any()
            };
            let none = move || {
                keys_to(".stage");
                shown.offered.set(Vec::new());
            };
            let key = move |event: web_sys::KeyboardEvent| {
                if event.key() == "Escape" {
                    none();
                }
            };
            view! {
                <section class="chooser" aria-labelledby="chooser-title" on:keydown=key>
                    <h2 id="chooser-title">{say!("Which one?")}</h2>
                    <p class="hint">{say!("Several stand at this place.")}</p>
                    <ul>{changing(lines)}</ul>
                    {button("button", say!("None of them"), none)}
                </section>
            }
            .into_any()
        },
    )
}

fn line(app: App, shown: Shown, tree: TreeIx) -> AnyView {
    let words = app.plot(|plot| {
        let one = plot.tree(tree);
        let what = if one.carrier().is_some() { say!("graft") } else { words::role(one.role()) };
        (words::tree(plot, tree), what)
    });
    let Some((name, what)) = words else { return ().into_any() };
    let mut parts = Vec::new();
    if let Some(class) = shown.pane.sheet.get().as_ref().and_then(|sheet| sheet.class(tree)) {
        parts.push(mark(class.kind.look(), shown.theme.get()));
    }
    parts.push(said("span", "", name));
    parts.push(said("span", "hint", what));
    let take = move |_| {
        shown.offered.set(Vec::new());
        choose(app, tree);
    };
    view! { <li><button class="button" on:click=take>{parts}</button></li> }.into_any()
}
