//! What a receiver measured against what the plan says: a line from each place to where it was
//! found, drawn longer than it is.

use std::fmt::Write as _;

use plot::{Layout, Spot};

use super::text;
use crate::{Ink, Point, Theme};

/// A place of the plan that was measured.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct MeasuredPlace {
    /// Row number.
    pub row: i32,
    /// Where the plan has it.
    pub plan: Spot,
    /// How far from there it was measured.
    pub off: Spot,
    /// Whether it is far off.
    pub is_suspicious: bool,
}

/// The picture, and how many times longer than they are its lines are drawn.
#[derive(Clone, Debug, PartialEq)]
pub struct MeasuredPicture {
    /// An SVG document.
    pub svg: String,
    /// So many times.
    pub times: u32,
}

/// Most places that are drawn; suspicious ones always are.
const MOST: usize = 3_000;
/// Lines are drawn at most so long, in places.
const LONGEST: f64 = 2.5;
/// Room for row numbers, pixels.
const ROOM: f64 = 34.0;
const TIMES: [u32; 7] = [100, 50, 20, 10, 5, 2, 1];

/// Draws measured places, rows from left to right, about `width` pixels wide, or wider where places
/// would lie too near each other. `usual_m` is how far most of them are off.
pub fn svg_measured(
    places: &[MeasuredPlace],
    layout: &Layout,
    usual_m: f64,
    theme: Theme,
    width: f64,
) -> MeasuredPicture {
    let spacing_m = layout.place_spacing_m.min(layout.row_spacing_m);
    let fits = |times: &u32| usual_m * f64::from(*times) <= spacing_m / 2.0;
    let times = TIMES.into_iter().find(fits).unwrap_or(1);
    let ends = |of: fn(&Spot) -> f64| {
        let all = places.iter().map(|place| of(&place.plan));
        let (least, most) =
            all.fold((f64::INFINITY, f64::NEG_INFINITY), |(a, b), it| (a.min(it), b.max(it)));
        if least > most { (0.0, 0.0) } else { (least, most) }
    };
    let ((x_least, x_most), (y_least, y_most)) = (ends(|spot| spot.x_m), ends(|spot| spot.y_m));
    let extent_m = (x_most - x_least).max(spacing_m);
    let scale = ((width - 2.0 * ROOM) / extent_m).clamp(9.0 / spacing_m, 60.0 / spacing_m);
    let (wide, high) = (extent_m * scale + 2.0 * ROOM, (y_most - y_least) * scale + 2.0 * ROOM);
    let at = |spot: Spot| Point {
        x: ROOM + (spot.x_m - x_least) * scale,
        y: ROOM + (y_most - spot.y_m) * scale,
    };
    let drawn = Drawn { places, times, longest_m: LONGEST * spacing_m, theme };
    let mut svg = format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" viewBox=\"0 0 {wide:.0} {high:.0}\" \
         width=\"{wide:.0}\" height=\"{high:.0}\" font-family=\"system-ui, sans-serif\" \
         font-size=\"13\">\n<rect width=\"100%\" height=\"100%\" fill=\"{}\"/>\n",
        theme.hex(Ink::Paper)
    );
    // Writing to a string cannot fail.
    let _ = drawn.rows(&mut svg, at).and_then(|()| drawn.places(&mut svg, at));
    svg.push_str("</svg>\n");
    MeasuredPicture { svg, times }
}

struct Drawn<'a> {
    places: &'a [MeasuredPlace],
    times: u32,
    longest_m: f64,
    theme: Theme,
}

impl Drawn<'_> {
    /// A thin line along each row, its number at both ends.
    fn rows(&self, out: &mut String, at: impl Fn(Spot) -> Point) -> std::fmt::Result {
        let faint = self.theme.hex(Ink::Faint);
        let mut rows: Vec<(i32, Spot, Spot)> = Vec::new();
        for &MeasuredPlace { row, plan, .. } in self.places {
            match rows.iter_mut().find(|(known, ..)| *known == row) {
                Some((_, from, to)) => {
                    if plan.x_m < from.x_m {
                        *from = plan;
                    }
                    if plan.x_m > to.x_m {
                        *to = plan;
                    }
                }
                None => rows.push((row, plan, plan)),
            }
        }
        for (row, from, to) in rows {
            let (from, to) = (at(from), at(to));
            writeln!(
                out,
                "<path d=\"M{:.1} {:.1}H{:.1}\" stroke=\"{faint}\" stroke-width=\"0.5\"/>",
                from.x, from.y, to.x
            )?;
            for x in [from.x - ROOM / 2.0, to.x + ROOM / 2.0] {
                text(out, Point { x, y: from.y }, "middle", faint.clone(), &row.to_string())?;
            }
        }
        Ok(())
    }

    /// A ring at each place, a line to where it was measured, a box around what is far off.
    fn places(&self, out: &mut String, at: impl Fn(Spot) -> Point) -> std::fmt::Result {
        let (line, faint) = (self.theme.hex(Ink::Line), self.theme.hex(Ink::Faint));
        let each = self.places.len().div_ceil(MOST).max(1);
        let shown = self.places.iter().enumerate();
        for (_, place) in shown.filter(|(nth, one)| nth % each == 0 || one.is_suspicious) {
            let from = at(place.plan);
            let (x_m, y_m) =
                (place.off.x_m * f64::from(self.times), place.off.y_m * f64::from(self.times));
            let length_m = (x_m * x_m + y_m * y_m).sqrt();
            let cut = if length_m > self.longest_m { self.longest_m / length_m } else { 1.0 };
            let to = at(Spot { x_m: place.plan.x_m + x_m * cut, y_m: place.plan.y_m + y_m * cut });
            writeln!(
                out,
                "<circle cx=\"{:.1}\" cy=\"{:.1}\" r=\"2.5\" fill=\"none\" stroke=\"{faint}\"/>\
                 <path d=\"M{:.1} {:.1}L{:.1} {:.1}\" stroke=\"{line}\" stroke-width=\"{}\"/>\
                 <circle cx=\"{:.1}\" cy=\"{:.1}\" r=\"1.8\" fill=\"{line}\"/>",
                from.x,
                from.y,
                from.x,
                from.y,
                to.x,
                to.y,
                if place.is_suspicious { 2.5 } else { 1.2 },
                to.x,
                to.y,
            )?;
            if place.is_suspicious {
                writeln!(
                    out,
                    "<rect x=\"{:.1}\" y=\"{:.1}\" width=\"13\" height=\"13\" fill=\"none\" \
                     stroke=\"{line}\" stroke-width=\"2\"/>",
                    from.x - 6.5,
                    from.y - 6.5
                )?;
            }
        }
        Ok(())
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const LAYOUT: Layout =
        Layout { row_spacing_m: 3.0, place_spacing_m: 0.75, first_row: 1, first_place: 1 };

    fn places(count: i32, off_m: f64) -> Vec<MeasuredPlace> {
        let place = |nth: i32| MeasuredPlace {
            row: nth / 10 + 1,
            plan: LAYOUT.spot(nth / 10 + 1, nth % 10 + 1),
            off: Spot { x_m: off_m, y_m: 0.0 },
            is_suspicious: nth == 3,
        };
        (0..count).map(place).collect()
    }

    #[test]
    fn lines_are_drawn_as_much_longer_as_half_a_place_lets_them() {
        let times =
            |usual_m| svg_measured(&places(20, usual_m), &LAYOUT, usual_m, Theme::Day, 360.0).times;
        assert_eq!([0.001, 0.02, 0.03, 0.3, 5.0].map(times), [100, 10, 10, 1, 1]);
        assert_eq!(svg_measured(&[], &LAYOUT, f64::NAN, Theme::Day, 360.0).times, 1);
    }

    #[test]
    fn every_place_is_drawn_up_to_a_limit_and_what_is_far_off_always() {
        let count = |all: i32, part: &str| {
            let drawn = svg_measured(&places(all, 9.0), &LAYOUT, 0.02, Theme::Evening, 360.0);
            assert!(!drawn.svg.contains("NaN") && !drawn.svg.contains("inf"));
            drawn.svg.matches(part).count()
        };
        assert_eq!(count(20, "r=\"2.5\""), 20);
        assert_eq!((count(20, "width=\"13\""), count(20, "</text>")), (1, 4));
        assert!(count(9_000, "r=\"2.5\"") <= 3_001 && count(9_000, "width=\"13\"") == 1);
    }
}
