//! How much room this browser gives, and whether it promises to keep what is stored.

use js_sys::Reflect;
use language::say;
use leptos::prelude::window;
use wasm_bindgen::JsValue;
use wasm_bindgen_futures::JsFuture;

/// What the browser says of its storage.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Room {
    /// Whether it promised not to clear it on its own.
    pub persistent: bool,
    /// Bytes in use, if it tells.
    pub used_bytes: Option<f64>,
    /// Bytes that it gives at most, if it tells.
    pub quota_bytes: Option<f64>,
}

/// Asks what there is.
pub async fn look() -> Option<Room> {
    let storage = window().navigator().storage();
    let persistent = JsFuture::from(storage.persisted().ok()?).await.ok()?.is_truthy();
    let estimate = match storage.estimate() {
        Ok(promise) => JsFuture::from(promise).await.unwrap_or(JsValue::NULL),
        Err(_) => JsValue::NULL,
    };
    let bytes = |key: &str| Reflect::get(&estimate, &key.into()).ok()?.as_f64();
    Some(Room { persistent, used_bytes: bytes("usage"), quota_bytes: bytes("quota") })
}

/// Asks for the promise; on a person's action only. Gives the answer.
pub async fn ask_to_keep() -> bool {
    match window().navigator().storage().persist() {
        Ok(promise) => JsFuture::from(promise).await.is_ok_and(|answer| answer.is_truthy()),
        Err(_) => false,
    }
}

impl Room {
    /// The same in words.
    pub fn said(&self) -> String {
        let promise = match self.persistent {
            true => say!("The browser promised not to clear it on its own."),
            false => {
                say!("The browser has not promised to keep it: it may clear it when room is short.")
            }
        };
        match (self.used_bytes, self.quota_bytes) {
            (Some(used), Some(quota)) => {
                let used =
                    say!("{used} of {all} are in use.", used = size(used), all = size(quota));
                format!("{promise} {used}")
            }
            _ => promise.to_owned(),
        }
    }
}

fn size(bytes: f64) -> String {
    match bytes / f64::from(1 << 20) {
        mib if mib < 1024.0 => say!("{mib:.1} MiB"),
        mib => say!("{gib:.1} GiB", gib = mib / 1024.0),
    }
}
