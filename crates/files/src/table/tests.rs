//! What keeps RFC 4180 and what does not, where the next record begins, and which line it is.

use super::*;

columns!(TestColumn: ScoreId = "score_id", TreeId = "tree_id", Note = "note");
use TestColumn as C;

/// The records of a file with the columns of [`TestColumn`], and what is told.
pub(crate) fn rows_of(bytes: &[u8]) -> (Vec<Vec<String>>, Vec<String>) {
    let mut findings = Findings::of("any.csv");
    let mut rows = Vec::new();
    if let Some(mut table) = Table::new::<C>(bytes, &[C::ScoreId], &mut findings) {
        table.step(bytes, u64::MAX, &mut findings, &mut |line| {
            let cell = |column: C| line.text(column).unwrap_or_default().to_owned();
            rows.push([C::ScoreId, C::TreeId, C::Note].map(cell).to_vec());
        });
    }
    (rows, findings.into_problems().iter().map(ToString::to_string).collect())
}

/// Lines below a header; the first cells of what is read, and what is told.
fn check(lines: impl AsRef<[u8]>, firsts: &[&str], expected: &[&str]) {
    let bytes = [b"score_id,tree_id,note\n", lines.as_ref()].concat();
    let (rows, told) = rows_of(&bytes);
    let read: Vec<&str> = rows.iter().map(|row| row[0].as_str()).collect();
    assert_eq!(
        (read, told),
        (firsts.to_vec(), expected.iter().map(|&one| one.to_owned()).collect())
    );
}

#[test]
fn sound_records_of_every_form() {
    check("a,b,c\r\nd,,\n\n\"e\",\"f, \"\"g\"\"\",\"h\r\ni\"\nj,k,l", &["a", "d", "e", "j"], &[]);
}

#[test]
fn a_broken_record_is_one_physical_line_and_the_next_ones_are_read() {
    check(
        "a,\"b,c\nd,e,f\ng,\"h\",i\n",
        &["d", "g"],
        &[
            "any.csv, line 2, column tree_id: found text after a closing quote, expected a comma or \
           the end of the line, or the quote doubled",
        ],
    );
    check(
        "a,\"b,c\nd,e,f\n",
        &["d"],
        &["any.csv, line 2, column tree_id: found a quote that is not closed, expected a closing \
           quote"],
    );
    check(
        "a,b\"c,d\ne,f,g\n",
        &["e"],
        &["any.csv, line 2, column tree_id: found a quote within a cell that has none around it, \
           expected the cell in quotes, and each quote within it doubled"],
    );
    check(
        "a,b\rc,d\ne,f,g\n",
        &["e"],
        &[
            "any.csv, line 2, column tree_id: found a carriage return without a line feed, expected \
           line ends CRLF or LF",
        ],
    );
}

#[test]
fn lines_are_physical_lines_also_below_quoted_line_feeds() {
    check(
        "a,b,\"1\n2\n3\"\nc,d\n",
        &["a"],
        &["any.csv, line 5: found 2 cells, expected 3, one for each column of the header"],
    );
}

#[test]
fn a_stray_quote_that_swallowed_sound_lines_gives_them_back() {
    // The quote of line 2 finds the one of line 5, and the whole has too many cells.
    check(
        "a,\"b,c\nd,e,f\ng,h,i\nj,\",k,x\nl,m,n\n",
        &["d", "g", "l"],
        &[
            "any.csv, line 2: found a quote that is not closed, expected a closing quote",
            "any.csv, line 5, column tree_id: found a quote that is not closed, expected a closing \
             quote",
        ],
    );
}

#[test]
fn cells_and_columns_have_limits() {
    let long = "x".repeat(caps::CELL_BYTES + 1);
    check(
        format!("a,{long},c\nd,\"{long}\",f\ng,h,i\n"),
        &["g"],
        &[
            "any.csv, line 2, column tree_id: found a cell longer than 32768 bytes, expected a \
           shorter cell, or a closing quote",
            "any.csv, line 3, column tree_id: found a cell longer than 32768 bytes, expected a \
           shorter cell, or a closing quote",
        ],
    );
    let fits = "x".repeat(caps::CELL_BYTES);
    check(format!("a,{fits},c\n"), &["a"], &[]);
    let header = format!("score_id{}\n", ",u".repeat(caps::COLUMNS));
    assert_eq!(
        rows_of(header.as_bytes()).1,
        ["any.csv, line 1: found more than 1000 cells, expected at most 1000"]
    );
}
