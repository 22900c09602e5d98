//! Taking the list.

use language::{count, say};
use leptos::prelude::*;

use super::state::Bring;
use crate::parts::lean::when;
use crate::places::intake::tick;

/// The button that takes all sound lines, and what must be said before.
pub(super) fn take(bring: Bring) -> AnyView {
    let leave_out = RwSignal::new(false);
    let facts = Memo::new(move |_| {
        bring.seen.with(|seen| {
            seen.as_ref().map(|seen| (seen.counts, seen.is_blocked())).unwrap_or_default()
        })
    });
    let faulty = Memo::new(move |_| facts.get().0.faulty);
    let count = move || facts.get().0.new + facts.get().0.changed;
    let stops = move || count() == 0 || facts.get().1 || (faulty.get() > 0 && !leave_out.get());
    let why = move || match facts.get() {
        (_, true) => {
            say!("Two columns are taken as the same; nothing can be taken before one is left out.")
        }
        (counts, _) if counts.new + counts.changed == 0 => say!("There is nothing to take."),
        (counts, _) if counts.faulty > 0 && !leave_out.get() => {
            say!("Nothing is taken before the lines with faults are mended or left out.")
        }
        _ => say!("All of it is one step, which Undo takes back."),
    };
    let leave_out_them = move || {
        let lines = faulty.get();
        let words = count!(
            lines,
            "Leave out the line with faults",
            "Leave out the {lines} lines with faults"
        );
        tick(leave_out, words)
    };
    view! {
        <section class="bring-take">
            {when(move || faulty.get() > 0, leave_out_them)}
            <p class="hint">{why}</p>
            <p class="row">
                <button class="button button-first" prop:disabled=stops on:click=move |_| bring.take()>
                    {move || count!(count(), "Take this tree", "Take these {trees} trees", trees = count())}
                </button>
                <button class="button" on:click=move |_| bring.put_away()>{say!("Leave it")}</button>
            </p>
        </section>
    }
    .into_any()
}
