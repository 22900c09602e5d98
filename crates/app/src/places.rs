//! The five places. Each is a piece of wasm of its own, fetched when it is first gone to.

mod card;
mod find;
mod folder;
mod map;
mod proof;
mod walk;

use leptos::prelude::*;
use wasm_split_helpers::SplitLoaderError;

/// Makes the view of a place, as often as it is gone to.
pub type Make = fn() -> AnyView;

/// A function that fetches a place's piece and gives what makes its view; in unit tests, which run
/// undivided wasm, the piece is always there.
macro_rules! fetched {
    ($name:ident, $place:path) => {
        #[doc = concat!("Fetches the place ", stringify!($place), ".")]
        ///
        /// # Errors
        /// The piece could not be fetched; calling again tries anew.
        #[cfg(not(test))]
        #[wasm_split_helpers::wasm_split($name, fallible)]
        pub fn $name() -> Result<Make, SplitLoaderError> {
            Ok(|| $place().into_any())
        }

        /// The piece that is always there.
        #[cfg(test)]
        pub async fn $name() -> Result<Make, SplitLoaderError> {
            Ok(|| $place().into_any())
        }
    };
}

fetched!(map, map::Map);
fetched!(find, find::Find);
fetched!(walk, walk::Walk);
fetched!(proof, proof::Proof);
fetched!(folder, folder::Folder);
