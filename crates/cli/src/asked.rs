//! What is asked of one disease of a plot: arguments that several commands share.

use std::path::PathBuf;

use clap::Args;

use crate::table::Format;

/// A plot, a disease of it, and how the answer is written.
#[derive(Args)]
pub(crate) struct Asked {
    /// The plot folder, or a zip of one.
    pub(crate) plot: PathBuf,
    /// The disease, as the traits of plot.json name it.
    #[arg(long)]
    pub(crate) disease: String,
    /// How the table is written.
    #[arg(long, value_enum, default_value_t = Format::Csv)]
    pub(crate) format: Format,
}
