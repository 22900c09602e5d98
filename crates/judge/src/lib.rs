//! The judge beside the page: what the two say to each other, and the wire between them.
//!
//! The judge's worker is this crate's program, a wasm of its own: the page need not carry the
//! proof's code to show its first screen, and the judge carries no screen.

pub mod link;
mod message;
mod pause;

pub use message::{FromJudge, Growing, Grown, Question, ToJudge};
pub use pause::{breathe, pause};
