//! Keeps the keyboard in the page: what has it may be closed, or give way to another place.

use leptos::prelude::*;
use wasm_bindgen::prelude::*;
use web_sys::{Element, EventTarget, HtmlElement};

/// What may take the keyboard from an element: it goes, or is switched off.
const WATCHED: &str =
    r#"{"childList":true,"subtree":true,"attributes":true,"attributeFilter":["disabled"]}"#;

/// From now on, when what has the keyboard is gone, the next heading around it has it.
pub(super) fn keep() {
    let held = StoredValue::new_local(None::<Held>);
    let on_focus = window_event_listener(leptos::ev::focusin, move |event| {
        held.set_value(Held::of(event.target()));
    });
    // Whoever puts the keyboard down is not handed it again.
    let on_blur = window_event_listener(leptos::ev::focusout, move |_| {
        request_animation_frame(move || {
            if is_free() {
                held.update_value(|held| _ = held.take_if(|held| !held.is_gone()));
            }
        });
    });
    let changed = Closure::<dyn Fn()>::new(move || {
        if held.with_value(|held| held.as_ref().is_some_and(Held::is_gone)) {
            // What takes its place may take the keyboard, too.
            request_animation_frame(move || {
                if let Some(Some(held)) = held.try_update_value(Option::take).filter(|_| is_free()) {
                    held.hand_on();
                }
            });
        }
    });
    if let (Some(body), Ok(watched)) = (document().body(), js_sys::JSON::parse(WATCHED)) {
        MutationObserver::new(changed.as_ref().unchecked_ref()).observe(&body, &watched);
    }
    // They live as long as the page.
    std::mem::forget((on_focus, on_blur, changed));
}

/// Another place is shown: its heading has the keyboard, unless something in it took it.
pub(super) fn to_place() {
    let here = document().active_element();
    if here.is_some_and(|here| here.closest(".places").is_ok_and(|it| it.is_some())) {
        let heading = document().query_selector("main h1").ok().flatten();
        _ = heading.is_some_and(|heading| give(&heading, true));
    }
}

/// Who has the keyboard, with all around it, the nearest first.
struct Held {
    way: Vec<Element>,
    /// Whether it is seen: whoever uses keys wants to see where they are.
    is_seen: bool,
}

impl Held {
    fn of(target: Option<EventTarget>) -> Option<Self> {
        let target: Element = target?.dyn_into().ok()?;
        let is_seen = target.matches(":focus-visible").unwrap_or(false);
        let way = std::iter::successors(Some(target), |it: &Element| it.parent_element()).collect();
        Some(Self { way, is_seen })
    }

    fn is_gone(&self) -> bool {
        self.way.first().is_some_and(|it| !it.is_connected() || it.has_attribute("disabled"))
    }

    /// The first heading of the nearest that is still there and has one takes it.
    fn hand_on(self) {
        for around in self.way.iter().filter(|it| it.is_connected()) {
            let heading = around.query_selector("h1, h2, h3, h4").ok().flatten();
            if heading.is_some_and(|heading| give(&heading, self.is_seen)) {
                return;
            }
        }
    }
}

/// Whether nothing has the keyboard.
fn is_free() -> bool {
    document().active_element().is_none_or(|it| it.tag_name() == "BODY")
}

/// Gives the keyboard to a heading; false where it is not shown.
fn give(heading: &Element, is_seen: bool) -> bool {
    let Some(heading) = heading.dyn_ref::<HtmlElement>() else { return false };
    let _ = heading.set_attribute("tabindex", "-1");
    let how = web_sys::FocusOptions::new();
    how.set_prevent_scroll(!is_seen);
    let _ = heading.focus_with_options(&how);
    !is_free()
}

#[wasm_bindgen]
extern "C" {
    type MutationObserver;
    #[wasm_bindgen(constructor)]
    fn new(changed: &js_sys::Function) -> MutationObserver;
    #[wasm_bindgen(method)]
    fn observe(this: &MutationObserver, what: &Element, watched: &JsValue);
}
