//! Positions from a receiver: read, given to places in the order in which these were walked, laid
//! over the plan, and taken as where the plot lies or where its trees stand.

mod fit;
mod picture;
mod read;
mod state;
mod table;
mod take;
mod walked;
mod words;

use files::list::Survey;
use language::{say, text};
use leptos::prelude::*;

use super::intake::{HandedIn, Words, in_trouble, source, taken};
use crate::parts::go_to_when;
use crate::parts::lean::when;
use crate::state::app;
use state::Receiver;

const WORDS: Words = Words {
    accept: ".nmea,.nma,.log,.txt,.csv,.tsv,text/plain,text/csv,text/tab-separated-values",
    files: text!(
        "A receiver's log (NMEA 0183), or a table with longitude and latitude. It stays on this \
            machine."
    ),
    paste: text!("Or paste positions, one on a line"),
    look: text!("Look at these positions"),
};

/// From a log or a list to where trees stand.
#[component]
pub fn ReceiverPositions() -> impl IntoView {
    let receiver = Receiver::new(app());
    let is_read = move || receiver.read.with(Option::is_some);
    go_to_when(is_read, "receiver-head");
    let hand_in = Callback::new(move |handed| match handed {
        HandedIn::File(name, bytes) => receiver.take_in(name, bytes),
        HandedIn::Paste(text) => {
            receiver.take_in(say!("pasted positions").to_owned(), text.into_bytes());
        }
    });
    let laid = move || {
        view! {
            {fit::fit(receiver)}
            {picture::picture(receiver)}
            {table::table(receiver)}
            {take::take(receiver)}
        }
        .into_any()
    };
    let shown = move || {
        view! {
            <h3 id="receiver-head">{move || receiver.name()}</h3>
            {read::read(receiver)}
            {when(move || receiver.count() > 0, move || walked::walked(receiver))}
            {when(move || receiver.survey.with(Option::is_some), laid)}
            <p class="row">
                <button class="button" on:click=move |_| receiver.put_away()>{say!("Put them away")}</button>
            </p>
        }
        .into_any()
    };
    view! {
        <div class="bring receiver">
            {source(WORDS, receiver.trouble, hand_in)}
            {in_trouble(receiver.trouble)}
            {when(is_read, shown)}
            {taken(receiver.app, receiver.taken, receiver.trouble)}
        </div>
    }
}

/// What was laid over the plan; nothing before it is.
fn of_survey<R>(receiver: Receiver, read: impl FnOnce(&Survey) -> R) -> Option<R> {
    receiver.survey.with(|survey| survey.as_deref().map(read))
}
