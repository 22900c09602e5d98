//! What was read on the spot, kept by the tab so that a look at the map or a reload loses nothing.

use leptos::prelude::*;
use serde::Serialize;
use serde::de::DeserializeOwned;

use crate::state::App;

/// Keeps something of the open plot under a name.
pub fn keep(app: App, name: &str, value: &impl Serialize) {
    if let (Some(storage), Some(key), Ok(text)) =
        (storage(), key(app, name), serde_json::to_string(value))
    {
        let _ = storage.set_item(&key, &text);
    }
}

/// What was kept of the open plot under a name.
pub fn kept<T: DeserializeOwned>(app: App, name: &str) -> Option<T> {
    let text = storage()?.get_item(&key(app, name)?).ok()??;
    serde_json::from_str(&text).ok()
}

fn storage() -> Option<web_sys::Storage> {
    window().session_storage().ok()?
}

fn key(app: App, name: &str) -> Option<String> {
    app.plot_now(|plot| format!("leeward-{name}:{}", plot.head().name))
}
