//! Two `plot.json` of one plot made one: the same plot, and the traits and crosses of both.

use std::collections::BTreeSet;

use language::say;
use plot::{Problem, Weight};
use serde_json::{Map, Value};

use super::rows::Row;
use super::united::{Differs, settled};
use crate::FileSet;
use crate::head::{FILE, origin_of, with_origin};

/// The field of which two folders may say different things: where the plot lies.
pub(super) const ORIGIN: &str = "origin";

/// Lists whose items are told apart by these fields.
const LISTS: [(&str, &[&str]); 3] =
    [("traits", &["id"]), ("crosses", &["seed_parent", "pollen_parent"]), ("diseases", &["id"])];

/// Ours byte for byte where theirs adds nothing; and what is to be decided of the origin, of which
/// `open` are versions that earlier merges left to be decided.
///
/// # Errors
/// A field, a trait or a cross that differs: scores under two descriptions cannot be united.
pub(super) fn merged(
    ours: &FileSet,
    theirs: &FileSet,
    open: &BTreeSet<Row>,
) -> Result<(Vec<u8>, Vec<Differs>), Vec<Problem>> {
    let (Some(own), Some(their_bytes)) = (ours.get(FILE), theirs.get(FILE)) else {
        return Err(vec![problem(
            None,
            say!("no plot.json").to_owned(),
            say!("a plot folder on both sides"),
        )]);
    };
    let read = |bytes: &[u8]| {
        serde_json::from_slice::<Map<String, Value>>(bytes)
            .map_err(|error| vec![problem(None, error.to_string(), say!("an object in JSON"))])
    };
    let (before, their) = (read(own)?, read(their_bytes)?);
    let (mut head, mut problems) = (before.clone(), Vec::new());
    let versions: BTreeSet<Row> =
        [own, their_bytes].into_iter().filter_map(|it| origin(it)).collect();
    let (origin, conflicts) = settled(ORIGIN, &versions, open);
    for (key, their) in their {
        let is_place = |own: &Value| own.is_object() || own.is_null();
        if key == ORIGIN && is_place(&their) && head.get(&key).is_none_or(is_place) {
            continue;
        }
        let list = LISTS.iter().find(|(list, _)| *list == key);
        match (head.get_mut(&key), list, their) {
            (None, _, their) => _ = head.insert(key, their),
            (Some(Value::Array(own)), Some((_, id)), Value::Array(their)) => {
                for item in their {
                    let same =
                        |known: &&Value| id.iter().all(|field| known[*field] == item[*field]);
                    match own.iter().find(same) {
                        None => own.push(item),
                        Some(known) if *known == item => {}
                        Some(known) => {
                            let name: Vec<&str> =
                                id.iter().filter_map(|field| known[*field].as_str()).collect();
                            problems.push(differs(
                                &format!("{key} ({})", name.join(" × ")),
                                &item,
                                known,
                            ));
                        }
                    }
                }
            }
            (Some(own), _, their) if *own == their => {}
            (Some(own), _, their) => problems.push(differs(&key, &their, own)),
        }
    }
    if !problems.is_empty() {
        return Err(problems);
    }
    let mut bytes = own.clone();
    if head != before {
        bytes = serde_json::to_vec_pretty(&head).expect("JSON was read from JSON");
        bytes.push(b'\n');
    }
    let winner = origin.filter(|winner| self::origin(&bytes).as_ref() != Some(winner));
    if let Some(winner) = winner.as_ref().and_then(text) {
        bytes = with_origin(&bytes, &winner);
    }
    Ok((bytes, conflicts))
}

/// The fields of the origin of a `plot.json`, each as JSON; none without one.
pub(super) fn origin(head: &[u8]) -> Option<Row> {
    let fields: Map<String, Value> = serde_json::from_str(origin_of(head)).ok()?;
    Some(fields.into_iter().map(|(name, value)| (name, value.to_string())).collect())
}

/// The origin of such fields; none where one of them is no JSON, which would say more than itself.
pub(super) fn text(origin: &Row) -> Option<String> {
    let field = |(name, value): (&String, &String)| {
        serde_json::from_str::<Value>(value).ok()?;
        Some(format!("{}: {value}", Value::from(&**name)))
    };
    let fields: Option<Vec<String>> = origin.iter().map(field).collect();
    Some(format!("{{{}}}", fields?.join(", ")))
}

fn differs(field: &str, their: &Value, own: &Value) -> Problem {
    problem(Some(field.to_owned()), their.to_string(), &say!("the same in both folders: {own}"))
}

fn problem(column: Option<String>, found: String, expected: &str) -> Problem {
    Problem {
        weight: Weight::Fault,
        file: FILE.to_owned(),
        line: None,
        column,
        found,
        expected: expected.to_owned(),
    }
}
