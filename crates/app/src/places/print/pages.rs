//! Pages as they come out of the printer, each a picture of its own.

use std::sync::Arc;

use js_sys::Array;
use language::say;
use leptos::prelude::*;
use wasm_bindgen::prelude::*;
use web_sys::{Blob, BlobPropertyBag, Url};

use super::desk::Desk;

/// A page: the address of its picture, given back to the browser when nothing shows it.
#[derive(Clone)]
pub(super) struct Sheet(Arc<Address>);

struct Address(String);

impl Drop for Address {
    fn drop(&mut self) {
        let _ = Url::revoke_object_url(&self.0);
    }
}

impl Sheet {
    /// None where the browser has no room for it.
    pub(super) fn of(svg: &str) -> Option<Self> {
        let kind = BlobPropertyBag::new();
        kind.set_type("image/svg+xml");
        let parts = Array::of1(&JsValue::from_str(svg));
        let blob = Blob::new_with_str_sequence_and_options(&parts, &kind).ok()?;
        Some(Self(Arc::new(Address(Url::create_object_url_with_blob(&blob).ok()?))))
    }

    pub(super) fn address(&self) -> String {
        self.0.0.clone()
    }
}

/// Pages that the browser loads at a time.
const AT_ONCE: usize = 5;

/// The pages below each other; on paper one to a sheet.
#[component]
pub(super) fn Pages(pages: Vec<Sheet>, desk: Desk) -> impl IntoView {
    let of = pages.len();
    let class = desk.wish.with_untracked(super::choice::paper_class);
    let loaded = move || desk.loading.update(|left| *left = left.saturating_sub(1));
    // A few at a time: the page must not stop for them.
    let begun = Memo::new(move |_| {
        let loaded = of.saturating_sub(desk.loading.get());
        (loaded / AT_ONCE + 2) * AT_ONCE
    });
    let page = |(nth, sheet): (usize, Sheet)| {
        let alt = say!("Page {nth} of {of}", nth = nth + 1);
        let address = sheet.address();
        // Held as long as the picture is.
        StoredValue::new(sheet);
        let address = move || (nth < begun.get()).then(|| address.clone());
        view! { <li class="paper-page"><img src=address alt=alt on:load=move |_| loaded() on:error=move |_| loaded() /></li> }
    };
    view! {
        <ol class=format!("paper-pages {class}") aria-label=say!("Pages")>
            {pages.into_iter().enumerate().map(page).collect_view()}
        </ol>
    }
}
