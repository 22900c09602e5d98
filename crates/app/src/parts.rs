//! Small pieces of screen that several places share.

mod confirm;
mod done;
mod languages;
pub mod lean;
mod made;
pub mod piece;
mod plot_writer;
mod problems;
mod progress;
mod sight;
mod text_size;
mod turn;
mod windowed;

pub use confirm::Confirm;
pub use done::done_line;
pub use languages::Languages;
pub use made::made_once;
pub use plot_writer::{PlotWriter, file_name};
pub use problems::{ProblemList, RefusedPlot};
pub use progress::{Bar, GrowingProgress, JudgeProgress, Progress};
pub use sight::{go_to, go_to_when, keys_in, keys_to, keys_to_element};
pub use text_size::rem_px;
pub use turn::Turn;
pub use windowed::Windowed;
