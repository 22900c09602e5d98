//! Classes: what kinds of mark there are, and how each looks, whatever the theme.

use crate::{Ink, Shape, Theme};

/// What a mark stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Kind {
    /// A place with nothing in it.
    EmptyPlace,
    /// Dead or taken out.
    Gone,
    /// Without what the trait needs to be shown.
    NotAtRisk,
    /// No score.
    NotScored,
    /// Looked for but could not be scored.
    CouldNotScore,
    /// The data carry no judgement, or none was made yet.
    CannotTell,
    /// Looked at and clean.
    Clean,
    /// Tissue affected, in steps 0 (least) to 4.
    Severity(u8),
    /// Any other amount, in steps 0 (least) to 4.
    Amount(u8),
    /// Less or more than expected: 0 (far less) over 2 (as expected) to 4 (far more).
    Departure(u8),
    /// With symptoms, where the layer is about clean trees.
    Infected,
    /// Clean, luck above 0.25.
    Untested,
    /// Clean, luck at most 0.25.
    Leaning,
    /// Clean, luck at most 0.05.
    Proven,
    /// A named sort, check or guard, where the layer is about seedlings.
    Sort,
    /// Of an unordered class that has no place in the set.
    Other,
    /// The nth of unordered classes, 0 to [`Kind::MEMBERS`] − 1.
    Member(u8),
}

/// How a mark is drawn.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Look {
    /// Its outline.
    pub shape: Shape,
    /// What fills it; paper is no colour.
    pub fill: Ink,
    /// What draws its outline.
    pub line: Ink,
    /// Its size, 1 for the ordinary one.
    pub size: f32,
}

impl Look {
    /// What draws the strokes within its outline.
    pub(crate) fn stroke_ink(self, theme: Theme) -> Ink {
        if self.fill == Ink::Paper { self.line } else { theme.on(self.fill) }
    }
}

impl Kind {
    /// How many unordered classes can be told apart: 7 colours and 8 shapes, each neighbour
    /// differing in both.
    pub const MEMBERS: usize = 56;

    /// Whether it is a result: only these are ever coloured.
    pub fn is_result(self) -> bool {
        self >= Self::Clean
    }

    /// How it looks. Clean is an open ring; *not scored* a broken one, *could not be scored* one
    /// with a bar through it, *cannot tell* one with a gap: all four differ without colour. The
    /// more there is of something, the more corners its mark has. Less than expected
    /// points down, more points up.
    pub fn look(self) -> Look {
        const CORNERS: [Shape; 4] = [Shape::Triangle, Shape::Square, Shape::Hexagon, Shape::Star];
        // The least severity is a ring with a fleck in it: an empty one is clean.
        let corners = |nth: usize, least| nth.checked_sub(1).map_or(least, |nth| CORNERS[nth]);
        const SIZES: [f32; 5] = [0.8, 0.92, 0.92, 1.02, 1.08];
        const MEMBERS: [Shape; 8] = [
            Shape::Disc,
            Shape::Square,
            Shape::Triangle,
            Shape::Diamond,
            Shape::Hexagon,
            Shape::Wedge,
            Shape::Plus,
            Shape::Star,
        ];
        let solid = |shape, fill, size| Look { shape, fill, line: Ink::Line, size };
        let open = |shape, line, size| Look { shape, fill: Ink::Paper, line, size };
        match self {
            Self::EmptyPlace => open(Shape::Dot, Ink::Faint, 0.5),
            Self::Gone => open(Shape::Cross, Ink::Faint, 0.7),
            Self::NotAtRisk => open(Shape::HalfRing, Ink::Faint, 0.9),
            Self::NotScored => open(Shape::BrokenRing, Ink::Faint, 0.9),
            Self::CouldNotScore => open(Shape::BarredRing, Ink::Faint, 0.9),
            Self::CannotTell => open(Shape::GapRing, Ink::Faint, 0.9),
            Self::Clean => open(Shape::Ring, Ink::Line, 0.9),
            Self::Severity(step) => {
                let nth = usize::from(step.min(4));
                solid(corners(nth, Shape::Eye), Ink::Severity(step.min(4)), SIZES[nth])
            }
            Self::Amount(step) => {
                let nth = usize::from(step.min(4));
                solid(corners(nth, Shape::Disc), Ink::Amount(step.min(4)), SIZES[nth])
            }
            Self::Departure(step) => {
                const SHAPES: [Shape; 5] = [
                    Shape::DottedWedge,
                    Shape::Wedge,
                    Shape::Disc,
                    Shape::Triangle,
                    Shape::DottedTriangle,
                ];
                const SIZES: [f32; 5] = [1.08, 0.9, 0.66, 0.9, 1.08];
                let nth = usize::from(step.min(4));
                let line = if nth == 2 { Ink::Faint } else { Ink::Line };
                Look { line, ..solid(SHAPES[nth], Ink::Departure(step.min(4)), SIZES[nth]) }
            }
            Self::Infected => solid(Shape::Diamond, Ink::Infected, 0.8),
            Self::Untested => solid(Shape::Eye, Ink::Untested, 0.95),
            Self::Leaning => solid(Shape::HalfDisc, Ink::Leaning, 1.0),
            Self::Proven => solid(Shape::Disc, Ink::Proven, 1.05),
            Self::Sort => open(Shape::Eye, Ink::Line, 0.9),
            Self::Other => open(Shape::Ring, Ink::Line, 0.8),
            Self::Member(nth) => {
                let shape = MEMBERS[usize::from(nth) % MEMBERS.len()];
                solid(shape, Ink::Member(nth % 7), 1.0)
            }
        }
    }
}

/// A class of a sheet: one line of its legend.
#[derive(Clone, Debug, PartialEq)]
pub struct Class {
    /// What it stands for.
    pub kind: Kind,
    /// Its short words: `clean`, `4 to 5`, `25 to 50 %`.
    pub label: String,
    /// More about it, where there is more to say.
    pub detail: Option<String>,
    /// Marks of it.
    pub count: usize,
}

impl Class {
    /// A class without marks yet.
    pub(crate) fn new(kind: Kind, label: impl Into<String>) -> Self {
        Self { kind, label: label.into(), detail: None, count: 0 }
    }

    /// The same with more words.
    pub(crate) fn saying(self, detail: impl Into<String>) -> Self {
        Self { detail: Some(detail.into()), ..self }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Kinds that can stand on one sheet together.
    fn sheets() -> Vec<Vec<Kind>> {
        let nothing = [
            Kind::EmptyPlace,
            Kind::Gone,
            Kind::NotAtRisk,
            Kind::NotScored,
            Kind::CouldNotScore,
            Kind::CannotTell,
        ];
        let with = |kinds: Vec<Kind>| nothing.into_iter().chain(kinds).collect();
        vec![
            with((0..5).map(Kind::Severity).chain([Kind::Clean]).collect()),
            with((0..5).map(Kind::Amount).chain([Kind::Infected]).collect()),
            with((0..5).map(Kind::Departure).collect()),
            with(vec![Kind::Infected, Kind::Untested, Kind::Leaning, Kind::Proven]),
            with((0..8).map(Kind::Member).chain([Kind::Sort, Kind::Other]).collect()),
        ]
    }

    #[test]
    fn each_class_of_a_sheet_has_a_shape_of_its_own() {
        for kinds in sheets() {
            let shapes: Vec<Shape> = kinds.iter().map(|kind| kind.look().shape).collect();
            for (nth, shape) in shapes.iter().enumerate() {
                assert!(!shapes[..nth].contains(shape), "{:?}: {shape:?} twice", kinds[nth]);
            }
        }
    }

    #[test]
    fn only_results_are_coloured() {
        for kind in sheets().into_iter().flatten() {
            let plain = matches!(kind.look().fill, Ink::Paper);
            let open = !kind.is_result() || matches!(kind, Kind::Clean | Kind::Sort | Kind::Other);
            assert_eq!(plain, open, "{kind:?}");
        }
    }

    #[test]
    fn no_two_members_look_the_same() {
        let looks: Vec<Look> =
            (0..Kind::MEMBERS as u8).map(|nth| Kind::Member(nth).look()).collect();
        for (nth, look) in looks.iter().enumerate() {
            assert!(!looks[..nth].contains(look), "{nth}");
        }
    }
}
