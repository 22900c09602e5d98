//! What the person decided on a tree: keep, watch or cull it, when and why; shown and made beside
//! its judgement.

use language::say;
use leptos::prelude::*;
use plot::{Decision, Decisions, Fate, TreeIx};
use scene::words;

use crate::parts::lean::{changing, changing_words, element, said};
use crate::state::{App, Command, NewDecision, in_words};

/// The decision that stands, with the way to make another one.
pub fn decided(app: App, tree: TreeIx) -> AnyView {
    let reason = RwSignal::new(String::new());
    let trouble = RwSignal::new(None::<String>);
    let standing = move || {
        let said =
            app.decisions_of(tree, |decisions, tree| decisions.standing(tree).map(words::decision));
        Some(said.flatten().unwrap_or_else(|| say!("Undecided.").to_owned()))
    };
    let choose = move |fate: Option<Fate>| {
        let Some(id) = app.plot_now(|plot| plot.tree(tree).id().clone()) else { return };
        let why = reason.with_untracked(|why| why.trim().to_owned());
        let why = (!why.is_empty()).then(|| why.into());
        match app.perform(Command::Decide(NewDecision { tree: id, fate, reason: why })) {
            Ok(()) => {
                reason.set(String::new());
                trouble.set(None);
            }
            Err(refusal) => trouble.set(Some(in_words(&refusal))),
        }
    };
    let button = |fate| {
        let is_it = move || {
            let now = app.decisions_of(tree, Decisions::fate);
            (now.flatten() == Some(fate)).to_string()
        };
        view! {
            <button class="button" aria-pressed=is_it on:click=move |_| choose(Some(fate))>
                {words::fate(Some(fate))}
            </button>
        }
        .into_any()
    };
    let words = element("p", "decided-now", vec![changing_words(standing)]);
    view! {
        <section class="decided" aria-labelledby="decided">
            <h3 id="decided">{say!("Your decision")}</h3>
            <div role="status">{words}</div>
            <label class="field">
                <span>{say!("Why (may stay empty)")}</span>
                <input
                    type="text"
                    prop:value=move || reason.get()
                    on:input=move |event| reason.set(event_target_value(&event))
                />
            </label>
            <div class="decided-ways" role="group" aria-labelledby="decided">{Fate::ALL.into_iter().map(button).collect::<Vec<_>>()}</div>
            {changing(move || take_back(app, tree, choose))}
            {changing(move || trouble.get().map_or_else(nothing, |why| said("p", "fault", why)))}
            {changing(move || earlier(app, tree))}
            {said("p", "hint", words::decision_is_yours())}
        </section>
    }
    .into_any()
}

fn nothing() -> AnyView {
    ().into_any()
}

/// The way back to undecided, while something is decided.
fn take_back(app: App, tree: TreeIx, choose: impl Fn(Option<Fate>) + Copy + 'static) -> AnyView {
    match app.decisions_of(tree, Decisions::fate).flatten() {
        None => nothing(),
        Some(_) => view! {
            <button class="button button-small" on:click=move |_| choose(None)>{say!("Undecided again")}</button>
        }
        .into_any(),
    }
}

/// Every decision before the one that stands, the latest first.
fn earlier(app: App, tree: TreeIx) -> AnyView {
    let lines = app.decisions_of(tree, |decisions, tree| {
        let last = decisions.standing(tree);
        let earlier = decisions.of(tree).rev().filter(|&one| last != Some(one));
        earlier.map(|one: &Decision| said("li", "", words::decision(one))).collect::<Vec<_>>()
    });
    match lines {
        Some(lines) if !lines.is_empty() => element(
            "details",
            "",
            vec![said("summary", "", say!("Decided before")), element("ul", "", lines)],
        ),
        _ => nothing(),
    }
}
