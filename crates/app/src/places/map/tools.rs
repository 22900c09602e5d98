//! Buttons for what fingers and keys do too: zoom, the whole plot, north, the table.

use language::say;
use leptos::prelude::*;
use scene::Facing;

use super::shown::{Shown, shown};
use crate::parts::lean::when;

/// How much a button zooms.
const ZOOM: f64 = 1.8;

/// The buttons that move the camera.
#[component]
pub fn CameraTools() -> impl IntoView {
    let shown = shown();
    let has_north = move || shown.ground.get().is_some_and(|ground| ground.origin().is_some());
    view! {
        <div class="map-tools" role="group" aria-label=say!("Map")>
            {tool("+", say!("Zoom in"), move || shown.zoom(None, ZOOM))}
            {tool("−", say!("Zoom out"), move || shown.zoom(None, 1.0 / ZOOM))}
            {tool(say!("All"; "the whole plot"), say!("All: the whole plot"), move || shown.fit_whole())}
            {when(has_north, move || {
                let is_north = move || shown.facing.get() == Facing::North;
                switch(say!("N"; "north"), say!("N: north up"), is_north, move || turn(shown))
            })}
        </div>
    }
}

/// The switch between map and table.
#[component]
pub fn TableSwitch() -> impl IntoView {
    let shown = shown();
    let is_table = move || shown.as_table.get();
    switch(say!("Table"), say!("Table"), is_table, move || shown.as_table.set(!is_table()))
}

fn turn(shown: Shown) {
    shown.facing.set(match shown.facing.get_untracked() {
        Facing::Upright => Facing::North,
        Facing::North => Facing::Upright,
    });
}

fn tool(
    face: &'static str,
    words: &'static str,
    press: impl Fn() + Send + Sync + 'static,
) -> AnyView {
    fn erased(
        face: &'static str,
        words: &'static str,
        press: Box<dyn Fn() + Send + Sync>,
    ) -> AnyView {
        view! {
            <button class="tool" aria-label=words on:click=move |_| press()>{face}</button>
        }
        .into_any()
    }
    erased(face, words, Box::new(press))
}

fn switch(
    face: &'static str,
    words: &'static str,
    is_on: impl Fn() -> bool + Send + Sync + 'static,
    press: impl Fn() + Send + Sync + 'static,
) -> AnyView {
    fn erased(
        face: &'static str,
        words: &'static str,
        is_on: Box<dyn Fn() -> bool + Send + Sync>,
        press: Box<dyn Fn() + Send + Sync>,
    ) -> AnyView {
        view! {
            <button
                class="tool"
                aria-label=words
                aria-pressed=move || is_on().to_string()
                on:click=move |_| press()
            >{face}</button>
        }
        .into_any()
    }
    erased(face, words, Box::new(is_on), Box::new(press))
}
