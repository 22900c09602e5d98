//! The language that the page speaks from its start on; remembered in this browser.

use leptos::prelude::*;

/// Languages by their tags (BCP 47), each with its own name: `www/language.js` has where the texts
/// of each lie.
pub const LANGUAGES: [(&str, &str); 2] = [("en", "English"), ("de", "Deutsch")];

const KEY: &str = "leeward-language";

/// The tag of the language that is spoken.
pub fn tag() -> String {
    let root = document().document_element();
    root.and_then(|root| root.get_attribute("lang")).unwrap_or_default()
}

/// Remembers a language and starts the page anew in it; every score is on disk by then, or waits
/// there.
pub fn switch_to(tag: &str) {
    if let Ok(Some(storage)) = window().local_storage() {
        let _ = storage.set_item(KEY, tag);
    }
    let _ = window().location().reload();
}
