//! What the person sees when the program breaks: the scores are safe, and how to go on.

use language::say;
use leptos::prelude::*;
use wasm_bindgen::JsCast as _;

/// From now on a panic shows the recovery page.
pub fn install() {
    std::panic::set_hook(Box::new(|panic| {
        web_sys::console::error_1(&panic.to_string().into());
        show(&panic.to_string());
    }));
}

/// Written with plain calls of the browser: the program's own state can no longer be trusted.
fn show(what: &str) {
    let Some(body) = document().body() else { return };
    let Ok(main) = document().create_element("main") else { return };
    body.set_text_content(None);
    let _ = body.append_child(&main);
    main.set_class_name("recovery");
    let add = |tag: &str, text: &str| {
        let element = document().create_element(tag).ok()?;
        element.set_text_content(Some(text));
        main.append_child(&element).ok()?;
        Some(element)
    };
    let head = add("h1", say!("Something broke. Your scores are safe."));
    add(
        "p",
        say!(
            "Every score shown as saved was written to this browser's storage before anything else. \
         Load the page again to go on where you were."
        ),
    );
    if let Some(link) = add("a", say!("Load again")) {
        let _ = link.set_attribute("href", "#/folder");
        let reload = wasm_bindgen::closure::Closure::<dyn FnMut()>::new(|| {
            let _ = window().location().reload();
        });
        let _ = link.add_event_listener_with_callback("click", reload.as_ref().unchecked_ref());
        reload.forget();
    }
    if let Some(details) = add("pre", what) {
        details.set_class_name("recovery-details");
        // It may be wider than the screen, and keys must be able to move it.
        let named = [("tabindex", "0"), ("role", "region"), ("aria-label", say!("What broke"))];
        for (name, value) in named {
            let _ = details.set_attribute(name, value);
        }
    }
    // Said at once, whatever had the keyboard.
    if let Some(head) = head.and_then(|head| head.dyn_into::<web_sys::HtmlElement>().ok()) {
        let _ = head.set_attribute("tabindex", "-1");
        let _ = head.focus();
    }
}
