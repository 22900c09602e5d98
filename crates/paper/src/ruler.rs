//! The printed ruler: whether a printer kept the size is seen by holding a ruler against it.

use language::say;

use crate::drawing::{Anchor, Drawing, Type};

/// Its length, mm.
pub(crate) const RULER_MM: f64 = 100.0;
/// Room that it takes upwards from its baseline, mm.
pub(crate) const RULER_HEIGHT_MM: f64 = 7.0;

/// Draws the ruler from its left lower corner, with what it is for to its right where so much room
/// is left.
pub(crate) fn ruler(drawing: &mut Drawing, [x, y]: [f64; 2], room_mm: f64) {
    const LINE_MM: f64 = 0.25;
    drawing.line([x, y], [x + RULER_MM, y], LINE_MM, "#111");
    for tenth in 0..=10 {
        let at = x + f64::from(tenth) * RULER_MM / 10.0;
        let long = if tenth % 5 == 0 { 3.0 } else { 1.8 };
        drawing.line([at, y - long], [at, y], LINE_MM, "#111");
    }
    let set = Type::points(8.0);
    for (at, words) in [(0.0, "0"), (50.0, "50"), (100.0, say!("100 mm"))] {
        drawing.text([x + at, y - 3.6], set.anchored(Anchor::Middle), words);
    }
    let words = say!("Not 100 mm long? Print again at 100 %, without fitting.");
    let (from, room_mm) = (x + RULER_MM + 9.0, room_mm - RULER_MM - 9.0);
    if set.width_mm(words) <= room_mm {
        drawing.text_within([from, y - 0.4], set, room_mm, words);
    }
}
