//! Row numbers, to stand at both ends of each row.

use std::collections::BTreeMap;

use plot::{Plot, Spot};

use crate::{Camera, Point};

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

/// The numbers at both ends of the rows, as many as stand clear of each other: every row, every
/// second, fifth, tenth …
pub fn numbers(rows: &[RowEnds], camera: &Camera) -> Vec<RowNumber> {
    let every = step(rows, camera);
    rows.iter()
        .filter(|one| every == 1 || one.row % every == 0)
        .flat_map(|one| {
            let (low, high) = (camera.screen_from_plot(one.low), camera.screen_from_plot(one.high));
            let (right, down) = outwards(low, high, camera);
            let beyond = |end: Point, way: f64| RowNumber {
                row: one.row,
                at: Point { x: end.x + way * right * BEYOND_PX, y: end.y + way * down * BEYOND_PX },
            };
            [beyond(low, -1.0), beyond(high, 1.0)]
        })
        .collect()
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
    steps.into_iter().find(|&every| f64::from(every) * gap_px >= ROOM_PX).unwrap_or(1_000_000_000)
}
