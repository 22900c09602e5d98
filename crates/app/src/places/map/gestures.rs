//! What fingers, pen, mouse and wheel mean on the map.

use std::time::Duration;

use leptos::prelude::*;
use scene::{Hit, Point, Pointer, hit};
use wasm_bindgen::JsCast;
use web_sys::{Element, PointerEvent, WheelEvent};

use super::choose;
use super::dark::wants_less_motion;
use super::shown::Shown;
use super::stage::covered;
use crate::state::App;
use crate::work::clock::since_opened_ms as now_ms;

/// How far a pointer may slip within a tap, CSS pixels.
const SLIP_PX: f64 = 9.0;
/// Within how long a second tap makes a double tap, milliseconds.
const DOUBLE_MS: f64 = 260.0;
/// How much a double tap zooms.
const DOUBLE_ZOOM: f64 = 2.2;
/// Speed below which a flung map stops, CSS pixels a millisecond.
const STILL_PX_PER_MS: f64 = 0.02;
/// After how long a flung map has lost about two thirds of its speed, milliseconds.
const FLING_MS: f64 = 260.0;
/// How long a stream of wheel events is one gesture, milliseconds.
const WHEEL_STREAM_MS: f64 = 250.0;

/// The pointers on the map and what they have done so far.
#[derive(Debug)]
pub struct Gestures {
    app: App,
    shown: Shown,
    down: Vec<Held>,
    slipped: bool,
    last_tap: Option<(f64, Point)>,
    speed: (f64, f64),
    moved_ms: f64,
    wheel_ms: f64,
    wheel_pans: bool,
}

#[derive(Clone, Copy, Debug)]
struct Held {
    id: i32,
    begun: Point,
    at: Point,
}

impl Gestures {
    /// No pointer on the map.
    pub fn new(app: App, shown: Shown) -> Self {
        Self {
            app,
            shown,
            down: Vec::new(),
            slipped: false,
            last_tap: None,
            speed: (0.0, 0.0),
            moved_ms: 0.0,
            wheel_ms: 0.0,
            wheel_pans: false,
        }
    }

    /// A pointer touches the map.
    pub fn down(&mut self, event: &PointerEvent) {
        if event.button() != 0 || self.down.len() >= 2 {
            return;
        }
        if let Some(stage) = stage_of(event) {
            let _ = stage.set_pointer_capture(event.pointer_id());
        }
        let at = point(event);
        self.shown.begin_movement();
        self.slipped &= !self.down.is_empty();
        self.speed = (0.0, 0.0);
        self.down.push(Held { id: event.pointer_id(), begun: at, at });
        self.slipped |= self.down.len() > 1;
    }

    /// A pointer moves: drags the map, pinches it, or looks what lies under it.
    pub fn moved(&mut self, event: &PointerEvent) {
        let at = point(event);
        let Some(nth) = self.down.iter().position(|held| held.id == event.pointer_id()) else {
            self.look_under(event, at);
            return;
        };
        let before = self.down.iter().map(|held| held.at).collect::<Vec<_>>();
        self.down[nth].at = at;
        self.slipped |= self.down[nth].begun.distance(at) > SLIP_PX;
        if !self.slipped {
            return;
        }
        self.shown.hovered.set(None);
        match *before.as_slice() {
            [from] => {
                let (right, down) = (at.x - from.x, at.y - from.y);
                self.measure_speed(right, down);
                self.shown.move_camera(|camera, _| camera.panned(right, down));
            }
            [a, b] => {
                let now = [self.down[0].at, self.down[1].at];
                self.shown.move_camera(|camera, limits| camera.pinched([a, b], now, limits));
            }
            _ => {}
        }
    }

    /// A pointer leaves the map: ends a tap, or lets the map go.
    pub fn up(&mut self, event: &PointerEvent) {
        let Some(nth) = self.down.iter().position(|held| held.id == event.pointer_id()) else {
            return;
        };
        self.down.remove(nth);
        if !self.down.is_empty() {
            return;
        }
        if self.slipped {
            self.slipped = false;
            self.fling();
        } else {
            self.tapped(point(event), pointer(event));
        }
    }

    /// The system took a pointer away.
    pub fn cancelled(&mut self, event: &PointerEvent) {
        self.down.retain(|held| held.id != event.pointer_id());
        self.slipped &= !self.down.is_empty();
    }

    /// The mouse left the map.
    pub fn left(&mut self, _: &PointerEvent) {
        self.shown.hovered.set(None);
    }

    /// A wheel zooms about the pointer; two fingers on a trackpad move the map, or zoom it when
    /// they pinch.
    pub fn wheel(&mut self, event: &WheelEvent) {
        event.prevent_default();
        let now = now_ms();
        let (dx, dy) = (event.delta_x(), event.delta_y());
        // A mouse wheel sends large even steps, a trackpad small ones in both directions.
        if now - self.wheel_ms > WHEEL_STREAM_MS {
            self.wheel_pans = event.delta_mode() == 0 && (dx != 0.0 || dy.abs() < 40.0);
        }
        self.wheel_ms = now;
        let lines = if event.delta_mode() == 0 { 1.0 } else { 18.0 };
        if event.ctrl_key() || !self.wheel_pans {
            let speed = if event.ctrl_key() && self.wheel_pans { 0.01 } else { 0.0018 };
            let about = point(event);
            let factor = (-dy * lines * speed).exp();
            self.shown.move_camera(|camera, limits| camera.zoomed(about, factor, limits));
        } else {
            self.shown.move_camera(|camera, _| camera.panned(-dx, -dy));
        }
    }

    fn look_under(&self, event: &PointerEvent, at: Point) {
        if event.pointer_type() == "mouse" {
            let found = self.hit(at, Pointer::Mouse).first();
            if self.shown.hovered.get_untracked() != found {
                self.shown.hovered.set(found);
            }
        }
    }

    fn hit(&self, at: Point, pointer: Pointer) -> Hit {
        let (Some(ground), Some(sheet), Some(camera)) = (
            self.shown.ground.get_untracked(),
            self.shown.pane.sheet.get_untracked(),
            self.shown.camera.get_untracked(),
        ) else {
            return Hit::Nothing;
        };
        hit(&ground, &sheet, &camera, at, pointer)
    }

    fn tapped(&mut self, at: Point, pointer: Pointer) {
        let now = now_ms();
        let second = self
            .last_tap
            .is_some_and(|(ms, before)| now - ms < DOUBLE_MS && before.distance(at) < 30.0);
        if second {
            self.last_tap = None;
            self.shown.zoom(Some(at), DOUBLE_ZOOM);
            return;
        }
        self.last_tap = Some((now, at));
        let (app, shown, hit) = (self.app, self.shown, self.hit(at, pointer));
        if pointer == Pointer::Mouse {
            mean(app, shown, hit);
            return;
        }
        // A card that opened under a finger would catch its second tap.
        shown.hovered.set(hit.first());
        let movement = shown.begin_movement();
        set_timeout(
            move || {
                if shown.is_going_on(movement) {
                    shown.hovered.set(None);
                    mean(app, shown, hit);
                }
            },
            Duration::from_millis(DOUBLE_MS as u64),
        );
    }

    fn measure_speed(&mut self, right: f64, down: f64) {
        let now = now_ms();
        let passed = (now - self.moved_ms).max(1.0);
        self.moved_ms = now;
        let fresh = 0.35;
        self.speed = (
            self.speed.0 * (1.0 - fresh) + right / passed * fresh,
            self.speed.1 * (1.0 - fresh) + down / passed * fresh,
        );
    }

    fn fling(&mut self) {
        let rested = now_ms() - self.moved_ms > 60.0;
        if rested || wants_less_motion() {
            return;
        }
        glide(self.shown, self.shown.begin_movement(), self.speed, now_ms());
    }
}

/// Does what a tap on something means.
fn mean(app: App, shown: Shown, hit: Hit) {
    shown.offered.set(Vec::new());
    match hit {
        Hit::Nothing => super::put_away(app),
        Hit::Tree(tree) => {
            choose(app, tree);
            shown.keep_in_view(tree, covered());
        }
        Hit::OneOf(trees) => {
            app.chosen.set(None);
            shown.offered.set(trees);
        }
    }
}

/// One frame of a map that was let go while it moved.
fn glide(shown: Shown, movement: u32, speed: (f64, f64), before_ms: f64) {
    request_animation_frame(move || {
        let still = speed.0.hypot(speed.1) < STILL_PX_PER_MS;
        if still || !shown.is_going_on(movement) {
            return;
        }
        let now = now_ms();
        let passed = (now - before_ms).clamp(0.0, 50.0);
        shown.drift(|camera, _| camera.panned(speed.0 * passed, speed.1 * passed));
        let left = (-passed / FLING_MS).exp();
        glide(shown, movement, (speed.0 * left, speed.1 * left), now);
    });
}

fn stage_of(event: &PointerEvent) -> Option<Element> {
    event.current_target()?.dyn_into().ok()
}

fn pointer(event: &PointerEvent) -> Pointer {
    match event.pointer_type().as_str() {
        "mouse" => Pointer::Mouse,
        "pen" => Pointer::Pen,
        _ => Pointer::Finger,
    }
}

/// Where on the stage a pointer is.
fn point(event: &web_sys::MouseEvent) -> Point {
    let stage = event.current_target().and_then(|target| target.dyn_into::<Element>().ok());
    let corner = stage.map(|stage| stage.get_bounding_client_rect());
    let (left, top) = corner.map_or((0.0, 0.0), |corner| (corner.left(), corner.top()));
    Point { x: f64::from(event.client_x()) - left, y: f64::from(event.client_y()) - top }
}
