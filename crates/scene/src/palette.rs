//! Colours: a table for paper by day and one for the evening, told apart by every eye, and greys for
//! what a printer puts on white paper in black alone.
//!
//! Ordered steps are five of viridis (severity) and five of cividis (other amounts), least to
//! most; both run evenly in lightness, so that a grey print keeps the order. On light paper more is
//! darker, in the dark theme more is brighter: the farther from the ground a mark stands, the more
//! there is. Unordered classes are those of Okabe & Ito 2008 (as in Wong 2011, Nature Methods
//! 8:441), some lighter or darker to stand off both grounds.
//!
//! The ground under the marks is tinted so faintly that outlines keep their contrast on it.
//!
//! `tests/palette.rs` computes the difference of neighbouring classes under the three common
//! deficiencies and holds it above a stated minimum.

use serde::{Deserialize, Serialize};

/// What a part of a mark is drawn with, whatever the theme.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Ink {
    /// The ground that shows through: no colour.
    Paper,
    /// Outlines.
    Line,
    /// Outlines of what is no result.
    Faint,
    /// Tissue affected, 0 (least) to 4.
    Severity(u8),
    /// Any other amount, 0 (least) to 4.
    Amount(u8),
    /// Less or more than expected, 0 (far less) over 2 (as expected) to 4 (far more).
    Departure(u8),
    /// What tints the ground under the marks, 0 (least) to 3.
    Tint(u8),
    /// With symptoms.
    Infected,
    /// Clean and untested.
    Untested,
    /// Clean and leaning.
    Leaning,
    /// Clean and proven.
    Proven,
    /// The nth of seven unordered colours.
    Member(u8),
}

/// Light or dark.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
pub enum Theme {
    /// Near-black ink on paper.
    #[default]
    Day,
    /// Light ink on a dark ground.
    Evening,
    /// Black ink on white paper, and greys between.
    Grey,
}

/// Red, green and blue of sRGB.
pub type Rgb = [u8; 3];

/// Matplotlib's viridis at 0, ¼, ½, ¾ and 1 (Smith & van der Walt 2015, released into the public
/// domain).
const VIRIDIS: [Rgb; 5] =
    [[68, 1, 84], [59, 82, 139], [33, 145, 140], [94, 201, 98], [253, 231, 37]];

/// Cividis at 0, ¼, ½, ¾ and 1 (Nuñez, Anderton & Renslow 2018, PLoS ONE 13:e0199239).
const CIVIDIS: [Rgb; 5] =
    [[0, 34, 78], [67, 78, 108], [125, 124, 120], [187, 173, 109], [254, 232, 56]];

/// Vermilion, blue, yellow, bluish green, reddish purple, sky blue, orange: neighbours in this
/// order differ most.
const MEMBERS: [Rgb; 7] = [
    [213, 94, 0],
    [0, 114, 178],
    [240, 228, 66],
    [0, 158, 115],
    [204, 121, 167],
    [86, 180, 233],
    [230, 159, 0],
];

/// Purple over a near paper to orange: Brewer's PuOr (Harrower & Brewer 2003, The Cartographic
/// Journal 40:27–37), its middle nearer to our paper.
const DEPARTURES_BY_DAY: [Rgb; 5] =
    [[84, 39, 136], [153, 142, 195], [235, 232, 226], [241, 163, 64], [179, 88, 6]];
/// The same for the evening: the ends are bright, the middle is dark.
const DEPARTURES_BY_EVENING: [Rgb; 5] =
    [[200, 186, 255], [128, 115, 172], [52, 52, 50], [190, 105, 20], [255, 190, 110]];

/// From paper to a light mauve, and from the dark ground to a dark plum, in equal steps of CIELAB:
/// hues that no mark has.
const TINTS_BY_DAY: [Rgb; 4] = [[238, 230, 230], [226, 214, 221], [214, 197, 211], [201, 181, 202]];
const TINTS_BY_EVENING: [Rgb; 4] = [[36, 32, 35], [52, 41, 51], [68, 51, 68], [85, 60, 86]];

/// Ordered steps in grey, least to most: more is darker.
const STEPS_IN_GREY: [u8; 5] = [238, 190, 138, 85, 25];
/// Unordered classes in grey; their shapes differ, too.
const MEMBERS_IN_GREY: [u8; 7] = [30, 200, 90, 240, 130, 60, 170];
/// Less and more than expected in grey: the shape says which of the two.
const DEPARTURES_IN_GREY: [u8; 5] = [70, 160, 250, 160, 70];

/// An ink in grey, 0 for black.
fn grey(ink: Ink) -> u8 {
    let of = |table: &[u8], step: u8| table[usize::from(step).min(table.len() - 1)];
    match ink {
        Ink::Paper => 255,
        Ink::Line => 17,
        Ink::Faint => 92,
        Ink::Severity(step) | Ink::Amount(step) => of(&STEPS_IN_GREY, step),
        Ink::Departure(step) => of(&DEPARTURES_IN_GREY, step),
        Ink::Tint(step) => of(&[235, 216, 198, 180], step),
        Ink::Infected => 118,
        Ink::Untested => 228,
        Ink::Leaning => 168,
        Ink::Proven => 20,
        Ink::Member(nth) => of(&MEMBERS_IN_GREY, nth % 7),
    }
}

impl Theme {
    /// The colour of an ink.
    pub fn rgb(self, ink: Ink) -> Rgb {
        if self == Self::Grey {
            return [grey(ink); 3];
        }
        let ordered = |table: &[Rgb; 5], step: u8| {
            let nth = usize::from(step.min(4));
            match self {
                Self::Evening => table[nth],
                _ => table[4 - nth],
            }
        };
        let by_theme = |day: Rgb, evening: Rgb| match self {
            Self::Evening => evening,
            _ => day,
        };
        match ink {
            Ink::Paper => by_theme([250, 247, 239], [21, 23, 20]),
            Ink::Line => by_theme([28, 27, 24], [236, 232, 220]),
            Ink::Faint => by_theme([100, 97, 88], [156, 156, 143]),
            Ink::Severity(step) => ordered(&VIRIDIS, step),
            Ink::Amount(step) => ordered(&CIVIDIS, step),
            Ink::Departure(step) => {
                let nth = usize::from(step.min(4));
                by_theme(DEPARTURES_BY_DAY[nth], DEPARTURES_BY_EVENING[nth])
            }
            Ink::Tint(step) => {
                let nth = usize::from(step.min(3));
                by_theme(TINTS_BY_DAY[nth], TINTS_BY_EVENING[nth])
            }
            Ink::Infected => MEMBERS[0],
            Ink::Untested => MEMBERS[2],
            Ink::Leaning => MEMBERS[5],
            Ink::Proven => MEMBERS[1],
            Ink::Member(nth) => MEMBERS[usize::from(nth) % MEMBERS.len()],
        }
    }

    /// The line or paper colour, whichever stands off a fill more.
    pub(crate) fn on(self, fill: Ink) -> Ink {
        let light = |ink: Ink| {
            let [r, g, b] = self.rgb(ink).map(u32::from);
            (2126 * r + 7152 * g + 722 * b) / 10_000
        };
        let (line, paper, fill) = (light(Ink::Line), light(Ink::Paper), light(fill));
        if line.abs_diff(fill) >= paper.abs_diff(fill) { Ink::Line } else { Ink::Paper }
    }

    /// The colour of an ink as CSS and SVG write it: `#d55e00`.
    pub fn hex(self, ink: Ink) -> String {
        let [r, g, b] = self.rgb(ink);
        format!("#{r:02x}{g:02x}{b:02x}")
    }
}
