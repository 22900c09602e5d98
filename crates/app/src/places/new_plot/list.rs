//! The planting list: lines of text, a way to begin one, and what is wrong with each.

use files::PlantingForm;
use language::{say, text};
use leptos::html::Textarea;
use leptos::prelude::*;
use plot::Problem;

use super::told::of_lines;
use crate::work::clock;

/// Crosses, checks and empty places, a line each.
#[component]
pub(super) fn PlantingList(
    form: RwSignal<PlantingForm>,
    faults: RwSignal<Vec<Problem>>,
) -> impl IntoView {
    let area = NodeRef::<Textarea>::new();
    let start = form.with_untracked(|form| form.list.clone());
    let keep = move |text: String| form.update(|form| form.list = text);
    let begin = move |line: String| {
        let Some(area) = area.get_untracked() else { return };
        let before = area.value();
        let gap = if before.is_empty() || before.ends_with('\n') { "" } else { "\n" };
        let text = format!("{before}{gap}{line}");
        area.set_value(&text);
        keep(text);
        select_line(&area, u64::MAX);
    };
    let go_to = Callback::new(move |line| {
        if let Some(area) = area.get_untracked() {
            select_line(&area, line);
        }
    });
    let starts = BEGINNINGS.map(|(label, line)| {
        let press = move |_| begin(form.with_untracked(line));
        view! { <button class="button" type="button" on:click=press>{language::said(label)}</button> }
    });
    view! {
        <div class="field-wide">
            <label class="field">
                <span>{say!("What stands where, a line for each")}</span>
                <textarea class="planting-list" rows="6" spellcheck="false" autocapitalize="off"
                    node_ref=area prop:value=start on:input=move |event| keep(event_target_value(&event))></textarea>
            </label>
            {of_lines(faults, go_to)}
            <p class="hint">
                {say!("Begin a line, then change its words. Places that no line names get a seedling of \
                 unknown parents.")}
            </p>
            <div class="row">{starts.collect_view()}</div>
            <details>
                <summary>{say!("How lines are written")}</summary>
                <Grammar />
            </details>
        </div>
    }
}

/// Words on a button, and the line that it begins.
type Beginning = (&'static str, fn(&PlantingForm) -> String);

const BEGINNINGS: [Beginning; 4] = [
    (text!("A cross"), |form| {
        let row = form.list.matches('×').count() as i32 + form.firsts().0;
        format!("row {row}: Seed parent × Pollen parent, {}", clock::now().year())
    }),
    (text!("Checks"), |_| "every 10th place: susceptible check Name".to_owned()),
    (text!("An empty place"), |form| {
        let (row, place) = form.firsts();
        format!("row {row} place {}: empty", place + 6)
    }),
    (text!("A shorter row"), |form| {
        let rows = form.rows.trim().parse().unwrap_or(1);
        format!("row {}: 33 places", form.firsts().0 + rows - 1)
    }),
];

#[component]
fn Grammar() -> impl IntoView {
    const LINES: [(&str, &str); 9] = [
        (
            "row 3 places 1 to 40: Marl × TR-9, 2029",
            text!("seed parent × pollen parent, year of the cross"),
        ),
        (
            "rows 3 to 5: Marl × ?, 2029, from no. 41",
            text!("an unknown parent; the first seedling's number"),
        ),
        ("all rows: Sedge x TR-9", text!("x is read as ×")),
        ("every 10th place: susceptible check Withy", text!("places 10, 20, 30 … of each row")),
        ("every 10th place from 5: resistant check Reed", text!("places 5, 15, 25 …")),
        ("row 4: sort Withy", text!("trees of a named sort")),
        ("place 1: guard", text!("the first place of every row")),
        ("row 2 place 7: empty", text!("a place without a tree keeps its number")),
        ("row 9: 33 places", text!("a row that is shorter or longer than the others")),
    ];
    let line = |(written, means)| view! { <dt><code>{written}</code></dt><dd>{language::said(means)}</dd> };
    view! {
        <dl class="planting-grammar">{LINES.map(line).collect_view()}</dl>
        <p class="hint">
            {say!("The order of lines does not matter: checks at intervals stand between the seedlings of a \
             cross, and what is said of single places stands before both. Seedlings are numbered \
             within cross and year, line after line. Each tree gets an id of its own that says \
             nothing of its place, so that it stays true when trees are put in between.")}
        </p>
    }
}

/// Goes to a line, or to the last one, and marks it.
fn select_line(area: &web_sys::HtmlTextAreaElement, line: u64) {
    let text = area.value();
    let last = text.split('\n').count() as u64;
    let skipped = line.min(last).saturating_sub(1) as usize;
    // Browsers count in units of UTF-16.
    let length = |line: &str| line.encode_utf16().count() as u32;
    let from: u32 = text.split('\n').take(skipped).map(|line| length(line) + 1).sum();
    let to = from + text.split('\n').nth(skipped).map_or(0, length);
    let _ = area.focus();
    let _ = area.set_selection_range(from, to);
}
