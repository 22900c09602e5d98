//! Row numbers at both ends of each row, and what the ends are called.

mod names;

use std::collections::BTreeMap;

use plot::{Plot, Spot};

use crate::clear::ScreenBox;
use crate::{Camera, Clear, Point};

pub use names::{EndName, end_names};

/// A row and where it begins and ends.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RowEnds {
    /// Its number.
    pub row: i32,
    /// The spot of its lowest place.
    pub low: Spot,
    /// The spot of its highest place.
    pub high: Spot,
}

/// A row's number on the screen, its middle at `at`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct RowNumber {
    /// The number.
    pub row: i32,
    /// Where.
    pub at: Point,
    /// Whether it stands at the screen's edge, over the row, since the row's end is out of sight.
    pub at_edge: bool,
}

/// The rows of a plot by number; trees without a row have none.
pub(crate) fn ends(plot: &Plot) -> Vec<RowEnds> {
    let mut rows: BTreeMap<i32, [(i32, Spot); 2]> = BTreeMap::new();
    for tree in plot.trees() {
        let (Some(row), Some(place)) = (tree.row(), tree.place()) else { continue };
        let here = (place, tree.spot());
        let [low, high] = rows.entry(row).or_insert([here; 2]);
        if place < low.0 {
            *low = here;
        }
        if place > high.0 {
            *high = here;
        }
    }
    rows.into_iter().map(|(row, [low, high])| RowEnds { row, low: low.1, high: high.1 }).collect()
}

/// How far beyond the last tree a row's number stands, CSS pixels.
const BEYOND_PX: f64 = 18.0;
/// Room that a row's number takes, CSS pixels.
const ROOM_PX: f64 = 20.0;
/// Least distance between the numbers of two rows, CSS pixels.
const LEAST_GAP_PX: f64 = 17.0;
/// Two numbers of one row nearer than this are one, CSS pixels.
const TWICE_PX: f64 = 60.0;
/// How far a number at the screen's edge moves at a time to get clear of a button, CSS pixels.
const STEP_PX: f64 = 4.0;

/// The numbers at both ends of the rows, as many as stand clear of each other: every row, every
/// second, fifth, tenth … Where an end is out of sight, the number stands where the row leaves
/// what is clear of the screen, so that a person close up knows the row.
pub fn numbers(rows: &[RowEnds], camera: &Camera, clear: &Clear) -> Vec<RowNumber> {
    let every = step(rows, camera);
    let mut numbers = Vec::new();
    for one in rows.iter().filter(|one| every == 1 || one.row % every == 0) {
        let [low, high] = beyond(one, camera);
        let low_number = number(one.row, low, high, camera, clear);
        let high_number = number(one.row, high, low, camera, clear);
        let twice = |number: &RowNumber| {
            let other = low_number.filter(|low| number.at_edge || low.at_edge);
            other.is_some_and(|other| other.at.distance(number.at) < TWICE_PX)
        };
        numbers.extend(low_number);
        numbers.extend(high_number.filter(|number| !twice(number)));
    }
    numbers
}

/// The number of a row at one end of it, or where the row comes into sight from there.
fn number(row: i32, end: Point, other: Point, camera: &Camera, clear: &Clear) -> Option<RowNumber> {
    let room = |at: Point| ScreenBox::around(at, ROOM_PX / 2.0);
    let is_clear = |at: Point| clear.holds(camera.viewport, room(at));
    if is_clear(end) {
        return Some(RowNumber { row, at: end, at_edge: false });
    }
    let inner = clear.frame(camera.viewport).grown(-ROOM_PX / 2.0 - 0.5);
    let (first, last) = inner.part_of(end, other)?;
    let length = end.distance(other);
    let along = |px: f64| {
        let way = px / length;
        Point { x: end.x + (other.x - end.x) * way, y: end.y + (other.y - end.y) * way }
    };
    let steps = ((last - first) * length / STEP_PX) as usize;
    let places = (0..=steps).map(|step| along(first * length + step as f64 * STEP_PX));
    let at = places.into_iter().find(|at| is_clear(*at))?;
    Some(RowNumber { row, at, at_edge: true })
}

/// Where the numbers of a row stand: a little beyond its ends.
fn beyond(one: &RowEnds, camera: &Camera) -> [Point; 2] {
    let (low, high) = (camera.screen_from_plot(one.low), camera.screen_from_plot(one.high));
    let (right, down) = outwards(low, high, camera);
    let beyond = |end: Point, px: f64| Point { x: end.x + px * right, y: end.y + px * down };
    [beyond(low, -BEYOND_PX), beyond(high, BEYOND_PX)]
}

/// Unit vector on the screen from the low end to the high one; along the plot's x axis for a row
/// of one tree.
fn outwards(low: Point, high: Point, camera: &Camera) -> (f64, f64) {
    let length = low.distance(high);
    if length > 1e-6 {
        return ((high.x - low.x) / length, (high.y - low.y) / length);
    }
    let [xx, _, _, yx, _, _] = camera.affine();
    (xx / camera.px_per_m, yx / camera.px_per_m)
}

/// 1, 2, 5, 10 …: every how many rows a number fits.
fn step(rows: &[RowEnds], camera: &Camera) -> i32 {
    let gaps = rows.windows(2).map(|pair| {
        let at = |one: &RowEnds| camera.screen_from_plot(one.low);
        at(&pair[0]).distance(at(&pair[1])) / f64::from((pair[1].row - pair[0].row).max(1))
    });
    let mut gaps: Vec<f64> = gaps.collect();
    gaps.sort_by(f64::total_cmp);
    let Some(&gap_px) = gaps.get(gaps.len() / 2) else { return 1 };
    let steps = (0..9).flat_map(|power| [1, 2, 5].map(|times| times * 10_i32.pow(power)));
    steps
        .into_iter()
        .find(|&every| f64::from(every) * gap_px >= LEAST_GAP_PX)
        .unwrap_or(1_000_000_000)
}
