//! The device's position and heading, while somebody wants them.

use leptos::prelude::*;
use wasm_bindgen::prelude::*;
use web_sys::{Position, PositionError, PositionOptions};

/// Where the device says it is.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Reading {
    /// Longitude, degrees.
    pub lon: f64,
    /// Latitude, degrees.
    pub lat: f64,
    /// It lies within so many metres, with 95 % confidence (W3C Geolocation).
    pub accuracy_m: f64,
}

/// Why there is no position.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum NoPosition {
    /// This browser has none to give.
    NoSuchThing,
    /// The person or the device said no.
    Refused,
    /// None was found.
    NotFound,
}

/// A watch on the position; it ends when this is dropped.
#[derive(Debug)]
pub struct Watching {
    id: i32,
    _heard: Closure<dyn Fn(Position)>,
    _failed: Closure<dyn Fn(PositionError)>,
}

/// Follows the position, as well as the device can tell it.
///
/// # Errors
/// The browser has none to give.
pub fn watch(
    hear: impl Fn(Result<Reading, NoPosition>) + Copy + 'static,
) -> Result<Watching, NoPosition> {
    let geolocation = window().navigator().geolocation().map_err(|_| NoPosition::NoSuchThing)?;
    let heard = Closure::<dyn Fn(Position)>::new(move |found: Position| {
        let at = found.coords();
        let (lon, lat, accuracy_m) = (at.longitude(), at.latitude(), at.accuracy());
        hear(Ok(Reading { lon, lat, accuracy_m }));
    });
    let failed = Closure::<dyn Fn(PositionError)>::new(move |error: PositionError| {
        let refused = error.code() == PositionError::PERMISSION_DENIED;
        hear(Err(if refused { NoPosition::Refused } else { NoPosition::NotFound }));
    });
    let options = PositionOptions::new();
    options.set_enable_high_accuracy(true);
    options.set_maximum_age(2_000);
    let id = geolocation
        .watch_position_with_error_callback_and_options(
            heard.as_ref().unchecked_ref(),
            Some(failed.as_ref().unchecked_ref()),
            &options,
        )
        .map_err(|_| NoPosition::NoSuchThing)?;
    Ok(Watching { id, _heard: heard, _failed: failed })
}

impl Drop for Watching {
    fn drop(&mut self) {
        if let Ok(geolocation) = window().navigator().geolocation() {
            geolocation.clear_watch(self.id);
        }
    }
}

/// Whether this device may have a compass that the page can read.
pub fn has_compass() -> bool {
    let window = window();
    js_sys::Reflect::has(&window, &"ondeviceorientationabsolute".into()).unwrap_or(false)
        || permission().is_some()
}

/// Follows which way the top of the screen points, degrees clockwise from north; asks first where
/// the browser wants to be asked. Ends with the reactive owner.
pub fn follow_heading(hear: impl Fn(f64) + Copy + 'static) {
    if let Some(ask) = permission() {
        let _ = ask.call0(&JsValue::NULL);
    }
    for name in ["deviceorientationabsolute", "deviceorientation"] {
        let listening = window_event_listener_untyped(name, move |event| {
            if let Some(heading) = heading(&event) {
                hear(heading);
            }
        });
        on_cleanup(move || listening.remove());
    }
}

fn heading(event: &web_sys::Event) -> Option<f64> {
    let read = |name: &str| js_sys::Reflect::get(event, &name.into()).ok();
    let number = |name: &str| read(name)?.as_f64();
    if let Some(heading) = number("webkitCompassHeading") {
        return Some(heading);
    }
    let is_absolute = read("absolute").is_some_and(|it| it.is_truthy());
    // Alpha turns against the clock, and the screen may lie on its side.
    let angle = window().screen().ok().and_then(|screen| {
        let orientation = js_sys::Reflect::get(&screen, &"orientation".into()).ok()?;
        js_sys::Reflect::get(&orientation, &"angle".into()).ok()?.as_f64()
    });
    let alpha = number("alpha").filter(|_| is_absolute)?;
    Some((360.0 - alpha + angle.unwrap_or(0.0)).rem_euclid(360.0))
}

/// What asks for the right to read the compass, where there is such a thing.
fn permission() -> Option<js_sys::Function> {
    let event = js_sys::Reflect::get(&window(), &"DeviceOrientationEvent".into()).ok()?;
    js_sys::Reflect::get(&event, &"requestPermission".into()).ok()?.dyn_into().ok()
}
