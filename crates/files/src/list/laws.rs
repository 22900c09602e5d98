//! Laws of lists: nothing panics, and a table reads back the same however it is written.

use plot::{Head, Layout, Origin, Plot};
use proptest::prelude::*;

use super::{
    Choices, Columns, Decimal, Draft, Encoding, Heading, MatchBy, Reading, Rows, Separator, Target,
    decode,
};

pub(super) fn plot() -> Plot {
    Plot::new(Head {
        name: "a plot".to_owned(),
        layout: Layout { row_spacing_m: 3.0, place_spacing_m: 0.75, first_row: 1, first_place: 1 },
        origin: Some(Origin { lon: 5.12, lat: 52.04, row_bearing_deg: 0.0 }),
        season_starts_month: 1,
        traits: Vec::new(),
        diseases: crate::built_in_diseases(),
        crosses: Vec::new(),
    })
    .expect("a plot")
}

fn drafted(rows: &Rows, columns: Columns, heading: Heading, match_by: MatchBy) -> Draft {
    let decimal = Decimal::sniff(rows, Separator::Comma);
    let file = "list".to_owned();
    let choices =
        Choices { file, heading, columns, decimal, dates: None, match_by, fill_rows: false };
    let mut draft = Draft::new(&plot(), rows, choices);
    while !draft.is_done() {
        draft.step(&plot(), rows, 3);
    }
    draft
}

/// Everything that is done to bytes; every line of them is accounted for.
fn looked_through(bytes: &[u8], encoding: Encoding, separator: Option<Separator>, seed: usize) {
    let text = decode(bytes, encoding);
    let separator = separator.unwrap_or_else(|| Separator::sniff(&text));
    let rows = Reading::new(text, separator).to_end();
    let heading = Heading::find(&rows);
    let mut columns = Columns::guess(&rows, heading);
    let all: Vec<Target> = Target::all().collect();
    for round in 0..2 {
        let match_by = MatchBy::ALL[(seed + round) % MatchBy::ALL.len()];
        let draft = drafted(&rows, columns.clone(), heading, match_by);
        let filled = (heading.end()..rows.len()).filter(|&row| rows.filled(row) > 0).count();
        assert_eq!(draft.lines().len() + draft.skipped().len(), filled);
        let counts = draft.counts();
        assert_eq!(counts.new + counts.changed + counts.same + counts.faulty, draft.lines().len());
        assert!(counts.faulty == 0 || !draft.problems().is_empty());
        for (nth, target) in columns.targets.iter_mut().enumerate() {
            *target = all[(nth * 7 + seed) % all.len()];
        }
    }
}

/// How a cell is written: in quotes where it must be, or anyway.
fn written(cell: &str, separator: Separator, anyway: bool) -> String {
    let must = |letter: char| letter == separator.byte() as char || "\"\r\n".contains(letter);
    match anyway || cell.contains(must) {
        true => format!("\"{}\"", cell.replace('"', "\"\"")),
        false => cell.to_owned(),
    }
}

fn encoded(text: &str, encoding: Encoding, mark: bool) -> Vec<u8> {
    let text = if mark { format!("\u{feff}{text}") } else { text.to_owned() };
    let utf16 = |bytes: fn(u16) -> [u8; 2]| text.encode_utf16().flat_map(bytes).collect();
    match encoding {
        Encoding::Utf8 => text.into_bytes(),
        Encoding::Utf16Le => utf16(u16::to_le_bytes),
        Encoding::Utf16Be => utf16(u16::to_be_bytes),
        // Latin-1 letters alone stand in these tables.
        Encoding::Windows1252 => {
            text.chars().filter_map(|letter| u8::try_from(u32::from(letter)).ok()).collect()
        }
    }
}

fn a_separator() -> impl Strategy<Value = Separator> {
    proptest::sample::select(Separator::ALL.to_vec())
}

fn an_encoding() -> impl Strategy<Value = Encoding> {
    proptest::sample::select(Encoding::ALL.to_vec())
}

fn a_table() -> impl Strategy<Value = Vec<Vec<String>>> {
    (2_usize..6).prop_flat_map(|columns| {
        let cell = "[a-zA-Z0-9éüß;,|\t\" \n.-]{0,8}";
        proptest::collection::vec(proptest::collection::vec(cell, columns..=columns), 1..12)
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 400, ..ProptestConfig::default() })]

    #[test]
    fn no_bytes_make_it_panic(bytes in proptest::collection::vec(any::<u8>(), 0..400), encoding in an_encoding(), seed in 0_usize..100) {
        looked_through(&bytes, Encoding::sniff(&bytes), None, seed);
        looked_through(&bytes, encoding, Some(Separator::ALL[seed % 4]), seed);
    }

    #[test]
    fn no_list_makes_it_panic(
        head in "(row|place|Reihe|tag|x|lon|lat|planted|status|cross|id|note|Summe)([;,\t](row|place|tag|y|lat|removed|role|grafted on|note|total)){0,6}",
        lines in proptest::collection::vec("([0-9]{1,4}|-?[0-9]{1,3}[.,][0-9]{1,3} ?m?|[0-9]{1,2}[./-][0-9]{1,2}[./-][0-9]{2,4}|dead|total|A × B|\"|[a-z]{3}|)([;,\t]([0-9]{1,9}|T[0-9]|[0-9/]{2,9}|)){0,7}", 0..20),
        seed in 0_usize..100,
    ) {
        let text = format!("{head}\n{}", lines.join("\n"));
        looked_through(text.as_bytes(), Encoding::Utf8, None, seed);
    }

    #[test]
    fn a_table_reads_back_however_it_is_written(
        table in a_table(), separator in a_separator(), encoding in an_encoding(), crlf: bool, quotes: bool,
    ) {
        let end = if crlf { "\r\n" } else { "\n" };
        let line = |cells: &Vec<String>| {
            let cells: Vec<String> = cells.iter().map(|cell| written(cell, separator, quotes)).collect();
            cells.join(&char::from(separator.byte()).to_string()) + end
        };
        let text: String = table.iter().map(line).collect();
        let bytes = encoded(&text, encoding, encoding != Encoding::Windows1252);
        let rows = Reading::new(decode(&bytes, encoding), separator).to_end();
        let back: Vec<Vec<String>> = (0..rows.len())
            .map(|row| (0..rows.cells(row)).map(|column| rows.cell(row, column).to_owned()).collect())
            .collect();
        let trimmed: Vec<Vec<String>> =
            table.iter().map(|cells| cells.iter().map(|cell| cell.trim().to_owned()).collect()).collect();
        prop_assert_eq!(back, trimmed);
        // Lines are those of the text.
        let mut at = 1;
        for (row, cells) in table.iter().enumerate() {
            prop_assert_eq!(rows.line(row), at);
            at += 1 + cells.iter().map(|cell| cell.matches('\n').count() as u64).sum::<u64>();
        }
    }

    #[test]
    fn numbers_read_back(value in -10_000_000_i64..10_000_000, comma: bool, grouped: bool) {
        let number = value as f64 / 100.0;
        let (decimal, group, setting) = if comma { (",", ".", Decimal::Comma) } else { (".", ",", Decimal::Dot) };
        let whole = (value.abs() / 100).to_string();
        let mut shown = String::new();
        for (nth, digit) in whole.chars().enumerate() {
            if grouped && nth > 0 && (whole.len() - nth) % 3 == 0 {
                shown.push_str(group);
            }
            shown.push(digit);
        }
        let sign = if value < 0 { "-" } else { "" };
        let text = format!("{sign}{shown}{decimal}{:02}", value.abs() % 100);
        prop_assert_eq!(setting.number(&text), Some((number, "")), "{}", text);
    }
}
