//! What runs beside the page: the keeper of the scores, the judge of the proof; and the clock and
//! chance that are handed in from outside.

mod base;
pub mod camera;
pub mod clock;
pub mod folders;
pub mod keeper;
pub mod kept;
pub mod message;
pub mod mirror;
pub mod pick;
pub mod position;
pub mod room;
pub mod save;
