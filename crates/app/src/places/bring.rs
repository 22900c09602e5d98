//! A list brought in: any table, its columns matched, every fault told before anything is taken.

mod columns;
mod lines;
mod problems;
mod select;
mod sniffed;
mod state;
mod take;
mod words;
mod workbook;

use files::list::Source;
use language::{say, text};
use leptos::prelude::*;

use crate::parts::lean::{changing, when};
use crate::parts::{Bar, go_to_when};
use crate::places::intake::{HandedIn, Words, in_trouble, source, taken};
use crate::state::{Busy, app};
use columns::columns;
use lines::lines;
use problems::problems;
use sniffed::sniffed;
use state::Bring;
use take::take;

/// From a file or a paste to trees of the plot.
#[component]
pub fn BringList() -> impl IntoView {
    let app = app();
    let bring = Bring::new(app);
    on_cleanup(move || bring.forget_workbook());
    // A tree that changes meanwhile changes what the list brings.
    Effect::new(move |before: Option<()>| {
        app.version();
        if before.is_some() {
            bring.plot_changed();
        }
    });
    let is_seen = move || bring.seen.with(Option::is_some);
    go_to_when(is_seen, "bring-head");
    let shown = move || {
        view! {
            <h3 id="bring-head">{move || bring.name()}</h3>
            {sniffed(bring)}
            {columns(bring)}
            {lines(bring)}
            {problems(bring)}
            {take(bring)}
        }
        .into_any()
    };
    view! {
        <div class="bring">
            {source(WORDS, bring.trouble, Callback::new(move |handed| hand_in(bring, handed)))}
            {changing(move || match bring.busy.get() {
                Some(Busy { what, done, of, .. }) => {
                    let (done, of) = (done as u64, of as u64);
                    view! { <Bar what done of stop=move || bring.put_away() /> }.into_any()
                }
                None => ().into_any(),
            })}
            {in_trouble(bring.trouble)}
            {when(is_seen, shown)}
            {taken(app, bring.taken, bring.trouble)}
        </div>
    }
}

const WORDS: Words = Words {
    accept: ".csv,.tsv,.txt,.xlsx,.xlsm,.ods,.xls,text/csv,text/plain,text/tab-separated-values",
    files: text!("CSV, text, or a workbook (xlsx, ods). It stays on this machine."),
    paste: text!("Or paste a table"),
    look: text!("Look at what was pasted"),
};

fn hand_in(bring: Bring, handed: HandedIn) {
    match handed {
        HandedIn::File(name, bytes)
            if bytes.starts_with(b"PK\x03\x04") || bytes.starts_with(b"\xd0\xcf\x11\xe0") =>
        {
            bring.open_workbook(name, bytes);
        }
        HandedIn::File(name, bytes) => {
            bring.forget_workbook();
            bring.read(&name, Source::Bytes(bytes));
        }
        HandedIn::Paste(text) => {
            bring.forget_workbook();
            bring.read(say!("pasted list"), Source::Pasted(text));
        }
    }
}
