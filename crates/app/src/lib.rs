//! The browser face of Leeward: five places on one plot, a keeper for the scores, a judge for the
//! proof.
//!
//! The page holds one [`state::App`]; components read it and send it typed commands. Two workers run
//! beside it: the keeper, from the same wasm, owns storage; the judge, a wasm of its own, runs the
//! proof.

#![allow(
    unreachable_pub,
    reason = "leptos' component macro writes public items into private modules"
)]

pub mod first;
pub mod frame;
pub mod parts;
pub mod places;
pub mod route;
pub mod state;
pub mod work;

use leptos::prelude::*;
use wasm_bindgen::prelude::*;

/// Starts the page; the addresses are those of the two workers and of the demo plot.
#[wasm_bindgen]
pub fn start_page(keeper: String, judge: String, demo: String) {
    frame::recovery::install();
    if let Some(page) = document().get_element_by_id("page") {
        let addresses = state::Addresses { keeper, judge, demo };
        mount_to(page.unchecked_into(), || view! { <frame::Frame addresses /> }).forget();
    }
}
