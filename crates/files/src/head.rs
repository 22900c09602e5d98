//! `plot.json` read: every field that breaks a rule is told by its path; a faulty trait or cross
//! is left out, the sound ones are kept.

mod diseases;
mod fields;
mod origin;
mod profile;
mod weather_rule;
mod written;

use std::collections::BTreeMap;

use language::say;
use plot::{
    Cross, CrossKey, Head, Kind, Layout, Needs, Origin, Plot, Refusal, Scale, Step, Trait, TraitId,
    Weight,
};
use serde_json::Value;

use crate::findings::{Findings, quoted};
use crate::sniff;
pub use diseases::built_in_diseases;
use fields::Fields;
pub(crate) use origin::{HeadSheet, is_same, said, saying, text as origin_of, with_origin};
pub(crate) use written::to_json;

/// The file's name.
pub(crate) const FILE: &str = "plot.json";
/// Name of this file format.
const FORMAT: &str = "leeward-plot";
/// The newest version of it that is read, and the one that is written.
const VERSION: u64 = 1;

/// Reads `plot.json`. None when nothing of the plot can be understood without what is at fault:
/// the format, its version, the name or the layout.
pub(crate) fn read(bytes: &[u8], findings: &mut Findings) -> Option<Head> {
    if let Some(kind) = sniff::not_text(bytes) {
        findings.whole(kind, say!("JSON text in UTF-8"));
        return None;
    }
    let bytes = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes);
    let json: Value = match serde_json::from_slice(bytes) {
        Ok(json) => json,
        Err(error) => {
            not_json(&error, findings);
            return None;
        }
    };
    let mut fields = Fields::of(&json, String::new(), findings)?;
    format_and_version(&mut fields)?;
    let name = fields.needed("name", say!("the plot's name"), non_empty);
    let layout = fields.within("layout", true, layout);
    let origin = fields.within("origin", false, origin);
    let month = fields.optional("season_starts_month", say!("a month from 1 to 12"), |value| {
        value.as_u64().filter(|month| (1..=12).contains(month)).map(|month| month as u8)
    });
    let traits = fields.each("traits", say!("a list of traits"), one_trait);
    let crosses = fields.each("crosses", say!("a list of crosses"), cross);
    let diseases = diseases::diseases(&mut fields);
    let mut head = Head {
        name: name?,
        layout: layout?,
        origin,
        season_starts_month: month.unwrap_or(1),
        traits: traits.into_iter().map(|(_, one)| one).collect(),
        crosses: crosses.into_iter().map(|(_, one)| one).collect(),
        diseases,
    };
    drop_second_traits(&mut head, findings);
    drop_needs_of_nothing(&mut head, findings);
    drop_second_crosses(&mut head, findings);
    notice_diseases(&head, findings);
    match Plot::new(head.clone()) {
        Ok(_) => Some(head),
        Err(refusal) => {
            findings.refusal(Weight::Fault, None, refusal);
            None
        }
    }
}

fn not_json(error: &serde_json::Error, findings: &mut Findings) {
    let (line, at) = (error.line() as u64, error.column());
    let text = error.to_string();
    let what = text.rsplit_once(" at line ").map_or(text.as_str(), |(what, _)| what);
    let (found, expected) = if what.contains("recursion limit") {
        let found = say!("lists or objects within one another, too many at character {at}");
        (found, say!("at most 127 levels"))
    } else {
        (say!("no valid JSON at character {at} ({what})"), say!("JSON text"))
    };
    findings.push(Weight::Fault, Some(line), None, found, expected);
}

fn format_and_version(fields: &mut Fields<'_, '_>) -> Option<()> {
    let format = fields.needed("format", format!("\"{FORMAT}\""), |value| {
        value.as_str().filter(|&format| format == FORMAT).map(|_| ())
    });
    let newer = say!(
        "version {version} at most: a newer Leeward wrote this folder and is needed to open it",
        version = VERSION
    );
    let version = match fields.value("version").and_then(Value::as_u64) {
        Some(later) if later > VERSION => {
            fields.fault("version", say!("version {version}", version = later), newer);
            None
        }
        _ => fields.needed("version", VERSION.to_string(), |value| {
            value.as_u64().filter(|&version| version == VERSION).map(|_| ())
        }),
    };
    format.and(version)
}

fn non_empty(value: &Value) -> Option<String> {
    value.as_str().filter(|text| !text.trim().is_empty()).map(str::to_owned)
}

fn text(value: &Value) -> Option<String> {
    value.as_str().map(str::to_owned)
}

fn whole(value: &Value) -> Option<i32> {
    value.as_i64().and_then(|number| i32::try_from(number).ok())
}

fn layout(fields: &mut Fields<'_, '_>) -> Option<Layout> {
    let spacing = |value: &Value| value.as_f64().filter(|&metres| metres > 0.0 && metres <= 1000.0);
    let expected = say!("metres above 0 and at most 1000");
    let row_spacing_m = fields.needed("row_spacing_m", expected, spacing);
    let place_spacing_m = fields.needed("place_spacing_m", expected, spacing);
    let first_row = fields.optional("first_row", say!("a whole number"), whole);
    let first_place = fields.optional("first_place", say!("a whole number"), whole);
    Some(Layout {
        row_spacing_m: row_spacing_m?,
        place_spacing_m: place_spacing_m?,
        first_row: first_row.unwrap_or(1),
        first_place: first_place.unwrap_or(1),
    })
}

fn origin(fields: &mut Fields<'_, '_>) -> Option<Origin> {
    let within =
        |limit: f64| move |value: &Value| value.as_f64().filter(|degrees| degrees.abs() <= limit);
    let lon = fields.needed("lon", say!("degrees from -180 to 180"), within(180.0));
    let lat = fields.needed("lat", say!("degrees from -89.9 to 89.9"), within(89.9));
    let bearing =
        fields.optional("row_bearing_deg", say!("degrees from -360 to 360"), within(360.0));
    Some(Origin { lon: lon?, lat: lat?, row_bearing_deg: bearing.unwrap_or(0.0) })
}

fn one_trait(fields: &mut Fields<'_, '_>) -> Option<Trait> {
    let id = fields.needed("id", say!("a name"), non_empty);
    let disease = fields.optional("disease", say!("the name of a disease"), non_empty);
    let label = fields.optional("label", say!("words for the screen"), text);
    let expected = say!("\"ordinal\" or \"number\"");
    let kind = match fields.needed("kind", expected, |value| {
        value.as_str().filter(|kind| ["ordinal", "number"].contains(kind)).map(str::to_owned)
    }) {
        Some(kind) if kind == "ordinal" => scale(fields).map(Kind::Ordinal),
        Some(_) => number(fields),
        None => None,
    };
    let needs = fields.within("needs", false, needs);
    let id = id?;
    let label = label.unwrap_or_else(|| id.clone());
    Some(Trait { id: TraitId::new(id), disease, label, kind: kind?, needs })
}

fn needs(fields: &mut Fields<'_, '_>) -> Option<Needs> {
    let trait_id = fields.needed("trait", say!("the id of another trait"), non_empty);
    let at_least = fields.needed("at_least", say!("a number"), Value::as_f64);
    Some(Needs { trait_id: TraitId::new(trait_id?), at_least: at_least? })
}

fn scale(fields: &mut Fields<'_, '_>) -> Option<Scale> {
    let expected = say!("a list of classes {{\"value\", \"label\", \"severity\"}}");
    if fields.value("scale").is_none() {
        fields.fault("scale", say!("nothing"), expected.as_str());
    }
    let steps = fields.each("scale", &expected, |fields| {
        let value = fields.needed("value", say!("a number"), Value::as_f64);
        let label = fields.optional("label", say!("words"), text);
        let severity = fields.optional("severity", say!("a share from 0 to 1"), |value| {
            value.as_f64().filter(|share| (0.0..=1.0).contains(share))
        });
        Some(Step { value: value?, label: label.unwrap_or_default(), severity })
    });
    let scale = Scale::new(steps.into_iter().map(|(_, step)| step).collect());
    scale.map_err(|refusal| fields.refuse("scale", refusal)).ok()
}

fn number(fields: &mut Fields<'_, '_>) -> Option<Kind> {
    let unit = fields.optional("unit", say!("a unit such as mm"), text);
    let min = fields.optional("min", say!("a number"), Value::as_f64);
    let max = fields.optional("max", say!("a number"), Value::as_f64);
    if let (Some(min), Some(max)) = (min, max)
        && max < min
    {
        fields.fault("max", max.to_string(), say!("a number of at least min ({min})"));
    }
    Some(Kind::Number { unit, min, max })
}

fn cross(fields: &mut Fields<'_, '_>) -> Option<Cross> {
    let seed_parent = fields.optional("seed_parent", say!("a name"), non_empty);
    let pollen_parent = fields.optional("pollen_parent", say!("a name"), non_empty);
    let expected_resistant = fields.within("expected_resistant", false, |fields| {
        let mut shares = BTreeMap::new();
        for disease in fields.names() {
            let share = fields.needed(&disease, say!("a share from 0 to 1"), |value| {
                value.as_f64().filter(|share| (0.0..=1.0).contains(share))
            });
            shares.extend(share.map(|share| (disease, share)));
        }
        Some(shares)
    });
    let key = CrossKey {
        seed_parent: seed_parent.map(Into::into),
        pollen_parent: pollen_parent.map(Into::into),
    };
    Some(Cross { key, expected_resistant: expected_resistant.unwrap_or_default() })
}

fn drop_second_traits(head: &mut Head, findings: &mut Findings) {
    let mut seen = Vec::new();
    head.traits.retain(|one| {
        let second = seen.contains(&one.id);
        if second {
            let refusal = Refusal::new(
                "traits.id",
                say!("{id} twice", id = quoted(one.id.as_str())),
                say!("each id once"),
            );
            findings.refusal(Weight::Fault, None, refusal);
        }
        seen.push(one.id.clone());
        !second
    });
}

fn drop_needs_of_nothing(head: &mut Head, findings: &mut Findings) {
    let ids: Vec<TraitId> = head.traits.iter().map(|one| one.id.clone()).collect();
    for one in &mut head.traits {
        if let Some(needs) = &one.needs
            && (needs.trait_id == one.id || !ids.contains(&needs.trait_id))
        {
            let found =
                say!("{name} (of {of})", name = quoted(needs.trait_id.as_str()), of = one.id);
            let refusal =
                Refusal::new("traits.needs", found, say!("the id of another trait of this plot"));
            findings.refusal(Weight::Fault, None, refusal);
            one.needs = None;
        }
    }
}

fn drop_second_crosses(head: &mut Head, findings: &mut Findings) {
    let mut seen = Vec::new();
    head.crosses.retain(|cross| {
        let second = seen.contains(&cross.key);
        if second {
            let found = say!("{id} twice", id = cross.key);
            findings.refusal(
                Weight::Fault,
                None,
                Refusal::new("crosses", found, say!("each cross once")),
            );
        }
        seen.push(cross.key.clone());
        !second
    });
}

/// What is allowed, but hardly meant.
fn notice_diseases(head: &Head, findings: &mut Findings) {
    let mut notice = |column: &'static str, found: String, expected: &str| {
        findings.refusal(Weight::Notice, None, Refusal::new(column, found, expected));
    };
    for one in head.traits.iter().filter(|one| one.disease.is_some()) {
        match &one.kind {
            Kind::Number { max: None, .. } => notice(
                "traits.max",
                say!("nothing (of {of})", of = one.id),
                say!("the largest value, without which no value says how much disease there is"),
            ),
            Kind::Ordinal(scale) if scale.steps().iter().all(|step| step.severity.is_none()) => {
                notice(
                    "traits.scale",
                    say!("no severity (of {of})", of = one.id),
                    say!("a severity for each class that says something of the disease"),
                );
            }
            _ => {}
        }
    }
    for cross in &head.crosses {
        for disease in cross.expected_resistant.keys() {
            if !head.traits.iter().any(|one| one.disease.as_ref() == Some(disease)) {
                notice(
                    "crosses.expected_resistant",
                    say!("{name} (of {of})", name = quoted(disease), of = cross.key),
                    say!("a disease that a trait of this plot names"),
                );
            }
        }
    }
}
