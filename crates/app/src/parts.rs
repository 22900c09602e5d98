//! Small pieces of screen that several places share.

mod confirm;
mod done;
pub mod lean;
pub mod piece;
mod problems;
mod progress;

pub use confirm::Confirm;
pub use done::done_line;
pub use problems::{ProblemList, RefusedPlot};
pub use progress::{JudgeProgress, Progress};
