//! A list on its way in: from bytes to a draft, in bounded steps; what a person says otherwise is
//! taken up from the step that it touches.

use plot::{EditPart, Plot};

use super::merged::Merged;
use super::own::OwnNames;
use super::{
    Choices, Columns, DateOrder, Decimal, Draft, Encoding, Heading, MatchBy, Reading, Rows,
    Separator, Target, decode,
};

/// Where a list comes from.
#[derive(Clone, Debug)]
pub enum Source {
    /// A file.
    Bytes(Vec<u8>),
    /// Text that was pasted.
    Pasted(String),
    /// A sheet, written as CSV with commas; its first row has this number.
    Sheet(String, u64),
}

/// What a person says otherwise than it was told from the list; none: as it was told.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Wishes {
    /// How a file is written.
    pub encoding: Option<Encoding>,
    /// What parts cells.
    pub separator: Option<Separator>,
    /// Where the header stands.
    pub heading: Option<Heading>,
    /// How numbers are written.
    pub decimal: Option<Decimal>,
    /// What each column is taken as.
    pub targets: Option<Vec<Target>>,
    /// How lines find their trees.
    pub match_by: Option<MatchBy>,
    /// Which comes first in days.
    pub dates: Option<DateOrder>,
    /// Whether a line without a row number has that of the line above.
    pub fill_rows: Option<bool>,
}

/// A list on its way in.
#[derive(Debug)]
pub struct Intake {
    name: String,
    source: Source,
    /// The columns of the plot's `trees.csv`.
    own_columns: Vec<String>,
    wishes: Wishes,
    encoding: Option<Encoding>,
    separator: Separator,
    reading: Option<Reading>,
    rows: Rows,
    can_fill_rows: bool,
    draft: Option<Draft>,
}

/// Of the work, the part that is reading; the rest is the draft.
const OF_READING: usize = 1000;

impl Intake {
    /// Begins to read; `name` is what problems call the list.
    pub fn new(name: impl Into<String>, source: Source) -> Self {
        let mut intake = Self {
            name: name.into(),
            source,
            own_columns: Vec::new(),
            wishes: Wishes::default(),
            encoding: None,
            separator: Separator::Comma,
            reading: None,
            rows: Rows::default(),
            can_fill_rows: false,
            draft: None,
        };
        intake.begin();
        intake
    }

    /// Has the plot's own tables known by the columns of its `trees.csv`
    /// ([`Book::tree_columns`](crate::Book::tree_columns)).
    #[must_use]
    pub fn for_columns(self, own_columns: Vec<String>) -> Self {
        Self { own_columns, ..self }
    }

    /// What a person said so far.
    pub fn wishes(&self) -> &Wishes {
        &self.wishes
    }

    /// Goes on from the first step that other wishes touch. Columns that a person named are
    /// forgotten where other cells stand in them now.
    pub fn wish(&mut self, plot: &Plot, mut wishes: Wishes) {
        let before = &self.wishes;
        let other_rows = (wishes.encoding, wishes.separator) != (before.encoding, before.separator);
        if other_rows {
            (wishes.heading, wishes.targets) = (None, None);
        } else if wishes.heading != before.heading {
            wishes.targets = None;
        }
        self.wishes = wishes;
        if other_rows {
            self.begin();
        } else {
            self.begin_draft(plot);
        }
    }

    /// The plot is another one by now: what comes of the list has to be looked at anew.
    pub fn plot_changed(&mut self, plot: &Plot) {
        if self.reading.is_none() {
            self.begin_draft(plot);
        }
    }

    /// Reads about so many lines further; gives how much is done, and of how much.
    pub fn step(&mut self, plot: &Plot, lines: usize) -> (usize, usize) {
        if let Some(reading) = &mut self.reading {
            let (done, of) = reading.step(lines);
            if done < of {
                return (done * OF_READING / of, 2 * OF_READING);
            }
            self.rows = self.reading.take().map(Reading::finish).unwrap_or_default();
            self.begin_draft(plot);
            return (OF_READING, 2 * OF_READING);
        }
        let Some(draft) = &mut self.draft else { return (2 * OF_READING, 2 * OF_READING) };
        let (done, of) = draft.step(plot, &self.rows, lines);
        match draft.is_done() {
            true => (2 * OF_READING, 2 * OF_READING),
            false => (OF_READING + done * OF_READING / (of + 1), 2 * OF_READING),
        }
    }

    /// Reads all that is left.
    pub fn to_end(mut self, plot: &Plot) -> Self {
        while self.draft().is_none() {
            self.step(plot, usize::MAX);
        }
        self
    }

    /// What problems call the list.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// How the file is written; none for text that was pasted and for sheets.
    pub fn encoding(&self) -> Option<Encoding> {
        self.encoding
    }

    /// What parts cells; none in sheets.
    pub fn separator(&self) -> Option<Separator> {
        (!matches!(self.source, Source::Sheet(..))).then_some(self.separator)
    }

    /// The rows, once they are read.
    pub fn rows(&self) -> &Rows {
        &self.rows
    }

    /// Whether lines without a row number stand below one that has one, as where a sheet's cells
    /// were merged.
    pub fn can_fill_rows(&self) -> bool {
        self.can_fill_rows
    }

    /// What came of it; none before all is read.
    pub fn draft(&self) -> Option<&Draft> {
        self.draft.as_ref().filter(|draft| draft.is_done())
    }

    /// The sound lines as parts of one edit.
    pub fn parts(&self) -> Vec<EditPart> {
        self.draft().map(Draft::parts).unwrap_or_default()
    }

    fn begin(&mut self) {
        (self.draft, self.rows) = (None, Rows::default());
        let (text, first_row) = match &self.source {
            Source::Sheet(text, first_row) => (text.clone(), Some(*first_row)),
            // As a file without a mark that was decoded.
            Source::Pasted(text) => (decode(text.as_bytes(), Encoding::Utf8), None),
            Source::Bytes(bytes) => {
                let encoding = self.wishes.encoding.unwrap_or_else(|| Encoding::sniff(bytes));
                self.encoding = Some(encoding);
                (decode(bytes, encoding), None)
            }
        };
        self.reading = Some(match first_row {
            Some(first_row) => {
                self.separator = Separator::Comma;
                Reading::sheet(text, first_row)
            }
            None => {
                self.separator = self.wishes.separator.unwrap_or_else(|| Separator::sniff(&text));
                Reading::new(text, self.separator)
            }
        });
    }

    fn begin_draft(&mut self, plot: &Plot) {
        let wishes = &self.wishes;
        let heading = wishes.heading.filter(|heading| heading.end() <= self.rows.len());
        let own = OwnNames::of(&self.own_columns, plot.head());
        let first = Heading { row: 0, rows: 1 };
        let own = Some(own)
            .filter(|own| heading.is_none_or(|heading| heading == first) && own.are_in(&self.rows));
        let heading = heading.unwrap_or_else(|| match own {
            Some(_) => first,
            None => Heading::find(&self.rows),
        });
        let mut columns = Columns::guess_with(&self.rows, heading, own.as_ref());
        if let Some(targets) = &wishes.targets {
            columns.targets = fitted(targets, columns.targets.len());
        }
        let decimal = wishes.decimal.unwrap_or_else(|| match (&own, self.separator) {
            // As it was written; whoever writes decimal commas parts cells otherwise.
            (Some(_), Separator::Comma) => Decimal::Dot,
            _ => Decimal::sniff(&self.rows, self.separator),
        });
        let possible = wishes.match_by.filter(|by| by.is_possible(&columns));
        let match_by = possible.unwrap_or_else(|| MatchBy::guess(&columns, plot));
        let merged = Merged::look(&self.rows, heading, &columns);
        self.can_fill_rows = merged.is_possible;
        let fill_rows = wishes.fill_rows.unwrap_or(merged.is_plain && own.is_none());
        let (file, dates) = (self.name.clone(), wishes.dates);
        let choices = Choices { file, heading, columns, decimal, dates, match_by, fill_rows };
        self.draft = Some(Draft::new(plot, &self.rows, choices));
    }
}

fn fitted(targets: &[Target], columns: usize) -> Vec<Target> {
    let all = targets.iter().copied().chain(std::iter::repeat(Target::Skip));
    all.take(columns).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::list::laws::plot;

    #[test]
    fn wishes_are_taken_up_where_they_belong() {
        let list = "Reihe;Platz;Etikett\n1;1;A,1\n1;2;A,2\n";
        let mut intake = Intake::new("list", Source::Bytes(list.into())).to_end(&plot());
        let counts = |intake: &Intake| intake.draft().expect("a draft").counts();
        assert_eq!((counts(&intake).new, intake.parts().len()), (2, 2));
        let tags = intake.draft().map(|draft| draft.choices().columns.targets.clone());
        let mut targets = tags.expect("a draft");
        targets[1] = Target::Skip;
        let wishes = Wishes { targets: Some(targets), ..Wishes::default() };
        intake.wish(&plot(), wishes.clone());
        assert!(intake.draft().is_none(), "it is being read anew");
        intake = intake.to_end(&plot());
        assert_eq!(counts(&intake).faulty, 2, "no line says where");
        // Other cells: what a person said of columns no longer holds.
        intake.wish(&plot(), Wishes { separator: Some(Separator::Comma), ..wishes });
        intake = intake.to_end(&plot());
        assert_eq!(intake.wishes().targets, None);
        assert_eq!(intake.draft().map(|draft| draft.choices().columns.heads.len()), Some(2));
        intake.wish(&plot(), Wishes::default());
        intake = intake.to_end(&plot());
        assert_eq!(counts(&intake).new, 2);
    }

    #[test]
    fn a_header_beyond_the_last_row_is_none() {
        let list = Source::Pasted("row,place\n1,1\n".to_owned());
        let mut intake = Intake::new("list", list).to_end(&plot());
        let heading = Some(Heading { row: 1, rows: 2 });
        intake.wish(&plot(), Wishes { heading, ..Wishes::default() });
        intake = intake.to_end(&plot());
        let found = intake.draft().map(|draft| draft.choices().heading);
        assert_eq!(found, Some(Heading { row: 0, rows: 1 }));
    }

    /// What is told of a list of grafts, and what the book says of the sound rest of it.
    fn grafted(trees: &str, list: &str, told: &[&str], carriers: &[(&str, &str, i32)]) {
        let mut files = crate::write(&plot());
        files.insert("trees.csv".to_owned(), trees.into());
        let mut book = crate::open(files).0.expect("a book");
        let list = Source::Pasted(list.to_owned());
        let intake = Intake::new("list", list).to_end(book.plot());
        let draft = intake.draft().expect("a draft");
        let problems: Vec<String> = draft.problems().iter().map(ToString::to_string).collect();
        assert_eq!(problems, told);
        assert_eq!(draft.counts().faulty, told.len());
        let day = plot::When::parse("2031-06-14").expect("a day");
        let edit = plot::Edit::new(plot::EditId::new("e1"), "a list", day, intake.parts());
        book.edit(edit).expect("what is called sound is taken");
        for (graft, carrier, row) in carriers {
            let tree = book.plot().tree(book.plot().tree_ix(graft).expect("a tree"));
            let carried_by = tree.carrier().map(|ix| book.plot().tree(ix).id().as_str());
            assert_eq!((carried_by, tree.row()), (Some(*carrier), Some(*row)), "{graft}");
        }
    }

    #[test]
    fn grafts_that_no_tree_can_carry_are_told_and_the_rest_is_taken() {
        let trees = "tree_id,row,place,grafted_on\nA,1,1,\nB,2,1,\nG,1,1,A\nH,,,G\n";
        // On itself, in a circle, on a line with a fault, on nothing; and in any order.
        grafted(
            trees,
            "tree_id,row,place,grafted on\nN1,,,N1\nN2,,,N3\nN3,,,N2\nN4,x,1,\nN5,,,N4\n\
             N6,,,Z\nN7,,,N8\nN8,,,A\nN9,2,2,A\n",
            &[
                "list, line 2, column grafted on: found \"N1\", expected a tree that does not \
                 itself grow on this graft",
                "list, line 3, column grafted on: found \"N3\", expected the tree_id of a tree of \
                 the plot or of this list, without fault",
                "list, line 4, column grafted on: found \"N2\", expected a tree that does not \
                 itself grow on this graft",
                "list, line 5, column row: found \"x\", expected a whole number",
                "list, line 6, column grafted on: found \"N4\", expected the tree_id of a tree of \
                 the plot or of this list, without fault",
                "list, line 7, column grafted on: found \"Z\", expected the tree_id of a tree of \
                 the plot or of this list, without fault",
                "list, line 10, column row: found a graft in another place than the tree that \
                 carries it, expected nothing, or the place of \"A\"",
            ],
            &[("N7", "N8", 1), ("N8", "A", 1)],
        );
        // Trees of the plot: one that goes elsewhere, one that would come to grow on itself, and
        // carriers that are moved.
        grafted(
            trees,
            "tree_id,row,place,grafted on\nG,,,B\nB,3,1,\nN1,,,H\n",
            &[],
            &[("G", "B", 3), ("H", "G", 3), ("N1", "H", 3)],
        );
        grafted(
            trees,
            "tree_id,row,place,grafted on\nA,,,H\nN1,,,A\n",
            &[
                "list, line 2, column grafted on: found \"A\", expected a tree that does not itself \
               grow on this graft",
            ],
            &[("G", "A", 1), ("H", "G", 1), ("N1", "A", 1)],
        );
    }

    #[test]
    fn rows_of_a_sheet_keep_their_numbers() {
        let sheet = Source::Sheet("row,place\n1,1\n,\n1,x\n".to_owned(), 4);
        let intake = Intake::new("plan.xlsx", sheet).to_end(&plot());
        let told: Vec<String> =
            intake.draft().expect("a draft").problems().iter().map(ToString::to_string).collect();
        assert_eq!(told, ["plan.xlsx, line 7, column place: found \"x\", expected a whole number"]);
        assert_eq!((intake.encoding(), intake.separator()), (None, None));
    }
}
