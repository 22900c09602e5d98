//! How large the person reads.

use leptos::prelude::*;

/// A rem in CSS pixels: 16, unless the browser was told to write larger or smaller.
pub fn rem_px() -> f64 {
    let size = document().document_element().and_then(|root| {
        let style = window().get_computed_style(&root).ok().flatten()?;
        style.get_property_value("font-size").ok()?.trim_end_matches("px").parse().ok()
    });
    size.unwrap_or(16.0)
}
