//! The next tree along the row: its tag typed or tapped, no tag, or the one in question.

use language::say;
use leptos::prelude::*;
use walk::{Seen, Side};

use super::reads::Reads;
use super::side_words;
use crate::places::find::tag_field::tag_field;
use crate::state::app;

/// Everything one needs for the next tree, for one thumb.
#[component]
pub fn Adding(reads: Reads) -> impl IntoView {
    let offer = move |tag: String| {
        let seen = Seen::Tag(tag.clone());
        view! { <button class="button" type="button" on:click=move |_| reads.add(seen.clone())>{tag}</button> }
    };
    let offered = move || reads.offered().into_iter().map(offer).collect_view();
    let has_this = move || reads.steps().contains(&Seen::This);
    let is_empty = move || reads.adds.with(Vec::is_empty);
    view! {
        <form class="which-adding" on:submit=move |event| { event.prevent_default(); reads.add_typed(); }>
            {tag_field("which-tag", say!("Tag of the next tree"), reads.typed)}
            <div class="which-offered" role="group" aria-label=say!("Tags that may come next")>{offered}</div>
            <div class="which-keys">
                <button class="button" type="button" on:click=move |_| reads.add(Seen::NoTag)>{say!("No tag here")}</button>
                <button class="button button-first" type="button" disabled=has_this on:click=move |_| reads.add(Seen::This)>{say!("This one")}</button>
                <button class="button" type="button" disabled=is_empty on:click=move |_| reads.take_back()>{say!("Take back")}</button>
                <button class="button" type="button" disabled=is_empty on:click=move |_| reads.start_over()>{say!("Start over")}</button>
            </div>
            <div class="which-where">
                <label class="field"><span>{say!("Add it at the")}</span><EndChoice reads /></label>
                <label class="field"><span>{say!("Row")}</span><RowChoice reads /></label>
            </div>
        </form>
    }
}

#[component]
fn EndChoice(reads: Reads) -> impl IntoView {
    let choose = move |event: web_sys::Event| {
        let is_left = event_target_value(&event) == "left";
        reads.side.set(if is_left { Side::Before } else { Side::After });
    };
    view! {
        <select on:change=choose>
            <option value="right" prop:selected=move || reads.side.get() == Side::After>{side_words(Side::After)}</option>
            <option value="left" prop:selected=move || reads.side.get() == Side::Before>{side_words(Side::Before)}</option>
        </select>
    }
}

#[component]
fn RowChoice(reads: Reads) -> impl IntoView {
    let rows =
        app().look_up(|_, look| look.rows.all().iter().map(|row| row.number).collect::<Vec<_>>());
    let option = |row: i32| view! { <option value=row.to_string()>{row.to_string()}</option> };
    let options = rows.unwrap_or_default().into_iter().map(option).collect_view();
    view! {
        <select on:change=move |event| reads.row.set(event_target_value(&event).parse().ok())>
            <option value="">{say!("not known")}</option>
            {options}
        </select>
    }
}
