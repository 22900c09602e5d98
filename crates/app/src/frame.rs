//! The frame around the five places: navigation, messages, which place is shown, and the way to the
//! guide.

mod heard;
mod keyboard;
mod notices;
pub mod recovery;
mod shown;
mod title;

use language::say;
use leptos::html;
use leptos::prelude::*;

use crate::route::Route;
use crate::state::{Addresses, App};
use heard::Heard;
use notices::Notices;
use shown::Shown;

/// The whole page.
#[component]
pub fn Frame(
    /// Of the workers and the demo plot.
    addresses: Addresses,
) -> impl IntoView {
    let app = App::start(addresses);
    provide_context(app);
    Effect::new(move || app.theme.get().wear());
    title::follow(app);
    keyboard::keep();
    let main = NodeRef::<html::Main>::new();
    // No address: that would be another place.
    let skip = move |event: web_sys::MouseEvent| {
        event.prevent_default();
        _ = main.get_untracked().is_some_and(|main| main.focus().is_ok());
    };
    view! {
        <a class="skip" href="#main" on:click=skip>{say!("To the content")}</a>
        <Show when=move || app.is_open()>
            <Navigation />
        </Show>
        <Notices />
        <main id="main" tabindex="-1" node_ref=main>
            <Shown />
        </main>
        <Heard />
    }
}

/// The five places, and the page before them.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Place {
    First,
    Map,
    Find,
    Walk,
    Proof,
    Vigour,
    Folder,
    Print,
}

impl Place {
    fn name(self) -> &'static str {
        match self {
            Self::First => "Leeward",
            Self::Map => say!("Map"),
            Self::Find => say!("Find"),
            Self::Walk => say!("Walk"),
            Self::Proof => say!("Proof"),
            Self::Vigour => say!("Vigour"),
            Self::Folder => say!("Folder"),
            Self::Print => say!("Print"),
        }
    }

    /// Where the guide tells of it: a page of its own, beside this one.
    fn guide(self) -> &'static str {
        match self {
            Self::First => "guide.html",
            Self::Map => "guide.html#the-map",
            Self::Find => "guide.html#finding-a-tree",
            Self::Walk => "guide.html#your-first-walk",
            Self::Proof => "guide.html#your-first-judgement",
            Self::Vigour => "vigour.html#on-the-screen",
            Self::Folder => "guide.html#two-phones-and-your-laptop",
            Self::Print => "guide.html#on-paper-and-for-others",
        }
    }
}

/// Without a plot only Folder and the first page have something to show.
fn place_of(route: &Route, is_open: bool) -> Place {
    match route {
        Route::Folder => Place::Folder,
        _ if !is_open => Place::First,
        Route::First | Route::Map | Route::Tree { .. } => Place::Map,
        Route::Find { .. } => Place::Find,
        Route::Walk => Place::Walk,
        Route::Proof { .. } => Place::Proof,
        Route::Vigour { .. } => Place::Vigour,
        Route::Print => Place::Print,
    }
}

#[component]
fn Navigation() -> impl IntoView {
    let app = crate::state::app();
    let places = [
        (Place::Map, Route::Map),
        (Place::Find, Route::Find { query: String::new() }),
        (Place::Walk, Route::Walk),
        (Place::Proof, Route::Proof { disease: None }),
        (Place::Folder, Route::Folder),
    ];
    let link = move |(place, route): (Place, Route)| {
        let here = move || match place_of(&app.route.get(), true) {
            shown if shown == place => Some("page"),
            // Vigour is reached from Proof, Print from Folder.
            Place::Vigour if place == Place::Proof => Some("true"),
            Place::Print if place == Place::Folder => Some("true"),
            _ => None,
        };
        let beside = (place == Place::Folder).then(|| view! { <OnlyHere /> });
        view! { <li><a href=route.address() aria-current=here>{place.name()}</a>{beside}</li> }
    };
    let guide = move || place_of(&app.route.get(), true).guide();
    view! {
        <nav class="places" aria-label=say!("Places")>
            <ul>{places.map(link)}<li><a href=guide hreflang="en">{say!("Guide")}</a></li></ul>
        </nav>
    }
}

/// Beside Folder, wherever one is: scores that no copy outside of this browser holds.
#[component]
fn OnlyHere() -> impl IntoView {
    let app = crate::state::app();
    let lacks = Memo::new(move |_| app.saving.with(|saving| saving.outside.lacks));
    view! {
        <Show when=move || lacks.get() != 0>
            <span class="only-here" title=say!("Scores that no copy outside of this browser holds")>
                {move || lacks.get()}
                <span class="hidden-words">{say!(" scores that no copy outside of this browser holds")}</span>
            </span>
        </Show>
    }
}
