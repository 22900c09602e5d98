//! How the list is written: what was told from it, for a person to say otherwise.

use files::list::{DateOrder, Decimal, Encoding, Heading, MatchBy, Separator, Wishes};
use language::say;
use leptos::prelude::*;

use super::select::{Options, select};
use super::state::{Bring, Seen};
use super::words;
use crate::parts::lean::{changing, element, said, when};

/// The selects, and the question that the list does not answer.
pub(super) fn sniffed(bring: Bring) -> AnyView {
    let sheets = Memo::new(move |_| {
        bring.workbook.with(|it| it.as_ref().map(|it| it.names.clone()).unwrap_or_default())
    });
    let sheet = changing(move || {
        let names = sheets.get();
        if names.len() < 2 {
            return ().into_any();
        }
        let options = names.into_iter().enumerate().map(|(nth, name)| (nth.to_string(), name));
        select(
            say!("Sheet"),
            options.collect(),
            move || {
                bring
                    .workbook
                    .with(|it| it.as_ref().map(|it| it.nth.to_string()).unwrap_or_default())
            },
            move |nth| bring.other_sheet(nth.parse().unwrap_or_default()),
        )
    });
    let encoding = one_of(
        bring,
        say!("Letters written in"),
        (&Encoding::ALL, words::encoding),
        |seen| seen.encoding,
        |wishes, it| wishes.encoding = it,
    );
    let separator = one_of(
        bring,
        say!("Cells parted by"),
        (&Separator::ALL, words::separator),
        |seen| seen.separator,
        |wishes, it| wishes.separator = it,
    );
    let decimal = one_of(
        bring,
        say!("Decimals after"),
        (&Decimal::ALL, words::decimal),
        |seen| Some(seen.decimal),
        |wishes, it| wishes.decimal = it,
    );
    let merged = one_of(
        bring,
        say!("Lines without a row number"),
        (&[true, false], words::fill_rows),
        |seen| seen.fill_rows,
        |wishes, it| wishes.fill_rows = it,
    );
    let selects = vec![sheet, encoding, separator, decimal, header(bring), merged, matching(bring)];
    let read_as = said("h4", "", say!("How it is written"));
    element("section", "", vec![read_as, element("div", "bring-selects", selects), days(bring)])
}

/// A select of all of a kind; nothing where the list has none of it.
fn one_of<T: Copy + PartialEq + Send + Sync + 'static>(
    bring: Bring,
    label: &'static str,
    (all, words): (&'static [T], fn(T) -> &'static str),
    read: fn(&Seen) -> Option<T>,
    wish: fn(&mut Wishes, Option<T>),
) -> AnyView {
    let is = move || bring.seen.with(|seen| seen.as_ref().and_then(read));
    let make = move || {
        let choose = move |nth: String| bring.wish(|wishes| wish(wishes, at(all, &nth)));
        select(label, plain(all, words), move || nth_of(all, is()), choose)
    };
    when(move || is().is_some(), make)
}

/// Which line is the header.
fn header(bring: Bring) -> AnyView {
    let rows = Memo::new(move |_| {
        bring.seen.with(|it| it.as_ref().map(|it| it.header_rows.clone()).unwrap_or_default())
    });
    let value = |heading: Heading| match heading.rows {
        0 => "none".to_owned(),
        rows => format!("{}+{rows}", heading.row),
    };
    changing(move || {
        let rows = rows.get();
        // None beyond the last row.
        let line = |row: usize| {
            bring.look(|intake| (row < intake.rows().len()).then(|| intake.rows().line(row)))?
        };
        let mut options: Options = vec![("none".to_owned(), say!("there is none").to_owned())];
        for (row, says) in &rows {
            let words = say!("line {line}: {says}", line = line(*row).unwrap_or_default());
            options.push((value(Heading { row: *row, rows: 1 }), words));
        }
        for (row, _) in rows.iter().take(6) {
            let (Some(upper), Some(lower)) = (line(*row), line(*row + 1)) else { continue };
            let words = say!("lines {upper} and {lower} together");
            options.push((value(Heading { row: *row, rows: 2 }), words));
        }
        let first = rows.first().map_or(0, |(row, _)| *row);
        select(
            say!("Header"),
            options,
            move || {
                bring.seen.with(|it| it.as_ref().map(|it| value(it.heading)).unwrap_or_default())
            },
            move |chosen| {
                let heading = match chosen.split_once('+') {
                    Some((row, rows)) => Heading {
                        row: row.parse().unwrap_or_default(),
                        rows: rows.parse().unwrap_or(1),
                    },
                    None => Heading { row: first, rows: 0 },
                };
                bring.wish(|wishes| wishes.heading = Some(heading));
            },
        )
    })
}

/// How a line finds its tree.
fn matching(bring: Bring) -> AnyView {
    let possible = Memo::new(move |_| {
        bring.seen.with(|it| {
            let columns = it.as_ref().map(|it| it.columns.clone()).unwrap_or_default();
            MatchBy::ALL.map(|by| by.is_possible(&columns))
        })
    });
    let is_planted = bring.app.plot_now(|plot| !plot.trees().is_empty()) == Some(true);
    if !is_planted {
        return ().into_any();
    }
    changing(move || {
        let possible = possible.get();
        let options = plain(&MatchBy::ALL, words::match_by);
        let options = options.into_iter().zip(possible).filter(|(_, is)| *is).map(|(it, _)| it);
        select(
            say!("Trees that are there known by"),
            options.collect(),
            move || bring.seen.with(|it| nth_of(&MatchBy::ALL, it.as_ref().map(|it| it.match_by))),
            move |nth| bring.wish(|wishes| wishes.match_by = at(&MatchBy::ALL, &nth)),
        )
    })
}

/// Which comes first in days that may be read both ways.
fn days(bring: Bring) -> AnyView {
    let open = Memo::new(move |_| {
        bring.seen.with(|it| it.as_ref().map(|it| (it.ambiguous.clone(), it.dates)))
    });
    let press = move |order: DateOrder| move |_| bring.wish(|wishes| wishes.dates = Some(order));
    changing(move || {
        match open.get() {
        Some((Some(column), _)) => view! {
            <div class="bring-question" role="group" aria-label=say!("Day or month first")>
                <p>{say!("{column}: in days such as 4/6/2031, which comes first? No line says.")}</p>
                <p class="row">
                    <button class="button" on:click=press(DateOrder::DayMonth)>{say!("The day: 4 June")}</button>
                    <button class="button" on:click=press(DateOrder::MonthDay)>{say!("The month: 6 April")}</button>
                </p>
            </div>
        }
        .into_any(),
        Some((None, Some(order))) => {
            let (says, other) = match order {
                DateOrder::DayMonth => (say!("Days such as 4/6/2031 are read as 4 June."), DateOrder::MonthDay),
                DateOrder::MonthDay => (say!("Days such as 4/6/2031 are read as 6 April."), DateOrder::DayMonth),
            };
            view! {
                <p class="row">
                    {says}
                    <button class="button button-small" on:click=press(other)>{say!("The other way")}</button>
                </p>
            }
            .into_any()
        }
        _ => ().into_any(),
    }
    })
}

fn plain<T: Copy>(all: &[T], words: fn(T) -> &'static str) -> Options {
    all.iter().enumerate().map(|(nth, &one)| (nth.to_string(), words(one).to_owned())).collect()
}

fn nth_of<T: PartialEq>(all: &[T], one: Option<T>) -> String {
    let nth = one.and_then(|one| all.iter().position(|it| *it == one));
    nth.map(|nth| nth.to_string()).unwrap_or_default()
}

fn at<T: Copy>(all: &[T], nth: &str) -> Option<T> {
    all.get(nth.parse::<usize>().ok()?).copied()
}
