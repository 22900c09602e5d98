//! The card of the chosen tree: what it is, its verdicts with reasons, its neighbours, its scores.

mod around;
mod history;
mod verdicts;

use language::say;
use leptos::prelude::*;
use plot::{Plot, Status, Tree, TreeIx};
use scene::words;
use walk::Whereabouts;

use super::decided::decided;
use super::map;
use crate::parts::lean::{changing, element, link, said, when};
use crate::parts::{keys_in, keys_to, piece};
use crate::places;
use crate::route::Route;
use crate::state::{App, app};

/// The card of [`App::chosen`](crate::state::App).
#[component]
pub fn Card() -> impl IntoView {
    let app = app();
    let tree = Memo::new(move |_| app.chosen.get());
    // Whoever came from elsewhere, or from the card of another tree, is at this one's name.
    Effect::new(move || {
        if tree.get().is_some() {
            request_animation_frame(|| {
                if keys_in("h1") {
                    keys_to("#card-name");
                }
            });
        }
    });
    changing(move || tree.get().map_or_else(|| ().into_any(), |tree| card(app, tree)))
}

fn card(app: App, tree: TreeIx) -> AnyView {
    let name = app.plot_now(|plot| words::tree(plot, tree)).unwrap_or_default();
    let key = move |event: web_sys::KeyboardEvent| {
        if event.key() == "Escape" {
            map::put_away(app);
        }
    };
    view! {
        <aside class="card" aria-labelledby="card-name" on:keydown=key>
            <header class="card-head">
                <h2 id="card-name">{name}</h2>
                <button class="tool" aria-label=say!("Put the card away") on:click=move |_| map::put_away(app)>"×"</button>
            </header>
            <div class="card-body">
                {changing(move || identity(app, tree))}
                {ways(app, tree)}
                {change()}
                {verdicts::verdicts(app, tree)}
                {decided(app, tree)}
                {around::around(app, tree)}
                {history::history(app, tree)}
            </div>
        </aside>
    }
    .into_any()
}

/// Where it stands, parents, role, whether it lives, what is noted, who shares its place.
fn identity(app: App, tree: TreeIx) -> AnyView {
    let place = app
        .look_up(|plot, look| Whereabouts::of(plot, &look.rows, tree).sentence(plot, &look.ends));
    let facts = app.plot(|plot| facts(plot.tree(tree))).unwrap_or_default();
    let facts =
        facts.into_iter().flat_map(|(what, value)| [said("dt", "", what), said("dd", "", value)]);
    let others = app.plot(|plot| others(plot, tree)).unwrap_or_default();
    let mut parts = vec![
        said("p", "card-place", place.unwrap_or_default()),
        element("dl", "facts", facts.collect()),
    ];
    if !others.is_empty() {
        let other = |(id, name, what): (String, String, &'static str)| {
            let name = link("", Route::Tree { id }.address(), name);
            element("li", "", vec![name, said("span", "hint", what)])
        };
        parts.push(element("ul", "card-others", others.into_iter().map(other).collect()));
    }
    parts.into_any()
}

fn facts(one: &Tree) -> Vec<(&'static str, String)> {
    let draft = one.draft();
    let mut facts = Vec::new();
    facts.extend(words::parentage(one).map(|cross| (say!("Cross"), cross)));
    facts.push((say!("Kind"), words::role(one.role()).to_owned()));
    facts.extend(draft.genotype.as_ref().map(|genotype| (say!("Copy of"), genotype.to_string())));
    if one.status() != Status::Alive {
        let state = words::standing(one.status());
        let state = match draft.removed_on {
            Some(day) => say!("{state} since {day}", day = words::day(day)),
            None => state.to_owned(),
        };
        facts.push((say!("State"), state));
    }
    facts.extend(draft.planted_on.map(|day| (say!("Planted"), words::day(day))));
    if one.tag().is_some() {
        facts.push((say!("Id"), one.id().to_string()));
    }
    facts.extend(draft.note.as_ref().map(|note| (say!("Note"), note.to_string())));
    facts
}

/// Id, name and standing of who else stands or stood at the same place.
fn others(plot: &Plot, tree: TreeIx) -> Vec<(String, String, &'static str)> {
    let here = plot.tree(tree).spot();
    let mut others = Vec::new();
    for (ix, other) in plot.trees_ix() {
        if ix != tree && other.spot() == here {
            let what = match (other.carrier(), other.status()) {
                (_, Status::Dead | Status::Removed) => say!(" stood here before"),
                (Some(_), _) => say!(" graft here"),
                _ => say!(" stands here too"),
            };
            others.push((other.id().to_string(), words::tree(plot, ix), what));
        }
    }
    others
}

/// What can be done to the tree, fetched when it is first wanted.
fn change() -> AnyView {
    let open = RwSignal::new(false);
    let toggle = move |_| open.update(|open| *open = !*open);
    let body = move || piece::fetched(|| Box::pin(async { places::change().await.ok() }));
    view! {
        <section class="change">
            <button class="button change-open" aria-expanded=move || open.get().to_string() on:click=toggle>
                {say!("Change this tree")}
            </button>
            {when(move || open.get(), body)}
        </section>
    }
    .into_any()
}

/// To the other places, with this tree.
fn ways(app: App, tree: TreeIx) -> AnyView {
    let words = app.plot_now(|plot| {
        let one = plot.tree(tree);
        let query = one.tag().unwrap_or(one.id().as_str()).to_owned();
        let disease = plot.diseases().first().map(|disease| (*disease).to_owned());
        (query, disease, plot.vigour_trait().is_some())
    });
    let Some((query, disease, tells_vigour)) = words else { return ().into_any() };
    let ways = [
        (Route::Find { query }, say!("Find it")),
        (Route::Walk, say!("Walk")),
        (Route::Proof { disease }, say!("Proof")),
    ];
    let vigour = tells_vigour.then_some((Route::Vigour { trait_id: None }, say!("Vigour")));
    let way = |(route, words): (Route, &str)| {
        link("button button-small", route.address(), words.to_owned())
    };
    element("div", "card-ways", ways.into_iter().chain(vigour).map(way).collect())
}
