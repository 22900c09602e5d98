//! The columns of a field sheet, and one tree in them.

use language::say;
use plot::{Kind, Plot, Refusal, Role, Score, TraitIx, TreeIx};
use scene::words;

use super::{FieldSheets, empty_box, short_code};
use crate::drawing::{Anchor, Drawing, Frame, LEAST_TYPE_MM, POINT_MM, Type};
use crate::letters::wrapped;
use crate::{Format, Orientation};

/// Left and right of everything, mm: most printers leave no less white.
pub(super) const ROOM_X_MM: f64 = 10.0;
/// Height of a tree's line; its boxes are a little lower.
pub(super) const LINE_MM: f64 = 9.0;
const BOX_MM: f64 = 7.6;
const PLACE_MM: f64 = 16.0;
const TAG_MM: f64 = 30.0;
/// Least widths.
const CROSS_MM: f64 = 34.0;
const NOTE_MM: f64 = 26.0;
/// The last score with its month.
const LAST_MM: f64 = 13.0;
/// Between a trait and the next.
const GAP_MM: f64 = 2.5;
const HEAD_LINE_MM: f64 = 3.4;

/// Where the columns stand on a page.
pub(super) struct Columns {
    cross_mm: f64,
    traits: Vec<(TraitIx, Place)>,
    note: [f64; 2],
    head_lines: usize,
    right: f64,
}

/// Where a trait's last score begins, and its box; the box's width.
#[derive(Clone, Copy)]
struct Place {
    last: f64,
    box_x: f64,
    box_mm: f64,
}

impl Columns {
    /// # Errors
    /// No trait, or more than have room.
    pub(super) fn of(asked: &FieldSheets<'_>) -> Result<Self, Refusal> {
        let width = asked.format.size_mm()[0] - 2.0 * ROOM_X_MM;
        let wide = |ix: &TraitIx| LAST_MM + box_mm(asked.plot, *ix) + GAP_MM;
        let taken: f64 = asked.traits.iter().map(wide).sum();
        let rest = width - PLACE_MM - TAG_MM - taken;
        if asked.traits.is_empty() {
            return Err(Refusal::new("trait", say!("none"), say!("at least one trait to score")));
        }
        if rest < CROSS_MM + NOTE_MM {
            let found = say!("{count} traits", count = asked.traits.len());
            return Err(Refusal::new("trait", found, room_for(asked.format)));
        }
        let note_mm = NOTE_MM.max(rest * 0.48);
        let cross_mm = rest - note_mm;
        let mut x = ROOM_X_MM + PLACE_MM + TAG_MM + cross_mm;
        let traits = asked.traits.iter().map(|ix| {
            let box_mm = box_mm(asked.plot, *ix);
            let place = Place { last: x, box_x: x + LAST_MM, box_mm };
            x += LAST_MM + box_mm + GAP_MM;
            (*ix, place)
        });
        let traits: Vec<(TraitIx, Place)> = traits.collect();
        let lines = |(ix, place): &(TraitIx, Place)| head_words(asked.plot, *ix, *place).len();
        Ok(Self {
            cross_mm,
            head_lines: traits.iter().map(lines).max().unwrap_or(0),
            traits,
            note: [x, note_mm - 1.0],
            right: ROOM_X_MM + width,
        })
    }

    /// Height of the heads.
    pub(super) fn head_mm(&self) -> f64 {
        (self.head_lines as f64 + 1.0) * HEAD_LINE_MM + 2.0
    }

    /// The heads of the columns.
    pub(super) fn head(&self, drawing: &mut Drawing, plot: &Plot, y: f64) {
        let base = y + self.head_mm() - 1.6;
        let set = Type::points(8.0);
        let mut x = ROOM_X_MM;
        for (words, width) in
            [(say!("Place"), PLACE_MM), (say!("Tag, code"), TAG_MM), (say!("Cross"), self.cross_mm)]
        {
            drawing.text([x, base], set.bold(), words);
            x += width;
        }
        for (ix, place) in &self.traits {
            for (nth, line) in head_words(plot, *ix, *place).iter().enumerate() {
                let y = y + HEAD_LINE_MM * (nth as f64 + 0.8);
                drawing.held([place.last, y], set.bold(), LAST_MM + place.box_mm, line);
            }
            drawing.text([place.last, base], set, say!("last"));
            let now = [place.box_x + place.box_mm / 2.0, base];
            drawing.text_within(now, set.anchored(Anchor::Middle), place.box_mm, &unit(plot, *ix));
        }
        drawing.text([self.note[0], base], set.bold(), say!("Note"));
        let y = y + self.head_mm();
        drawing.line([ROOM_X_MM, y], [self.right, y], 0.3, "#111");
    }

    /// One tree.
    pub(super) fn line(&self, drawing: &mut Drawing, plot: &Plot, y: f64, ix: TreeIx) {
        let tree = plot.tree(ix);
        let (upper, lower) = (y + 3.9, y + 7.6);
        let (large, small) =
            (Type::points(11.0).bold(), Type { size_mm: LEAST_TYPE_MM, ..Type::points(8.0) });
        let place = tree.place().map_or_else(|| "–".to_owned(), |place| place.to_string());
        drawing.text_within([ROOM_X_MM, upper + 0.4], large, PLACE_MM - 2.0, &place);
        if tree.carrier().is_some() {
            drawing.text([ROOM_X_MM, lower], small, say!("graft"));
        }
        let x = ROOM_X_MM + PLACE_MM;
        match tree.tag_to_read() {
            Some(tag) => drawing.text_within([x, upper + 0.4], large, TAG_MM - 2.0, tag),
            None => drawing.text([x, upper], small.faint(), say!("no tag")),
        }
        drawing.text_within([x, lower], small, TAG_MM - 2.0, &short_code(plot, ix));
        let x = x + TAG_MM;
        let [first, second] = descent(plot, ix);
        let set = Type { size_mm: 9.0 * POINT_MM, ..small };
        drawing.text_within([x, upper], set, self.cross_mm - 2.0, &first);
        drawing.text_within([x, lower], small, self.cross_mm - 2.0, &second);
        let latest = plot.latest_scores(ix);
        for (trait_ix, place) in &self.traits {
            if let Some(score) = latest[trait_ix.get()] {
                let [value, month] = last(score);
                drawing.text_within([place.last, upper], set.bold(), LAST_MM - 1.0, &value);
                drawing.text_within([place.last, lower], small, LAST_MM - 1.0, &month);
            }
            let frame = Frame { x: place.box_x, y: y + 0.7, width: place.box_mm, height: BOX_MM };
            empty_box(drawing, frame);
        }
        let [x, width] = self.note;
        empty_box(drawing, Frame { x, y: y + 0.7, width, height: BOX_MM });
        drawing.line([ROOM_X_MM, y + LINE_MM], [x - GAP_MM, y + LINE_MM], 0.1, "#777");
    }
}

/// Cross, then year and number; of a graft what it stands on, of a check what it is there for.
fn descent(plot: &Plot, ix: TreeIx) -> [String; 2] {
    let tree = plot.tree(ix);
    let draft = tree.draft();
    let cross = (!tree.cross().is_unknown()).then(|| tree.cross().to_string());
    let genotype = draft.genotype.as_ref().map(ToString::to_string);
    let year = draft.cross_year.map(|year| year.to_string());
    let number = draft.seedling_no.as_ref().map(|number| say!("no. {number}"));
    let role = (tree.role() != Role::Seedling).then(|| words::role(tree.role()).to_owned());
    let on = tree.carrier().map(|carrier| say!("on {tree}", tree = plot.tree(carrier).name()));
    let (first, other) = match cross {
        Some(cross) => (cross, genotype),
        None => (genotype.unwrap_or_default(), None),
    };
    let second: Vec<String> = [on, year, number, other, role].into_iter().flatten().collect();
    [first, second.join(", ")]
}

/// The value, and the month in which it was taken.
fn last(score: &Score) -> [String; 2] {
    let day = score.scored_on.date();
    [
        score.value.map(words::number).unwrap_or_default(),
        format!("{:04}-{:02}", day.year(), u8::from(day.month())),
    ]
}

/// A number needs more room than a class.
fn box_mm(plot: &Plot, ix: TraitIx) -> f64 {
    match plot.trait_of(ix).kind {
        Kind::Ordinal(_) => 10.0,
        Kind::Number { .. } => 16.0,
    }
}

fn unit(plot: &Plot, ix: TraitIx) -> String {
    match &plot.trait_of(ix).kind {
        Kind::Number { unit: Some(unit), .. } => unit.clone(),
        _ => say!("now").to_owned(),
    }
}

fn head_words(plot: &Plot, ix: TraitIx, place: Place) -> Vec<String> {
    let mut lines =
        wrapped(&plot.trait_of(ix).label, Type::points(8.0).size_mm, true, LAST_MM + place.box_mm);
    lines.truncate(3);
    lines
}

fn room_for(format: Format) -> &'static str {
    match format.orientation {
        Orientation::Portrait => say!(
            "as many as fit beside cross and note: lay the page (landscape), or print some of them"
        ),
        Orientation::Landscape => say!("as many as fit beside cross and note: print some of them"),
    }
}
