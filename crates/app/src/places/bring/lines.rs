//! The lines as they will be taken.

use files::list::{Line, Target, What};
use language::say;
use leptos::prelude::*;
use plot::TreeField as F;

use super::state::{Bring, Seen};
use super::words;
use crate::parts::lean::{changing, changing_words, element, said};
use crate::places::intake::more;

/// Lines shown at first, and how many more each time.
const SHOWN: usize = 8;
const MORE: usize = 50;

/// What is shown: a kind of line, or all.
#[derive(Clone, Copy, PartialEq)]
enum Kind {
    New,
    Changed,
    Same,
    Faulty,
}

impl Kind {
    const ALL: [Self; 4] = [Self::New, Self::Changed, Self::Same, Self::Faulty];

    /// So many of them.
    fn words(self, many: usize) -> String {
        match self {
            Self::New => say!("{many} new"),
            Self::Changed => say!("{many} changed"),
            Self::Same => say!("{many} unchanged"),
            Self::Faulty => say!("{many} with faults"),
        }
    }

    fn of(what: &What) -> Self {
        match what {
            What::New(_) => Self::New,
            What::Change(_) => Self::Changed,
            What::Same(_) => Self::Same,
            What::Faulty => Self::Faulty,
        }
    }

    fn count(self, seen: &Seen) -> usize {
        let counts = seen.counts;
        match self {
            Self::New => counts.new,
            Self::Changed => counts.changed,
            Self::Same => counts.same,
            Self::Faulty => counts.faulty,
        }
    }
}

/// Counts, which choose what is shown, and lines.
pub(super) fn lines(bring: Bring) -> AnyView {
    let (kind, shown) = (RwSignal::new(None::<Kind>), RwSignal::new(SHOWN));
    let count =
        move |one: Kind| bring.seen.with(|seen| seen.as_ref().map_or(0, |seen| one.count(seen)));
    let button = |one: Kind| {
        let press = move |_| {
            kind.update(|kind| *kind = if *kind == Some(one) { None } else { Some(one) });
            shown.set(SHOWN);
        };
        view! {
            <button class="button button-small" on:click=press
                aria-pressed=move || (kind.get() == Some(one)).to_string()>
                {move || one.words(count(one))}
            </button>
        }
        .into_any()
    };
    let buttons = element("div", "row bring-counts", Kind::ALL.into_iter().map(button).collect());
    let list = changing(move || {
        bring.seen.track();
        let (kind, shown) = (kind.get(), shown.get());
        let lines = bring.look(|intake| {
            let all = intake.draft().map_or(&[][..], |draft| draft.lines());
            let wanted =
                all.iter().filter(|line| kind.is_none_or(|kind| kind == Kind::of(&line.what)));
            let raw = |line: &Line| {
                let cells =
                    (0..intake.rows().cells(line.row)).map(|it| intake.rows().cell(line.row, it));
                cells.filter(|cell| !cell.is_empty()).collect::<Vec<_>>().join(" · ")
            };
            wanted.take(shown).map(|line| one(line, raw(line))).collect::<Vec<_>>()
        });
        element("ol", "bring-lines", lines.unwrap_or_default())
    });
    let rest = changing(move || {
        let of = match kind.get() {
            Some(one) => count(one),
            None => Kind::ALL.into_iter().map(count).sum(),
        };
        more(shown, MORE, of)
    });
    let skipped = changing_words(move || bring.seen.with(|seen| seen.as_ref().and_then(skipped)));
    element(
        "section",
        "",
        vec![
            said("h4", "", say!("The lines as they will be taken")),
            buttons,
            list,
            rest,
            element("p", "hint", vec![skipped]),
        ],
    )
}

fn one(line: &Line, raw: String) -> AnyView {
    let (class, what, tree, says) = match &line.what {
        What::New(taken) => {
            let cell = |(field, to, _): &(F, String, String)| said_of(*field, to);
            let says = taken.cells.iter().map(cell).collect::<Vec<_>>().join(" · ");
            ("bring-new", say!("new"), taken.id.to_string(), says)
        }
        What::Change(taken) => {
            let cell = |(field, to, from): &(F, String, String)| {
                let from = if from.is_empty() { say!("nothing") } else { from };
                say!("{column}: {from} → {to}", column = column(*field))
            };
            let says = taken.cells.iter().map(cell).collect::<Vec<_>>().join(" · ");
            ("bring-changed", say!("changed"), taken.id.to_string(), says)
        }
        What::Same(id) => ("", say!("unchanged"), id.to_string(), String::new()),
        What::Faulty => ("fault", say!("faults"), String::new(), raw),
    };
    view! {
        <li>
            <span class="bring-line">{say!("Line {line}", line = line.line)}</span>
            <span class=class>{what}</span>
            <span class="bring-tree">{tree}</span>
            <span class="bring-says">{says}</span>
        </li>
    }
    .into_any()
}

/// A cell of a new tree: words that speak for themselves stand alone.
fn said_of(field: F, to: &str) -> String {
    match field {
        F::Tag | F::Note | F::Status | F::Role => to.to_owned(),
        _ => say!("{column} {to}", column = column(field)),
    }
}

/// A column in words where its name is one, and else by its name.
fn column(field: F) -> &'static str {
    match field {
        F::Row | F::Place | F::Tag | F::Status | F::Role | F::Note => {
            words::target(Target::Field(field))
        }
        _ => field.as_str(),
    }
}

/// Lines that are no trees, in words.
fn skipped(seen: &Seen) -> Option<String> {
    let shown = seen.skipped.iter().take(8);
    let one = |(line, why): &(u64, _)| say!("line {line} ({why})", why = words::skipped(*why));
    let said: Vec<String> = shown.map(one).collect();
    let lines = said.join(", ");
    match seen.skipped.len() - said.len() {
        _ if said.is_empty() => None,
        0 => Some(say!("No trees, passed over: {lines}.")),
        more => Some(say!("No trees, passed over: {lines} and {more} more.")),
    }
}
