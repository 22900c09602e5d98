//! Field sheets: the trees of a walk in walking order, with a box for each score.

mod columns;
mod flow;

use language::say;
use plot::{Kind, Plot, Refusal, TraitIx, TreeIx};
use scene::words::{self, cautions};
use walk::{Ends, Wish};

use crate::drawing::{Anchor, Drawing, Frame, Type};
use crate::letters::wrapped;
use crate::ruler::{RULER_HEIGHT_MM, ruler};
use crate::{Format, Page};
use columns::{Columns, ROOM_X_MM};
use flow::{Item, Lines};

/// What field sheets are printed of.
#[derive(Clone, Debug)]
pub struct FieldSheets<'a> {
    /// The plot.
    pub plot: &'a Plot,
    /// What the ends of its rows are called.
    pub ends: &'a Ends,
    /// What is scored, at least one trait.
    pub traits: &'a [TraitIx],
    /// Which trees, and in which order.
    pub wish: &'a Wish,
    /// The paper.
    pub format: Format,
}

const TOP_MM: f64 = 9.0;
const BOTTOM_MM: f64 = 8.0;
/// Name, traits, and the lines for scorer and date.
const HEADING_MM: f64 = 23.0;
/// Words of caution and scales on the first page.
const SMALL: Type = Type::points(8.5);
const SMALL_LINE_MM: f64 = 3.7;

/// Field sheets: on each page the plot, what is scored, lines for scorer and date, which page of
/// how many, a ruler; then by row the trees that stand, with tag, short code, cross, the last score
/// and a box for each trait, and room for a note. The first page says what to mind and what the
/// scores mean.
///
/// # Errors
/// No trait, or more than have room on the page; no tree to walk to.
pub fn field_sheets(asked: &FieldSheets<'_>) -> Result<Vec<Page>, Refusal> {
    let columns = Columns::of(asked)?;
    let key = Key::of(asked);
    let bottom = asked.format.size_mm()[1] - BOTTOM_MM - RULER_HEIGHT_MM - 3.0;
    let first = TOP_MM + HEADING_MM + columns.head_mm();
    let pages = flow::pages(asked, [bottom - first - key.height_mm(), bottom - first])?;
    let of = pages.len();
    let drawn = pages.into_iter().enumerate().map(|(nth, lines)| {
        let mut drawing = Drawing::default();
        heading(&mut drawing, asked, [nth + 1, of]);
        let mut y = TOP_MM + HEADING_MM;
        if nth == 0 {
            y = key.draw(&mut drawing, y);
        }
        columns.head(&mut drawing, asked.plot, y);
        table(&mut drawing, asked, &columns, y + columns.head_mm(), &lines);
        let room = asked.format.size_mm()[0] - 2.0 * ROOM_X_MM;
        ruler(&mut drawing, [ROOM_X_MM, asked.format.size_mm()[1] - BOTTOM_MM], room);
        let title =
            say!("{plot}, field sheet {nth} of {of}", plot = asked.plot.head().name, nth = nth + 1);
        drawing.page(asked.format, &title)
    });
    Ok(drawn.collect())
}

/// The trees of a page, row by row.
fn table(drawing: &mut Drawing, asked: &FieldSheets<'_>, columns: &Columns, y: f64, lines: &Lines) {
    let mut y = y;
    for item in lines {
        match item {
            Item::Leg(words) => {
                drawing.text([ROOM_X_MM, y + 4.6], Type::points(10.0).bold(), words);
            }
            Item::Stop(tree) => columns.line(drawing, asked.plot, y, *tree),
        }
        y += item.height_mm();
    }
}

/// Plot, traits, page of pages, and the lines that are filled in.
fn heading(drawing: &mut Drawing, asked: &FieldSheets<'_>, [nth, of]: [usize; 2]) {
    let width = asked.format.size_mm()[0] - 2.0 * ROOM_X_MM;
    let (left, right) = (ROOM_X_MM, ROOM_X_MM + width);
    let page = Type::points(10.0).anchored(Anchor::End);
    drawing.text([right, TOP_MM + 4.0], page, &say!("page {nth} of {of}"));
    let name = Type::points(13.0).bold();
    drawing.text_within([left, TOP_MM + 4.0], name, width - 30.0, &asked.plot.head().name);
    let traits: Vec<&str> =
        asked.traits.iter().map(|&ix| asked.plot.trait_of(ix).label.as_str()).collect();
    drawing.text_within([left, TOP_MM + 9.8], Type::points(10.0), width, &traits.join(", "));
    let mut x = left;
    for (word, share) in [(say!("Scorer"), 0.4), (say!("Date"), 0.3), (say!("Round"), 0.3)] {
        let set = Type::points(10.0);
        let from = x + set.width_mm(word) + 2.5;
        drawing.text([x, TOP_MM + 19.0], set, word);
        x += width * share;
        drawing.line([from, TOP_MM + 19.6], [x - 4.0, TOP_MM + 19.6], 0.2, "#111");
    }
}

/// What to mind and what the scores mean, in lines that fit.
struct Key {
    lines: Vec<(bool, String)>,
}

impl Key {
    fn of(asked: &FieldSheets<'_>) -> Self {
        let room = asked.format.size_mm()[0] - 2.0 * ROOM_X_MM;
        let plot = asked.plot;
        let mut told: Vec<(bool, String)> = Vec::new();
        for (seen, _) in cautions::on_tools(plot) {
            told.push((true, format!("{seen} {}", cautions::clean_first())));
        }
        let mut diseases: Vec<&str> = Vec::new();
        for disease in asked.traits.iter().filter_map(|&ix| plot.trait_of(ix).disease.as_deref()) {
            if !diseases.contains(&disease) {
                diseases.push(disease);
            }
        }
        for disease in diseases {
            let minded = cautions::of_disease(plot, disease);
            if !minded.is_empty() {
                told.push((false, minded.join(" ")));
            }
        }
        told.extend(asked.traits.iter().map(|&ix| (false, scale(plot, ix))));
        told.push((false, say!("Leave a box empty where you did not look.").to_owned()));
        let lines = told.into_iter().flat_map(|(bold, words)| {
            let lines = wrapped(&words, SMALL.size_mm, bold, room);
            lines.into_iter().map(move |line| (bold, line))
        });
        Self { lines: lines.collect() }
    }

    fn height_mm(&self) -> f64 {
        self.lines.len() as f64 * SMALL_LINE_MM + 2.0
    }

    /// Gives where it ends.
    fn draw(&self, drawing: &mut Drawing, y: f64) -> f64 {
        for (nth, (bold, line)) in self.lines.iter().enumerate() {
            let set = if *bold { SMALL.bold() } else { SMALL };
            let at = [ROOM_X_MM, y + SMALL_LINE_MM * (nth as f64 + 0.6)];
            drawing.held(at, set, f64::MAX, line);
        }
        y + self.height_mm()
    }
}

/// What is written for a trait: `Scab on leaves: 0 = none seen; 1 = some.`
fn scale(plot: &Plot, ix: TraitIx) -> String {
    let one = plot.trait_of(ix);
    let what = match &one.kind {
        Kind::Ordinal(scale) => {
            let step =
                |step: &plot::Step| format!("{} = {}", words::number(step.value), step.label);
            scale.steps().iter().map(step).collect::<Vec<_>>().join("; ")
        }
        Kind::Number { unit, .. } => match unit {
            Some(unit) => say!("a number in {unit}"),
            None => say!("a number").to_owned(),
        },
    };
    format!("{}: {what}.", one.label)
}

/// A box that is written into.
fn empty_box(drawing: &mut Drawing, frame: Frame) {
    drawing.outline(frame, 0.25, "#111");
}

/// What the trees of a walk stand for: its short code, or nothing.
fn short_code(plot: &Plot, tree: TreeIx) -> String {
    plot::Code::of(plot.tree(tree).id()).map_or_else(String::new, |code| code.to_string())
}

#[cfg(test)]
mod tests;
