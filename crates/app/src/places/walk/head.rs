//! The tree that is asked for: its name in large letters, where it stands, what was said of it.

use language::{decimal, say};
use leptos::prelude::*;
use plot::{Kind, Plot, Score, TreeCell};
use walk::{Content, Whereabouts};

use super::reasons::as_said;
use super::walker::Walker;
use crate::state::{App, app};

/// The tree at which the walker stands.
#[component]
pub fn TreeHead(walker: Walker) -> impl IntoView {
    let app = app();
    move || {
        let told = walker.read(|walk| told(app, walk)).flatten()?;
        Some(view! {
            <div class="walk-tree" aria-live="polite" aria-atomic="true">
                <p class="walk-name">{told.name}</p>
                <p class="walk-place">{told.place}</p>
                <p class="walk-about">
                    {told.cross.map(|cross| view! { <span>{cross}</span> })}
                    {told.next.map(|name| view! { <span>{say!("then {name}")}</span> })}
                </p>
                {told.earlier.map(|earlier| view! { <p class="walk-before">{earlier}</p> })}
                {told.noted.map(|note| view! { <p class="walk-note">{note}</p> })}
                {told.note.map(|note| view! { <p class="walk-note">{say!("Note: {note}")}</p> })}
            </div>
        })
    }
}

struct Told {
    name: String,
    place: String,
    cross: Option<String>,
    next: Option<String>,
    note: Option<String>,
    /// What is written of the tree itself.
    noted: Option<String>,
    /// The same trait earlier in the season.
    earlier: Option<String>,
}

fn told(app: App, walk: &walk::Walk) -> Option<Told> {
    let (tree, at) = (walk.tree()?, walk.cursor()?);
    app.look_up(|plot, look| {
        let content = walk.content(at);
        let waiting = walk.waiting_note(at.stop).map(str::to_owned);
        let noted = plot.cell_of(tree, TreeCell::Note);
        Told {
            noted: (!noted.is_empty()).then(|| noted.to_owned()),
            earlier: walk.earlier(plot).map(|score| earlier_said(plot, score)),
            name: plot.tree(tree).name(),
            place: Whereabouts::of(plot, &look.rows, tree).sentence(plot, &look.ends),
            cross: plot.tree(tree).parentage(),
            next: walk.next_tree().map(|next| plot.tree(next).name()),
            note: waiting.or_else(|| match content {
                Content::Scored { note, .. } => note.as_deref().map(str::to_owned),
                _ => None,
            }),
        }
    })
}

fn earlier_said(plot: &Plot, score: &Score) -> String {
    let content = Content::Scored { value: score.value.unwrap_or_default(), note: None };
    let day = scene::words::day(score.scored_on.date());
    say!("On {day}: {content}", content = words_of(plot, score.trait_ix, &content))
}

/// What was said of a cell, never mixing up the three: not scored, could not be scored, a score.
pub fn words_of(plot: &Plot, asked: plot::TraitIx, content: &Content) -> String {
    match content {
        Content::Open => say!("not scored yet").to_owned(),
        Content::CouldNot { reason: None } => say!("could not be scored").to_owned(),
        Content::CouldNot { reason: Some(reason) } => {
            say!("could not be scored: {reason}", reason = as_said(reason))
        }
        Content::Scored { value, .. } => {
            let number = decimal(value.to_string());
            match &plot.trait_of(asked).kind {
                Kind::Ordinal(scale) => {
                    let label = scale.step(*value).map_or("", |step| step.label.as_str());
                    format!("{number} {label}")
                }
                Kind::Number { unit, .. } => {
                    format!("{number} {}", unit.as_deref().unwrap_or_default()).trim().to_owned()
                }
            }
        }
    }
}
