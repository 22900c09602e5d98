//! A database of this browser (IndexedDB): one store of values under keys of their own.

use js_sys::{Array, Object, Promise, Reflect};
use language::say;
use wasm_bindgen::prelude::*;
use wasm_bindgen_futures::JsFuture;
use web_sys::{
    IdbDatabase, IdbFactory, IdbKeyRange, IdbObjectStore, IdbOpenDbRequest, IdbRequest,
    IdbTransaction,
};

const STORE: &str = "kept";

/// An open database.
#[derive(Clone, Debug)]
pub struct Base(IdbDatabase);

impl Base {
    /// Opens a database, making it if need be. Works in the page and in a worker.
    ///
    /// # Errors
    /// The browser's word where it gives none.
    pub async fn open(name: &str) -> Result<Self, JsValue> {
        let factory = Reflect::get(&js_sys::global(), &"indexedDB".into())?;
        if !factory.is_object() {
            return Err(say!("this browser gives no database").into());
        }
        let request: IdbOpenDbRequest = factory.unchecked_into::<IdbFactory>().open(name)?;
        let making = request.clone();
        let make = Closure::once(move || {
            let made: Result<IdbDatabase, JsValue> = making.result().map(JsCast::unchecked_into);
            if let Ok(base) = made {
                let _ = base.create_object_store(STORE);
            }
        });
        request.set_onupgradeneeded(Some(make.as_ref().unchecked_ref()));
        Ok(Self(answer(&request).await?.unchecked_into()))
    }

    /// The values under a key or within a range of keys, in order.
    ///
    /// # Errors
    /// The browser's word.
    pub async fn all(&self, keys: &JsValue) -> Result<Array, JsValue> {
        Ok(answer(&self.reading()?.get_all_with_key(keys)?).await?.unchecked_into())
    }

    /// How many values there are.
    ///
    /// # Errors
    /// The browser's word.
    pub async fn count(&self, keys: &JsValue) -> Result<u32, JsValue> {
        let count = answer(&self.reading()?.count_with_key(keys)?).await?;
        Ok(count.as_f64().unwrap_or_default() as u32)
    }

    /// Changes the store in one transaction, all or nothing, and waits until the disk has it.
    ///
    /// # Errors
    /// No room, or the browser's word; nothing is changed then.
    pub async fn write(
        &self,
        change: impl FnOnce(&IdbObjectStore) -> Result<(), JsValue>,
    ) -> Result<(), JsValue> {
        let options = Object::new();
        Reflect::set(&options, &"durability".into(), &"strict".into())?;
        let base: &Durable = self.0.unchecked_ref();
        let transaction = base.transaction(STORE, "readwrite", &options)?;
        change(&transaction.object_store(STORE)?)?;
        let done = Promise::new(&mut |resolve, reject| {
            transaction.set_oncomplete(Some(&resolve));
            transaction.set_onabort(Some(&reject));
        });
        match JsFuture::from(done).await {
            Ok(_) => Ok(()),
            Err(_) => Err(transaction
                .error()
                .map_or_else(|| say!("the write was broken off").into(), Into::into)),
        }
    }

    fn reading(&self) -> Result<IdbObjectStore, JsValue> {
        self.0.transaction_with_str(STORE)?.object_store(STORE)
    }
}

/// The range from one key to another, both included.
///
/// # Errors
/// What is no key.
pub fn between(first: &Array, last: &Array) -> Result<JsValue, JsValue> {
    Ok(IdbKeyRange::bound(first, last)?.into())
}

async fn answer(request: &IdbRequest) -> Result<JsValue, JsValue> {
    let done = Promise::new(&mut |resolve, reject| {
        request.set_onsuccess(Some(&resolve));
        request.set_onerror(Some(&reject));
    });
    match JsFuture::from(done).await {
        Ok(_) => request.result(),
        Err(_) => Err(request.error().ok().flatten().map_or(JsValue::NULL, Into::into)),
    }
}

#[wasm_bindgen]
extern "C" {
    type Durable;
    #[wasm_bindgen(method, catch)]
    fn transaction(
        this: &Durable,
        store: &str,
        mode: &str,
        options: &Object,
    ) -> Result<IdbTransaction, JsValue>;
}
