//! What keys mean on the map.

use leptos::prelude::*;
use scene::next_in_direction;
use web_sys::KeyboardEvent;

use super::shown::Shown;
use super::stage::covered;
use super::{choose, put_away};
use crate::parts::keys_to;
use crate::state::App;

/// How far an arrow key moves the map, CSS pixels.
const STEP_PX: f64 = 80.0;
/// How much a key zooms.
const ZOOM: f64 = 1.5;

/// A key was pressed while the map has the focus.
pub fn pressed(app: App, shown: Shown, event: &KeyboardEvent) {
    if event.ctrl_key() || event.alt_key() || event.meta_key() {
        return;
    }
    let arrow = match event.key().as_str() {
        "ArrowRight" => Some((1.0, 0.0)),
        "ArrowLeft" => Some((-1.0, 0.0)),
        "ArrowDown" => Some((0.0, 1.0)),
        "ArrowUp" => Some((0.0, -1.0)),
        _ => None,
    };
    match (event.key().as_str(), arrow) {
        (_, Some(way)) => arrow_pressed(app, shown, way, event.shift_key()),
        ("+" | "=", _) => shown.zoom(None, ZOOM),
        ("-" | "_", _) => shown.zoom(None, 1.0 / ZOOM),
        ("0", _) => shown.fit_whole(),
        ("Enter" | " ", _) if app.chosen.get_untracked().is_some() => keys_to("#card-name"),
        ("Enter" | " ", _) => choose_middle(app, shown),
        ("Escape", _) => {
            shown.offered.set(Vec::new());
            put_away(app);
        }
        _ => return,
    }
    event.prevent_default();
}

/// From the chosen tree to the next in that direction; without one, or with Shift, the map moves.
fn arrow_pressed(app: App, shown: Shown, (right, down): (f64, f64), shift: bool) {
    let (Some(ground), Some(sheet), Some(camera)) = (
        shown.ground.get_untracked(),
        shown.pane.sheet.get_untracked(),
        shown.camera.get_untracked(),
    ) else {
        return;
    };
    match app.chosen.get_untracked().filter(|_| !shift) {
        None => shown.move_camera(|camera, _| camera.panned(-right * STEP_PX, -down * STEP_PX)),
        Some(tree) => {
            if let Some(next) = next_in_direction(&ground, &sheet, &camera, tree, (right, down)) {
                choose(app, next);
                shown.keep_in_view(next, covered());
            }
        }
    }
}

fn choose_middle(app: App, shown: Shown) {
    let (Some(ground), Some(sheet), Some(camera)) = (
        shown.ground.get_untracked(),
        shown.pane.sheet.get_untracked(),
        shown.camera.get_untracked(),
    ) else {
        return;
    };
    let middle = camera.plot_from_screen(camera.viewport.middle());
    let nearest = ground.nearest(middle, 32).find(|tree| sheet.shows(*tree));
    if let Some(tree) = nearest {
        choose(app, tree);
        shown.keep_in_view(tree, covered());
    }
}
