//! The wire between page and workers: typed messages as bytes, handed over without a copy.

use js_sys::{Array, Uint8Array};
use serde::Serialize;
use serde::de::DeserializeOwned;
use wasm_bindgen::prelude::*;
use web_sys::{DedicatedWorkerGlobalScope, MessageEvent, Worker, WorkerOptions, WorkerType};

/// Starts a worker; `hear` gets everything it says, `broke` runs when it breaks.
///
/// # Errors
/// The browser's own word when it refuses to start one.
pub fn start<M: DeserializeOwned + 'static>(
    address: &str,
    hear: impl Fn(M) + 'static,
    broke: impl Fn() + 'static,
) -> Result<Worker, JsValue> {
    let options = WorkerOptions::new();
    options.set_type(WorkerType::Module);
    let worker = Worker::new_with_options(address, &options)?;
    let on_message = Closure::<dyn Fn(MessageEvent)>::new(move |event: MessageEvent| {
        if let Some(message) = decoded(&event.data()) {
            hear(message);
        }
    });
    worker.set_onmessage(Some(on_message.as_ref().unchecked_ref()));
    on_message.forget();
    let on_error = Closure::<dyn Fn()>::new(broke);
    worker.set_onerror(Some(on_error.as_ref().unchecked_ref()));
    on_error.forget();
    Ok(worker)
}

/// Says something to a worker.
pub fn tell(worker: &Worker, message: &impl Serialize) {
    let (bytes, buffers) = encoded(message);
    let _ = worker.post_message_with_transfer(&bytes, &buffers);
}

/// From within a worker: says something to the page.
pub fn tell_page(message: &impl Serialize) {
    let (bytes, buffers) = encoded(message);
    let _ = scope().post_message_with_transfer(&bytes, &buffers);
}

/// From within a worker: its global scope.
pub fn scope() -> DedicatedWorkerGlobalScope {
    js_sys::global().unchecked_into()
}

/// What was said; none for anything that is not a message of ours.
pub fn decoded<M: DeserializeOwned>(data: &JsValue) -> Option<M> {
    let bytes = data.dyn_ref::<Uint8Array>()?.to_vec();
    postcard::from_bytes(&bytes).ok()
}

fn encoded(message: &impl Serialize) -> (Uint8Array, Array) {
    // Its size is counted first: a plot's files must not be copied again and again as room grows.
    let size = postcard::experimental::serialized_size(message).unwrap_or_default();
    let bytes = postcard::to_extend(message, Vec::with_capacity(size));
    let bytes = Uint8Array::from(bytes.expect("memory takes every message").as_slice());
    let buffers = Array::of1(&bytes.buffer());
    (bytes, buffers)
}
