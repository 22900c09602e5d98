//! A Data Package (version 2) with a Table Schema for each CSV file, beside copies of the files.

use files::{Book, FileSet};
use plot::When;
use serde_json::{Map, Value, json};

use crate::columns::{Kind, Rule};
use crate::sheets::{Sheet, sheets};

/// The name of the descriptor.
pub const DESCRIPTOR: &str = "datapackage.json";

/// The descriptor, and byte for byte the files that it describes. With `plot.json` among them the
/// folder is a plot folder, too.
pub fn data_package(book: &Book) -> FileSet {
    let sheets = sheets(book);
    let mut files = FileSet::from([(DESCRIPTOR.to_owned(), described(book, &sheets))]);
    for name in sheets.iter().map(path).chain([HEAD.to_owned()]) {
        files.extend(book.files().get(&name).map(|bytes| (name, bytes.clone())));
    }
    files
}

/// The descriptor alone: `datapackage.json`.
pub fn descriptor(book: &Book) -> Vec<u8> {
    described(book, &sheets(book))
}

fn described(book: &Book, sheets: &[Sheet]) -> Vec<u8> {
    let traits: Vec<&str> = book.plot().head().traits.iter().map(|one| one.id.as_str()).collect();
    let mut resources = vec![json!({
        "name": "plot",
        "path": HEAD,
        "format": "json",
        "mediatype": "application/json",
        "encoding": "utf-8",
        "description": "what the plot is: layout, place on earth, traits with their scales",
    })];
    resources.extend(sheets.iter().map(|sheet| {
        json!({
            "name": sheet.name,
            "type": "table",
            "path": path(sheet),
            "format": "csv",
            "mediatype": "text/csv",
            "encoding": "utf-8",
            "bytes": book.files()[&path(sheet)].len(),
            "schema": schema(sheet, &traits),
        })
    }));
    let title = &book.plot().head().name;
    let descriptor = json!({
        "$schema": "https://datapackage.org/profiles/2.0/datapackage.json",
        "name": slug(title),
        "title": title,
        "resources": resources,
    });
    format!("{descriptor:#}\n").into_bytes()
}

const HEAD: &str = "plot.json";

fn path(sheet: &Sheet) -> String {
    format!("{}.csv", sheet.name)
}

fn schema(sheet: &Sheet, traits: &[&str]) -> Value {
    let fields: Vec<Value> =
        (0..sheet.columns.len()).map(|nth| field(sheet, nth, traits)).collect();
    let mut schema = json!({
        "$schema": "https://datapackage.org/profiles/2.0/tableschema.json",
        "fields": fields,
        "missingValues": [""],
    });
    let is_key = |rule: Rule| matches!(rule, Rule::Key);
    let known = sheet.columns.iter().filter_map(|(.., known)| *known);
    if let Some(key) = known.clone().find(|column| is_key(column.rule)) {
        schema["primaryKey"] = json!([key.name]);
    }
    let keys: Vec<Value> = known
        .filter_map(|column| {
            match (sheet.name, column.name) {
                // Within one table the resource is left out.
                ("trees", "grafted_on") => Some(json!({"fields": ["tree_id"]})),
                ("scores" | "decisions", "tree_id") => {
                    Some(json!({"resource": "trees", "fields": ["tree_id"]}))
                }
                _ => None,
            }
            .map(|reference| json!({"fields": [column.name], "reference": reference}))
        })
        .collect();
    if !keys.is_empty() {
        schema["foreignKeys"] = keys.into();
    }
    schema
}

fn field(sheet: &Sheet, nth: usize, traits: &[&str]) -> Value {
    let (name, kind, known) = &sheet.columns[nth];
    let mut field = Map::from_iter([("name".to_owned(), name.as_str().into())]);
    let (of_type, format) = match kind {
        Kind::Text => ("string", None),
        Kind::Whole => ("integer", None),
        Kind::Number => ("number", None),
        Kind::Date => ("date", None),
        Kind::When => moments(sheet, nth),
    };
    field.insert("type".to_owned(), of_type.into());
    field.extend(format.map(|format| ("format".to_owned(), format.into())));
    let Some(known) = known else { return field.into() };
    field.insert("description".to_owned(), known.means.into());
    let constraints = match known.rule {
        Rule::Free => None,
        Rule::Needed if (sheet.name, known.name) == ("scores", "trait") && !traits.is_empty() => {
            Some(json!({"required": true, "enum": traits}))
        }
        Rule::Needed => Some(json!({"required": true})),
        Rule::Key => Some(json!({"required": true, "unique": true})),
        Rule::Between(from, to) => Some(json!({"minimum": from, "maximum": to})),
        Rule::OneOf(words) => Some(json!({"enum": words()})),
    };
    field.extend(constraints.map(|constraints| ("constraints".to_owned(), constraints)));
    field.into()
}

/// What a column of dates and moments is: the type that holds all of its cells, with its format.
/// Dates beside moments are text.
fn moments(sheet: &Sheet, nth: usize) -> (&'static str, Option<&'static str>) {
    let cells = || sheet.rows.iter().map(|row| row[nth].as_str()).filter(|cell| !cell.is_empty());
    let all = |is: fn(&str) -> bool| cells().next().is_some() && cells().all(is);
    if all(|cell| cell.len() == "2031-06-14".len()) {
        return ("date", None);
    }
    if all(|cell| When::parse(cell).is_some_and(|when| when.moment().is_some())) {
        return ("datetime", None);
    }
    if all(|cell| cell.len() == "2031-06-14T09:00".len()) {
        return ("datetime", Some("%Y-%m-%dT%H:%M"));
    }
    ("string", None)
}

/// The plot's name as a name of a package: lower-case letters, digits, and dashes between them.
fn slug(name: &str) -> String {
    let plain =
        |sign: char| if sign.is_ascii_alphanumeric() { sign.to_ascii_lowercase() } else { '-' };
    let plain: String = name.chars().map(plain).collect();
    let words: Vec<&str> = plain.split('-').filter(|word| !word.is_empty()).collect();
    if words.is_empty() { "plot".to_owned() } else { words.join("-") }
}

#[cfg(test)]
mod tests;
