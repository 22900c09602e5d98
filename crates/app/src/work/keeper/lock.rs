//! Which tab writes: one Web Lock, and a call from tab to tab to hand it over.

use std::cell::RefCell;
use std::rc::Rc;

use js_sys::{Function, Object, Promise, Reflect};
use wasm_bindgen::prelude::*;
use web_sys::BroadcastChannel;

use judge::link::scope;

const NAME: &str = "leeward-keeper";
/// What a tab calls that wants to write.
const HAND_OVER: &str = "hand over";
/// What a tab calls that reads, to hear whether the one that writes is awake.
const IS_ANYONE_THERE: &str = "is anyone there";
/// What the tab that writes answers.
const HERE: &str = "here";

/// Whether the lock was free.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Grant {
    /// This tab writes.
    Ours,
    /// Another tab writes.
    Theirs,
}

/// The lock, held or not.
#[derive(Clone, Default)]
pub struct Lock {
    release: Rc<RefCell<Option<Function>>>,
}

impl Lock {
    /// Takes the lock if it is free; where the browser has no locks, it always is.
    pub async fn try_take(&self) -> Grant {
        self.request(true).await
    }

    /// Waits until the lock is free, and takes it.
    pub async fn wait(&self) {
        self.request(false).await;
    }

    /// Lets the lock go.
    pub fn release(&self) {
        if let Some(release) = self.release.borrow_mut().take() {
            let _ = release.call0(&JsValue::NULL);
        }
    }

    async fn request(&self, only_if_free: bool) -> Grant {
        let navigator: BrowserNavigator = scope().navigator().unchecked_into();
        let Some(locks) = navigator.locks() else { return Grant::Ours };
        let options = Object::new();
        let _ = Reflect::set(&options, &"ifAvailable".into(), &only_if_free.into());
        let release = self.release.clone();
        let granted = Promise::new(&mut |tell, _| {
            let release = release.clone();
            let on_grant = Closure::once_into_js(move |lock: JsValue| -> JsValue {
                let ours = lock.is_truthy();
                let _ = tell.call1(&JsValue::NULL, &ours.into());
                if !ours {
                    return JsValue::UNDEFINED;
                }
                // The lock is ours until this promise is kept.
                Promise::new(&mut |keep, _| *release.borrow_mut() = Some(keep)).into()
            });
            let _ = locks.request(NAME, &options, on_grant.unchecked_ref());
        });
        match wasm_bindgen_futures::JsFuture::from(granted).await {
            Ok(ours) if ours.is_truthy() => Grant::Ours,
            _ => Grant::Theirs,
        }
    }
}

/// Asks the tab that writes to hand over.
pub fn ask_to_hand_over() {
    call(HAND_OVER);
}

/// Asks the tab that writes whether it is awake: a frozen one keeps its lock and says nothing.
pub fn ask_for_a_sign() {
    call(IS_ANYONE_THERE);
}

/// Gives that sign.
pub fn give_a_sign() {
    call(HERE);
}

/// What tabs call to each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Call {
    /// Another tab wants to write.
    HandOver,
    /// Another tab wants to know whether the one that writes is awake.
    IsAnyoneThere,
    /// The tab that writes is awake.
    Here,
}

/// Runs `then` whenever another tab calls.
pub fn when_called(then: impl Fn(Call) + 'static) {
    let Ok(channel) = BroadcastChannel::new(NAME) else { return };
    let hear =
        Closure::<dyn Fn(web_sys::MessageEvent)>::new(move |event: web_sys::MessageEvent| {
            match event.data().as_string().as_deref() {
                Some(HAND_OVER) => then(Call::HandOver),
                Some(IS_ANYONE_THERE) => then(Call::IsAnyoneThere),
                Some(HERE) => then(Call::Here),
                _ => {}
            }
        });
    channel.set_onmessage(Some(hear.as_ref().unchecked_ref()));
    hear.forget();
    std::mem::forget(channel);
}

fn call(words: &str) {
    if let Ok(channel) = BroadcastChannel::new(NAME) {
        let _ = channel.post_message(&words.into());
        channel.close();
    }
}

#[wasm_bindgen]
extern "C" {
    type BrowserNavigator;
    #[wasm_bindgen(method, getter)]
    fn locks(this: &BrowserNavigator) -> Option<BrowserLocks>;

    type BrowserLocks;
    #[wasm_bindgen(method, catch)]
    fn request(
        this: &BrowserLocks,
        name: &str,
        options: &Object,
        then: &Function,
    ) -> Result<Promise, JsValue>;
}
