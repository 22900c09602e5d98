//! From statistics to JSON: the keys that docs/spatial-statistics.md documents.

use anyhow::Context;
use serde_json::{Map, Value, json};
use spatial::{PermutationTest, Test, Undefined, Weights, moran, moran_permutation};

use super::points::Points;
use super::{Call, Stat, weigh};
use crate::Answer;

/// Everything that a call asks for; [`Answer::No`] where a statistic is not defined.
///
/// # Errors
/// An option that a statistic needs is missing.
pub(crate) fn all(call: &Call, points: &Points) -> anyhow::Result<(Value, Answer)> {
    let mut out = Map::new();
    out.insert("points".into(), points.names.len().into());
    out.insert("left_out".into(), points.left_out.len().into());
    let weights = weigh::build(call, points)?;
    out.insert("weights".into(), about_weights(call, &weights));
    let mut answer = Answer::Done;
    for stat in &call.stat {
        let (key, result) = match stat {
            Stat::Moran => ("moran", moran_json(call, &weights, values(points)?)),
        };
        let json = result.unwrap_or_else(|undefined| {
            answer = Answer::No;
            json!({ "undefined": undefined.to_string() })
        });
        out.insert(key.into(), json);
    }
    Ok((Value::Object(out), answer))
}

fn values(points: &Points) -> anyhow::Result<&[f64]> {
    points.values.as_deref().context("--value is missing: expected the column of the value")
}

fn about_weights(call: &Call, weights: &Weights) -> Value {
    let sums = weights.sums();
    json!({
        "scheme": call.weights.as_ref().map(weigh::Scheme::text),
        "style": call.style.name(),
        "links": weights.links(),
        "islands": weights.islands().len(),
        "sum": sums.s0,
    })
}

fn moran_json(call: &Call, weights: &Weights, values: &[f64]) -> Result<Value, Undefined> {
    let moran = moran(weights, values)?;
    let mut out = object(json!({
        "value": moran.value,
        "expected": moran.expected,
        "variance_normality": moran.variance_normality,
        "variance_randomisation": moran.variance_randomisation,
    }));
    insert_test(&mut out, "normality", moran.normality);
    insert_test(&mut out, "randomisation", moran.randomisation);
    if call.permutations > 0 {
        let test = moran_permutation(weights, values, call.permutations, call.seed)?;
        insert_permutation(&mut out, test);
    }
    Ok(Value::Object(out))
}

fn insert_test(out: &mut Map<String, Value>, under: &str, test: Test) {
    out.insert(format!("z_{under}"), test.z.into());
    out.insert(format!("p_{under}"), test.p_two_sided.into());
    out.insert(format!("p_{under}_greater"), test.p_greater.into());
    out.insert(format!("p_{under}_less"), test.p_less.into());
}

fn insert_permutation(out: &mut Map<String, Value>, test: PermutationTest) {
    out.extend(object(json!({
        "permutations": test.permutations,
        "seed": test.seed,
        "mean_permutation": test.mean,
        "standard_deviation_permutation": test.standard_deviation,
        "z_permutation": test.z,
        "p_permutation": test.p_two_sided,
        "p_permutation_greater": test.p_greater,
        "p_permutation_less": test.p_less,
        "p_permutation_folded": test.p_folded,
    })));
}

fn object(json: Value) -> Map<String, Value> {
    match json {
        Value::Object(map) => map,
        _ => Map::new(),
    }
}
