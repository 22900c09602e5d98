//! What a list and a receiver's positions share: how they are handed in, what is said of their
//! lines, and the way back once they are taken.

mod more;
mod problems;
mod source;
mod taken;

pub(super) use more::more;
pub(super) use problems::{SHOWN, problem_lines};
pub(super) use source::{HandedIn, Words, source};
pub(super) use taken::{Taken, taken};
