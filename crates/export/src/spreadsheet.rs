//! One wide table for spreadsheets: a line for each tree, a column for each trait and round.

use std::collections::BTreeMap;

use files::{Book, guarded};
use plot::{Plot, Round, RoundKey, Score, TraitIx, TreeIx};

use crate::scored::Names;
use crate::sheets;

/// A table for spreadsheets.
pub struct Spreadsheet {
    /// CSV with a byte order mark and CRLF, as spreadsheets expect it.
    pub bytes: Vec<u8>,
    /// Scores that stand and have a value, and yet are not in it: a later one of the same tree,
    /// trait and round is.
    pub left_out: usize,
}

/// The columns of `trees.csv`, and behind them those of each trait and round in which somebody
/// scored it: `scab_leaf 2031 June`, or `scab_leaf 2031-06-14` where rounds have no names.
///
/// A cell that a spreadsheet would take for a formula has an apostrophe in front; plain numbers
/// have none. A list that is brought in ([`files::list`]) has it taken off again.
pub fn spreadsheet(book: &Book) -> Spreadsheet {
    let plot = book.plot();
    let (sheet, trees) = sheets::trees(book);
    let (rounds, columns, left_out) = scored(plot);
    let mut header: Vec<String> = sheet.columns.iter().map(|(name, ..)| name.clone()).collect();
    let mut names = Names::taken(header.iter().map(String::as_str));
    for &(trait_ix, round) in columns.keys() {
        header.push(names.free(name(plot, trait_ix, &rounds[round])));
    }
    let mut csv = csv::WriterBuilder::new()
        .terminator(csv::Terminator::CRLF)
        .from_writer(b"\xef\xbb\xbf".to_vec());
    let mut write = |cells: Vec<String>| csv.write_record(cells).expect("memory takes every line");
    write(header.iter().map(|cell| guarded(cell)).collect());
    for (tree, row) in trees {
        let own = sheet.rows[row].iter().map(|cell| guarded(cell));
        let value = |by_tree: &Column<'_>| by_tree.get(&tree).and_then(|score| score.value);
        let text = |value: f64| value.to_string();
        let scores = columns.values().map(|column| value(column).map_or_else(String::new, text));
        write(own.chain(scores).collect());
    }
    Spreadsheet { bytes: csv.into_inner().expect("memory takes every line"), left_out }
}

/// The scores of a trait in a round.
type Column<'a> = BTreeMap<TreeIx, &'a Score>;

/// The rounds; for each trait and round the latest score of each tree; how many are not the latest.
fn scored(plot: &Plot) -> (Vec<Round>, BTreeMap<(TraitIx, usize), Column<'_>>, usize) {
    let (rounds, scores) = plot.by_round(|score| score.value.is_some());
    let mut columns: BTreeMap<(TraitIx, usize), Column<'_>> = BTreeMap::new();
    let mut left_out = 0;
    for (score, round) in scores {
        let score = plot.score(score);
        let column = columns.entry((score.trait_ix, round)).or_default();
        let held = column.entry(score.tree).or_insert(score);
        if held.id != score.id {
            left_out += 1;
            if score.is_later_than(held) {
                *held = score;
            }
        }
    }
    (rounds, columns, left_out)
}

fn name(plot: &Plot, trait_ix: TraitIx, round: &Round) -> String {
    let id = &plot.trait_of(trait_ix).id;
    match &round.key {
        RoundKey::Named(name) => format!("{id} {} {name}", round.season),
        RoundKey::Dated(date) => format!("{id} {date}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sheets::records;
    use crate::testing::{book, head, lantern};
    use files::unguarded;
    use proptest::prelude::*;

    /// The cells of a table as they were before.
    fn cells(book: &Book) -> Vec<Vec<String>> {
        let back = |row: Vec<String>| row.iter().map(|cell| unguarded(cell).to_owned()).collect();
        records(&spreadsheet(book).bytes).into_iter().map(back).collect()
    }

    #[test]
    fn a_line_for_each_tree_and_a_column_for_each_trait_and_round() {
        let scores = "score_id,tree_id,trait,value,scored_on,round,scorer,replaces\n\
            s1,A,bloom,12.5,2031-05-02,,,\n\
            s2,B,scab_leaf,1,2031-06-15,June,ann,\n\
            s3,B,scab_leaf,0,2031-06-14,June,bob,\n\
            s4,A,scab_leaf,0,2031-06-14,June,ann,\n\
            s5,A,scab_leaf,1,2031-06-16,June,ann,s4\n\
            s6,A,scab_leaf,,2032-06-14,June,ann,\n";
        let book = book(head(false), "tree_id,row,place,note\nA,1,1,=1+1\nB,1,2,-7\n", scores);
        let table = spreadsheet(&book);
        let text = String::from_utf8(table.bytes).expect("UTF-8");
        assert_eq!(
            text,
            "\u{feff}tree_id,row,place,note,scab_leaf 2031 June,bloom 2031-05-02\r\n\
             A,1,1,'=1+1,1,12.5\r\nB,1,2,-7,1,\r\n"
        );
        assert_eq!(table.left_out, 1, "bob's is the earlier one");
        assert_eq!(cells(&book)[1][3], "=1+1");
    }

    #[test]
    fn the_demo_plot_comes_back_cell_by_cell() {
        let book = lantern();
        let (table, own) = (cells(&book), records(&book.files()["trees.csv"]));
        let width = own[0].len();
        assert_eq!(table.len(), own.len());
        assert!(table.iter().zip(&own).all(|(row, own)| row[..width] == own[..]));
        let filled =
            table[1..].iter().flat_map(|row| &row[width..]).filter(|cell| !cell.is_empty());
        let standing = book.plot().standing_scores().filter(|(_, score)| score.value.is_some());
        assert_eq!(filled.count() + spreadsheet(&book).left_out, standing.count());
    }

    proptest! {
        #[test]
        fn whatever_words_a_tree_has_come_back(
            tag in "['=+@x1\\-,\"\t;é \r\n]{0,8}", note in "\\PC{0,20}", name in "[=+@'a-z]{1,6}",
        ) {
            prop_assume!(!["note", "tag", "row"].contains(&name.as_str()));
            let quoted = |text: &str| format!("\"{}\"", text.replace('"', "\"\""));
            let (tag, note) = (tag.as_str(), note.as_str());
            let trees = format!(
                "tree_id,row,place,tag,note,{name}\nA,1,1,{},{},=2\n", quoted(tag), quoted(note)
            );
            let table = cells(&book(head(false), &trees, ""));
            prop_assert_eq!(&table[0][5], &name);
            prop_assert_eq!(&table[1][3..6], [tag, note, "=2"]);
        }
    }
}
