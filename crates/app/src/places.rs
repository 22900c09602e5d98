//! The five places.

mod card;
mod find;
mod folder;
mod map;
mod proof;
mod walk;

pub use card::Card;
pub use find::Find;
pub use folder::Folder;
pub use map::Map;
pub use proof::Proof;
pub use walk::Walk;
