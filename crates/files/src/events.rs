//! `events.csv`: what was done to the plot and what befell it.

use std::ops::RangeInclusive;

use language::say;

use crate::findings::{Findings, quoted};
use crate::table::{Column, Line, Table, columns};
use plot::{Event, Refusal, Weight};

pub(crate) const FILE: &str = "events.csv";

columns!(EventColumn:
    Date = "date", From = "from", To = "to", Kind = "kind", Rows = "rows", Note = "note",
);
use EventColumn as C;

/// Reads the whole file; the sound lines become events, the others are told.
pub(crate) fn read(bytes: &[u8], findings: &mut Findings) -> Vec<Event> {
    let mut events = Vec::new();
    let Some(mut table) = Table::new(bytes, &[C::Kind], findings) else { return events };
    let header = table.header();
    let says_when = header.has(C::Date) || header.has(C::From) && header.has(C::To);
    if !says_when {
        let column = Some(C::Date.name().to_owned());
        let expected = say!("a column date, or columns from and to");
        findings.push(Weight::Fault, Some(1), column, say!("no column that says when"), expected);
        return events;
    }
    table.step(bytes, u64::MAX, findings, &mut |line| events.extend(event(line)));
    events
}

fn event(line: &mut Line<'_>) -> Option<Event> {
    let (date, from, to) = (line.date(C::Date), line.date(C::From), line.date(C::To));
    let kind = line.needed(C::Kind, || say!("spray, pruning, hail, frost or a word of your own"));
    let rows = line.read(C::Rows, || say!("row numbers and ranges such as 3-7, 9"), rows);
    if !line.is_good() {
        return None;
    }
    let (from, to) = match (date, from, to) {
        (Some(date), None, None) => (date, date),
        (None, Some(from), Some(to)) if from <= to => (from, to),
        (None, Some(from), Some(to)) => {
            let expected = say!("a day on or after from ({from})");
            line.refuse(Refusal::new(C::To.name(), to.to_string(), expected));
            return None;
        }
        (None, None, None) => {
            line.refuse(Refusal::new(
                C::Date.name(),
                say!("nothing"),
                say!("a date, or from and to"),
            ));
            return None;
        }
        _ => {
            let found = [C::Date, C::From, C::To].map(|column| {
                let cell = quoted(line.text(column).unwrap_or_default());
                format!("{} {cell}", column.name())
            });
            let expected = say!("either date, or both from and to");
            line.refuse(Refusal::new(C::Date.name(), found.join(", "), expected));
            return None;
        }
    };
    let note = line.text(C::Note).map(str::to_owned);
    Some(Event { from, to, kind: kind?.to_owned(), rows: rows.unwrap_or_default(), note })
}

/// `3-7, 9 12`: numbers and ranges, parted by commas, semicolons or spaces.
fn rows(text: &str) -> Option<Vec<RangeInclusive<i32>>> {
    let parts = text.split([',', ';', ' ']).filter(|part| !part.is_empty());
    let rows: Option<Vec<_>> = parts
        .map(|part| {
            // A minus in front belongs to the number.
            let dash = part.char_indices().skip(1).find(|&(_, sign)| sign == '-').map(|(at, _)| at);
            let (from, to) = dash.map_or((part, part), |at| (&part[..at], &part[at + 1..]));
            let (from, to): (i32, i32) = (from.parse().ok()?, to.parse().ok()?);
            (from <= to).then_some(from..=to)
        })
        .collect();
    rows.filter(|rows| !rows.is_empty())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_are_numbers_and_ranges() {
        let check = |text: &str, expected: Option<Vec<RangeInclusive<i32>>>| {
            assert_eq!(rows(text), expected, "{text}");
        };
        check("3-7", Some(vec![3..=7]));
        check("3-7, 9;12", Some(vec![3..=7, 9..=9, 12..=12]));
        check("-2-1", Some(vec![-2..=1]));
        check("7-3", None);
        check("three", None);
        check("é", None);
        check(" ", None);
    }

    #[test]
    fn events_are_days_or_spans_of_rows_or_the_whole_plot() {
        let csv = "date,from,to,kind,rows,note\n\
            2031-05-02,,,spray,3-7,sulphur\n\
            ,2031-07-01,2031-07-03,hail,,\n\
            ,2031-07-03,2031-07-01,hail,,\n\
            2031-02-30,,,frost,,\n\
            2031-05-02,2031-05-02,,frost,,\n\
            ,,,,,\n";
        let mut findings = Findings::of(FILE);
        let events = read(csv.as_bytes(), &mut findings);
        assert_eq!(events.len(), 2);
        assert!(events[0].concerns(Some(5)) && !events[0].concerns(Some(8)));
        assert!(events[0].concerns(None), "nobody knows");
        assert!(events[1].concerns(Some(8)));
        assert!(events[0].is_spray() && !events[1].is_spray());
        let told: Vec<String> = findings.into_problems().iter().map(ToString::to_string).collect();
        assert_eq!(
            told,
            [
                "events.csv, line 4, column to: found 2031-07-01, expected a day on or after from \
                 (2031-07-03)",
                "events.csv, line 5, column date: found \"2031-02-30\", expected a date that \
                 exists, such as 2031-06-14",
                "events.csv, line 6, column date: found date \"2031-05-02\", from \"2031-05-02\", \
                 to nothing, expected either date, or both from and to",
                "events.csv, line 7, column kind: found nothing, expected spray, pruning, hail, \
                 frost or a word of your own",
            ]
        );
    }
}
