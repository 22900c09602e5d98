//! Keeps the screen on while one walks, where the browser can.

use leptos::prelude::*;
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::{JsFuture, spawn_local};

/// Holds the screen awake until the component goes; asks again when the page comes back into view,
/// since browsers let go of the lock when it is hidden.
pub fn stay_awake() {
    let lock = StoredValue::new_local(None::<JsValue>);
    let ask = move || {
        spawn_local(async move {
            if let Some(held) = ask_once().await {
                lock.try_set_value(Some(held));
            }
        });
    };
    ask();
    let listening = window_event_listener_untyped("visibilitychange", move |_| {
        if !document().hidden() {
            ask();
        }
    });
    on_cleanup(move || {
        listening.remove();
        if let Some(held) = lock.try_get_value().flatten() {
            let release = js_sys::Reflect::get(&held, &"release".into());
            if let Ok(release) = release.and_then(JsCast::dyn_into::<js_sys::Function>) {
                let _ = release.call0(&held);
            }
        }
    });
}

/// `navigator.wakeLock.request("screen")`; none where there is no such thing or it is refused.
async fn ask_once() -> Option<JsValue> {
    let navigator: JsValue = window().navigator().into();
    let lock = js_sys::Reflect::get(&navigator, &"wakeLock".into()).ok()?;
    let request: js_sys::Function =
        js_sys::Reflect::get(&lock, &"request".into()).ok()?.dyn_into().ok()?;
    let promise: js_sys::Promise = request.call1(&lock, &"screen".into()).ok()?.dyn_into().ok()?;
    JsFuture::from(promise).await.ok()
}
