//! The five places, vigour, what is printed, the forms of a new plot and of a changed tree, a list and a receiver's positions
//! on their way in, what reads a plot, and what keeps a folder in step. Each is a piece of wasm of
//! its own, fetched when it is first wanted.

mod bring;
mod card;
mod change;
mod decided;
mod find;
mod folder;
mod intake;
mod map;
mod new_plot;
mod print;
mod proof;
mod receiver;
mod vigour;
mod walk;

use std::pin::Pin;

use leptos::prelude::*;
use wasm_split_helpers::SplitLoaderError;

use crate::state::App;
use crate::state::reading::{self, Reading};
use crate::work::mirror::{self, NotInStep};

/// Makes the view of a place, as often as it is gone to.
pub type Make = fn() -> AnyView;

/// A function that fetches a place's piece and gives what makes its view.
macro_rules! fetched {
    ($name:ident, $place:path) => {
        #[doc = concat!("Fetches the place ", stringify!($place), ".")]
        ///
        /// # Errors
        /// The piece could not be fetched; calling again tries anew.
        #[wasm_split_helpers::wasm_split($name, fallible)]
        pub fn $name() -> Result<Make, SplitLoaderError> {
            Ok(|| $place().into_any())
        }
    };
}

fetched!(map, map::Map);
fetched!(find, find::Find);
fetched!(walk, walk::Walk);
fetched!(proof, proof::Proof);
fetched!(vigour, vigour::VigourOfTrees);
fetched!(folder, folder::Folder);
fetched!(print, print::Print);
fetched!(new_plot, new_plot::NewPlotForm);
fetched!(change, change::ChangeTree);
fetched!(bring_list, bring::BringList);
fetched!(receiver, receiver::ReceiverPositions);

/// Brings the folder that is kept in step, and the plot, to the same.
pub type Step = fn(App) -> Pin<Box<dyn Future<Output = Result<(), NotInStep>>>>;

/// Fetches what keeps a folder in step.
///
/// # Errors
/// The piece could not be fetched; calling again tries anew.
#[wasm_split_helpers::wasm_split(in_step, fallible)]
pub fn in_step() -> Result<Step, SplitLoaderError> {
    Ok(|app| Box::pin(mirror::step(app)))
}

/// Fetches what reads a plot.
///
/// # Errors
/// The piece could not be fetched; calling again tries anew.
#[wasm_split_helpers::wasm_split(reading, fallible)]
pub fn reading() -> Result<Reading, SplitLoaderError> {
    Ok(|app, to_read| Box::pin(reading::in_pieces(app, to_read)))
}
