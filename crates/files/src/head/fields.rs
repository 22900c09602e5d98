//! The fields of one JSON object, read by name; what is wrong is told by its path.

use language::say;
use plot::{Refusal, Weight};
use serde_json::{Map, Value};

use crate::findings::{Findings, quoted};

/// An object within `plot.json`, such as `traits[2]`.
pub(super) struct Fields<'v, 'f> {
    object: &'v Map<String, Value>,
    path: String,
    findings: &'f mut Findings,
}

impl<'v, 'f> Fields<'v, 'f> {
    /// None, with the fault told, when `value` is no object.
    pub(super) fn of(value: &'v Value, path: String, findings: &'f mut Findings) -> Option<Self> {
        match value.as_object() {
            Some(object) => Some(Self { object, path, findings }),
            None => {
                let column = (!path.is_empty()).then_some(path);
                findings.push(Weight::Fault, None, column, shown(value), say!("an object {{…}}"));
                None
            }
        }
    }

    /// A field that is there and not null.
    pub(super) fn value(&self, name: &str) -> Option<&'v Value> {
        self.object.get(name).filter(|value| !value.is_null())
    }

    /// The names of all fields, sorted.
    pub(super) fn names(&self) -> Vec<String> {
        let mut names: Vec<String> = self.object.keys().cloned().collect();
        names.sort();
        names
    }

    /// A field that may be absent; none also when it is at fault.
    pub(super) fn optional<T>(
        &mut self,
        name: &str,
        expected: impl Into<String>,
        read: impl FnOnce(&'v Value) -> Option<T>,
    ) -> Option<T> {
        let value = self.value(name)?;
        let read = read(value);
        if read.is_none() {
            self.fault(name, shown(value), expected);
        }
        read
    }

    /// A field that must be there.
    pub(super) fn needed<T>(
        &mut self,
        name: &str,
        expected: impl Into<String>,
        read: impl FnOnce(&'v Value) -> Option<T>,
    ) -> Option<T> {
        if self.value(name).is_none() {
            self.fault(name, say!("nothing"), expected);
            return None;
        }
        self.optional(name, expected, read)
    }

    /// An object within this one; none when it is absent or anything in it is at fault.
    pub(super) fn within<T>(
        &mut self,
        name: &str,
        needed: bool,
        read: impl FnOnce(&mut Fields<'v, '_>) -> Option<T>,
    ) -> Option<T> {
        let Some(value) = self.value(name) else {
            if needed {
                self.fault(name, say!("nothing"), say!("an object {{…}}"));
            }
            return None;
        };
        sound(value, self.path_of(name), self.findings, read)
    }

    /// The sound objects of a list with their place in it; the others are told.
    pub(super) fn each<T>(
        &mut self,
        name: &str,
        expected: &str,
        mut read: impl FnMut(&mut Fields<'v, '_>) -> Option<T>,
    ) -> Vec<(usize, T)> {
        let Some(list) = self.optional(name, expected, Value::as_array) else {
            return Vec::new();
        };
        let path = self.path_of(name);
        let one = |(nth, value)| {
            Some((nth, sound(value, format!("{path}[{nth}]"), self.findings, &mut read)?))
        };
        list.iter().enumerate().filter_map(one).collect()
    }

    /// What `read` makes of an object that stands at `path` here, or stands for what does.
    pub(super) fn apart<T>(
        &mut self,
        path: &str,
        value: &Value,
        read: impl FnOnce(&mut Fields<'_, '_>) -> Option<T>,
    ) -> Option<T> {
        sound(value, self.path_of(path), self.findings, read)
    }

    /// The names of a list of texts, none of them empty; a list at fault is told and gives none.
    pub(super) fn texts(&mut self, name: &str, most: usize) -> Vec<String> {
        let expected = say!("a list of at most {most} texts, none of them empty");
        let read = self.optional(name, expected, |value| {
            let list = value.as_array().filter(|list| list.len() <= most)?;
            list.iter().map(super::non_empty).collect()
        });
        read.unwrap_or_default()
    }

    /// Whether a list has at most so many entries; more is a fault.
    pub(super) fn at_most(&mut self, name: &str, most: usize) -> bool {
        let entries = self.value(name).and_then(Value::as_array).map_or(0, Vec::len);
        if entries > most {
            self.fault(name, say!("{entries} entries"), say!("at most {most}"));
        }
        entries <= most
    }

    /// Tells fields of other names, which are kept and say nothing: they are hardly meant so.
    pub(super) fn only(&mut self, names: &[&str]) {
        for name in self.names().iter().filter(|name| !names.contains(&name.as_str())) {
            let expected = say!("one of {words}", words = names.join(", "));
            let path = self.path_of(name);
            self.findings.push(
                Weight::Notice,
                None,
                Some(path),
                say!("a field of no meaning"),
                expected,
            );
        }
    }

    pub(super) fn fault(
        &mut self,
        name: &str,
        found: impl Into<String>,
        expected: impl Into<String>,
    ) {
        self.findings.push(Weight::Fault, None, Some(self.path_of(name)), found, expected);
    }

    /// A fault that a constructor of the plot found in a field.
    pub(super) fn refuse(&mut self, name: &str, refusal: Refusal) {
        self.fault(name, refusal.found, refusal.expected);
    }

    fn path_of(&self, name: &str) -> String {
        if self.path.is_empty() { name.to_owned() } else { format!("{}.{name}", self.path) }
    }
}

/// What `read` makes of an object; none when anything in it is at fault.
fn sound<'v, T>(
    value: &'v Value,
    path: String,
    findings: &mut Findings,
    read: impl FnOnce(&mut Fields<'v, '_>) -> Option<T>,
) -> Option<T> {
    let before = findings.faults();
    let read = read(&mut Fields::of(value, path, findings)?);
    read.filter(|_| findings.faults() == before)
}

fn shown(value: &Value) -> String {
    match value {
        Value::String(text) => quoted(text),
        Value::Array(_) => say!("a list").to_owned(),
        Value::Object(_) => say!("an object").to_owned(),
        other => other.to_string(),
    }
}
