//! What of the screen is clear for words, and boxes of words on it.

use crate::{Insets, Point, Viewport};

/// A box on the screen, CSS pixels.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct ScreenBox {
    /// Its left edge.
    pub left: f64,
    /// Its right edge.
    pub right: f64,
    /// Its upper edge.
    pub top: f64,
    /// Its lower edge.
    pub bottom: f64,
}

impl ScreenBox {
    /// A square around a point.
    pub(crate) fn around(at: Point, radius: f64) -> Self {
        Self::of_size(at, radius * 2.0, radius * 2.0)
    }

    /// A box with its middle at a point.
    pub(crate) fn of_size(at: Point, width: f64, height: f64) -> Self {
        Self {
            left: at.x - width / 2.0,
            right: at.x + width / 2.0,
            top: at.y - height / 2.0,
            bottom: at.y + height / 2.0,
        }
    }

    /// Larger by `px` on each side.
    pub(crate) fn grown(self, px: f64) -> Self {
        Self {
            left: self.left - px,
            right: self.right + px,
            top: self.top - px,
            bottom: self.bottom + px,
        }
    }

    pub(crate) fn meets(self, other: Self) -> bool {
        self.left < other.right
            && other.left < self.right
            && self.top < other.bottom
            && other.top < self.bottom
    }

    /// Whether another lies within it.
    pub(crate) fn holds(self, other: Self) -> bool {
        self.left <= other.left
            && other.right <= self.right
            && self.top <= other.top
            && other.bottom <= self.bottom
    }

    /// The part of the way from one point to another that lies in it, as shares of the way; none
    /// where the way passes by (Liang & Barsky 1984).
    pub(crate) fn part_of(self, from: Point, to: Point) -> Option<(f64, f64)> {
        let (dx, dy) = (to.x - from.x, to.y - from.y);
        let (mut first, mut last) = (0.0_f64, 1.0_f64);
        for (towards, room) in [
            (-dx, from.x - self.left),
            (dx, self.right - from.x),
            (-dy, from.y - self.top),
            (dy, self.bottom - from.y),
        ] {
            if towards == 0.0 {
                if room < 0.0 {
                    return None;
                }
            } else if towards < 0.0 {
                first = first.max(room / towards);
            } else {
                last = last.min(room / towards);
            }
        }
        (first <= last).then_some((first, last))
    }
}

/// What of the screen is clear for words: all but its margins, and what lies over it.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Clear {
    /// Covered, or too near to the edge.
    pub margins: Insets,
    /// Covered by buttons, scale and north.
    pub taken: Vec<ScreenBox>,
}

impl Clear {
    /// The screen without its margins.
    pub(crate) fn frame(&self, viewport: Viewport) -> ScreenBox {
        ScreenBox {
            left: self.margins.left,
            right: viewport.width - self.margins.right,
            top: self.margins.top,
            bottom: viewport.height - self.margins.bottom,
        }
    }

    /// Whether a box stands clear.
    pub(crate) fn holds(&self, viewport: Viewport, one: ScreenBox) -> bool {
        self.frame(viewport).holds(one) && !self.taken.iter().any(|taken| taken.meets(one))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_part_of_a_way_in_a_box() {
        let frame = ScreenBox { left: 0.0, right: 100.0, top: 0.0, bottom: 50.0 };
        let part = |from: (f64, f64), to: (f64, f64)| {
            frame.part_of(Point { x: from.0, y: from.1 }, Point { x: to.0, y: to.1 })
        };
        assert_eq!(part((10.0, 10.0), (90.0, 40.0)), Some((0.0, 1.0)));
        assert_eq!(part((-100.0, 25.0), (300.0, 25.0)), Some((0.25, 0.5)));
        assert_eq!(part((50.0, -50.0), (50.0, 150.0)), Some((0.25, 0.5)));
        assert_eq!(part((-10.0, 60.0), (110.0, 60.0)), None);
        assert_eq!(part((-30.0, 20.0), (30.0, -40.0)), None);
        assert_eq!(part((200.0, 20.0), (300.0, 20.0)), None);
    }

    #[test]
    fn words_stand_clear_of_margins_and_buttons() {
        let screen = Viewport { width: 200.0, height: 100.0 };
        let clear = Clear {
            margins: Insets { top: 10.0, right: 10.0, bottom: 10.0, left: 10.0 },
            taken: vec![ScreenBox { left: 150.0, right: 190.0, top: 60.0, bottom: 90.0 }],
        };
        let holds = |x: f64, y: f64| clear.holds(screen, ScreenBox::around(Point { x, y }, 8.0));
        assert!(holds(20.0, 20.0) && holds(180.0, 50.0));
        assert!(!holds(16.0, 50.0) && !holds(100.0, 95.0));
        assert!(!holds(170.0, 75.0));
    }
}
