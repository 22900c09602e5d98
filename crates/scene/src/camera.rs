//! From the plot's metres to the screen's pixels and back: where the eye stands, how near, and
//! which way the plot is turned.

use plot::Spot;
use serde::{Deserialize, Serialize};

use crate::Bounds;

/// A point on the screen in CSS pixels, x rightwards and y downwards from the upper left corner.
#[derive(Clone, Copy, Debug, Default, PartialEq, Serialize, Deserialize)]
pub struct Point {
    /// Rightwards.
    pub x: f64,
    /// Downwards.
    pub y: f64,
}

impl Point {
    /// Distance in pixels.
    pub fn distance(self, other: Self) -> f64 {
        let (dx, dy) = (self.x - other.x, self.y - other.y);
        (dx * dx + dy * dy).sqrt()
    }

    /// Half way between two points.
    pub fn midway(self, other: Self) -> Self {
        Self { x: (self.x + other.x) / 2.0, y: (self.y + other.y) / 2.0 }
    }
}

/// The size of a screen in CSS pixels.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Viewport {
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
}

impl Viewport {
    /// Its middle.
    pub fn middle(self) -> Point {
        Point { x: self.width / 2.0, y: self.height / 2.0 }
    }
}

/// Room kept free of the plot at the edges of the screen, in CSS pixels.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Insets {
    /// At the top.
    pub top: f64,
    /// At the right.
    pub right: f64,
    /// At the bottom.
    pub bottom: f64,
    /// At the left.
    pub left: f64,
}

/// How a plot is seen.
#[derive(Clone, Copy, Debug, PartialEq, Serialize, Deserialize)]
pub struct Camera {
    /// The spot in the middle of the screen.
    pub centre: Spot,
    /// CSS pixels for a metre.
    pub px_per_m: f64,
    /// Direction of the plot's x axis on the screen, degrees anticlockwise from rightwards. At 0
    /// places rise to the right and rows upwards; at −90 places rise downwards and rows to the
    /// right. The plot is turned, never mirrored.
    pub turn_deg: f64,
    /// The screen.
    pub viewport: Viewport,
}

/// The limits within which a camera zooms, in CSS pixels for a metre.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Zoom {
    /// Farthest out.
    pub least: f64,
    /// Closest up.
    pub most: f64,
}

impl Camera {
    /// Sees all of `bounds` between the insets, in the middle of what they leave.
    pub fn fit(bounds: Bounds, viewport: Viewport, insets: Insets, turn_deg: f64) -> Self {
        let free = Viewport {
            width: (viewport.width - insets.left - insets.right).max(1.0),
            height: (viewport.height - insets.top - insets.bottom).max(1.0),
        };
        let turned = Self { centre: bounds.middle(), px_per_m: 1.0, turn_deg, viewport };
        let (width_m, height_m) = turned.size_of(bounds);
        let px_per_m = (free.width / width_m).min(free.height / height_m);
        let camera = Self { px_per_m, ..turned };
        let free_middle =
            Point { x: insets.left + free.width / 2.0, y: insets.top + free.height / 2.0 };
        let middle = viewport.middle();
        camera.panned(free_middle.x - middle.x, free_middle.y - middle.y)
    }

    /// Where a spot of the plot lies on the screen.
    pub fn screen_from_plot(&self, spot: Spot) -> Point {
        let (sin, cos) = self.sin_cos();
        let (dx, dy) = (spot.x_m - self.centre.x_m, spot.y_m - self.centre.y_m);
        let middle = self.viewport.middle();
        Point {
            x: middle.x + self.px_per_m * (dx * cos - dy * sin),
            y: middle.y - self.px_per_m * (dx * sin + dy * cos),
        }
    }

    /// Which spot of the plot lies under a point of the screen.
    pub fn plot_from_screen(&self, point: Point) -> Spot {
        let (sin, cos) = self.sin_cos();
        let middle = self.viewport.middle();
        let right_m = (point.x - middle.x) / self.px_per_m;
        let up_m = (middle.y - point.y) / self.px_per_m;
        Spot {
            x_m: self.centre.x_m + right_m * cos + up_m * sin,
            y_m: self.centre.y_m - right_m * sin + up_m * cos,
        }
    }

    /// As `screen_from_plot`, written as `x = xx·x_m + xy·y_m + x0` and `y = yx·x_m + yy·y_m + y0`
    /// for whoever places many marks: `[xx, xy, x0, yx, yy, y0]`.
    pub fn affine(&self) -> [f64; 6] {
        let (sin, cos) = self.sin_cos();
        let (xx, xy) = (self.px_per_m * cos, -self.px_per_m * sin);
        let (yx, yy) = (-self.px_per_m * sin, -self.px_per_m * cos);
        let middle = self.viewport.middle();
        let Spot { x_m, y_m } = self.centre;
        [xx, xy, middle.x - xx * x_m - xy * y_m, yx, yy, middle.y - yx * x_m - yy * y_m]
    }

    /// The same plot moved over the screen by so many pixels.
    pub fn panned(&self, right_px: f64, down_px: f64) -> Self {
        let middle = self.viewport.middle();
        let centre = self.plot_from_screen(Point { x: middle.x - right_px, y: middle.y - down_px });
        Self { centre, ..*self }
    }

    /// Nearer (`factor` above 1) or farther, with the spot under `fixed` staying there.
    pub fn zoomed(&self, fixed: Point, factor: f64, limits: Zoom) -> Self {
        let px_per_m = (self.px_per_m * factor).clamp(limits.least, limits.most.max(limits.least));
        self.with_spot_at(self.plot_from_screen(fixed), fixed, px_per_m)
    }

    /// Follows two fingers from where they were to where they are: moved and zoomed, not turned.
    pub fn pinched(&self, from: [Point; 2], to: [Point; 2], limits: Zoom) -> Self {
        let apart = |points: [Point; 2]| points[0].distance(points[1]).max(1.0);
        let under = self.plot_from_screen(from[0].midway(from[1]));
        let px_per_m = (self.px_per_m * apart(to) / apart(from))
            .clamp(limits.least, limits.most.max(limits.least));
        self.with_spot_at(under, to[0].midway(to[1]), px_per_m)
    }

    /// The same eye moved so that the middle of the screen stays within `bounds`.
    pub fn kept_within(&self, bounds: Bounds) -> Self {
        Self { centre: bounds.nearest(self.centre), ..*self }
    }

    /// On the way from this camera to another, `way` from 0 to 1: even in zoom, and with the
    /// other's middle never leaving the straight line on which it lies now.
    pub fn towards(&self, other: &Self, way: f64) -> Self {
        let way = way.clamp(0.0, 1.0);
        if way >= 1.0 {
            return *other;
        }
        let ratio = other.px_per_m / self.px_per_m;
        let px_per_m = self.px_per_m * libm::pow(ratio, way);
        // Pan in step with the zoom: the part of the way that the change of scale has covered.
        let part = if libm::fabs(ratio - 1.0) < 1e-6 {
            way
        } else {
            (1.0 - libm::pow(ratio, -way)) / (1.0 - 1.0 / ratio)
        };
        let centre = Spot {
            x_m: self.centre.x_m + (other.centre.x_m - self.centre.x_m) * part,
            y_m: self.centre.y_m + (other.centre.y_m - self.centre.y_m) * part,
        };
        Self { centre, px_per_m, ..*other }
    }

    /// Direction of true north on the screen, degrees clockwise from upwards, for a plot whose x
    /// axis bears `row_bearing_deg`.
    pub fn north_deg(&self, row_bearing_deg: f64) -> f64 {
        (90.0 - self.turn_deg - row_bearing_deg).rem_euclid(360.0)
    }

    /// Width and height in metres of the upright box that `bounds` fill on the screen.
    fn size_of(&self, bounds: Bounds) -> (f64, f64) {
        let (sin, cos) = self.sin_cos();
        let (sin, cos) = (libm::fabs(sin), libm::fabs(cos));
        let (along_m, across_m) = (bounds.along_m(), bounds.across_m());
        (along_m * cos + across_m * sin, along_m * sin + across_m * cos)
    }

    fn with_spot_at(&self, spot: Spot, point: Point, px_per_m: f64) -> Self {
        let moved = Self { px_per_m, ..*self };
        let now = moved.screen_from_plot(spot);
        moved.panned(point.x - now.x, point.y - now.y)
    }

    fn sin_cos(&self) -> (f64, f64) {
        // Quarter turns are exact, so that rows stay on whole pixels.
        let quarters = self.turn_deg / 90.0;
        if quarters == quarters.round() {
            return match quarters.rem_euclid(4.0) as u8 {
                0 => (0.0, 1.0),
                1 => (1.0, 0.0),
                2 => (0.0, -1.0),
                _ => (-1.0, 0.0),
            };
        }
        let turn = self.turn_deg.to_radians();
        (libm::sin(turn), libm::cos(turn))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const PHONE: Viewport = Viewport { width: 390.0, height: 700.0 };
    const ANY_ZOOM: Zoom = Zoom { least: 1e-3, most: 1e4 };

    fn cameras() -> impl Iterator<Item = Camera> {
        [0.0, 90.0, 180.0, -90.0, 17.5, 450.0].into_iter().map(|turn_deg| Camera {
            centre: Spot { x_m: 12.0, y_m: -7.0 },
            px_per_m: 6.5,
            turn_deg,
            viewport: PHONE,
        })
    }

    fn check_close(a: Point, b: Point) {
        assert!(a.distance(b) < 1e-9, "{a:?} {b:?}");
    }

    #[test]
    fn there_and_back_is_the_same_point() {
        for camera in cameras() {
            for point in [Point { x: 0.0, y: 0.0 }, Point { x: 390.0, y: 31.0 }] {
                check_close(camera.screen_from_plot(camera.plot_from_screen(point)), point);
            }
        }
    }

    #[test]
    fn the_affine_form_says_the_same() {
        for camera in cameras() {
            let [xx, xy, x0, yx, yy, y0] = camera.affine();
            let spot = Spot { x_m: 3.0, y_m: 8.0 };
            let point = Point {
                x: xx * spot.x_m + xy * spot.y_m + x0,
                y: yx * spot.x_m + yy * spot.y_m + y0,
            };
            check_close(point, camera.screen_from_plot(spot));
        }
    }

    #[test]
    fn unturned_places_rise_rightwards_and_rows_upwards_and_nothing_is_mirrored() {
        let at = |turn_deg, x_m, y_m| {
            let origin = Spot { x_m: 0.0, y_m: 0.0 };
            let camera = Camera { centre: origin, px_per_m: 1.0, turn_deg, viewport: PHONE };
            let (point, middle) = (camera.screen_from_plot(Spot { x_m, y_m }), PHONE.middle());
            (point.x - middle.x, point.y - middle.y)
        };
        assert_eq!(at(0.0, 1.0, 0.0), (1.0, 0.0));
        assert_eq!(at(0.0, 0.0, 1.0), (0.0, -1.0));
        assert_eq!(at(-90.0, 1.0, 0.0), (0.0, 1.0));
        assert_eq!(at(-90.0, 0.0, 1.0), (1.0, 0.0));
    }

    #[test]
    fn zooming_keeps_the_spot_under_the_finger() {
        for camera in cameras() {
            let finger = Point { x: 40.0, y: 600.0 };
            let spot = camera.plot_from_screen(finger);
            for factor in [0.2, 1.0, 3.7] {
                let near = camera.zoomed(finger, factor, ANY_ZOOM);
                check_close(near.screen_from_plot(spot), finger);
                assert!((near.px_per_m / camera.px_per_m - factor).abs() < 1e-9);
            }
        }
    }

    #[test]
    fn zooming_stops_at_its_limits() {
        let limits = Zoom { least: 5.0, most: 10.0 };
        for camera in cameras() {
            assert_eq!(camera.zoomed(Point::default(), 100.0, limits).px_per_m, 10.0);
            assert_eq!(camera.zoomed(Point::default(), 0.01, limits).px_per_m, 5.0);
        }
    }

    #[test]
    fn two_fingers_keep_the_spot_between_them() {
        for camera in cameras() {
            let from = [Point { x: 100.0, y: 100.0 }, Point { x: 200.0, y: 100.0 }];
            let to = [Point { x: 90.0, y: 300.0 }, Point { x: 290.0, y: 300.0 }];
            let spot = camera.plot_from_screen(from[0].midway(from[1]));
            let pinched = camera.pinched(from, to, ANY_ZOOM);
            check_close(pinched.screen_from_plot(spot), to[0].midway(to[1]));
            assert!((pinched.px_per_m / camera.px_per_m - 2.0).abs() < 1e-9);
        }
    }

    #[test]
    fn a_fitted_plot_lies_between_the_insets_and_touches_two_of_them() {
        let bounds =
            Bounds { least: Spot { x_m: -2.0, y_m: 5.0 }, most: Spot { x_m: 58.0, y_m: 45.0 } };
        let insets = Insets { top: 40.0, right: 20.0, bottom: 90.0, left: 30.0 };
        for turn_deg in [0.0, -90.0, 90.0, 33.0] {
            let camera = Camera::fit(bounds, PHONE, insets, turn_deg);
            let corners = bounds.corners().map(|spot| camera.screen_from_plot(spot));
            let reach = |of: fn(&Point) -> f64| {
                let values = corners.iter().map(of);
                (values.clone().fold(f64::MAX, f64::min), values.fold(f64::MIN, f64::max))
            };
            let ((left, right), (top, bottom)) = (reach(|p| p.x), reach(|p| p.y));
            let slack = 1e-6;
            assert!(left >= 30.0 - slack && right <= 370.0 + slack, "{left} {right}");
            assert!(top >= 40.0 - slack && bottom <= 610.0 + slack, "{top} {bottom}");
            let gap = (right - left - 340.0).abs().min((bottom - top - 570.0).abs());
            assert!(gap < slack, "{turn_deg}: {gap}");
        }
    }

    #[test]
    fn the_way_to_another_camera_begins_and_ends_there() {
        let from = cameras().next().unwrap();
        let to = from.zoomed(Point { x: 10.0, y: 20.0 }, 8.0, ANY_ZOOM);
        assert!((from.towards(&to, 0.0).centre.distance_m(from.centre)) < 1e-9);
        assert_eq!(from.towards(&to, 1.0), to);
        // The point about which one zooms stays in place all the way.
        let spot = from.plot_from_screen(Point { x: 10.0, y: 20.0 });
        for way in [0.2, 0.5, 0.9] {
            check_close(from.towards(&to, way).screen_from_plot(spot), Point { x: 10.0, y: 20.0 });
        }
    }

    #[test]
    fn north_turns_with_the_plot() {
        let north = |turn_deg, bearing| {
            let camera = Camera { turn_deg, ..cameras().next().unwrap() };
            camera.north_deg(bearing)
        };
        // Places rise to the right and bear east: north is up.
        assert_eq!(north(0.0, 90.0), 0.0);
        // Places rise upwards and bear 12°: north lies 12° left of up.
        assert_eq!(north(90.0, 12.0), 348.0);
        assert_eq!(north(-90.0, 0.0), 180.0);
    }
}
