//! The ways in which the camera moves: fitted, flown somewhere, kept within its limits.

use leptos::prelude::*;
use plot::TreeIx;
use scene::{Camera, Facing, Ground, Insets, Point, Viewport, Zoom};

use super::dark::wants_less_motion;
use super::shown::Shown;
use super::stage::Covered;
use crate::work::clock::since_opened_ms as now_ms;

/// How long a flight takes, milliseconds.
const FLIGHT_MS: f64 = 260.0;
/// Distance between trees, CSS pixels, at which a tree that is gone to can be told from the next.
const TELLING_PX: f64 = 34.0;
/// Distance between trees beyond which nothing more is to be seen, CSS pixels.
const CLOSEST_PX: f64 = 150.0;

/// Room for row numbers and for what lies over the map.
const INSETS: Insets = Insets { top: 34.0, right: 34.0, bottom: 78.0, left: 34.0 };

/// Room for the name of an end, CSS pixels.
const NAME_PX: f64 = 10.0;

/// The camera that sees the whole plot.
pub fn whole(ground: &Ground, viewport: Viewport, facing: Facing) -> Camera {
    let turn_deg = facing.turn_deg(ground.bounds(), viewport, ground.origin());
    let camera = Camera::fit(ground.bounds(), viewport, insets(ground, turn_deg), turn_deg);
    let most = CLOSEST_PX / ground.spacing_m();
    camera.zoomed(camera.viewport.middle(), 1.0, Zoom { least: 0.0, most })
}

/// More room beyond the ends of the rows where they have names.
fn insets(ground: &Ground, turn_deg: f64) -> Insets {
    let ends = ground.ends();
    if ends.low.is_none() && ends.high.is_none() {
        return INSETS;
    }
    let turn = turn_deg.to_radians();
    if turn.sin().abs() > turn.cos().abs() {
        Insets { top: INSETS.top + NAME_PX, bottom: INSETS.bottom + NAME_PX, ..INSETS }
    } else {
        Insets { left: INSETS.left + NAME_PX, right: INSETS.right + NAME_PX, ..INSETS }
    }
}

/// From a little farther than the whole plot to a tree as large as a thumb.
pub fn limits(ground: &Ground, camera: &Camera, facing: Facing) -> Zoom {
    let least = whole(ground, camera.viewport, facing).px_per_m * 0.7;
    Zoom { least, most: (CLOSEST_PX / ground.spacing_m()).max(least) }
}

impl Shown {
    /// Moves the camera by `change`, within the plot; whatever moved it before ends.
    pub fn move_camera(self, change: impl FnOnce(&Camera, Zoom) -> Camera) {
        self.begin_movement();
        self.drift(change);
    }

    /// As [`move_camera`](Self::move_camera), as one step of a movement that goes on.
    pub fn drift(self, change: impl FnOnce(&Camera, Zoom) -> Camera) {
        let Some(ground) = self.ground.get_untracked() else { return };
        let facing = self.facing.get_untracked();
        self.camera.update(|camera| {
            if let Some(camera) = camera {
                let limits = limits(&ground, camera, facing);
                *camera = change(camera, limits).kept_within(ground.bounds());
            }
        });
    }

    /// Zooms about a point, or about the middle.
    pub fn zoom(self, about: Option<Point>, factor: f64) {
        let (Some(ground), Some(camera)) =
            (self.ground.get_untracked(), self.camera.get_untracked())
        else {
            return;
        };
        let limits = limits(&ground, &camera, self.facing.get_untracked());
        let about = about.unwrap_or_else(|| camera.viewport.middle());
        self.fly(camera.zoomed(about, factor, limits).kept_within(ground.bounds()));
    }

    /// Shows the whole plot.
    pub fn fit_whole(self) {
        let (Some(ground), Some(camera)) =
            (self.ground.get_untracked(), self.camera.get_untracked())
        else {
            return;
        };
        self.fly(whole(&ground, camera.viewport, self.facing.get_untracked()));
    }

    /// Brings a tree into the middle of what the card leaves free, near enough to be told from the
    /// next.
    pub fn fly_to(self, tree: TreeIx, covered: Covered) {
        let (Some(ground), Some(camera)) =
            (self.ground.get_untracked(), self.camera.get_untracked())
        else {
            return;
        };
        let px_per_m = camera.px_per_m.max(TELLING_PX / ground.spacing_m());
        let near = Camera { centre: ground.spot(tree), px_per_m, ..camera };
        self.fly(near.panned(-covered.right / 2.0, -covered.below / 2.0));
    }

    /// Moves the map just so far that a tree is on the part of the screen that the card leaves free.
    pub fn keep_in_view(self, tree: TreeIx, covered: Covered) {
        let (Some(ground), Some(camera)) =
            (self.ground.get_untracked(), self.camera.get_untracked())
        else {
            return;
        };
        let at = camera.screen_from_plot(ground.spot(tree));
        let width = (camera.viewport.width - covered.right).max(1.0);
        let height = (camera.viewport.height - covered.below).max(1.0);
        // Room for its neighbours.
        let margin = 110.0_f64.min(width / 4.0).min(height / 4.0);
        let into = |at: f64, most: f64| at.clamp(margin, (most - margin).max(margin)) - at;
        let (right, down) = (into(at.x, width), into(at.y, height));
        if right != 0.0 || down != 0.0 {
            self.fly(camera.panned(right, down));
        }
    }

    /// Goes to a camera, in one step where less motion is wanted.
    fn fly(self, to: Camera) {
        let Some(from) = self.camera.get_untracked() else { return };
        let movement = self.begin_movement();
        if wants_less_motion() {
            self.camera.set(Some(to));
        } else {
            self.fly_on(from, to, now_ms(), movement);
        }
    }

    /// One step of a flight.
    fn fly_on(self, from: Camera, to: Camera, begun: f64, movement: u32) {
        request_animation_frame(move || {
            if !self.is_going_on(movement) {
                return;
            }
            let way = ((now_ms() - begun) / FLIGHT_MS).min(1.0);
            let eased = way * way * (3.0 - 2.0 * way);
            self.camera.set(Some(from.towards(&to, eased)));
            if way < 1.0 {
                self.fly_on(from, to, begun, movement);
            }
        });
    }

    /// Ends whatever moves the camera now; gives the number of what begins.
    pub fn begin_movement(self) -> u32 {
        let next = self.movement.try_update_value(|count| {
            *count += 1;
            *count
        });
        next.unwrap_or_default()
    }

    /// Whether nothing else has begun since; false when the map is gone.
    pub fn is_going_on(self, movement: u32) -> bool {
        self.movement.try_get_value() == Some(movement)
    }
}
