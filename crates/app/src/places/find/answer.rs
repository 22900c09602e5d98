//! The answer: where the tree stands, said as a person says it, and what confirms it.

use language::say;
use leptos::prelude::*;
use plot::{Code, Plot, TreeIx};
use walk::{Whereabouts, way_between};

use super::row_strip::RowStrip;
use super::way::Way;
use crate::route::Route;
use crate::state::{App, Lookup, app};

/// Where in a sentence links go: a character that no text has.
const HERE: char = '\u{fffc}';

/// Where a tree stands.
#[component]
pub fn Answer(tree: TreeIx) -> impl IntoView {
    let app = app();
    let told = app.look_up(|plot, look| told(app, plot, look, tree));
    let Some(told) = told else { return ().into_any() };
    let on_map = Route::Tree { id: told.id.clone() }.address();
    let confirm = |(name, id): (String, String)| {
        view! { <a href=Route::Tree { id }.address()>{name}</a> }
    };
    let beside: Vec<AnyView> = told
        .confirm
        .into_iter()
        .enumerate()
        .map(|(nth, it)| {
            let between = if nth == 0 { "" } else { say!(" and "; "between two trees") };
            view! { {between}{confirm(it)} }.into_any()
        })
        .collect();
    // The links go where a sentence of this language has the tags.
    let sure = say!("To be sure, read the tags of {tags}.", tags = HERE);
    let sure = sure.split_once(HERE).map_or((sure.clone(), String::new()), |(before, after)| {
        (before.to_owned(), after.to_owned())
    });
    view! {
        <article class="answer" aria-labelledby="answer-name">
            <h2 id="answer-name">{told.name}</h2>
            {told.cross.map(|cross| view! { <p class="answer-cross">{cross}</p> })}
            <p class="answer-place">{told.sentence}</p>
            <RowStrip tree />
            {(!beside.is_empty()).then(|| view! {
                <p class="answer-confirm">{sure.0.clone()} {beside} {sure.1.clone()}</p>
            })}
            <Way tree />
            {told.from_last.map(|words| view! { <p class="hint">{words}</p> })}
            {told.note.map(|note| view! { <p class="answer-note">{say!("Note: {note}")}</p> })}
            {told.code.map(|code| view! { <p class="hint">{say!("Short code, to write on its tag: ")} <span class="answer-code">{code}</span></p> })}
            <p class="row"><a class="button button-first" href=on_map>{say!("Show on the map")}</a></p>
        </article>
    }
    .into_any()
}

struct Told {
    id: String,
    name: String,
    cross: Option<String>,
    sentence: String,
    confirm: Vec<(String, String)>,
    from_last: Option<String>,
    note: Option<String>,
    code: Option<String>,
}

fn told(app: App, plot: &Plot, look: &Lookup, tree: TreeIx) -> Told {
    let one = plot.tree(tree);
    let place = Whereabouts::of(plot, &look.rows, tree);
    let last = app.chosen.get_untracked().filter(|&last| last != tree);
    let from_last = last.map(|last| {
        let way = way_between(plot, last, tree);
        say!("From {name}, looked at last: {way}.", name = plot.tree(last).name())
    });
    let named = |&it: &TreeIx| (plot.tree(it).name(), plot.tree(it).id().to_string());
    Told {
        id: one.id().to_string(),
        name: plot.tree(tree).name(),
        cross: one.parentage(),
        sentence: place.sentence(plot, &look.ends),
        confirm: place.confirm.iter().map(named).collect(),
        from_last,
        note: one.draft().note.as_deref().map(str::to_owned),
        code: Code::of(one.id()).map(|code| code.to_string()),
    }
}
