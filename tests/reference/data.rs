//! Reading the stored data sets and reference values.

use std::path::PathBuf;

use serde_json::Value;
use spatial::Weights;

/// A table with its columns by name.
pub(crate) struct Table {
    header: Vec<String>,
    rows: Vec<Vec<String>>,
}

impl Table {
    pub(crate) fn read(name: &str) -> Self {
        let mut reader = csv::Reader::from_path(path(name)).expect("a stored table");
        let header = reader.headers().expect("a header").iter().map(str::to_owned).collect();
        let rows = reader
            .records()
            .map(|record| record.expect("a record").iter().map(str::to_owned).collect())
            .collect();
        Self { header, rows }
    }

    pub(crate) fn len(&self) -> usize {
        self.rows.len()
    }

    pub(crate) fn text(&self, column: &str) -> Vec<&str> {
        let at = self.header.iter().position(|head| head == column).expect("a known column");
        self.rows.iter().map(|row| row[at].as_str()).collect()
    }

    /// Numbers; none where the cell is empty or `NA`.
    pub(crate) fn maybe(&self, column: &str) -> Vec<Option<f64>> {
        let cell = |cell: &str| match cell {
            "" | "NA" => None,
            cell => Some(cell.parse().expect("a number")),
        };
        self.text(column).into_iter().map(cell).collect()
    }

    pub(crate) fn numbers(&self, column: &str) -> Vec<f64> {
        self.maybe(column).into_iter().map(|cell| cell.expect("a number")).collect()
    }

    pub(crate) fn yes(&self, column: &str) -> Vec<bool> {
        self.numbers(column).into_iter().map(|value| value > 0.5).collect()
    }

    pub(crate) fn pairs(&self, first: &str, second: &str) -> Vec<(f64, f64)> {
        self.numbers(first).into_iter().zip(self.numbers(second)).collect()
    }
}

/// Stored weights `i,j,w` (numbers from 1) of `n` points; style `W` is row-standardised.
pub(crate) fn weights(name: &str, n: usize, style: &str) -> Weights {
    let table = Table::read(name);
    let pairs: Vec<_> = table
        .pairs("i", "j")
        .into_iter()
        .zip(table.numbers("w"))
        .map(|((i, j), w)| (i as usize - 1, j as usize - 1, w))
        .collect();
    let weights = Weights::from_pairs(n, &pairs).expect("good pairs");
    if style.starts_with(['W', 'r']) { weights.row_standardised() } else { weights }
}

/// The weights and the table of a case such as `pepper_F2__rook`.
pub(crate) fn case(name: &str, style: &str) -> (Table, Weights) {
    let (dataset, scheme) = name.split_once("__").expect("dataset__weights");
    let table = Table::read(&format!("{dataset}.csv"));
    let weights = weights(&format!("W_{dataset}_{scheme}.csv"), table.len(), style);
    (table, weights)
}

pub(crate) fn json(name: &str) -> Value {
    let text = std::fs::read_to_string(path(name)).expect("a stored file");
    serde_json::from_str(&text).expect("JSON")
}

/// A number of a JSON object.
pub(crate) fn number(value: &Value, key: &str) -> f64 {
    value[key].as_f64().unwrap_or_else(|| panic!("no number {key}"))
}

/// A list of numbers of a JSON object.
pub(crate) fn list(value: &Value, key: &str) -> Vec<f64> {
    let items = value[key].as_array().unwrap_or_else(|| panic!("no list {key}"));
    items.iter().map(|item| item.as_f64().expect("a number")).collect()
}

fn path(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("reference/data").join(name)
}
