//! Which way the plot is turned on the screen.

use plot::Origin;
use serde::{Deserialize, Serialize};

use crate::{Bounds, Viewport};

/// How the person wants the plot turned.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Facing {
    /// The plot's long side along the screen's long side, by quarter turns.
    #[default]
    Upright,
    /// True north up.
    North,
}

impl Facing {
    /// Direction of the x axis on the screen, as [`Camera::turn_deg`](crate::Camera) takes it.
    ///
    /// Of the two upright ways the one with north nearer to the top is taken. Without an origin
    /// nobody knows north: then place and row numbers rise as one reads, rightwards or downwards
    /// as far as a plot that may not be mirrored allows.
    pub fn turn_deg(self, bounds: Bounds, viewport: Viewport, origin: Option<&Origin>) -> f64 {
        match (self, origin) {
            (Self::North, Some(origin)) => 90.0 - origin.row_bearing_deg,
            _ => upright(bounds, viewport, origin),
        }
    }
}

fn upright(bounds: Bounds, viewport: Viewport, origin: Option<&Origin>) -> f64 {
    let tall_screen = viewport.height > viewport.width;
    let long_rows = bounds.along_m() >= bounds.across_m();
    let ways = if tall_screen == long_rows { [-90.0, 90.0] } else { [0.0, 180.0] };
    let Some(origin) = origin else { return ways[0] };
    let off_north = |turn_deg: f64| {
        let north_deg = (90.0 - turn_deg - origin.row_bearing_deg).rem_euclid(360.0);
        north_deg.min(360.0 - north_deg)
    };
    if off_north(ways[1]) < off_north(ways[0]) { ways[1] } else { ways[0] }
}

#[cfg(test)]
mod tests {
    use super::*;
    use plot::Spot;

    const PHONE: Viewport = Viewport { width: 390.0, height: 844.0 };
    const LAPTOP: Viewport = Viewport { width: 1440.0, height: 900.0 };

    fn bounds(along_m: f64, across_m: f64) -> Bounds {
        Bounds { least: Spot { x_m: 0.0, y_m: 0.0 }, most: Spot { x_m: along_m, y_m: across_m } }
    }

    fn origin(row_bearing_deg: f64) -> Origin {
        Origin { lon: 5.0, lat: 52.0, row_bearing_deg }
    }

    #[test]
    fn the_long_side_follows_the_screen() {
        let turn =
            |along, across, screen| Facing::Upright.turn_deg(bounds(along, across), screen, None);
        assert_eq!(turn(60.0, 40.0, PHONE), -90.0);
        assert_eq!(turn(60.0, 40.0, LAPTOP), 0.0);
        assert_eq!(turn(40.0, 60.0, PHONE), 0.0);
        assert_eq!(turn(40.0, 60.0, LAPTOP), -90.0);
    }

    #[test]
    fn of_two_ways_the_one_nearer_north_is_taken() {
        let turn = |bearing, screen| {
            Facing::Upright.turn_deg(bounds(60.0, 40.0), screen, Some(&origin(bearing)))
        };
        assert_eq!(turn(12.0, PHONE), 90.0);
        assert_eq!(turn(192.0, PHONE), -90.0);
        assert_eq!(turn(80.0, LAPTOP), 0.0);
        assert_eq!(turn(260.0, LAPTOP), 180.0);
    }

    #[test]
    fn north_up_needs_an_origin() {
        let plot = bounds(60.0, 40.0);
        assert_eq!(Facing::North.turn_deg(plot, PHONE, Some(&origin(12.0))), 78.0);
        assert_eq!(Facing::North.turn_deg(plot, PHONE, None), -90.0);
    }
}
