//! Whether the page is light or dark now.

use leptos::prelude::*;
use scene::Theme;
use wasm_bindgen::prelude::*;

use crate::state::{App, Theme as Worn};

/// The theme that is worn; follows the person's choice and the system.
pub fn theme(app: App) -> Signal<Theme> {
    let query = window().match_media("(prefers-color-scheme: dark)").ok().flatten();
    let system_is_dark =
        RwSignal::new(query.as_ref().is_some_and(web_sys::MediaQueryList::matches));
    if let Some(query) = query {
        let heard = Closure::<dyn Fn(web_sys::MediaQueryListEvent)>::new(
            move |event: web_sys::MediaQueryListEvent| {
                let _ = system_is_dark.try_set(event.matches());
            },
        );
        query.set_onchange(Some(heard.as_ref().unchecked_ref()));
        // It must live as long as the query that calls it, and no longer than the map.
        let kept = StoredValue::new_local((query, heard));
        on_cleanup(move || {
            kept.with_value(|(query, _)| query.set_onchange(None));
        });
    }
    // Where the system gives the colours, it has chosen between light and dark, too.
    let forced = window().match_media("(forced-colors: active)").ok().flatten();
    let is_forced = forced.is_some_and(|query| query.matches());
    let worn = move || if is_forced { Worn::System } else { app.theme.get() };
    Signal::derive(move || match worn() {
        Worn::Light => Theme::Day,
        Worn::Dark => Theme::Evening,
        Worn::System if system_is_dark.get() => Theme::Evening,
        Worn::System => Theme::Day,
    })
}

/// Whether the system asks for less motion.
pub fn wants_less_motion() -> bool {
    let query = window().match_media("(prefers-reduced-motion: reduce)").ok().flatten();
    query.is_some_and(|query| query.matches())
}
