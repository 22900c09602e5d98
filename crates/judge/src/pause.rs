//! A pause that lets the browser do what waits.

use wasm_bindgen::prelude::*;

/// Lets the browser do what waits, then goes on.
pub async fn breathe() {
    pause(0).await;
}

/// Goes on after so many milliseconds.
pub async fn pause(for_ms: i32) {
    let promise = js_sys::Promise::new(&mut |resolve, _| {
        set_timeout(&resolve, for_ms);
    });
    let _ = wasm_bindgen_futures::JsFuture::from(promise).await;
}

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(js_name = setTimeout)]
    fn set_timeout(then: &js_sys::Function, after_ms: i32) -> i32;
}
