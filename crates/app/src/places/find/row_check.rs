//! Check a row: it is walked from one end, tree by tree; what stands is laid along what was planted,
//! and the differences are accepted one by one.

mod differences;
mod walked;

use language::{count, say};
use leptos::prelude::*;
use walk::{End, Seen};

use crate::parts::lean::{button, changing, element, when};
use crate::places::find::tag_field::tag_field;
use crate::state::{App, app};
use differences::differences;
use walked::Walked;

/// Trees read last that are shown.
const SHOWN: usize = 5;

/// The section.
#[component]
pub fn RowCheck() -> impl IntoView {
    let app = app();
    let walked = Walked::new(app);
    view! {
        <section class="row-check" aria-labelledby="row-check-head">
            <h2 id="row-check-head">{say!("Check a row")}</h2>
            <p>
                {say!("Walk a row from one end and read each tree that stands. What differs from the \
                 list is told, and nothing is changed until you say so.")}
            </p>
            <div class="which-where">
                <label class="field"><span>{say!("Row")}</span>{row_choice(app, walked)}</label>
                <label class="field"><span>{say!("Begin at the")}</span>{end_choice(app, walked)}</label>
            </div>
            {when(move || walked.walk.with(|walk| walk.row.is_some()), move || walking(app, walked))}
        </section>
    }
}

fn row_choice(app: App, walked: Walked) -> AnyView {
    let rows = app.look_up(|_, look| look.rows.all().iter().map(|row| row.number).collect());
    let rows: Vec<i32> = rows.unwrap_or_default();
    let option = |row: i32| {
        let is_it = move || walked.walk.with(|walk| walk.row == Some(row));
        view! { <option value=row.to_string() prop:selected=is_it>{row}</option> }.into_any()
    };
    let choose = move |event| {
        let from_high = walked.walk.with_untracked(|walk| walk.from_high);
        walked.begin(event_target_value(&event).parse().ok(), from_high);
    };
    view! {
        <select id="row-check-row" on:change=choose>
            <option value="">{say!("choose")}</option>
            {rows.into_iter().map(option).collect::<Vec<_>>()}
        </select>
    }
    .into_any()
}

fn end_choice(app: App, walked: Walked) -> AnyView {
    let ends = app.row_ends();
    let option = |end: End| {
        let is_high = end == End::High;
        let is_it = move || walked.walk.with(|walk| walk.from_high == is_high);
        let value = if is_high { "high" } else { "low" };
        view! { <option value=value prop:selected=is_it>{ends.name(end).to_owned()}</option> }
            .into_any()
    };
    let options = [End::Low, End::High].map(option).into_iter().collect::<Vec<_>>();
    let choose = move |event| {
        let row = walked.walk.with_untracked(|walk| walk.row);
        walked.begin(row, event_target_value(&event) == "high");
    };
    view! { <select id="row-check-end" on:change=choose>{options}</select> }.into_any()
}

/// The trees read so far, the keys for the next one, and what differs.
fn walking(app: App, walked: Walked) -> AnyView {
    let ended = move || walked.walk.with(|walk| walk.ended);
    element(
        "div",
        "row-check-walk",
        vec![
            changing(move || read_so_far(walked)),
            when(move || !ended(), move || keys(walked)),
            when(ended, move || {
                button("button", say!("Go on reading"), move || {
                    walked.change(|walk| walk.ended = false);
                })
            }),
            differences(app, walked),
        ],
    )
}

fn read_so_far(walked: Walked) -> AnyView {
    let (count, last) = walked.walk.with(|walk| {
        let from = walk.steps.len().saturating_sub(SHOWN);
        (walk.steps.len(), walk.steps[from..].to_vec())
    });
    let words = match count {
        0 => say!("Stand at the end of the row. Which tag is the first?").to_owned(),
        trees => count!(trees, "1 tree read.", "{trees} trees read."),
    };
    let step = |seen: Seen| match seen {
        Seen::Tag(tag) => view! { <li>{tag}</li> }.into_any(),
        Seen::NoTag | Seen::This => {
            view! { <li class="which-bare">{say!("no tag")}</li> }.into_any()
        }
    };
    let steps = last.into_iter().map(step).collect();
    element(
        "div",
        "",
        vec![
            view! { <p role="status" class="row-check-count">{words}</p> }.into_any(),
            element("ol", "which-steps", steps),
        ],
    )
}

/// Everything one needs for the next tree, for one thumb.
fn keys(walked: Walked) -> AnyView {
    let offer = move |tag: String| {
        let seen = Seen::Tag(tag.clone());
        view! { <button class="button" type="button" on:click=move |_| walked.add(seen.clone())>{tag}</button> }
            .into_any()
    };
    let offered = move || {
        let tags = walked.offered().into_iter().map(offer).collect();
        view! { <div class="row-check-next" role="group" aria-label=say!("Tags that may come next")>{element("div", "row-check-tags", tags)}</div> }
            .into_any()
    };
    let add_typed = move |event: leptos::ev::SubmitEvent| {
        event.prevent_default();
        let tag = walked.typed.get_untracked().trim().to_owned();
        if tag.chars().any(char::is_alphanumeric) {
            walked.add(Seen::Tag(tag));
        }
    };
    let is_empty = move || walked.walk.with(|walk| walk.steps.is_empty());
    let take_back = move |_| {
        walked.change(|walk| {
            walk.steps.pop();
        });
    };
    let start_over = move |_| {
        let (row, from_high) = walked.walk.with_untracked(|walk| (walk.row, walk.from_high));
        walked.begin(row, from_high);
    };
    view! {
        <form class="which-adding" on:submit=add_typed>
            {changing(offered)}
            {tag_field("row-check-tag", say!("Another tag"), walked.typed)}
            <div class="which-keys">
                <button class="button" type="button" on:click=move |_| walked.add(Seen::NoTag)>{say!("No tag here")}</button>
                <button class="button button-first" type="button" disabled=is_empty on:click=move |_| walked.change(|walk| walk.ended = true)>{say!("The row ends here")}</button>
                <button class="button" type="button" disabled=is_empty on:click=take_back>{say!("Take back")}</button>
                <button class="button" type="button" disabled=is_empty on:click=start_over>{say!("Start over")}</button>
            </div>
        </form>
    }
    .into_any()
}
