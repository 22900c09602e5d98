//! Bringing something to the eye, and the keyboard with it.

use leptos::prelude::*;
use wasm_bindgen::JsCast as _;
use web_sys::HtmlElement;

/// Brings what stands under a head there.
pub fn go_to(head: &str) {
    let found = document().get_element_by_id(head);
    if let Some(head) = found.and_then(|head| head.dyn_into::<HtmlElement>().ok()) {
        let _ = head.set_attribute("tabindex", "-1");
        head.scroll_into_view();
        let _ = head.focus();
    }
}

/// The same whenever it has come to be there, in the next frame.
pub fn go_to_when(is_there: impl Fn() -> bool + 'static, head: &'static str) {
    Effect::new(move |before: Option<bool>| {
        let is_there = is_there();
        if is_there && before == Some(false) {
            request_animation_frame(move || go_to(head));
        }
        is_there
    });
}
