//! Find: a tree by tag, cross, number or place, the answer said in words.

mod answer;
mod asked;
mod hit;
mod nearest;
mod planted;
mod row_check;
mod row_strip;
mod square;
mod standpoint;
mod tag_field;
mod way;
mod which;

use language::{count, say};
use leptos::prelude::*;
use wasm_bindgen::JsCast;
use web_sys::{HtmlElement, KeyboardEvent};

use crate::parts::{go_to, lean};
use crate::route::Route;
use crate::state::{App, app};
use answer::Answer;
use asked::Asked;
use hit::HitLine;
use nearest::Nearest;
use planted::Planted;
use row_check::RowCheck;
use square::Square;
use standpoint::Standpoint;
use which::Which;

/// Trees listed at most; more words narrow the rest down.
const LISTED: usize = 30;

/// The search.
#[component]
pub fn Find() -> impl IntoView {
    let app = app();
    let query = RwSignal::new(asked_by(&app.route.get_untracked()).unwrap_or_default());
    // The way back, or the code on a tag, asks anew.
    Effect::new(move || {
        if let Some(asked) = asked_by(&app.route.get())
            && asked != query.get_untracked()
        {
            query.set(asked);
        }
    });
    // A tree that is entered meanwhile makes the search anew.
    Effect::new(move || app.ready_to_find());
    provide_context(Standpoint::new());
    provide_context(Planted::new(app));
    let found = Memo::new(move |_| app.find(&query.get(), LISTED));
    let best = RwSignal::new(0_usize);
    Effect::new(move || {
        found.track();
        best.set(0);
    });
    let ask = move |words: String| {
        Route::Find { query: words.clone() }.replace();
        query.set(words);
    };
    let tree =
        Memo::new(move |_| found.with(|it| it.as_ref()?.hits.get(best.get()).map(|hit| hit.tree)));
    view! {
        <section class="find" on:keydown=move |event| step_through(&event)>
            <h1>{say!("Find")}</h1>
            <SearchBox query ask />
            <p class="find-said" role="status">{move || said(app, &query.get(), found.get().as_ref())}</p>
            <Show when=move || !query.with(|words| words.trim().is_empty()) fallback=move || view! { <Ways /> <Nearest /> <Asked ask /> <Square ask /> <Which /> <RowCheck /> }>
                <div class="find-found">
                    {move || tree.get().map(|tree| view! { <Answer tree /> })}
                    <ol class="find-list" aria-label=say!("Trees found")>
                        {move || {
                            let hits = found.get().map(|it| it.hits).unwrap_or_default();
                            (hits.len() > 1).then(|| hits
                                .into_iter()
                                .enumerate()
                                .map(|(nth, hit)| view! { <HitLine hit nth best /> }.into_any())
                                .collect_view())
                        }}
                    </ol>
                </div>
            </Show>
        </section>
    }
}

/// What one can do without a name to type, each a tap away.
#[component]
fn Ways() -> impl IntoView {
    let way = |(words, head): (&'static str, &'static str)| {
        lean::button("button button-small", words, move || go_to(head))
    };
    let ways = [
        (say!("Nearest to me"), "nearest-head"),
        (say!("From its tag"), "square-head"),
        (say!("Which tree is this?"), "which-head"),
        (say!("Check a row"), "row-check-head"),
    ];
    view! {
        <nav class="find-ways" aria-label=say!("Without a name")>{ways.map(way).into_iter().collect::<Vec<_>>()}</nav>
    }
}

#[component]
fn SearchBox(
    query: RwSignal<String>,
    ask: impl Fn(String) + Copy + Send + Sync + 'static,
) -> impl IntoView {
    view! {
        <label class="find-box">
            <span class="hidden-words">{say!("A tag, a cross, a number or a place")}</span>
            <input
                type="search"
                id="find-query"
                enterkeyhint="search"
                autocomplete="off"
                autocapitalize="off"
                spellcheck="false"
                autofocus
                placeholder=say!("Tag, cross, number or place")
                prop:value=query
                on:input=move |event| ask(event_target_value(&event))
            />
        </label>
    }
}

fn asked_by(route: &Route) -> Option<String> {
    match route {
        Route::Find { query } => Some(query.clone()),
        _ => None,
    }
}

/// What came of the question, in words.
fn said(app: App, query: &str, found: Option<&walk::Found>) -> String {
    use walk::OnTheSpot::{NoSuchPlace, NoSuchRow};
    if query.trim().is_empty() {
        return String::new();
    }
    let Some(found) = found else { return say!("Reading the names of the trees …").to_owned() };
    if found.is_slip {
        return say!(
            "That reads like a tree's short code with a slip: its last character does not fit. \
                Read it on the tag once more. No tree is shown, since it could be the wrong one."
        )
        .to_owned();
    }
    match (found.place, found.total) {
        (Some(NoSuchRow { row, first, last }), _) => {
            say!("There is no row {row}: the rows go from {first} to {last}.")
        }
        (Some(NoSuchPlace { row, place, first, last }), _) => {
            say!("Row {row} has no place {place}: its places go from {first} to {last}.")
        }
        (None, 0) => {
            let trees = app.plot_now(|plot| plot.trees().len()).unwrap_or_default();
            say!("None of {trees} trees answers to “{query}”.", query = query.trim())
        }
        (None, total) if total > LISTED => {
            say!("{total} trees; the first {LISTED} are listed. Another word narrows them down.")
        }
        (None, total) => count!(total, "One tree.", "{total} trees."),
    }
}

/// The arrow keys walk from the question through the list and back.
fn step_through(event: &KeyboardEvent) {
    let step: isize = match event.key().as_str() {
        "ArrowDown" => 1,
        "ArrowUp" => -1,
        _ => return,
    };
    let Ok(stops) = document().query_selector_all("#find-query, .find-list button") else { return };
    let here = document().active_element();
    let at = (0..stops.length()).position(|nth| {
        let stop = stops.item(nth).and_then(|stop| stop.dyn_into::<web_sys::Element>().ok());
        stop.is_some() && stop == here
    });
    let next = at.and_then(|at| at.checked_add_signed(step)).and_then(|at| u32::try_from(at).ok());
    let Some(next) = next.and_then(|at| stops.item(at)) else { return };
    if let Ok(next) = next.dyn_into::<HtmlElement>() {
        event.prevent_default();
        let _ = next.focus();
    }
}
