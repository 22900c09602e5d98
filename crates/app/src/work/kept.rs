//! Small things that the browser keeps beside the scores, each under a plot's name: losing one
//! costs a few taps.

use leptos::prelude::window;
use plot::Plot;
use serde::Serialize;
use serde::de::DeserializeOwned;
use web_sys::Storage;

/// How long something is kept.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum For {
    /// Until the tab is closed.
    Tab,
    /// Until the browser forgets it.
    Browser,
}

/// Keeps something of a plot under a name.
pub fn keep(how_long: For, plot: &Plot, name: &str, value: &impl Serialize) {
    if let (Some(storage), Ok(text)) = (storage(how_long), serde_json::to_string(value)) {
        let _ = storage.set_item(&key(plot, name), &text);
    }
}

/// What was kept of a plot under a name.
pub fn kept<T: DeserializeOwned>(how_long: For, plot: &Plot, name: &str) -> Option<T> {
    let text = storage(how_long)?.get_item(&key(plot, name)).ok()??;
    serde_json::from_str(&text).ok()
}

/// Forgets everything that was kept under a plot's name, since another plot begins under it.
pub fn forget(plot: &Plot) {
    let of_it = key(plot, "");
    let is_of_it = |key: &String| key.starts_with(KEYS) && key.ends_with(&of_it[KEYS.len()..]);
    for storage in [For::Tab, For::Browser].into_iter().filter_map(storage) {
        let nth = |nth| storage.key(nth).ok().flatten();
        let keys: Vec<_> = (0..storage.length().unwrap_or(0)).filter_map(nth).collect();
        for key in keys.iter().filter(|key| is_of_it(key)) {
            let _ = storage.remove_item(key);
        }
    }
}

/// How each key begins.
const KEYS: &str = "leeward-";

fn storage(how_long: For) -> Option<Storage> {
    match how_long {
        For::Tab => window().session_storage().ok()?,
        For::Browser => window().local_storage().ok()?,
    }
}

fn key(plot: &Plot, name: &str) -> String {
    format!("{KEYS}{name}:{}", plot.head().name)
}
