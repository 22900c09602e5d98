//! The place that is shown, and the wait for its piece of wasm when it is gone to first.

use std::collections::BTreeMap;

use language::say;
use leptos::prelude::*;
use leptos::task::spawn_local;

use super::{Place, keyboard, place_of};
use crate::first::FirstPage;
use crate::places::{self, Make};

/// What is shown of the five places and the page before them.
#[component]
pub(super) fn Shown() -> impl IntoView {
    let app = crate::state::app();
    let place = Memo::new(move |_| place_of(&app.route.get(), app.is_open()));
    let pieces = RwSignal::new(BTreeMap::from([(Place::First, Piece::Here(first as Make))]));
    let fetch = move |place| {
        pieces.update(|pieces| _ = pieces.insert(place, Piece::OnItsWay));
        spawn_local(async move {
            let piece = fetched(place).await;
            pieces.update(|pieces| _ = pieces.insert(place, piece));
        });
    };
    Effect::new(move || {
        let place = place.get();
        if pieces.with_untracked(|pieces| !pieces.contains_key(&place)) {
            fetch(place);
        }
    });
    // A place that shows one plot is made anew for another, and not when a piece for elsewhere
    // comes in.
    let shown = Memo::new(move |_| {
        let place = place.get();
        let piece = pieces.with(|pieces| pieces.get(&place).copied().unwrap_or(Piece::OnItsWay));
        (place, piece, app.opened())
    });
    move || match shown.get() {
        (_, Piece::Here(make), _) => {
            request_animation_frame(keyboard::to_place);
            make()
        }
        (_, Piece::OnItsWay, _) => {
            view! { <p class="on-its-way">{say!("One moment…")}</p> }.into_any()
        }
        (place, Piece::Missing, _) => missing(move || fetch(place)),
    }
}

/// Said of a place whose piece cannot be had.
fn missing(again: impl Fn() + 'static) -> AnyView {
    view! {
        <section class="recovery">
            <h1>{say!("A part of Leeward is missing")}</h1>
            <p role="alert">
                {say!("It could not be fetched, and it was not kept on this machine yet. ")}
                {say!("Your plot and your scores are safe.")}
            </p>
            <button type="button" class="button button-first" on:click=move |_| again()>{say!("Try again")}</button>
        </section>
    }
    .into_any()
}

/// How far a place's piece of wasm has come.
#[derive(Clone, Copy)]
enum Piece {
    OnItsWay,
    Missing,
    Here(Make),
}

impl PartialEq for Piece {
    /// A place has one piece, so that all that are here are alike.
    fn eq(&self, other: &Self) -> bool {
        std::mem::discriminant(self) == std::mem::discriminant(other)
    }
}

fn first() -> AnyView {
    FirstPage().into_any()
}

async fn fetched(place: Place) -> Piece {
    let make = match place {
        Place::First => Ok(first as Make),
        Place::Map => places::map().await,
        Place::Find => places::find().await,
        Place::Walk => places::walk().await,
        Place::Proof => places::proof().await,
        Place::Vigour => places::vigour().await,
        Place::Folder => places::folder().await,
        Place::Print => places::print().await,
    };
    make.map_or(Piece::Missing, Piece::Here)
}
