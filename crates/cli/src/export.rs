//! `leeward export`: a plot in the formats of other tools.

use std::path::PathBuf;

use anyhow::bail;
use clap::{Args, ValueEnum};
use export::Spreadsheet;
use files::{Book, FileSet};
use plot::Problem;
use scene::words::left_out_of_table;

use crate::Answer;
use crate::folder::{Folder, counted, is_zip, tell};
use crate::out::{must_be_free, write_file, write_files};
use crate::progress::timed;
use crate::table::say;

/// A plot in the formats of other tools.
#[derive(Args)]
pub(crate) struct Call {
    /// The plot folder, or a zip of one.
    plot: PathBuf,
    /// The format.
    #[arg(long, value_enum)]
    to: To,
    /// The file or folder to write, which must not be there yet; without it, standard output. A
    /// folder is written as a zip where its name ends in .zip.
    #[arg(long)]
    out: Option<PathBuf>,
}

/// What is written.
enum Made {
    /// A file.
    File(Vec<u8>),
    /// A folder, and which of its files goes to standard output, if any.
    Folder(FileSet, Option<&'static str>),
}

/// A format of another tool.
#[derive(Clone, Copy, ValueEnum)]
enum To {
    /// A point for each tree with its columns and latest scores (RFC 7946).
    Geojson,
    /// One wide table for spreadsheets: a line for each tree, a column for each trait and round.
    Csv,
    /// A workbook with a sheet for each table; needs --out.
    Xlsx,
    /// Observation units, variables and observations (BrAPI v2.1); needs --out.
    Brapi,
    /// The plot's files with a descriptor of their columns (Data Package, Table Schema).
    Datapackage,
    /// Trees as points and scores as a table, in one database (OGC GeoPackage 1.3); needs --out.
    Geopackage,
    /// A folder with trees.parquet and scores.parquet (Apache Parquet); needs --out.
    Parquet,
    /// The plot folder whole, pictures too, as one file; needs --out.
    Zip,
}

/// Writes the plot in another format.
///
/// # Errors
/// A folder with faults, an OUT that is there already or cannot be written, a plot that the format
/// cannot hold.
pub(crate) fn run(call: &Call) -> anyhow::Result<Answer> {
    match &call.out {
        Some(out) if matches!(call.to, To::Zip) && !is_zip(out) => {
            bail!("--out: found {}, expected a name that ends in .zip", out.display());
        }
        Some(out) => must_be_free(out)?,
        None if call.to.needs_out() => {
            bail!("--out: found nothing, expected the name of the file or folder to write");
        }
        _ => {}
    }
    let book = match call.to {
        To::Zip => Folder::whole(&call.plot)?,
        _ => Folder::sound(&call.plot)?,
    };
    let made = match timed("writing", || made(call.to, &book))? {
        Ok(made) => made,
        Err(problems) => {
            tell(&call.plot, &problems);
            bail!("{}: nothing written", call.plot.display());
        }
    };
    match (&call.out, made) {
        (Some(out), Made::File(bytes)) => write_file(out, &bytes)?,
        (Some(out), Made::Folder(files, _)) => write_files(out, &files)?,
        (None, Made::File(bytes)) => say(&bytes)?,
        (None, Made::Folder(files, alone)) => {
            say(alone.map_or(&[], |name| &files[name]))?;
        }
    }
    if let Some(out) = &call.out {
        eprintln!("{}: {}", out.display(), counted(book.plot().trees().len(), "tree"));
    }
    Ok(Answer::Done)
}

impl To {
    /// Whether it is no text that a terminal could show.
    fn needs_out(self) -> bool {
        matches!(self, Self::Xlsx | Self::Brapi | Self::Geopackage | Self::Parquet | Self::Zip)
    }
}

/// The inner result says whether the plot is fit for the format.
fn made(to: To, book: &Book) -> anyhow::Result<Result<Made, Vec<Problem>>> {
    Ok(match to {
        To::Geojson => export::geojson(book).map(Made::File),
        To::Csv => {
            let Spreadsheet { bytes, left_out } = export::spreadsheet(book);
            if let Some(said) = left_out_of_table(left_out) {
                eprintln!("{said}");
            }
            Ok(Made::File(bytes))
        }
        To::Xlsx => export::workbook(book).map(Made::File),
        To::Brapi => Ok(Made::Folder(export::brapi(book), None)),
        To::Zip => Ok(Made::Folder(book.to_files(), None)),
        To::Datapackage => Ok(Made::Folder(export::data_package(book), Some(export::DESCRIPTOR))),
        To::Geopackage => Ok(Made::File(databases::geopackage(book)?)),
        To::Parquet => {
            let frames = [("trees", databases::trees(book).0), ("scores", databases::scores(book))];
            let mut files = FileSet::new();
            for (name, frame) in &frames {
                files.insert(format!("{name}.parquet"), databases::parquet(frame)?);
            }
            Ok(Made::Folder(files, None))
        }
    })
}
