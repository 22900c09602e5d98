//! What a list and a receiver's positions share: how they are handed in, what is said of their
//! lines and what is in the way, and the way back once they are taken.

mod more;
mod problems;
mod source;
mod taken;
mod tick;
mod trouble;

pub(super) use more::more;
pub(super) use problems::{SHOWN, problem_lines};
pub(super) use source::{HandedIn, Words, source};
pub(super) use taken::{Taken, taken};
pub(super) use tick::tick;
pub(super) use trouble::in_trouble;
