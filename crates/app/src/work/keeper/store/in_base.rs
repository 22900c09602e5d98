//! Logs in IndexedDB, each a row of pieces; a piece counts when its transaction, of strict
//! durability, is complete.

use js_sys::{Array, Uint8Array};
use wasm_bindgen::prelude::*;

use crate::work::base::{Base, between};

/// The database that holds our logs.
#[derive(Clone, Debug)]
pub struct InBase {
    base: Base,
}

/// An open log.
#[derive(Debug)]
pub struct BaseLog {
    base: Base,
    name: String,
    /// The number of the next piece.
    next: u32,
}

impl InBase {
    /// Opens the database, making it if need be.
    ///
    /// # Errors
    /// The browser's word where it gives none.
    pub async fn open() -> Result<Self, JsValue> {
        Ok(Self { base: Base::open("leeward-logs").await? })
    }

    /// Whether a log of that name is there.
    ///
    /// # Errors
    /// The browser's word.
    pub async fn holds(&self, name: &str) -> Result<bool, JsValue> {
        Ok(self.base.count(&pieces(name)?).await? > 0)
    }

    /// Opens a log for writing.
    ///
    /// # Errors
    /// The browser's word.
    pub async fn log(&self, name: &str) -> Result<BaseLog, JsValue> {
        let next = self.base.count(&pieces(name)?).await?;
        Ok(BaseLog { base: self.base.clone(), name: name.to_owned(), next })
    }

    /// Reads a log; nothing where there is none.
    ///
    /// # Errors
    /// The browser's word.
    pub async fn peek(&self, name: &str) -> Result<Vec<u8>, JsValue> {
        read(&self.base, name).await
    }

    /// Removes a log, if it is there.
    pub async fn remove(&self, name: &str) {
        if let Ok(pieces) = pieces(name) {
            let _ = self.base.write(|store| store.delete(&pieces).map(drop)).await;
        }
    }
}

impl BaseLog {
    /// Everything that stands in it.
    ///
    /// # Errors
    /// The browser's word.
    pub async fn read(&self) -> Result<Vec<u8>, JsValue> {
        read(&self.base, &self.name).await
    }

    /// Adds parts as one piece; on an error the log is as it was.
    ///
    /// # Errors
    /// No room, or the browser's word.
    pub async fn append(&mut self, parts: &[&[u8]]) -> Result<(), JsValue> {
        let length: usize = parts.iter().map(|part| part.len()).sum();
        let (piece, key) = (Uint8Array::new_with_length(length as u32), key(&self.name, self.next));
        let mut at = 0;
        for part in parts {
            let end = at + part.len() as u32;
            piece.subarray(at, end).copy_from(part);
            at = end;
        }
        self.base.write(|store| store.put_with_key(&piece, &key).map(drop)).await?;
        self.next += 1;
        Ok(())
    }

    /// Makes one piece of everything up to `end`, in one transaction.
    ///
    /// # Errors
    /// The browser's word; the log is as it was then.
    pub async fn cut(&mut self, end: usize) -> Result<(), JsValue> {
        let mut bytes = self.read().await?;
        bytes.truncate(end);
        let (piece, key, pieces) =
            (Uint8Array::from(&bytes[..]), key(&self.name, 0), pieces(&self.name)?);
        self.base
            .write(|store| {
                store.delete(&pieces)?;
                store.put_with_key(&piece, &key).map(drop)
            })
            .await?;
        self.next = 1;
        Ok(())
    }
}

async fn read(base: &Base, name: &str) -> Result<Vec<u8>, JsValue> {
    let found = base.all(&pieces(name)?).await?;
    Ok(found.iter().flat_map(|piece| Uint8Array::new(&piece).to_vec()).collect())
}

fn key(name: &str, nth: u32) -> JsValue {
    Array::of2(&name.into(), &nth.into()).into()
}

/// The keys of all pieces of a log: an array sorts behind every number.
fn pieces(name: &str) -> Result<JsValue, JsValue> {
    let name = JsValue::from(name);
    between(&Array::of1(&name), &Array::of2(&name, &Array::new()))
}
