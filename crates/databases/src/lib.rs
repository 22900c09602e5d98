//! A plot as typed tables for databases and query engines: GeoPackage, and Parquet.
//!
//! Native only: the browser builds none of this.
//!
//! # Glossary
//! - **frame**: a table by its columns, each of one type, in which a value may be missing.
//!
//! Same book → same bytes: nothing here reads a clock.

mod frame;
mod frames;
mod geopackage;
mod parquet;

pub use frame::{Frame, Values};
pub use frames::{scores, trees};
pub use geopackage::geopackage;
pub use parquet::parquet;

/// Why a plot could not be written.
#[derive(Debug, thiserror::Error)]
pub enum Unwritten {
    /// SQLite refused; such as a table with more than 2000 columns.
    #[error("a GeoPackage cannot hold this plot: {0}")]
    GeoPackage(#[from] rusqlite::Error),
    /// Parquet refused; such as a row of more bytes than it counts.
    #[error("Parquet cannot hold this table: {0}")]
    Parquet(#[from] ::parquet::errors::ParquetError),
}

#[cfg(test)]
mod tests;
