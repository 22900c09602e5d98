//! Map: every tree to scale, and the layers over it.

mod camera_moves;
mod chooser;
mod clear;
pub(super) mod dark;
mod events;
mod gestures;
mod keys;
mod layers;
pub(super) mod legend;
mod overlay;
mod painter;
mod pane;
pub(super) mod rounds;
pub(super) mod shown;
mod stage;
mod table;
mod tools;
mod under;
mod which;

use std::time::Duration;

use language::say;
use leptos::prelude::*;
use plot::TreeIx;

use crate::parts::lean::{changing, changing_words, when};
use crate::parts::{keys_in, keys_to};
use crate::places::card::Card;
use crate::route::Route;
use crate::state::{App, app};
use chooser::Chooser;
use events::EventList;
use layers::LayerChoice;
use legend::Legend;
use rounds::RoundSlider;
use shown::Shown;
use stage::{Stages, follow_wishes};
use table::Table;
use tools::{CameraTools, TableSwitch};
use under::{GroundChoice, follows};
use which::Which;

/// The map.
#[component]
pub fn Map() -> impl IntoView {
    let app = app();
    let shown = Shown::new(app);
    provide_context(shown);
    follow_address(app, shown);
    follow_wishes(shown);
    on_cleanup(move || shown.remember(app));
    follow_undo(app);
    let body = move || match shown.as_table.get() {
        true => Table().into_any(),
        false => (Stages(), CameraTools()).into_any(),
    };
    view! {
        <section class="map" class:map-as-table=move || shown.as_table.get()>
            <h1 class="hidden-words">{say!("Map")}</h1>
            <div class="map-head">
                <LayerChoice />
                <GroundChoice />
                <TableSwitch />
            </div>
            <div class="map-body">{changing(body)}</div>
            <div class="map-foot">
                <RoundSlider />
                <EventList />
                <Which />
                {changing(move || follows(shown))}
                <Legend />
            </div>
            <Chooser />
            {told(app)}
            {when(move || app.chosen.get().is_some(), || Card().into_any())}
        </section>
    }
}

/// What was just undone or done again.
fn told(app: App) -> AnyView {
    let words = changing_words(move || app.told.get());
    let class = move || if app.told.with(Option::is_some) { "map-told" } else { "hidden-words" };
    view! { <p role="status" class=class>{words}</p> }.into_any()
}

/// How long it is told what was undone.
const TOLD: Duration = Duration::from_secs(8);

/// Ctrl+Z takes the last edit back, with Shift (or Ctrl+Y) it is done again; in a field these keys
/// are the field's.
fn follow_undo(app: App) {
    let keys = window_event_listener(leptos::ev::keydown, move |event| {
        let in_field = document().active_element().is_some_and(|focused| {
            matches!(focused.tag_name().as_str(), "INPUT" | "TEXTAREA" | "SELECT")
        });
        if in_field || event.alt_key() || !(event.ctrl_key() || event.meta_key()) {
            return;
        }
        let redo = match event.key().to_ascii_lowercase().as_str() {
            "z" => event.shift_key(),
            "y" => true,
            _ => return,
        };
        event.prevent_default();
        app.turn_over_last(redo);
    });
    on_cleanup(move || keys.remove());
    app.told.set(None);
    Effect::new(move || {
        let told = app.told.get();
        if told.is_some() {
            let clear = move || {
                if app.told.get_untracked() == told {
                    app.told.set(None);
                }
            };
            set_timeout(clear, TOLD);
        }
    });
}

/// A tree in the address is the chosen one, and the map goes there.
fn follow_address(app: App, shown: Shown) {
    Effect::new(move || {
        let Route::Tree { id } = app.route.get() else { return };
        match app.plot(|plot| plot.tree_ix(&id)).flatten() {
            Some(tree) => {
                app.chosen.set(Some(tree));
                shown.go_to.set(Some(tree));
            }
            None => app.trouble.set(Some(say!("This plot has no tree with the id “{id}”."))),
        }
    });
}

/// Shows the card of a tree and puts it into the address.
fn choose(app: App, tree: TreeIx) {
    app.chosen.set(Some(tree));
    if let Some(id) = app.plot_now(|plot| plot.tree(tree).id().to_string()) {
        Route::Tree { id }.replace();
    }
}

/// Puts the card away; the keyboard goes back to the map or the table.
pub(super) fn put_away(app: App) {
    if keys_in(".card") {
        keys_to(".map-body [tabindex]");
    }
    app.chosen.set(None);
    Route::Map.replace();
}
