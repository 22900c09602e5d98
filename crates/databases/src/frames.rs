//! The tables of a plot as frames: trees with their latest scores, and every score ever taken.

use export::{Kind, Sheet};
use files::Book;
use plot::{Score, When};
use time::Date;

use crate::frame::{Frame, Values};

/// The columns of trees.csv, then for each trait the latest score and `_on` the day of it, and
/// the tree of each line, in the order of trees.csv.
pub fn trees(book: &Book) -> (Frame, Vec<plot::TreeIx>) {
    let (sheet, lines) = export::trees(book);
    let cells: Vec<&[String]> = lines.iter().map(|&(_, row)| sheet.rows[row].as_slice()).collect();
    let mut frame = of_sheet(&sheet, &cells);
    let plot = book.plot();
    let mut by_trait: Vec<Vec<Option<&Score>>> = vec![Vec::new(); plot.head().traits.len()];
    for &(tree, _) in &lines {
        for (column, score) in by_trait.iter_mut().zip(plot.latest_scores(tree)) {
            column.push(score);
        }
    }
    for (one, scores) in plot.head().traits.iter().zip(by_trait) {
        let value = |score: &Option<&Score>| score.and_then(|score| score.value);
        let day = |score: &Option<&Score>| score.map(|score| score.scored_on.date());
        frame.push(one.id.to_string(), Values::Number(scores.iter().map(value).collect()));
        frame.push(format!("{}_on", one.id), Values::Day(scores.iter().map(day).collect()));
    }
    (frame, lines.into_iter().map(|(tree, _)| tree).collect())
}

/// The lines of scores.csv with its columns; `scored_on` is the local day, and behind it comes
/// `scored_at`, the moment where one was written down. `stands` says of each score whether no
/// later line corrects or withdraws it.
pub fn scores(book: &Book) -> Frame {
    let plot = book.plot();
    let Some(sheet) = export::scores(book) else { return Frame::default() };
    let cells: Vec<&[String]> = sheet.rows.iter().map(Vec::as_slice).collect();
    let mut frame = of_sheet(&sheet, &cells);
    let id = sheet.kinds().position(|(name, _)| name == "score_id");
    let stands = |row: &&[String]| Some(plot.stands(plot.score_ix(&row[id?])?));
    frame.push("stands", Values::Truth(cells.iter().map(stands).collect()));
    frame
}

fn of_sheet(sheet: &Sheet, lines: &[&[String]]) -> Frame {
    let mut frame = Frame::default();
    for (nth, (name, kind)) in sheet.kinds().enumerate() {
        let cells = || lines.iter().map(|line| line[nth].as_str());
        frame.push(name, typed(kind, cells()));
        if let (Kind::When, Some(stem)) = (kind, name.strip_suffix("_on")) {
            let moment = |cell| When::parse(cell).and_then(When::moment);
            frame.push(format!("{stem}_at"), Values::Moment(cells().map(moment).collect()));
        }
    }
    frame
}

/// Cells as their column's kind says; as text where one of them is not of that kind, so that
/// nothing is lost.
fn typed<'a>(kind: Kind, cells: impl Iterator<Item = &'a str> + Clone) -> Values {
    let day = |cell: &str| -> Option<Date> { When::parse(cell).map(When::date) };
    let typed = match kind {
        Kind::Text => None,
        Kind::Whole => all(cells.clone(), |cell| cell.parse().ok()).map(Values::Whole),
        Kind::Number => all(cells.clone(), |cell| cell.parse().ok()).map(Values::Number),
        Kind::Date | Kind::When => all(cells.clone(), day).map(Values::Day),
    };
    let text = |cell: &str| (!cell.is_empty()).then(|| cell.to_owned());
    typed.unwrap_or_else(|| Values::Text(cells.map(text).collect()))
}

/// Every filled cell read, an empty one missing; none where one cannot be read.
fn all<'a, T>(
    cells: impl Iterator<Item = &'a str>,
    read: impl Fn(&str) -> Option<T>,
) -> Option<Vec<Option<T>>> {
    cells.map(|cell| if cell.is_empty() { Some(None) } else { read(cell).map(Some) }).collect()
}
