//! BrAPI v2.1, the open interface of breeding data: bodies of the answers to `/observationunits`,
//! `/variables` and `/observations`.

use files::{Book, FileSet};
use plot::{Kind, Plot, Role, Score, Trait, Tree, When};
use serde_json::{Map, Value, json};

use crate::geojson::point;
use crate::{one_a_line, sheets};

/// One file for each answer, named after what was asked: `observationunits.json`, `variables.json`
/// and `observations.json`, each with all there is on one page.
///
/// Trees and grafts are observation units of the level `plant`, traits are observation variables,
/// and the lines of `scores.csv` that stand are observations; one that could not be scored has a
/// null value. The plot is the study, its name the study's id.
pub fn brapi(book: &Book) -> FileSet {
    let plot = book.plot();
    let (_, trees) = sheets::trees(book);
    let units = trees.iter().map(|&(tree, _)| unit(plot, plot.tree(tree)));
    let variables = plot.head().traits.iter().map(variable);
    let observations = plot.standing_scores().map(|(_, score)| observation(plot, score));
    FileSet::from([
        ("observationunits.json".to_owned(), answer(units)),
        ("variables.json".to_owned(), answer(variables)),
        ("observations.json".to_owned(), answer(observations)),
    ])
}

/// All there is, as one page.
fn answer(data: impl Iterator<Item = Value>) -> Vec<u8> {
    one_a_line::list("{\"result\":{\"data\":", data, |count| {
        let metadata = json!({
            "datafiles": [],
            "pagination": {
                "currentPage": 0, "pageSize": count, "totalCount": count, "totalPages": 1,
            },
            "status": [],
        });
        format!("}},\"metadata\":{metadata}}}\n")
    })
}

fn unit(plot: &Plot, tree: &Tree) -> Value {
    let draft = tree.draft();
    let carrier = draft.grafted_on.as_ref().map(ToString::to_string);
    json!({
        "observationUnitDbId": tree.id().as_str(),
        "observationUnitName": tree.name(),
        "germplasmDbId": tree.genotype().as_str(),
        "germplasmName": tree.genotype().as_str(),
        "studyDbId": plot.head().name,
        "studyName": plot.head().name,
        "observationUnitPosition": position(plot, tree),
        "additionalInfo": filled([
            ("tag", own(tree.tag())),
            ("seed_parent", own(tree.cross().seed_parent.as_deref())),
            ("pollen_parent", own(tree.cross().pollen_parent.as_deref())),
            ("cross_year", draft.cross_year.map(|year| year.to_string())),
            ("seedling_no", own(draft.seedling_no.as_deref())),
            ("role", Some(tree.role().as_str().to_owned())),
            ("status", Some(tree.status().as_str().to_owned())),
            ("grafted_on", carrier),
            ("planted_on", draft.planted_on.map(|day| When::on(day).to_string())),
            ("removed_on", draft.removed_on.map(|day| When::on(day).to_string())),
            ("note", own(draft.note.as_deref())),
        ]),
    })
}

/// Row and place where it has them, else metres; degrees beside them where the plot has an origin.
fn position(plot: &Plot, tree: &Tree) -> Value {
    let spot = tree.spot();
    let ([x, y], [x_type, y_type]) = match (tree.row(), tree.place()) {
        (Some(row), Some(place)) => {
            ([place.to_string(), row.to_string()], ["PLANTED_INDIVIDUAL", "PLANTED_ROW"])
        }
        _ => {
            let spot = spot.to_mm();
            ([spot.x_m.to_string(), spot.y_m.to_string()], ["MEASURED_COL", "MEASURED_ROW"])
        }
    };
    let mut position = json!({
        "entryType": match tree.role() {
            Role::Seedling | Role::Named => "TEST",
            Role::SusceptibleCheck | Role::ResistantCheck => "CHECK",
            Role::Guard => "FILLER",
        },
        "observationLevel": {"levelName": "plant", "levelCode": tree.id().as_str()},
        "positionCoordinateX": x,
        "positionCoordinateXType": x_type,
        "positionCoordinateY": y,
        "positionCoordinateYType": y_type,
    });
    if let Some(origin) = &plot.head().origin {
        position["geoCoordinates"] = json!({"type": "Feature", "geometry": point(origin, spot)});
    }
    position
}

fn variable(one: &Trait) -> Value {
    let id = one.id.as_str();
    let (method, class, mut scale) = match &one.kind {
        Kind::Ordinal(scale) => {
            let categories: Vec<Value> = scale
                .steps()
                .iter()
                .map(|step| json!({"value": step.value.to_string(), "label": step.label}))
                .collect();
            let valid = json!({"categories": categories});
            let scale = json!({"dataType": "Ordinal", "validValues": valid});
            ("scoring on a scale of classes", "Estimation", scale)
        }
        Kind::Number { unit, min, max } => {
            let limit = |limit: &Option<f64>| limit.map(|limit| limit.to_string());
            let limits = [("minimumValue", limit(min)), ("maximumValue", limit(max))];
            let mut scale = json!({"dataType": "Numerical", "validValues": filled(limits)});
            if let Some(unit) = unit {
                scale["units"] = unit.as_str().into();
            }
            ("taking a number", "Measurement", scale)
        }
    };
    scale["scaleDbId"] = id.into();
    scale["scaleName"] = one.label.as_str().into();
    let mut what = json!({"traitDbId": id, "traitName": one.label});
    if let Some(disease) = &one.disease {
        what["traitClass"] = "biotic stress".into();
        what["additionalInfo"] = json!({"disease": disease});
    }
    json!({
        "observationVariableDbId": id,
        "observationVariableName": one.label,
        "trait": what,
        "method": {"methodDbId": id, "methodName": method, "methodClass": class},
        "scale": scale,
    })
}

fn observation(plot: &Plot, score: &Score) -> Value {
    let (tree, one) = (plot.tree(score.tree), plot.trait_of(score.trait_ix));
    let season = plot.season_of(score);
    let mut observation = json!({
        "observationDbId": score.id.as_str(),
        "observationUnitDbId": tree.id().as_str(),
        "observationUnitName": tree.name(),
        "observationVariableDbId": one.id.as_str(),
        "observationVariableName": one.label,
        "germplasmDbId": tree.genotype().as_str(),
        "germplasmName": tree.genotype().as_str(),
        "studyDbId": plot.head().name,
        "season": {"seasonDbId": season.to_string(), "year": season.0},
        "value": score.value.map(|value| value.to_string()),
        "additionalInfo": filled([
            ("scored_on", Some(score.scored_on.to_string())),
            ("round", own(score.round.as_deref())),
            ("note", own(score.note.as_deref())),
        ]),
    });
    // A time stamp has a time of day; a bare date stays with what else is known.
    if score.scored_on.moment().is_some() {
        observation["observationTimeStamp"] = score.scored_on.to_string().into();
    }
    if let Some(scorer) = &score.scorer {
        observation["collector"] = (&**scorer).into();
    }
    observation
}

/// An object of the words that there are.
fn filled<const N: usize>(words: [(&str, Option<String>); N]) -> Map<String, Value> {
    words
        .into_iter()
        .filter_map(|(name, word)| word.map(|word| (name.to_owned(), word.into())))
        .collect()
}

fn own(word: Option<&str>) -> Option<String> {
    word.map(str::to_owned)
}

#[cfg(test)]
mod tests;
