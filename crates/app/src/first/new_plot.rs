//! The form of a new plot, fetched when it is first wanted.

use leptos::prelude::*;
use leptos::task::spawn_local;

use crate::parts::lean::{button, changing, element, said};
use crate::places::{self, Make};

/// The form that makes a plot.
#[component]
pub fn NewPlot() -> impl IntoView {
    let piece = RwSignal::new(None::<Option<Make>>);
    let fetch = move || {
        piece.set(None);
        spawn_local(async move { _ = piece.try_set(Some(places::new_plot().await.ok())) });
    };
    fetch();
    changing(move || match piece.get() {
        Some(Some(make)) => make(),
        Some(None) => {
            let why = "The form could not be fetched, and it was not kept on this machine yet.";
            let again = button("button", "Try again", fetch);
            element("div", "", vec![said("p", "fault", why), again])
        }
        None => said("p", "on-its-way", "One moment…"),
    })
}
