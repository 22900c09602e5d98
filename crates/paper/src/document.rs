//! A report as plain data: blocks, for whoever shows them.

use serde::{Deserialize, Serialize};

/// A report.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Document {
    /// What it is called.
    pub title: String,
    /// What stands below each other.
    pub blocks: Vec<Block>,
}

/// A part of a report. All words are plain text.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Block {
    /// A heading of level 2 or 3.
    Heading(u8, String),
    /// A paragraph.
    Paragraph(String),
    /// Lines that belong together.
    List(Vec<String>),
    /// A table.
    Table(Table),
    /// A picture.
    Figure {
        /// A standalone SVG document.
        svg: String,
        /// What it shows.
        caption: String,
    },
    /// What must not be overlooked.
    Note(String),
}

/// A table of words.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Table {
    /// What it shows.
    pub caption: String,
    /// Its columns.
    pub columns: Vec<Column>,
    /// Its lines, with a cell for each column.
    pub rows: Vec<Vec<String>>,
}

/// A column of a table.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Column {
    /// Its head.
    pub head: String,
    /// Whether it holds numbers, which stand at the right.
    pub is_number: bool,
}

impl Column {
    /// A column of words.
    pub fn words(head: &str) -> Self {
        Self { head: head.to_owned(), is_number: false }
    }

    /// A column of numbers.
    pub fn numbers(head: &str) -> Self {
        Self { head: head.to_owned(), is_number: true }
    }
}
