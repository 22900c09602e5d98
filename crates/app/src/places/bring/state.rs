//! The list on its way in, what is shown of it, and the turns in which it is read.

use files::Book;
use files::list::{
    Columns, Counts, DateOrder, Decimal, Encoding, Heading, Intake, MatchBy, Separator, Skipped,
    Source, Target, Wishes,
};
use language::{say, text};
use leptos::prelude::*;
use leptos::task::spawn_local;
use plot::Problem;

use super::workbook::Workbook;
use crate::parts::Turn;
use crate::places::intake::Taken;
use crate::state::{App, Busy, Command, NewEdit};
use crate::work::clock;

/// Lines read between two looks at the clock.
const LINES_AT_ONCE: usize = 50;
/// How long is read between two looks at what the person does, milliseconds.
const READ_MS: f64 = 12.0;

/// A list on its way in.
#[derive(Clone, Copy)]
pub(super) struct Bring {
    pub(super) app: App,
    intake: StoredValue<Option<Intake>, LocalStorage>,
    /// What is shown of a list that was read to its end.
    pub(super) seen: RwSignal<Option<Seen>>,
    /// What takes longer than a blink, and how far it is.
    pub(super) busy: RwSignal<Option<Busy>>,
    pub(super) trouble: RwSignal<Option<String>>,
    /// The workbook that the list is a sheet of.
    pub(super) workbook: RwSignal<Option<Workbook>>,
    /// What was taken last.
    pub(super) taken: RwSignal<Option<Taken>>,
    /// Work for something older ends.
    pub(super) turn: Turn,
}

/// What is shown of a list beside its lines.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Seen {
    pub(super) encoding: Option<Encoding>,
    pub(super) separator: Option<Separator>,
    pub(super) decimal: Decimal,
    pub(super) dates: Option<DateOrder>,
    pub(super) heading: Heading,
    /// Rows that may be a header: row, and what it says.
    pub(super) header_rows: Vec<(usize, String)>,
    pub(super) match_by: MatchBy,
    /// Whether empty row numbers are filled from above; none where there are none to be filled.
    pub(super) fill_rows: Option<bool>,
    pub(super) columns: Columns,
    /// By column: what stands in its first cells.
    pub(super) samples: Vec<String>,
    /// A column whose days may be read both ways.
    pub(super) ambiguous: Option<String>,
    pub(super) counts: Counts,
    pub(super) skipped: Vec<(u64, Skipped)>,
    pub(super) problems: Vec<Problem>,
    pub(super) unlisted: usize,
}

impl Bring {
    pub(super) fn new(app: App) -> Self {
        Self {
            app,
            intake: StoredValue::new_local(None),
            seen: RwSignal::new(None),
            busy: RwSignal::new(None),
            trouble: RwSignal::new(None),
            workbook: RwSignal::new(None),
            taken: RwSignal::new(None),
            turn: Turn::default(),
        }
    }

    /// Reads a list in place of the one before.
    pub(super) fn read(self, name: &str, source: Source) {
        self.taken.set(None);
        self.trouble.set(None);
        self.seen.set(None);
        let columns = self.app.book_now(Book::tree_columns).unwrap_or_default();
        self.intake.set_value(Some(Intake::new(name, source).for_columns(columns)));
        self.go_on();
    }

    /// Takes up what a person says otherwise.
    pub(super) fn wish(self, change: impl FnOnce(&mut Wishes)) {
        let wished = self.app.plot_now(|plot| {
            self.intake.update_value(|intake| {
                if let Some(intake) = intake {
                    let mut wishes = intake.wishes().clone();
                    change(&mut wishes);
                    intake.wish(plot, wishes);
                }
            });
        });
        if wished.is_some() {
            self.go_on();
        }
    }

    pub(super) fn plot_changed(self) {
        let is_open = self.app.plot_now(|plot| {
            self.intake.update_value(|intake| {
                if let Some(intake) = intake {
                    intake.plot_changed(plot);
                }
            });
        });
        if is_open.is_some() && self.intake.with_value(Option::is_some) {
            self.go_on();
        }
    }

    /// Reads the list that is on its way in.
    pub(super) fn look<R>(self, read: impl FnOnce(&Intake) -> R) -> Option<R> {
        self.intake.with_value(|intake| intake.as_ref().map(read))
    }

    pub(super) fn name(self) -> String {
        self.seen.track();
        self.look(|intake| intake.name().to_owned()).unwrap_or_default()
    }

    /// Says what takes its time; `of` is 0 while nobody knows how long.
    pub(super) fn say(self, what: &str, (done, of): (usize, usize)) {
        self.busy.set(Some(Busy { what: what.to_owned(), done, of, ..Busy::default() }));
    }

    /// Ends what takes its time, and puts the list away.
    pub(super) fn put_away(self) {
        self.turn.next();
        self.intake.set_value(None);
        self.seen.set(None);
        self.busy.set(None);
        self.forget_workbook();
    }

    /// Takes all sound lines as one edit.
    pub(super) fn take(self) {
        let Some(counts) = self.seen.with_untracked(|seen| seen.as_ref().map(|it| it.counts))
        else {
            return;
        };
        let name = self.name();
        let turn = self.turn.next();
        self.say(say!("Taking the trees"), (0, 0));
        spawn_local(async move {
            // So that it is said before it is done.
            judge::pause(30).await;
            if !self.turn.is_of(turn) {
                return;
            }
            let parts = self.look(Intake::parts).unwrap_or_default();
            let said = super::words::brought(counts);
            let edit = NewEdit { words: say!("Brought in {name}: {said}"), parts };
            match self.app.perform(Command::Edit(edit)) {
                Ok(()) => {
                    self.put_away();
                    self.taken.set(Taken::last(self.app, said));
                }
                Err(refusal) => {
                    self.busy.set(None);
                    self.trouble.set(Some(say!("Nothing was taken: {refusal}.")));
                }
            }
        });
    }

    /// Reads in short turns, until it is done or something newer is asked for.
    fn go_on(self) {
        let turn = self.turn.next();
        spawn_local(async move {
            judge::breathe().await;
            if !self.turn.is_of(turn) {
                return;
            }
            let mut looked = clock::since_opened_ms();
            let begun = looked;
            loop {
                let step = self.app.plot_now(|plot| {
                    self.intake.try_update_value(|intake| {
                        intake.as_mut().map(|intake| intake.step(plot, LINES_AT_ONCE))
                    })
                });
                let Some(Some(Some((done, of)))) = step else { return };
                if done >= of {
                    break;
                }
                let now = clock::since_opened_ms();
                if now - looked < READ_MS {
                    continue;
                }
                if now - begun > 300.0 {
                    self.say(language::said(READING), (done, of));
                }
                judge::breathe().await;
                if !self.turn.is_of(turn) {
                    return;
                }
                looked = clock::since_opened_ms();
            }
            // What was read last, and what is shown, each in a turn of its own.
            judge::breathe().await;
            if self.turn.is_of(turn) {
                self.busy.set(None);
                self.seen.set(self.look(seen).flatten());
            }
        });
    }
}

pub(super) const READING: &str = text!("Reading the list");

/// Cells of a column that are shown, and letters of each.
const SAMPLES: usize = 3;
const SAMPLE_LETTERS: usize = 24;
/// Rows that are offered as a header.
const HEADER_ROWS: usize = 12;

fn seen(intake: &Intake) -> Option<Seen> {
    let draft = intake.draft()?;
    let (rows, choices) = (intake.rows(), draft.choices());
    let first: Vec<usize> =
        (0..rows.len()).filter(|&row| rows.filled(row) > 0).take(HEADER_ROWS).collect();
    let said = |row: usize| {
        let cells: Vec<&str> =
            (0..rows.cells(row)).map(|it| rows.cell(row, it)).filter(|it| !it.is_empty()).collect();
        short(&cells.join(", "), 32)
    };
    let samples = (0..choices.columns.heads.len()).map(|column| {
        let below = (choices.heading.end()..rows.len()).map(|row| rows.cell(row, column));
        let shown = below.filter(|cell| !cell.is_empty()).take(SAMPLES);
        shown.map(|cell| short(cell, SAMPLE_LETTERS)).collect::<Vec<_>>().join(" · ")
    });
    Some(Seen {
        encoding: intake.encoding(),
        separator: intake.separator(),
        decimal: choices.decimal,
        dates: choices.dates,
        heading: choices.heading,
        header_rows: first.into_iter().map(|row| (row, said(row))).collect(),
        match_by: choices.match_by,
        fill_rows: intake.can_fill_rows().then_some(choices.fill_rows),
        samples: samples.collect(),
        ambiguous: draft.ambiguous().map(|column| choices.columns.name(column)),
        columns: choices.columns.clone(),
        counts: draft.counts(),
        skipped: draft.skipped().to_vec(),
        problems: draft.problems().to_vec(),
        unlisted: draft.unlisted(),
    })
}

fn short(text: &str, letters: usize) -> String {
    match text.char_indices().nth(letters) {
        Some((cut, _)) => format!("{}…", &text[..cut]),
        None => text.to_owned(),
    }
}

impl Seen {
    /// Whether something is wrong with the list as a whole, so that nothing can be taken.
    pub(super) fn is_blocked(&self) -> bool {
        let whole = |one: &Problem| one.line.is_none() && one.weight == plot::Weight::Fault;
        self.problems.iter().any(whole)
    }

    /// Targets with one of them changed.
    pub(super) fn with_target(&self, column: usize, target: Target) -> Vec<Target> {
        let mut targets = self.columns.targets.clone();
        if let Some(one) = targets.get_mut(column) {
            *one = target;
        }
        targets
    }
}
