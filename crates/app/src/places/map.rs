//! Map: every tree to scale, and the layers over it.

mod camera_moves;
mod chooser;
mod clear;
pub(super) mod dark;
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

use leptos::prelude::*;
use plot::TreeIx;

use crate::parts::lean::{changing, when};
use crate::places::card::Card;
use crate::route::Route;
use crate::state::{App, app};
use chooser::Chooser;
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
    let body = move || match shown.as_table.get() {
        true => Table().into_any(),
        false => (Stages(), CameraTools()).into_any(),
    };
    view! {
        <section class="map" class:map-as-table=move || shown.as_table.get()>
            <h1 class="hidden-words">"Map"</h1>
            <div class="map-head">
                <LayerChoice />
                <GroundChoice />
                <TableSwitch />
            </div>
            <div class="map-body">{changing(body)}</div>
            <div class="map-foot">
                <RoundSlider />
                <Which />
                {changing(move || follows(shown))}
                <Legend />
            </div>
            <Chooser />
            {when(move || app.chosen.get().is_some(), || Card().into_any())}
        </section>
    }
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
            None => app.trouble.set(Some(format!("This plot has no tree with the id “{id}”."))),
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

/// Puts the card away.
pub(super) fn put_away(app: App) {
    app.chosen.set(None);
    Route::Map.replace();
}
