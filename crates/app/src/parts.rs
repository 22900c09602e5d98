//! Small pieces of screen that several places share.

mod confirm;
pub mod lean;
pub mod piece;
mod problems;
mod progress;

pub use confirm::Confirm;
pub use problems::{ProblemList, RefusedPlot};
pub use progress::{JudgeProgress, Progress};
