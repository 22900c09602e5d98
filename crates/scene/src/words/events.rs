//! How events are said: what was done to the plot or befell it, where and when.

use std::ops::RangeInclusive;

use language::{count, say};
use plot::Event;

use super::days;

/// `Spray, 20 April 2030, rows 1 to 10: sulphur`.
pub fn event(event: &Event) -> String {
    let kind = plot::capital(event.kind.trim());
    let note = event.note.as_ref().map(|note| format!(": {note}")).unwrap_or_default();
    format!("{kind}, {}, {}{note}", days(event.from, event.to), rows(&event.rows))
}

/// `the whole plot`, `row 4`, `rows 3 to 7, 9`.
fn rows(rows: &[RangeInclusive<i32>]) -> String {
    let one = |rows: &RangeInclusive<i32>| match (rows.start(), rows.end()) {
        (first, last) if first == last => first.to_string(),
        (first, last) => say!("{low} to {high}", low = first, high = last),
    };
    let told: Vec<String> = rows.iter().map(one).collect();
    match rows {
        [] => say!("the whole plot").to_owned(),
        [only] if only.start() == only.end() => say!("row {row}", row = told[0]),
        _ => say!("rows {rows}", rows = told.join(", ")),
    }
}

/// `3 events: frost, 2 × spray`: kinds in the order of the alphabet; none where nothing happened.
pub fn events<'a>(events: impl Iterator<Item = &'a Event>) -> Option<String> {
    let mut kinds: Vec<String> = events.map(|event| event.kind.trim().to_lowercase()).collect();
    kinds.sort();
    let told: Vec<String> = kinds
        .chunk_by(|a, b| a == b)
        .map(|same| match same.len() {
            1 => same[0].clone(),
            many => format!("{many} × {}", same[0]),
        })
        .collect();
    let told = told.join(", ");
    (!kinds.is_empty())
        .then(|| count!(kinds.len(), "1 event: {told}", "{n} events: {told}", n = kinds.len()))
}

#[cfg(test)]
mod tests {
    use time::macros::date;

    use super::*;

    #[test]
    fn an_event_is_said_with_days_and_rows() {
        let check = |from, to, rows: &[RangeInclusive<i32>], note: Option<&str>, expect: &str| {
            let (kind, note) = ("spray".to_owned(), note.map(str::to_owned));
            assert_eq!(event(&Event { from, to, kind, rows: rows.to_vec(), note }), expect);
        };
        let (first, last) = (date!(2030 - 04 - 20), date!(2030 - 04 - 22));
        check(first, first, &[], None, "Spray, 20 April 2030, the whole plot");
        check(first, first, &[4..=4], Some("sulphur"), "Spray, 20 April 2030, row 4: sulphur");
        let expect = "Spray, 20 April 2030 to 22 April 2030, rows 3 to 7, 9";
        check(first, last, &[3..=7, 9..=9], None, expect);
    }

    #[test]
    fn events_are_counted_by_kind() {
        let one = |kind: &str| Event {
            from: date!(2030 - 04 - 20),
            to: date!(2030 - 04 - 20),
            kind: kind.to_owned(),
            rows: Vec::new(),
            note: None,
        };
        let all = [one("spray"), one("hail"), one("Spray")];
        assert_eq!(events(all.iter()).as_deref(), Some("3 events: hail, 2 × spray"));
        assert_eq!(events([].into_iter()), None);
    }
}
