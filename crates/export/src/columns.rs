//! What is known of each column of the plot folder: what its cells are, and what may stand in them.

use plot::{Fate, Role, Status};
use serde_json::Value;

/// What the cells of a column are.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Kind {
    /// Words; also numbers that are names, such as a tag.
    Text,
    /// A whole number.
    Whole,
    /// A number.
    Number,
    /// A date.
    Date,
    /// A date, or a date and time.
    When,
}

/// What may stand in a column.
#[derive(Clone, Copy, Debug)]
pub(crate) enum Rule {
    /// Anything of its kind, or nothing.
    Free,
    /// It must be filled.
    Needed,
    /// It must be filled, and no two are the same.
    Key,
    /// From, to.
    Between(f64, f64),
    /// One of these words.
    OneOf(fn() -> Vec<&'static str>),
}

/// A column of the plot folder.
#[derive(Debug)]
pub(crate) struct Column {
    pub(crate) name: &'static str,
    pub(crate) kind: Kind,
    pub(crate) rule: Rule,
    /// What it means, in a few words.
    pub(crate) means: &'static str,
}

const fn column(name: &'static str, kind: Kind, rule: Rule, means: &'static str) -> Column {
    Column { name, kind, rule, means }
}

use Kind::{Date, Number, Text, When, Whole};
use Rule::{Between, Free, Key, Needed, OneOf};

/// The CSV files of the plot folder, without `.csv`, and their columns.
pub(crate) const FILES: &[(&str, &[Column])] = &[
    ("trees", TREES),
    ("scores", SCORES),
    ("decisions", DECISIONS),
    ("events", EVENTS),
    ("weather", WEATHER),
];

const TREES: &[Column] = &[
    column("tree_id", Text, Key, "the tree or graft; never used again"),
    column("row", Whole, Free, "number of the row"),
    column("place", Whole, Free, "number of the place in its row"),
    column("x_m", Number, Free, "metres along the row; wins over row and place"),
    column("y_m", Number, Free, "metres across the rows, 90° to the left of x_m"),
    column("lon", Number, Between(-180.0, 180.0), "degrees WGS 84, used where x_m is empty"),
    column("lat", Number, Between(-90.0, 90.0), "degrees WGS 84, used where y_m is empty"),
    column("tag", Text, Free, "what the tag says"),
    column("genotype", Text, Free, "shared by copies of one genotype; empty: its own"),
    column("seed_parent", Text, Free, "seed parent of its cross"),
    column("pollen_parent", Text, Free, "pollen parent of its cross"),
    column("cross_year", Whole, Free, "year of the cross"),
    column("seedling_no", Text, Free, "number within cross and year"),
    column("role", Text, OneOf(roles), "what it is there for; empty: seedling"),
    column("grafted_on", Text, Free, "tree_id of the tree that carries this graft"),
    column("status", Text, OneOf(statuses), "whether it stands; empty: alive"),
    column("planted_on", Date, Free, "day of planting"),
    column("removed_on", Date, Free, "day on which it died or was taken out"),
    column("note", Text, Free, "free words"),
];

const SCORES: &[Column] = &[
    column("score_id", Text, Key, "the score; unique for ever"),
    column("tree_id", Text, Needed, "which tree"),
    column("trait", Text, Needed, "which trait of plot.json"),
    column("value", Number, Free, "on the trait's scale; empty: could not be scored"),
    column("scored_on", When, Needed, "when"),
    column("round", Text, Free, "walk-through; empty: each date is one"),
    column("scorer", Text, Free, "who"),
    column("note", Text, Free, "free words"),
    column("replaces", Text, Free, "score_id that this line corrects or, without value, withdraws"),
];

const DECISIONS: &[Column] = &[
    column("decision_id", Text, Key, "the decision; unique for ever"),
    column("tree_id", Text, Needed, "on which tree"),
    column("decision", Text, OneOf(fates), "what becomes of it; empty: undecided again"),
    column("decided_on", When, Needed, "when"),
    column("reason", Text, Free, "free words"),
];

const EVENTS: &[Column] = &[
    column("date", Date, Free, "the day; or from and to"),
    column("from", Date, Free, "first day"),
    column("to", Date, Free, "last day"),
    column("kind", Text, Needed, "spray, pruning, hail, frost or another word"),
    column("rows", Text, Free, "row numbers and ranges; empty: the whole plot"),
    column("note", Text, Free, "free words"),
];

const WEATHER: &[Column] = &[
    column("time", When, Key, "the hour, named by its beginning"),
    column("temp_c", Number, Between(-60.0, 60.0), "air temperature, °C"),
    column("rain_mm", Number, Between(0.0, 400.0), "rain in the hour, mm"),
    column("leaf_wetness", Number, Between(0.0, 1.0), "0 dry, 1 wet"),
    column("relative_humidity", Number, Between(0.0, 100.0), "per cent"),
    column("wind_ms", Number, Between(0.0, 120.0), "metres per second"),
    column("wind_from_deg", Number, Between(0.0, 360.0), "clockwise from north, where it is from"),
];

fn roles() -> Vec<&'static str> {
    Role::ALL.iter().map(|role| role.as_str()).collect()
}

fn statuses() -> Vec<&'static str> {
    Status::ALL.iter().map(|status| status.as_str()).collect()
}

fn fates() -> Vec<&'static str> {
    Fate::ALL.iter().map(|fate| fate.as_str()).collect()
}

/// A cell as JSON: null where it is empty, a number where its column is of numbers, else text.
pub(crate) fn as_json(kind: Kind, cell: &str) -> Value {
    match (kind, number(kind, cell)) {
        _ if cell.is_empty() => Value::Null,
        (Whole, Some(_)) => cell.parse::<i64>().map_or_else(|_| cell.into(), Value::from),
        (_, Some(number)) => number.into(),
        (_, None) => cell.into(),
    }
}

/// The number of a cell, where its column is of numbers.
pub(crate) fn number(kind: Kind, cell: &str) -> Option<f64> {
    let number = match kind {
        Whole | Number => cell.parse::<f64>().ok(),
        _ => None,
    };
    number.filter(|number| number.is_finite())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_columns_are_those_that_the_folder_may_have() {
        let names = |all: &[Column]| all.iter().map(|it| it.name).collect::<Vec<_>>();
        let ours: Vec<_> = FILES.iter().map(|(file, all)| (*file, names(all))).collect();
        let theirs: Vec<_> =
            files::columns().into_iter().map(|(file, all)| (file, all.to_vec())).collect();
        assert_eq!(ours, theirs);
    }

    #[test]
    fn a_cell_is_what_its_column_says() {
        let check = |kind, cell, json: Value| assert_eq!(as_json(kind, cell), json, "{cell}");
        check(Whole, "-3", (-3).into());
        check(Number, "0.75", 0.75.into());
        check(Number, "", Value::Null);
        check(Text, "17", "17".into());
        check(Date, "2031-06-14", "2031-06-14".into());
    }
}
