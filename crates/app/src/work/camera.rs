//! Square codes read by the camera, where the browser can.

use js_sys::{Array, Promise};
use leptos::prelude::*;
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::JsFuture;
use web_sys::{HtmlVideoElement, MediaStream, MediaStreamConstraints, MediaStreamTrack};

/// Milliseconds between two looks.
const LOOK_EVERY_MS: i32 = 200;

/// Whether this browser reads square codes.
pub fn reads_codes() -> bool {
    let has = |object: &JsValue, name: &str| js_sys::Reflect::has(object, &name.into());
    has(&window(), "BarcodeDetector").unwrap_or(false)
        && window().navigator().media_devices().is_ok()
}

/// Shows what the camera sees and looks for square codes until `read` has heard one or `goes_on`
/// says no; the camera is off again then.
///
/// # Errors
/// The browser's word: no camera, or it was refused.
pub async fn look(
    video: HtmlVideoElement,
    goes_on: impl Fn() -> bool,
    read: impl FnOnce(String),
) -> Result<(), JsValue> {
    let detector = Detector::new(&formats())?;
    let stream = camera().await?;
    video.set_src_object(Some(&stream));
    let seen = async {
        JsFuture::from(video.play()?).await?;
        while goes_on() {
            // A picture that is not there yet is no failure.
            let found = JsFuture::from(detector.detect(&video)).await.unwrap_or(JsValue::NULL);
            let first = Array::from(&found).get(0);
            let text = js_sys::Reflect::get(&first, &"rawValue".into()).ok();
            if let Some(text) = text.and_then(|text| text.as_string()) {
                return Ok::<_, JsValue>(Some(text));
            }
            judge::pause(LOOK_EVERY_MS).await;
        }
        Ok(None)
    }
    .await;
    for track in stream.get_tracks() {
        track.unchecked_into::<MediaStreamTrack>().stop();
    }
    video.set_src_object(None);
    if let Some(text) = seen? {
        read(text);
    }
    Ok(())
}

/// The camera that looks away from the person.
async fn camera() -> Result<MediaStream, JsValue> {
    let wanted = MediaStreamConstraints::new();
    let facing = js_sys::Object::new();
    js_sys::Reflect::set(&facing, &"facingMode".into(), &"environment".into())?;
    wanted.set_video(&facing);
    let devices = window().navigator().media_devices()?;
    let stream = JsFuture::from(devices.get_user_media_with_constraints(&wanted)?).await?;
    Ok(stream.unchecked_into())
}

fn formats() -> js_sys::Object {
    let options = js_sys::Object::new();
    let formats = Array::of1(&"qr_code".into());
    let _ = js_sys::Reflect::set(&options, &"formats".into(), &formats);
    options
}

#[wasm_bindgen]
extern "C" {
    #[wasm_bindgen(js_name = BarcodeDetector)]
    type Detector;
    #[wasm_bindgen(constructor, catch, js_class = "BarcodeDetector")]
    fn new(options: &js_sys::Object) -> Result<Detector, JsValue>;
    #[wasm_bindgen(method)]
    fn detect(this: &Detector, picture: &HtmlVideoElement) -> Promise;
}
