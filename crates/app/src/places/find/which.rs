//! Which tree is this? A tree without tag, known by the tags around it.

mod adding;
mod reads;
mod told;

use language::say;
use leptos::prelude::*;
use walk::{CannotTell, Seen, Side};

use crate::state::app;
use adding::Adding;
use reads::Reads;
use told::Told;

/// The section: what was read so far, what comes next, and the answer.
#[component]
pub fn Which() -> impl IntoView {
    let app = app();
    let reads = Reads::new(app);
    Effect::new(move |before: Option<()>| {
        reads.adds.track();
        if before.is_some() {
            answer_in_sight();
        }
    });
    let steps = move || {
        let steps = reads.steps();
        steps.into_iter().map(|seen| step(reads, seen)).collect_view()
    };
    let answer = Memo::new(move |_| reads.answer());
    let outcome = move || match answer.get() {
        _ if reads.adds.with(Vec::is_empty) => ().into_any(),
        Ok(answer) => view! { <Told answer reads /> }.into_any(),
        Err(lacking) => view! { <p class="which-lacks">{lacks(lacking)}</p> }.into_any(),
    };
    view! {
        <section class="which-tree" aria-labelledby="which-head">
            <h2 id="which-head">{say!("Which tree is this?")}</h2>
            <p>
                {say!("Before a tree without a tag: say what you see along the row, tree by tree as you \
                 walk. A few tags around it are mostly enough; gaps and wrong tags are allowed for.")}
            </p>
            <ol class="which-steps" aria-label=say!("Read so far, in walking order")>{steps}</ol>
            <Adding reads />
            <div class="which-outcome" role="status">{outcome}</div>
        </section>
    }
}

/// Where the answer lies below the screen, the trees read go to its top: always the same place, so
/// that no key moves under the thumb.
fn answer_in_sight() {
    let find = |query: &str| document().query_selector(query).ok().flatten();
    let (Some(steps), Some(outcome)) = (find(".which-steps"), find(".which-outcome")) else {
        return;
    };
    let height = window().inner_height().ok().and_then(|it| it.as_f64()).unwrap_or_default();
    if outcome.get_bounding_client_rect().bottom() > height {
        steps.scroll_into_view();
    }
}

/// One tree as it was read.
fn step(reads: Reads, seen: Seen) -> impl IntoView {
    let (words, class, more) = match seen {
        Seen::Tag(tag) if reads.is_listed(&tag) => (tag, "", None),
        Seen::Tag(tag) => (tag, "which-strange", Some(say!("not on the list"))),
        Seen::NoTag => (say!("no tag").to_owned(), "which-bare", None),
        Seen::This => (say!("this one").to_owned(), "which-this", None),
    };
    view! {
        <li class=class>
            <span>{words}</span>
            {more.map(|more| view! { <span class="which-more">{more}</span> })}
        </li>
    }
}

/// What is still to be said.
fn lacks(lacking: CannotTell) -> String {
    match lacking {
        CannotTell::NoThis => say!("At the tree in question, tap “This one”.").to_owned(),
        CannotTell::NothingRead => say!("Now read a tag near it, on either side.").to_owned(),
        CannotTell::TooMany { .. } => {
            say!(
                "That is more than {most} trees. Take some back, or start over.",
                most = walk::STEPS_AT_MOST
            )
        }
        CannotTell::NoRows => say!("No tree of this plot has a row and a place.").to_owned(),
        CannotTell::NoSuchRow { row } => say!("This plot has no row {row}."),
        CannotTell::ThisTwice => say!("Only one of the trees can be this one.").to_owned(),
    }
}

/// An end of what was read, as it lies on the screen.
fn side_words(side: Side) -> &'static str {
    match side {
        Side::Before => say!("left end"),
        Side::After => say!("right end"),
    }
}
