//! The diseases that come with the program, and those of `plot.json` beside or in place of them.

use std::sync::LazyLock;

use language::say;
use plot::{Disease, Diseases};
use serde_json::{Map, Value};

use super::fields::Fields;
use super::profile::profile;
use crate::findings::{Findings, quoted};

/// The profiles that come with the program, in the form of `diseases` in `plot.json`.
const PROFILES: [&str; 3] = [
    include_str!("../../profiles/scab.json"),
    include_str!("../../profiles/fire_blight.json"),
    include_str!("../../profiles/canker.json"),
];
/// Most profiles in one `plot.json`.
const MOST: usize = 100;

static BUILT_IN: LazyLock<(Vec<Value>, Diseases)> = LazyLock::new(|| {
    let texts = PROFILES.map(|text| serde_json::from_str(text).expect("a test reads each of them"));
    let read = |value: &Value| {
        let mut findings = Findings::of("profile");
        profile(&mut Fields::of(value, String::new(), &mut findings)?)
    };
    let read = texts.iter().map(|text| read(text).expect("a test reads each of them"));
    let diseases = Diseases::new(read.collect());
    (texts.into(), diseases)
});

/// What is known of diseases where a plot itself says nothing.
pub fn built_in_diseases() -> Diseases {
    BUILT_IN.1.clone()
}

/// The built-in diseases, each in the plot's own words where it has any, and then those that the
/// plot alone knows. A faulty profile is left out, and what is built in stands.
pub(super) fn diseases(fields: &mut Fields<'_, '_>) -> Diseases {
    const NAME: &str = "diseases";
    let Some(list) = fields.optional(NAME, say!("a list of disease profiles"), Value::as_array)
    else {
        return built_in_diseases();
    };
    if list.len() > MOST {
        fields.fault(
            NAME,
            say!("{count} profiles", count = list.len()),
            say!("at most {most}", most = MOST),
        );
    }
    let mut own: Vec<Disease> = Vec::new();
    for (nth, value) in list.iter().take(MOST).enumerate() {
        let whole = over_built_in(value);
        let read = fields.apart(&format!("{NAME}[{nth}]"), &whole, profile);
        let Some(read) = read else { continue };
        if let Some(name) = read.all_names().find(|name| own.iter().any(|it| it.is_called(name))) {
            let found = say!("{id} twice", id = quoted(name));
            fields.fault(&format!("{NAME}[{nth}].id"), found, say!("each disease once"));
            continue;
        }
        own.push(Disease { own: Some(value.to_string().into()), ..read });
    }
    let mut all: Vec<Disease> = built_in_diseases().to_vec();
    for one in own {
        match all.iter_mut().find(|built_in| one.is_called(&built_in.id)) {
            Some(built_in) => *built_in = one,
            None => all.push(one),
        }
    }
    Diseases::new(all)
}

/// A profile that means a built-in disease, completed by what is built in.
fn over_built_in(own: &Value) -> Value {
    let Some(said) = own.as_object() else { return own.clone() };
    let names = said.get("names").and_then(Value::as_array).into_iter().flatten();
    let called = ["id", "label"].into_iter().filter_map(|field| said.get(field));
    let own_names = || names.clone().chain(called.clone()).filter_map(Value::as_str);
    let (texts, built_in) = &*BUILT_IN;
    let Some(nth) = built_in.iter().position(|it| own_names().any(|name| it.is_called(name)))
    else {
        return own.clone();
    };
    let mut whole = texts[nth].clone();
    let rule = |of: &Value| of["weather"]["rule"].as_str().map(str::to_owned);
    if rule(own).is_some() && rule(own) != rule(&whole) {
        whole["weather"] = Value::Null;
    }
    merge(&mut whole, said);
    if said.get("names").is_none_or(Value::is_array) {
        let known = &built_in[nth];
        let all = own_names().chain(known.all_names()).map(Value::from);
        let no_words = names.clone().filter(|name| !name.is_string()).cloned();
        whole["names"] = no_words.chain(all).collect();
    }
    whole
}

/// JSON Merge Patch (RFC 7396), save that the source of an object does not stand for what is said
/// anew in it.
fn merge(whole: &mut Value, said: &Map<String, Value>) {
    if !whole.is_object() {
        *whole = Value::Object(Map::new());
    }
    let Some(whole) = whole.as_object_mut() else { return };
    whole.remove("source");
    for (name, value) in said {
        match value {
            Value::Null => _ = whole.remove(name),
            Value::Object(within) => merge(whole.entry(name).or_insert(Value::Null), within),
            other => _ = whole.insert(name.clone(), other.clone()),
        }
    }
}

#[cfg(test)]
mod tests;
