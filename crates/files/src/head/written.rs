//! `plot.json` written anew, in the order of the documentation.

use std::collections::BTreeMap;

use plot::{Cross, Disease, Head, Kind, Layout, Origin, Trait};
use serde::Serialize;
use serde_json::Value;

use super::{FORMAT, VERSION};

/// The bytes of `plot.json` for a head and what people call the low and the high end of the rows.
pub(crate) fn to_json(head: &Head, [low_end, high_end]: [Option<&str>; 2]) -> Vec<u8> {
    let written = Written {
        format: FORMAT,
        version: VERSION,
        name: &head.name,
        layout: WrittenLayout { layout: head.layout, low_end, high_end },
        origin: head.origin,
        season_starts_month: head.season_starts_month,
        traits: head.traits.iter().map(WrittenTrait::of).collect(),
        crosses: head.crosses.iter().map(WrittenCross::of).collect(),
        diseases: head.diseases.iter().filter_map(own).collect(),
    };
    let mut bytes =
        serde_json::to_vec_pretty(&written).expect("strings, finite numbers and lists are JSON");
    bytes.push(b'\n');
    bytes
}

#[derive(Serialize)]
struct Written<'a> {
    format: &'static str,
    version: u64,
    name: &'a str,
    layout: WrittenLayout<'a>,
    #[serde(skip_serializing_if = "Option::is_none")]
    origin: Option<Origin>,
    season_starts_month: u8,
    traits: Vec<WrittenTrait<'a>>,
    crosses: Vec<WrittenCross<'a>>,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    diseases: Vec<Value>,
}

/// What the plot itself says of a disease.
fn own(disease: &Disease) -> Option<Value> {
    serde_json::from_str(disease.own.as_ref()?).ok()
}

#[derive(Serialize)]
struct WrittenLayout<'a> {
    #[serde(flatten)]
    layout: Layout,
    #[serde(skip_serializing_if = "Option::is_none")]
    low_end: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    high_end: Option<&'a str>,
}

#[derive(Serialize)]
struct WrittenTrait<'a> {
    id: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    disease: Option<&'a str>,
    label: &'a str,
    #[serde(flatten)]
    kind: WrittenKind<'a>,
    #[serde(skip_serializing_if = "Option::is_none")]
    needs: Option<WrittenNeeds<'a>>,
}

#[derive(Serialize)]
#[serde(tag = "kind", rename_all = "snake_case")]
enum WrittenKind<'a> {
    Ordinal {
        scale: Vec<WrittenStep<'a>>,
    },
    Number {
        #[serde(skip_serializing_if = "Option::is_none")]
        unit: Option<&'a str>,
        #[serde(skip_serializing_if = "Option::is_none")]
        min: Option<f64>,
        #[serde(skip_serializing_if = "Option::is_none")]
        max: Option<f64>,
    },
}

#[derive(Serialize)]
struct WrittenStep<'a> {
    value: f64,
    label: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    severity: Option<f64>,
}

#[derive(Serialize)]
struct WrittenNeeds<'a> {
    r#trait: &'a str,
    at_least: f64,
}

#[derive(Serialize)]
struct WrittenCross<'a> {
    #[serde(skip_serializing_if = "Option::is_none")]
    seed_parent: Option<&'a str>,
    #[serde(skip_serializing_if = "Option::is_none")]
    pollen_parent: Option<&'a str>,
    #[serde(skip_serializing_if = "BTreeMap::is_empty")]
    expected_resistant: &'a BTreeMap<String, f64>,
}

impl<'a> WrittenTrait<'a> {
    fn of(one: &'a Trait) -> Self {
        let kind = match &one.kind {
            Kind::Ordinal(scale) => WrittenKind::Ordinal {
                scale: scale
                    .steps()
                    .iter()
                    .map(|step| WrittenStep {
                        value: step.value,
                        label: &step.label,
                        severity: step.severity,
                    })
                    .collect(),
            },
            Kind::Number { unit, min, max } => {
                WrittenKind::Number { unit: unit.as_deref(), min: *min, max: *max }
            }
        };
        let needs = one.needs.as_ref().map(|needs| WrittenNeeds {
            r#trait: needs.trait_id.as_str(),
            at_least: needs.at_least,
        });
        Self {
            id: one.id.as_str(),
            disease: one.disease.as_deref(),
            label: &one.label,
            kind,
            needs,
        }
    }
}

impl<'a> WrittenCross<'a> {
    fn of(cross: &'a Cross) -> Self {
        Self {
            seed_parent: cross.key.seed_parent.as_deref(),
            pollen_parent: cross.key.pollen_parent.as_deref(),
            expected_resistant: &cross.expected_resistant,
        }
    }
}
