//! What a person brings in: a planting list, a list of trees, the positions of a receiver.

use files::list::{
    DateOrder, Decimal, Encoding, Intake, MatchBy, Separator, Source, Survey, Target, Wishes,
    is_nmea, likely_walk, read_positions, walked,
};
use files::{Book, FileSet};
use plot::{Edit, EditId, EditPart, Planting};

use crate::folder::{day, sound};
use crate::laws;

/// A planting list; the sound lines of it are planted.
pub fn planting_list(bytes: &[u8]) {
    let text = String::from_utf8_lossy(bytes);
    let (runs, faults) = files::planting_list::read(&text);
    let said = |line: &&str| !line.trim().is_empty() && !line.trim().starts_with('#');
    let lines = text.lines().filter(said).count();
    assert_eq!(runs.len() + faults.len(), lines, "each line is a run or a fault");
    for fault in &faults {
        let line = fault.line.and_then(|line| text.lines().nth(line as usize - 1));
        assert!(line.is_some_and(|line| said(&line)), "{fault}");
    }
    let (again, none) = files::planting_list::read(&files::planting_list::print(&runs));
    assert_eq!((none, again.len()), (Vec::new(), runs.len()), "printed and read again");
    for (one, other) in runs.iter().zip(&again) {
        assert_eq!(one.what, other.what);
        assert_eq!((&one.rows, &one.places, one.every), (&other.rows, &other.places, other.every));
    }
    let head = sound().plot().head().clone();
    let planting = Planting { head, rows: 4, places: 6, runs, planted_on: None };
    match planting.plant() {
        Ok(plot) => {
            let again = laws::without_fault(files::write(&plot));
            assert_eq!(again.plot().trees(), plot.trees());
        }
        Err(faults) => assert!(!faults.is_empty()),
    }
}

/// A list. Its first three bytes say what a person wants otherwise than it was told from the list.
pub fn list(bytes: &[u8]) {
    let Some((&[how, match_by, shift], text)) = bytes.split_first_chunk() else { return };
    let mut book = sound();
    let columns = book.tree_columns();
    let intake = Intake::new("list", Source::Bytes(text.to_vec())).for_columns(columns);
    let mut intake = intake.to_end(book.plot());
    accounted(&intake, text);
    taken(&mut book, intake.parts(), "e1");
    let wanted = |bit: u8| how & (1 << bit) != 0;
    let targets = wanted(0).then(|| {
        let all: Vec<Target> = Target::all().collect();
        let before = intake.draft().map(|draft| draft.choices().columns.targets.len());
        let at = |nth: usize| all[(nth * 7 + usize::from(shift)) % all.len()];
        (0..before.unwrap_or(0)).map(at).collect()
    });
    let wishes = Wishes {
        encoding: wanted(1).then(|| Encoding::ALL[usize::from(shift) % Encoding::ALL.len()]),
        separator: wanted(2).then(|| Separator::ALL[usize::from(match_by) % Separator::ALL.len()]),
        heading: None,
        decimal: wanted(3).then_some(Decimal::Comma),
        targets,
        match_by: wanted(4).then(|| MatchBy::ALL[usize::from(match_by) % MatchBy::ALL.len()]),
        dates: wanted(5).then_some(DateOrder::MonthDay),
        fill_rows: wanted(6).then_some(true),
    };
    intake.wish(book.plot(), wishes);
    let intake = intake.to_end(book.plot());
    accounted(&intake, text);
    taken(&mut book, intake.parts(), "e2");
}

/// Every line that says something is a tree, a change, a fault, or passed over and told.
fn accounted(intake: &Intake, text: &[u8]) {
    let draft = intake.draft().expect("read to the end");
    let rows = intake.rows();
    let from = draft.choices().heading.end();
    let filled = (from..rows.len()).filter(|&row| rows.filled(row) > 0).count();
    assert_eq!(draft.lines().len() + draft.skipped().len(), filled);
    let counts = draft.counts();
    assert_eq!(counts.new + counts.changed + counts.same + counts.faulty, draft.lines().len());
    let problems = draft.problems();
    assert!(counts.faulty == 0 || !problems.is_empty(), "what is not taken is told");
    // Other line ends count as well in lists, and two bytes may make one letter.
    let most = 1 + text.iter().filter(|&&byte| matches!(byte, b'\n' | b'\r')).count() as u64;
    for problem in problems {
        assert_eq!(problem.file, "list");
        assert!(problem.line.is_none_or(|line| (1..=most).contains(&line)), "{problem} of {most}");
    }
}

/// The sound lines make one edit that the book takes, and that can be undone.
fn taken(book: &mut Book, parts: Vec<EditPart>, id: &str) {
    if parts.is_empty() {
        return;
    }
    let before = book.clone();
    let edit = Edit::new(EditId::new(id), "a list brought in", day(), parts);
    let taken = book.edit(edit);
    assert!(taken.is_ok(), "what the draft calls sound is taken: {taken:?}");
    laws::as_read(book);
    let undone = book.turn_over(&EditId::new(id), EditId::new(format!("undo {id}")), day());
    assert!(undone.is_ok(), "{undone:?}");
    laws::as_read(book);
    assert_eq!(book.plot().trees(), before.plot().trees(), "undone");
}

/// A receiver's log, or a list of positions.
pub fn receiver(bytes: &[u8]) {
    let found = read_positions("log", bytes);
    let read = &found.read;
    laws::told(&FileSet::from([("log".to_owned(), all_line_ends(bytes))]), &read.problems);
    for fix in &read.fixes {
        let (lon, lat) = (fix.globe.lon, fix.globe.lat);
        assert!(lon.abs() <= 180.0 && lat.abs() <= 90.0, "{fix:?}");
        assert!(fix.sigma_m.is_none_or(|metres| metres >= 0.0), "{fix:?}");
    }
    if let Ok(text) = std::str::from_utf8(bytes)
        && is_nmea(text)
        && !text.starts_with('\u{feff}')
    {
        let filled = text.lines().filter(|line| !line.trim().is_empty()).count();
        assert_eq!(read.fixes.len() + read.others + read.problems.len(), filled);
    }
    let mut book = sound();
    let walk = match found.places.is_empty() {
        true => likely_walk(book.plot(), read.fixes.len()),
        false => found.places,
    };
    let Ok(walk) = walked(&read.fixes, &walk) else { return };
    assert_eq!(walk.places.len(), read.fixes.len());
    let survey = Survey::new(book.plot(), &walk);
    if let Some(lie) = survey.lie() {
        taken_or_not(&mut book, vec![lie], "e1");
    }
    if let Some((parts, trees)) = survey.stand(book.plot(), true) {
        assert_eq!(trees, survey.trees(true));
        taken_or_not(&mut book, parts, "e2");
    }
}

/// Measured positions may lie too far off to be taken; then nothing is changed.
fn taken_or_not(book: &mut Book, parts: Vec<EditPart>, id: &str) {
    let before = book.to_files();
    let edit = Edit::new(EditId::new(id), "measured", day(), parts);
    match book.edit(edit) {
        Ok(_) => laws::as_read(book),
        Err(_) => assert_eq!(book.files(), &before, "refused, and nothing changed"),
    }
}

/// The same with a line end for each that lists know.
fn all_line_ends(bytes: &[u8]) -> Vec<u8> {
    bytes.iter().map(|&byte| if byte == b'\r' { b'\n' } else { byte }).collect()
}
