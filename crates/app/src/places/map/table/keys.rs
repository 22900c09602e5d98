//! Keys on the table: from line to line, by tens, to either end, and away.

use leptos::prelude::*;
use wasm_bindgen::JsCast;
use web_sys::{HtmlElement, KeyboardEvent};

use super::Lines;
use crate::parts::keys_to;
use crate::places::map::{choose, put_away};
use crate::state::App;

/// What a key does. The buttons of the head keep theirs.
pub(super) fn pressed(app: App, lines: Lines, event: &KeyboardEvent) {
    let step = match event.key().as_str() {
        "ArrowDown" => 1,
        "ArrowUp" => -1,
        "PageDown" => 10,
        "PageUp" => -10,
        "Home" => isize::MIN,
        "End" => isize::MAX,
        "Escape" => return put_away(app),
        // A button of the head has Enter and Space for itself.
        "Enter" | " " if event.target() == event.current_target() => {
            event.prevent_default();
            return keys_to("#card-name");
        }
        _ => return,
    };
    event.prevent_default();
    let Some(lines) = lines.get_untracked().filter(|lines| !lines.is_empty()) else { return };
    let chosen = app.chosen.get_untracked();
    let at = lines.iter().position(|tree| Some(*tree) == chosen);
    let last = lines.len() as isize - 1;
    let next = match (at, step) {
        (Some(at), _) => (at as isize).saturating_add(step),
        (None, isize::MAX) => last,
        (None, _) => 0,
    };
    if let Some(tree) = lines.get(next.clamp(0, last) as usize) {
        choose(app, *tree);
    }
    // From a button of the head into the lines.
    let frame = event.current_target().and_then(|frame| frame.dyn_into::<HtmlElement>().ok());
    if let Some(frame) = frame {
        let _ = frame.focus();
    }
}
