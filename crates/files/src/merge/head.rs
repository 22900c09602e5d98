//! Two `plot.json` of one plot made one: the same plot, and the traits and crosses of both.

use plot::{Problem, Weight};
use serde_json::{Map, Value};

use crate::FileSet;

pub(super) const FILE: &str = "plot.json";

/// Lists whose items are told apart by these fields.
const LISTS: [(&str, &[&str]); 2] =
    [("traits", &["id"]), ("crosses", &["seed_parent", "pollen_parent"])];

/// Ours byte for byte where theirs adds nothing.
///
/// # Errors
/// A field, a trait or a cross that differs: scores under two descriptions cannot be united.
pub(super) fn merged(ours: &FileSet, theirs: &FileSet) -> Result<Vec<u8>, Vec<Problem>> {
    let (Some(own), Some(their)) = (ours.get(FILE), theirs.get(FILE)) else {
        return Err(vec![problem(None, "no plot.json".to_owned(), "a plot folder on both sides")]);
    };
    let read = |bytes: &[u8]| {
        serde_json::from_slice::<Map<String, Value>>(bytes)
            .map_err(|error| vec![problem(None, error.to_string(), "an object in JSON")])
    };
    let (before, their) = (read(own)?, read(their)?);
    let (mut head, mut problems) = (before.clone(), Vec::new());
    for (key, their) in their {
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
    if head == before {
        return Ok(own.clone());
    }
    let mut text = serde_json::to_vec_pretty(&head).expect("JSON was read from JSON");
    text.push(b'\n');
    Ok(text)
}

fn differs(field: &str, their: &Value, own: &Value) -> Problem {
    problem(Some(field.to_owned()), their.to_string(), &format!("the same in both folders: {own}"))
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
