//! The legend below a map: marks with their words and how many there are, in columns.

use scene::{Class, Sheet, Theme, pieces};

use crate::drawing::{Anchor, Drawing, Type, mm};

/// Entries in columns, read downwards.
pub(super) struct Legend<'a> {
    entries: Vec<&'a Class>,
    columns: usize,
    column_mm: f64,
}

const LINE_MM: f64 = 5.2;
const RADIUS_MM: f64 = 1.7;
/// Least width of a column.
const COLUMN_MM: f64 = 60.0;

impl<'a> Legend<'a> {
    /// In so much room.
    pub(super) fn of(sheet: &'a Sheet, room_mm: f64) -> Self {
        let columns = ((room_mm / COLUMN_MM) as usize).max(1);
        Self { entries: sheet.legend().collect(), columns, column_mm: room_mm / columns as f64 }
    }

    fn lines(&self) -> usize {
        self.entries.len().div_ceil(self.columns)
    }

    pub(super) fn height_mm(&self) -> f64 {
        self.lines() as f64 * LINE_MM + 2.0
    }

    /// From its left upper corner, pressed together where it is higher than the room.
    pub(super) fn draw(&self, drawing: &mut Drawing, [x, y]: [f64; 2], theme: Theme, room_mm: f64) {
        let line_mm = LINE_MM.min(room_mm / self.lines().max(1) as f64);
        for (nth, class) in self.entries.iter().enumerate() {
            let (column, line) = (nth / self.lines(), nth % self.lines());
            let x = x + column as f64 * self.column_mm;
            let y = y + (line as f64 + 0.5) * line_mm;
            mark(drawing, class, [x + RADIUS_MM, y], theme);
            let set = Type::points(9.0);
            let count = class.count.to_string();
            let right = x + self.column_mm - 5.0;
            let room = self.column_mm - 5.0 - set.width_mm(&count) - 3.0 * RADIUS_MM - 3.0;
            drawing.text_within([x + 3.0 * RADIUS_MM, y + 1.1], set, room, &class.label);
            drawing.text([right, y + 1.1], set.anchored(Anchor::End), &count);
        }
    }
}

fn mark(drawing: &mut Drawing, class: &Class, [x, y]: [f64; 2], theme: Theme) {
    drawing.raw(&format!("<g transform=\"translate({} {})\">", mm(x), mm(y)));
    for piece in pieces(class.kind.look(), RADIUS_MM, theme) {
        let line = piece.line.map_or_else(String::new, |(ink, width)| {
            format!(" stroke=\"{ink}\" stroke-width=\"{width:.2}\"")
        });
        drawing.raw(&format!("<path d=\"{}\" fill=\"{}\"{line}/>", piece.path, piece.fill));
    }
    drawing.raw("</g>\n");
}
