//! The browser's clock and its random bytes: the only place that asks for either.

use time::{OffsetDateTime, UtcOffset};
use uuid::{Builder, Uuid};
use wasm_bindgen::prelude::*;

/// The moment, with this machine's offset from UTC.
pub fn now() -> OffsetDateTime {
    let date = js_sys::Date::new_0();
    let moment = OffsetDateTime::from_unix_timestamp_nanos(date.get_time() as i128 * 1_000_000)
        .unwrap_or(OffsetDateTime::UNIX_EPOCH);
    // JavaScript counts minutes west of UTC, `time` seconds east of it.
    let east_s = -date.get_timezone_offset() as i32 * 60;
    let offset = UtcOffset::from_whole_seconds(east_s).unwrap_or(UtcOffset::UTC);
    moment.to_offset(offset).replace_millisecond(0).unwrap_or(moment)
}

/// The moment, milliseconds since 1970.
pub fn now_ms() -> u64 {
    js_sys::Date::now() as u64
}

/// Milliseconds since the page was opened, finer than whole ones.
pub fn since_opened_ms() -> f64 {
    leptos::prelude::window().performance().map_or(0.0, |clock| clock.now())
}

/// A moment as a person says it here: day and time of day.
pub fn said(at_ms: u64) -> String {
    let date = js_sys::Date::new(&(at_ms as f64).into());
    let two = |number: u32| format!("{number:02}");
    format!(
        "{}-{}-{} {}:{}",
        date.get_full_year(),
        two(date.get_month() + 1),
        two(date.get_date()),
        two(date.get_hours()),
        two(date.get_minutes())
    )
}

/// A new name that is unique for ever, also between two phones: a version 7 UUID (RFC 9562).
pub fn new_id() -> String {
    let mut random = [0; 10];
    let _ = random_bytes(&mut random);
    let id: Uuid = Builder::from_unix_timestamp_millis(now_ms(), &random).into_uuid();
    id.to_string()
}

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(js_namespace = crypto, js_name = getRandomValues, catch)]
    fn random_bytes(bytes: &mut [u8]) -> Result<JsValue, JsValue>;
}
