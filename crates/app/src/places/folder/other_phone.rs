//! The other phone: its folder of this plot brought in, looked at, decided on, taken.

use language::{count, say};
use leptos::prelude::*;
use leptos::task::spawn_local;
use plot::Problem;

use super::decide::{Decide, Decisions};
use crate::first::HandIn;
use crate::parts::ProblemList;
use crate::state::{NewsSaid, Together, app};
use crate::work::pick::{NotPicked, Picked};

/// What two folders make, and the way to it.
#[component]
pub fn OtherPhone() -> impl IntoView {
    let app = app();
    let together = RwSignal::new(None::<Together>);
    let decided = RwSignal::new(Decisions::new());
    let handed = move |picked: Result<Picked, NotPicked>| {
        spawn_local(async move {
            match picked {
                Ok(picked) => {
                    decided.set(Decisions::new());
                    together.set(app.bring_together(picked).await);
                }
                Err(why) => app.not_picked(say!("what you chose"), why),
            }
        });
    };
    let left = Memo::new(move |_| app.left_to_decide());
    let shown = Memo::new(move |_| together.get().or_else(|| left.get()));
    let take = move |_| {
        if let Some(together) = shown.get_untracked() {
            let decided = decided.get_untracked().into_values().collect();
            spawn_local(async move { app.take(together, decided).await });
        }
    };
    view! {
        <section aria-labelledby="folder-other-phone">
            <h2 id="folder-other-phone">{say!("Another phone's walk")}</h2>
            <p>
                {say!("Bring in the folder of another phone that walked this plot, or a zip of it: its \
                 scores come to yours, line by line. Nothing is dropped, and nothing is taken \
                 before you say so.")}
            </p>
            {move || match shown.get() {
                None => view! { <HandIn take=Callback::new(handed) /> }.into_any(),
                Some(found) => view! {
                    <div class="together" role="status">
                        <ul>{said(&found).into_iter().map(|words| view! { <li>{words}</li> }).collect_view()}</ul>
                    </div>
                    <NewsTable news=found.news.clone() />
                    <Breaks faults=found.faults.clone() />
                    <Decide conflicts=found.conflicts decided />
                    <p class="row">
                        <button class="button button-first" on:click=take>
                            {move || match together.with(Option::is_some) {
                                true => say!("Take it in"),
                                false => say!("Take the decisions"),
                            }}
                        </button>
                        <Show when=move || together.with(Option::is_some)>
                            <button class="button" on:click=move |_| together.set(None)>{say!("Leave it")}</button>
                        </Show>
                    </p>
                    <p class="hint">{say!("The plot as it is now stays in this browser, under \"Also kept in this browser\".")}</p>
                }
                .into_any(),
            }}
        </section>
    }
}

/// Rounds that are listed one by one, and trees.
const LISTED: usize = 30;

/// What the new lines are about.
#[component]
fn NewsTable(news: NewsSaid) -> impl IntoView {
    if news == NewsSaid::default() {
        return ().into_any();
    }
    let more = news.walks.len().saturating_sub(LISTED);
    let line = |[when, of, by, count]: [String; 4]| {
        view! { <tr><td>{when}</td><td>{of}</td><td>{by}</td><td class="number">{count}</td></tr> }
    };
    let mut said = Vec::new();
    if more > 0 {
        said.push(count!(more, "And 1 line more.", "And {more} lines more."));
    }
    if news.not_standing > 0 {
        said.push(count!(
            news.not_standing,
            "1 score no longer stand: they were corrected or withdrawn there.",
            "{scores} scores no longer stand: they were corrected or withdrawn there.",
            scores = news.not_standing
        ));
    }
    if !news.trees.is_empty() {
        let trees = news.trees.len().saturating_sub(LISTED);
        let named = news.trees[..news.trees.len() - trees].join(", ");
        said.push(match trees {
            0 => say!("New trees: {named}."),
            more => say!("New trees: {named} and {more} more."),
        });
    }
    view! {
        <div class="news">
            {(!news.walks.is_empty()).then(|| view! {
                <div class="scroll" tabindex="0" role="region" aria-label=say!("New scores")>
                    <table>
                        <thead>
                            <tr>
                                <th scope="col">{say!("Round")}</th><th scope="col">{say!("Trait")}</th>
                                <th scope="col">{say!("Scored by")}</th><th scope="col">{say!("Scores")}</th>
                            </tr>
                        </thead>
                        <tbody>{news.walks.into_iter().take(LISTED).map(line).collect_view()}</tbody>
                    </table>
                </div>
            })}
            {said.into_iter().map(|words| view! { <p>{words}</p> }).collect_view()}
        </div>
    }
    .into_any()
}

/// What breaks a rule only once both are one.
#[component]
fn Breaks(faults: Vec<Problem>) -> impl IntoView {
    (!faults.is_empty()).then(|| {
        let said = count!(
            faults.len(),
            "Together they break a rule in 1 line: these stay in their files byte for byte, but \
             are no part of the plot.",
            "Together they break a rule in {lines} lines: these stay in their files byte for byte, \
             but are no part of the plot.",
            lines = faults.len()
        );
        view! { <p class="fault">{said}</p><ProblemList problems=faults /> }
    })
}

/// What taking it would bring, in words.
fn said(together: &Together) -> Vec<String> {
    let added = together.added.iter().map(|(file, count)| match (file.as_str(), count) {
        ("scores.csv", &scores) => count!(scores, "1 score is new.", "{scores} scores are new."),
        ("trees.csv", &trees) => count!(trees, "1 tree is new.", "{trees} trees are new."),
        (file, _) if file.starts_with("photos/") => say!("The picture {file} is new."),
        (file, &lines) => {
            count!(lines, "{file}: 1 line is new.", "{file}: {lines} lines are new.")
        }
    });
    let mut said: Vec<String> = added.collect();
    match together.conflicts.len() {
        0 if said.is_empty() => said.push(say!("Nothing is new: both hold the same.").to_owned()),
        0 => {}
        lines => said.push(count!(
            lines,
            "1 line is not the same in both.",
            "{lines} lines are not the same in both."
        )),
    }
    said
}
