//! What the two ends of the rows are called, written once beyond the row numbers of each.

use walk::Ends;

use super::{BEYOND_PX, ROOM_PX, RowEnds, outwards};
use crate::clear::ScreenBox;
use crate::labels::Setting;
use crate::{Camera, Clear, Point};

/// The name of an end on the screen, its middle at `at`.
#[derive(Clone, Debug, PartialEq)]
pub struct EndName {
    /// Its words.
    pub text: String,
    /// Where.
    pub at: Point,
    /// Its direction, degrees clockwise from rightwards, more than −90 and at most 90: across the
    /// rows, and never upside down.
    pub turn_deg: f64,
}

/// Gap between row numbers and name, CSS pixels.
const GAP_PX: f64 = 2.0;
/// How far a name moves at a time to get clear, CSS pixels.
const STEP_PX: f64 = 6.0;

/// The names of the ends, each beyond the row numbers of its end, in the middle of the rows or as
/// near to it as it stands clear. An end without a name, out of sight or without room has none.
pub fn end_names(
    rows: &[RowEnds],
    ends: &Ends,
    camera: &Camera,
    clear: &Clear,
    setting: Setting<'_>,
) -> Vec<EndName> {
    let Some((right, down)) = direction(rows, camera) else { return Vec::new() };
    let at = |one: &RowEnds| [one.low, one.high].map(|spot| camera.screen_from_plot(spot));
    // Along the rows towards their high end, and across them.
    let along = |at: Point| at.x * right + at.y * down;
    let across = |at: Point| at.y * right - at.x * down;
    let [least, most] = rows
        .iter()
        .flat_map(at)
        .map(across)
        .fold([f64::INFINITY, f64::NEG_INFINITY], |[least, most], one| {
            [least.min(one), most.max(one)]
        });
    let away = BEYOND_PX + ROOM_PX / 2.0 + GAP_PX + setting.line_px / 2.0;
    let low = rows.iter().map(|one| along(at(one)[0])).fold(f64::INFINITY, f64::min) - away;
    let high = rows.iter().map(|one| along(at(one)[1])).fold(f64::NEG_INFINITY, f64::max) + away;
    let place = |along: f64, across: f64| Point {
        x: along * right - across * down,
        y: along * down + across * right,
    };
    let turn_deg = upright(libm::atan2(right, -down).to_degrees());
    [(ends.low.as_deref(), low), (ends.high.as_deref(), high)]
        .into_iter()
        .filter_map(|(text, along)| {
            let text = text?;
            let size = around_turned((setting.width_px)(text), setting.line_px, turn_deg);
            let is_clear =
                |at: &Point| clear.holds(camera.viewport, ScreenBox::of_size(*at, size.0, size.1));
            let middle = (least + most) / 2.0;
            let steps = ((most - least) / 2.0 / STEP_PX) as usize;
            let beside = (0..=steps).flat_map(|step| {
                let aside = step as f64 * STEP_PX;
                [middle + aside, middle - aside]
            });
            let at = beside.map(|across| place(along, across)).find(is_clear)?;
            Some(EndName { text: text.to_owned(), at, turn_deg })
        })
        .collect()
}

/// Unit vector on the screen along the longest row, low end to high.
fn direction(rows: &[RowEnds], camera: &Camera) -> Option<(f64, f64)> {
    let longest = rows.iter().max_by(|a, b| {
        let length = |one: &RowEnds| one.low.distance_m(one.high);
        length(a).total_cmp(&length(b))
    })?;
    let [low, high] = [longest.low, longest.high].map(|spot| camera.screen_from_plot(spot));
    Some(outwards(low, high, camera))
}

/// The same line of text, read from left to right.
fn upright(turn_deg: f64) -> f64 {
    // Half a degree of play, so that rounding does not turn a steep text about.
    let turn_deg = (turn_deg + 89.5).rem_euclid(180.0) - 89.5;
    if turn_deg == 0.0 { 0.0 } else { turn_deg }
}

/// Width and height of the upright box around a turned one.
fn around_turned(width: f64, height: f64, turn_deg: f64) -> (f64, f64) {
    let turn = turn_deg.to_radians();
    let (sin, cos) = (libm::fabs(libm::sin(turn)), libm::fabs(libm::cos(turn)));
    (width * cos + height * sin, width * sin + height * cos)
}
