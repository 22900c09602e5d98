//! Tags: a square code, the short code and words, on sheets of labels.

use language::say;
use plot::{Code, GenotypeId, Plot, Refusal, TreeIx};
use walk::{Route, Rows, Way, Wish};

use crate::drawing::{Anchor, Drawing, Frame, LEAST_TYPE_MM, Type};
use crate::ruler::{RULER_HEIGHT_MM, RULER_MM, ruler};
use crate::square::Square;
use crate::{LabelSheet, Page, SquareTexts};

/// What tags are printed of.
#[derive(Clone, Debug)]
pub struct Tags<'a> {
    /// The plot.
    pub plot: &'a Plot,
    /// The trees, in the order of the labels.
    pub trees: &'a [TreeIx],
    /// How the labels lie.
    pub sheet: LabelSheet,
    /// The first label that is still on the first sheet, counted along the rows from 1.
    pub start: usize,
    /// Where Leeward is to be found, for square codes that any reader follows; none: the short
    /// code, which only Leeward knows and which is read when it is smaller and dirtier.
    pub address: Option<&'a str>,
    /// Whether labels are outlined, for plain paper that is cut.
    pub outlined: bool,
}

/// White within the edges of a label, mm.
const PAD_MM: f64 = 1.5;
/// The same beside a square code, which has white of its own.
const EDGE_MM: f64 = 0.5;
/// Least side of a module of the square code, mm; finer ones run together in print and dirt.
const LEAST_MODULE_MM: f64 = 0.4;

/// The standing trees of a walk in the order in which tags are hung, row by row from the same end as
/// the planting list has them; only those without a tag, where these are asked for.
pub fn trees_for_tags(plot: &Plot, walk: Wish, untagged: bool) -> Vec<TreeIx> {
    let walk = Wish { way: Way::OneWay, ..walk };
    let stops = Route::plan(plot, &Rows::of(plot), &walk, |_| false, |_| false).stops;
    let has_tag = |tree: TreeIx| plot.tree(tree).tag_to_read().is_some();
    stops.into_iter().filter(|&tree| !untagged || !has_tag(tree)).collect()
}

/// Sheets of tags.
///
/// # Errors
/// Labels as [`LabelSheet::check`] refuses them, or too small for a square code with its short code
/// beside it; a first label that the sheet has not; no tree.
pub fn tags(asked: &Tags<'_>) -> Result<Vec<Page>, Refusal> {
    let Tags { plot, trees, sheet, start, .. } = *asked;
    sheet.check()?;
    if !(1..=sheet.count()).contains(&start) {
        let expected = say!("a label from 1 to {count}", count = sheet.count());
        return Err(Refusal::new("start", start.to_string(), expected));
    }
    if trees.is_empty() {
        return Err(Refusal::new("trees", say!("none"), say!("trees that tags are printed of")));
    }
    let texts = SquareTexts::of(plot, asked.address);
    let mut slots = vec![None; start - 1];
    slots.extend(trees.iter().copied().map(Some));
    let of = slots.len().div_ceil(sheet.count());
    let pages = slots.chunks(sheet.count()).enumerate().map(|(page, slots)| {
        let mut drawing = Drawing::default();
        for (nth, tree) in slots.iter().enumerate() {
            let Some(tree) = *tree else { continue };
            let frame = sheet.frame(nth);
            if asked.outlined {
                drawing.outline(frame, 0.1, "#777");
            }
            tag(&mut drawing, frame, plot, tree, &texts.text(tree))?;
        }
        foot(&mut drawing, &sheet);
        let title = say!("{plot}, tags {nth} of {of}", plot = plot.head().name, nth = page + 1);
        Ok(drawing.page(sheet.format, &title))
    });
    pages.collect()
}

/// A page for plain paper that shows where the labels lie, each with its number, and the ruler: to
/// be held against a sheet of labels before one is used up.
///
/// # Errors
/// As [`LabelSheet::check`].
pub fn test_page(sheet: &LabelSheet) -> Result<Page, Refusal> {
    sheet.check()?;
    let mut drawing = Drawing::default();
    for nth in 0..sheet.count() {
        let frame = sheet.frame(nth);
        drawing.outline(frame, 0.2, "#111");
        let set = Type::points(12.0).anchored(Anchor::Middle);
        let middle = [frame.x + frame.width / 2.0, frame.y + frame.height / 2.0 + 4.0];
        drawing.text(middle, set, &(nth + 1).to_string());
    }
    // Over the labels where there is no white below: this page is no sheet of labels.
    let [width, height] = sheet.format.size_mm();
    let last = sheet.frame(sheet.count() - 1);
    let below = (height - 6.0).min(last.y + last.height + RULER_HEIGHT_MM + 1.0);
    ruler(&mut drawing, [(width - RULER_MM) / 2.0, below], RULER_MM);
    Ok(drawing.page(sheet.format, say!("Test page for labels")))
}

/// The ruler, where labels leave white for it.
fn foot(drawing: &mut Drawing, sheet: &LabelSheet) {
    let [width, height] = sheet.format.size_mm();
    if sheet.white_below_mm() >= RULER_HEIGHT_MM + 6.0 {
        let from = 10.0;
        ruler(drawing, [from, height - 6.0], width - 2.0 * from);
    }
}

/// One tag. Lying labels have the square code at the left, upright ones above.
fn tag(
    drawing: &mut Drawing,
    frame: Frame,
    plot: &Plot,
    tree: TreeIx,
    text: &str,
) -> Result<(), Refusal> {
    let (width, height) = (frame.width - 2.0 * PAD_MM, frame.height - 2.0 * PAD_MM);
    let lines = Lines::of(plot, tree);
    let lies = width >= 1.2 * height;
    let side = match lies {
        // Its own white goes up to the edge.
        true => (frame.height - 2.0 * EDGE_MM).min(width * 0.5),
        false => width.min(height - LEAST_WORDS_MM),
    };
    let square = Square::of(text).ok_or_else(|| {
        Refusal::new(
            "tree_id",
            say!("{count} characters", count = text.len()),
            say!("an id that a square code holds"),
        )
    })?;
    let module = side / square.modules() as f64;
    let words = match lies {
        true => Frame {
            x: frame.x + EDGE_MM + side,
            y: frame.y + PAD_MM,
            width: frame.width - EDGE_MM - side - PAD_MM,
            height,
        },
        false => {
            Frame { x: frame.x + PAD_MM, y: frame.y + PAD_MM + side, width, height: height - side }
        }
    };
    if module < LEAST_MODULE_MM || words.height < LEAST_WORDS_MM || words.width < 12.0 {
        let found = say!("{width:.1} x {height:.1} mm", width = frame.width, height = frame.height);
        let expected = say!(
            "room for a square code of {side:.1} mm and its short code beside it",
            side = LEAST_MODULE_MM * square.modules() as f64
        );
        return Err(Refusal::new("label", found, expected));
    }
    let corner = match lies {
        true => [frame.x + EDGE_MM, frame.y + (frame.height - side) / 2.0],
        false => [frame.x + (frame.width - side) / 2.0, frame.y + PAD_MM],
    };
    drawing.raw(&square.svg(corner, side));
    lines.draw(drawing, words);
    Ok(())
}

/// The words of a tag, each with how large it is beside the others, the weightiest first; and
/// whether the second of them is a name, which stands above the code.
struct Lines {
    lines: Vec<(f64, bool, String)>,
    has_name: bool,
}

/// From a baseline to the next, in sizes of the type.
const LEADING: f64 = 1.2;
/// Room for the short code alone.
const LEAST_WORDS_MM: f64 = LEAST_TYPE_MM * LEADING;

impl Lines {
    fn of(plot: &Plot, ix: TreeIx) -> Self {
        let tree = plot.tree(ix);
        let code = Code::of(tree.id()).map_or_else(|| tree.id().to_string(), |it| it.to_string());
        let tag = tree.tag_to_read().filter(|tag| *tag != code);
        let genotype = tree.draft().genotype.as_ref().map(GenotypeId::as_str);
        let place = tree.row().zip(tree.place());
        let cross = (!tree.cross().is_unknown()).then(|| tree.cross().to_string());
        let year = tree.draft().cross_year.map(|year| year.to_string());
        let number = tree.draft().seedling_no.as_ref().map(|number| say!("no. {number}"));
        let born: Vec<String> = [year, number].into_iter().flatten().collect();
        let name = tag.or(genotype);
        let lines = [
            Some((1.0, name.is_none(), code)),
            name.map(|name| (1.5, true, name.to_owned())),
            place.map(|(row, place)| (1.0, false, say!("row {row} · place {place}"))),
            cross.map(|cross| (1.0, false, cross)),
            (!born.is_empty()).then(|| (1.0, false, born.join(", "))),
        ];
        Self { lines: lines.into_iter().flatten().collect(), has_name: name.is_some() }
    }

    /// As many lines as fit at the least size, as large as they may be. Name above, code below.
    fn draw(mut self, drawing: &mut Drawing, frame: Frame) {
        const LARGEST_MM: f64 = 6.0;
        let unit = loop {
            let sum: f64 = self.lines.iter().map(|(weight, ..)| weight * LEADING).sum();
            let unit = (frame.height / sum).min(LARGEST_MM);
            if unit >= LEAST_TYPE_MM || self.lines.len() == 1 {
                break unit.max(LEAST_TYPE_MM);
            }
            self.lines.pop();
        };
        if self.has_name && self.lines.len() > 1 {
            self.lines.swap(0, 1);
        }
        let used: f64 = self.lines.iter().map(|(weight, ..)| weight * LEADING * unit).sum();
        let mut y = frame.y + ((frame.height - used) / 2.0).max(0.0);
        for (weight, bold, words) in &self.lines {
            let full = Type { size_mm: weight * unit, bold: *bold, ..Type::points(8.0) };
            // Smaller before it is pressed or cut.
            let fits = frame.width / full.width_mm(words).max(0.1);
            let size_mm = (full.size_mm * fits.min(1.0)).max(LEAST_TYPE_MM);
            let set = Type { size_mm, ..full };
            y += full.size_mm * LEADING;
            let at = [frame.x, y - 0.3 * full.size_mm];
            // A code that is cut finds nothing.
            match Code::read(words).is_some() && set.width_mm(words) < 2.0 * frame.width {
                true => drawing.held(at, set, frame.width, words),
                false => drawing.text_within(at, set, frame.width, words),
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::testing::{book, lantern};
    use crate::{LabelSize, Paper};

    fn asked<'a>(plot: &'a Plot, trees: &'a [TreeIx], size: LabelSize) -> Tags<'a> {
        let sheet = LabelSheet::grid(Paper::A4, size);
        Tags { plot, trees, sheet, start: 1, address: None, outlined: false }
    }

    #[test]
    fn each_tree_has_a_square_code_and_its_short_code_at_every_size() {
        let book = lantern();
        let trees: Vec<TreeIx> = (0..50).map(TreeIx::new).collect();
        for size in [LabelSize::Small, LabelSize::Medium, LabelSize::Large] {
            let pages = tags(&asked(book.plot(), &trees, size)).expect("pages");
            let all: String = pages.iter().map(|page| page.svg.as_str()).collect();
            assert_eq!(all.matches("<path shape-rendering").count(), 50, "{size:?}");
            for &tree in &trees {
                let code = Code::of(book.plot().tree(tree).id()).expect("a code");
                assert!(all.contains(&format!(">{code}<")), "{code}");
            }
            assert!(all.contains(">MB-1<") && all.contains("row 1 · place 1"), "{size:?}");
            assert_eq!(pages.len(), 50_usize.div_ceil(LabelSheet::grid(Paper::A4, size).count()));
        }
    }

    #[test]
    fn a_half_used_sheet_is_used_up() {
        let book = lantern();
        let trees: Vec<TreeIx> = (0..24).map(TreeIx::new).collect();
        let begun = Tags { start: 22, ..asked(book.plot(), &trees, LabelSize::Medium) };
        let pages = tags(&begun).expect("pages");
        let squares = |page: &Page| page.svg.matches("<path shape-rendering").count();
        assert_eq!(pages.iter().map(squares).collect::<Vec<_>>(), [3, 21]);
        // The 22nd label is the first of the last row.
        let first = begun.sheet.frame(21);
        let corner = |page: &Page| {
            let (_, at) = page.svg.split_once("translate(").expect("a square code");
            at.split([' ', ')']).take(2).map(|it| it.parse().expect("mm")).collect::<Vec<f64>>()
        };
        let at = corner(&pages[0]);
        let is_within = |at: f64, from: f64, long: f64| (from..from + long).contains(&at);
        assert!(is_within(at[0], first.x, first.width) && is_within(at[1], first.y, first.height));
        assert!(corner(&pages[1])[1] < 30.0, "the next sheet begins at its top");
        for start in [0, 25] {
            let refusal = tags(&Tags { start, ..begun.clone() }).expect_err("refused");
            assert_eq!(refusal.column, "start");
        }
    }

    #[test]
    fn a_label_without_room_is_refused_and_a_hostile_tag_stays_words() {
        let book = book("tree_id,row,place,tag\nT1,1,1,\"<script>alert('x')</script>\"\n", "");
        let trees = [TreeIx::new(0)];
        let asked = asked(book.plot(), &trees, LabelSize::Medium);
        let pages = tags(&asked).expect("a page");
        assert!(!pages[0].svg.contains("<script") && pages[0].svg.contains("&lt;script"));
        for label_mm in [[20.0, 10.0], [12.0, 40.0], [24.0, 8.0]] {
            let sheet = LabelSheet { label_mm, pitch_mm: label_mm, rows: 2, ..asked.sheet };
            let refusal = tags(&Tags { sheet, ..asked.clone() }).expect_err("refused");
            assert_eq!(refusal.column, "label", "{label_mm:?}");
        }
        assert_eq!(tags(&Tags { trees: &[], ..asked }).expect_err("refused").column, "trees");
    }

    #[test]
    fn a_test_page_numbers_the_labels_beside_a_ruler() {
        let page = test_page(&LabelSheet::grid(Paper::Letter, LabelSize::Small)).expect("a page");
        assert!(page.svg.contains(">48<") && page.svg.contains(">100 mm<"));
        assert_eq!(page.size_mm, [215.9, 279.4]);
    }
}
