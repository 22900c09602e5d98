//! The whole report as JSON, trees and traits by the ids of the plot folder.

use plot::{Plot, TraitIx, TreeIx};
use proof::Report;
use serde_json::{Map, Result, Value, from_value, to_value};

/// The report, and in place of every index the id that trees.csv and plot.json know.
///
/// # Errors
/// The report cannot be written as JSON.
pub(crate) fn whole(plot: &Plot, report: &Report) -> Result<Value> {
    named(plot, to_value(report)?)
}

fn named(plot: &Plot, value: Value) -> Result<Value> {
    match value {
        Value::Array(items) => items.into_iter().map(|item| named(plot, item)).collect(),
        Value::Object(fields) => {
            fields.into_iter().map(|(key, value)| field(plot, key, value)).collect()
        }
        value => Ok(value),
    }
}

fn field(plot: &Plot, key: String, value: Value) -> Result<(String, Value)> {
    let is_list = |value: &Value| {
        value
            .as_array()
            .is_some_and(|items| !items.is_empty() && items.iter().all(Value::is_number))
    };
    let id = |tree: TreeIx| plot.tree(tree).id().as_str();
    Ok(match key.as_str() {
        "tree" => (key, id(from_value(value)?).into()),
        "trees" if is_list(&value) => {
            let trees: Vec<TreeIx> = from_value(value)?;
            (key, trees.into_iter().map(id).collect())
        }
        "by_tree" => {
            let pairs: Vec<(TreeIx, f64)> = from_value(value)?;
            let by_id: Map<String, Value> = pairs
                .into_iter()
                .map(|(tree, number)| (id(tree).to_owned(), number.into()))
                .collect();
            (key, by_id.into())
        }
        "trait_ix" => {
            let trait_ix: TraitIx = from_value(value)?;
            ("trait".to_owned(), plot.trait_of(trait_ix).id.as_str().into())
        }
        _ => (key, named(plot, value)?),
    })
}
