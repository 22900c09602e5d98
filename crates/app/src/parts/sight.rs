//! Bringing something to the eye, and the keyboard with it.

use leptos::prelude::*;
use wasm_bindgen::JsCast as _;
use web_sys::{Element, HtmlElement};

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

/// Gives the keyboard to what stands first of these selectors' elements, without a jump.
pub fn keys_to(selector: &str) {
    let found = document().query_selector(selector).ok().flatten();
    _ = found.is_some_and(|it| keys_to_element(&it, false));
}

/// Gives the keyboard to an element, which the page may jump to; where it can have it only so, as a
/// head can, it is no stop of the Tab key. False where it can never have it.
pub fn keys_to_element(it: &Element, jumps: bool) -> bool {
    let Some(it) = it.dyn_ref::<HtmlElement>() else { return false };
    if it.tab_index() < 0 {
        let _ = it.set_attribute("tabindex", "-1");
    }
    let how = web_sys::FocusOptions::new();
    how.set_prevent_scroll(!jumps);
    let _ = it.focus_with_options(&how);
    true
}

/// Whether what has the keyboard lies within one of these selectors' elements, or nothing has it.
pub fn keys_in(selector: &str) -> bool {
    let here = document().active_element();
    here.is_none_or(|it| {
        it.tag_name() == "BODY" || it.closest(selector).is_ok_and(|it| it.is_some())
    })
}
