//! The title of the page, which tabs, history and screen readers say: the tree or the place, and the
//! plot.

use leptos::prelude::*;

use super::{Place, place_of};
use crate::route::Route;
use crate::state::App;

/// From now on the title follows.
pub(super) fn follow(app: App) {
    Effect::new(move || {
        let route = app.route.get();
        let place = place_of(&route, app.is_open());
        let plot = app.plot(|plot| plot.head().name.clone());
        let tree = match &route {
            Route::Tree { id } => app.plot_now(|plot| Some(plot.tree(plot.tree_ix(id)?).name())),
            _ => None,
        };
        let name = (place != Place::First).then(|| place.name().to_owned());
        let parts = [tree.flatten(), name, plot, Some("Leeward".to_owned())];
        document().set_title(&parts.into_iter().flatten().collect::<Vec<_>>().join(" · "));
    });
}
