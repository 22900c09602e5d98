//! Keeps the keyboard in the page: what has it may be closed, or give way to another place.

use std::cell::RefCell;
use std::rc::Rc;

use leptos::prelude::*;
use wasm_bindgen::prelude::*;
use web_sys::{Element, EventTarget};

use crate::parts::keys_to_element;

/// What may take the keyboard from an element: it goes, or is switched off.
const WATCHED: &str =
    r#"{"childList":true,"subtree":true,"attributes":true,"attributeFilter":["disabled"]}"#;

/// From now on, when what has the keyboard is gone, the next heading around it has it.
pub(super) fn keep() {
    let held = Rc::new(RefCell::new(None::<Held>));
    let now = Rc::clone(&held);
    let on_focus = window_event_listener(leptos::ev::focusin, move |event| {
        now.replace(Held::of(event.target()));
    });
    let now = Rc::clone(&held);
    // Whoever puts the keyboard down is not handed it again.
    let on_blur = window_event_listener(leptos::ev::focusout, move |_| {
        let now = Rc::clone(&now);
        request_animation_frame(move || {
            now.borrow_mut().take_if(|held| !held.is_lost && is_free());
        });
    });
    let changed = Closure::<dyn Fn()>::new(move || {
        if held.borrow_mut().as_mut().is_some_and(Held::look) {
            let now = Rc::clone(&held);
            // What takes its place may take the keyboard, too. Where there is no heading yet, the
            // next change brings one.
            request_animation_frame(move || {
                let lost = now.borrow_mut().take_if(|held| held.is_lost);
                let waits = lost.filter(|held| is_free() && !held.hand_on());
                if waits.is_some() {
                    now.replace(waits);
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
    /// Whether it went, or was switched off at least for a moment.
    is_lost: bool,
}

impl Held {
    fn of(target: Option<EventTarget>) -> Option<Self> {
        let target: Element = target?.dyn_into().ok()?;
        let is_seen = target.matches(":focus-visible").unwrap_or(false);
        let way = std::iter::successors(Some(target), |it: &Element| it.parent_element()).collect();
        Some(Self { way, is_seen, is_lost: false })
    }

    /// Looks whether it is lost.
    fn look(&mut self) -> bool {
        self.is_lost |= self.way.first().is_some_and(|it| !can_have(it));
        self.is_lost
    }

    /// It has it back where it is on again; else the first heading of the nearest that is still
    /// there and has one. False where there is none.
    fn hand_on(&self) -> bool {
        let back = self.way.first().filter(|it| can_have(it));
        if back.is_some_and(|it| give(it, self.is_seen)) {
            return true;
        }
        self.way.iter().filter(|it| it.is_connected()).any(|around| {
            let heading = around.query_selector("h1, h2, h3, h4").ok().flatten();
            heading.is_some_and(|heading| give(&heading, self.is_seen))
        })
    }
}

fn can_have(it: &Element) -> bool {
    it.is_connected() && !it.has_attribute("disabled")
}

/// Whether nothing has the keyboard, or what is switched off.
fn is_free() -> bool {
    let here = document().active_element();
    here.is_none_or(|it| it.tag_name() == "BODY" || it.has_attribute("disabled"))
}

/// Gives the keyboard to something, be it a heading; false where it is not shown.
fn give(it: &Element, is_seen: bool) -> bool {
    keys_to_element(it, is_seen) && !is_free()
}

#[wasm_bindgen]
extern "C" {
    type MutationObserver;
    #[wasm_bindgen(constructor)]
    fn new(changed: &js_sys::Function) -> MutationObserver;
    #[wasm_bindgen(method)]
    fn observe(this: &MutationObserver, what: &Element, watched: &JsValue);
}
