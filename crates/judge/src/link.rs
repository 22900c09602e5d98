//! The wire between page and workers: typed messages as bytes, handed over without a copy.

use js_sys::{Array, Uint8Array};
use postcard::ser_flavors::Flavor;
use serde::de::DeserializeOwned;
use serde::{Deserialize, Serialize};
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
        if let Some(message) = bytes(&event.data()).and_then(|bytes| message(&bytes)) {
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

/// Takes up the language that page and workers speak, as [`language::speak`] is given it; the script
/// that starts each calls this before anything is said.
#[wasm_bindgen]
pub fn speak(words: String) {
    language::speak(words);
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

/// From within a worker: `hear` gets the bytes of everything that the page says.
pub fn listen(hear: impl Fn(&[u8]) + 'static) {
    let on_message = Closure::<dyn Fn(MessageEvent)>::new(move |event: MessageEvent| {
        if let Some(bytes) = bytes(&event.data()) {
            hear(&bytes);
        }
    });
    scope().set_onmessage(Some(on_message.as_ref().unchecked_ref()));
    on_message.forget();
}

/// From within a worker: its global scope.
pub fn scope() -> DedicatedWorkerGlobalScope {
    js_sys::global().unchecked_into()
}

/// The bytes of what was said; none for anything that is not a message of ours.
pub fn bytes(data: &JsValue) -> Option<Vec<u8>> {
    data.dyn_ref::<Uint8Array>().map(Uint8Array::to_vec)
}

/// What was said; it may lend from the bytes.
pub fn message<'a, M: Deserialize<'a>>(bytes: &'a [u8]) -> Option<M> {
    postcard::from_bytes(bytes).ok()
}

/// A message as bytes, to be read by [`message`] in the same thread.
pub fn written(message: &impl Serialize) -> Vec<u8> {
    postcard::to_stdvec(message).expect("memory takes every message")
}

fn encoded(message: &impl Serialize) -> (Uint8Array, Array) {
    let size = postcard::experimental::serialized_size(message).expect("a message has a size");
    let wire = Wire { bytes: Uint8Array::new_with_length(size as u32), at: 0, small: Vec::new() };
    let bytes = postcard::serialize_with_flavor(message, wire);
    let bytes = bytes.expect("memory takes every message");
    let buffers = Array::of1(&bytes.buffer());
    (bytes, buffers)
}

/// Writes a message where it travels: a plot's files are not copied into our own memory first,
/// which would never be given back.
struct Wire {
    bytes: Uint8Array,
    at: u32,
    /// Small parts, put together before they are written.
    small: Vec<u8>,
}

impl Wire {
    /// Bytes from which a part is written by itself.
    const LARGE: usize = 4096;

    fn flush(&mut self) {
        let small = std::mem::take(&mut self.small);
        self.write(&small);
    }

    fn write(&mut self, part: &[u8]) {
        let end = self.at + part.len() as u32;
        self.bytes.subarray(self.at, end).copy_from(part);
        self.at = end;
    }
}

impl Flavor for Wire {
    type Output = Uint8Array;

    fn try_push(&mut self, byte: u8) -> postcard::Result<()> {
        self.try_extend(&[byte])
    }

    fn try_extend(&mut self, part: &[u8]) -> postcard::Result<()> {
        if part.len() >= Self::LARGE {
            self.flush();
            self.write(part);
            return Ok(());
        }
        self.small.extend_from_slice(part);
        if self.small.len() >= Self::LARGE {
            self.flush();
        }
        Ok(())
    }

    fn finalize(mut self) -> postcard::Result<Uint8Array> {
        self.flush();
        Ok(self.bytes)
    }
}
