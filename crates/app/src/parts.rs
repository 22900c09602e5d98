//! Small pieces of screen that several places share.

mod confirm;
mod problems;
mod progress;

pub use confirm::Confirm;
pub use problems::{ProblemList, RefusedPlot};
pub use progress::{JudgeProgress, Progress};
