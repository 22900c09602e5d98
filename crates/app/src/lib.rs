//! The browser face of Leeward: five places on one plot, a keeper for the scores, a judge for the
//! proof.
//!
//! The page holds one [`state::App`]; components read it and send it typed commands. Workers run beside
//! it: the keeper, from the same wasm, owns storage; the judge, a wasm of its own, runs the proof; two
//! more, of their own too, read a workbook when one is brought in and write a plot as one file.

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

/// Starts the page; the addresses are those of the workers and of the demo plot.
#[wasm_bindgen]
pub fn start_page(keeper: String, judge: String, sheets: String, writer: String, demo: String) {
    frame::recovery::install();
    if let Some(page) = document().get_element_by_id("page") {
        let addresses = state::Addresses { keeper, judge, sheets, writer, demo };
        mount_to(page.unchecked_into(), || view! { <frame::Frame addresses /> }).forget();
    }
}
