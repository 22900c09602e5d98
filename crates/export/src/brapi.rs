//! BrAPI v2.1, the open interface of breeding data: bodies of the answers to `/observationunits`,
//! `/variables` and `/observations`.

use files::{Book, FileSet};
use plot::{Kind, Plot, Role, Score, Trait, Tree, When};
use serde_json::{Map, Value, json};

use crate::geojson::point;
use crate::sheets;

/// One file for each answer, named after what was asked: `observationunits.json`, `variables.json`
/// and `observations.json`, each with all there is on one page.
///
/// Trees and grafts are observation units of the level `plant`, traits are observation variables,
/// and the lines of `scores.csv` that stand are observations; one that could not be scored has a
/// null value. The plot is the study, its name the study's id.
pub fn brapi(book: &Book) -> FileSet {
    let plot = book.plot();
    let (_, trees) = sheets::trees(book);
    let units = trees.iter().map(|&(tree, _)| unit(plot, plot.tree(tree))).collect();
    let variables = plot.head().traits.iter().map(variable).collect();
    let observations = plot.standing_scores().map(|(_, score)| observation(plot, score)).collect();
    let answers =
        [("observationunits", units), ("variables", variables), ("observations", observations)];
    answers.map(|(name, data)| (format!("{name}.json"), answer(data))).into()
}

/// All there is, as one page.
fn answer(data: Vec<Value>) -> Vec<u8> {
    let count = data.len();
    let answer = json!({
        "metadata": {
            "datafiles": [],
            "pagination": {
                "currentPage": 0, "pageSize": count, "totalCount": count, "totalPages": 1,
            },
            "status": [],
        },
        "result": {"data": data},
    });
    format!("{answer:#}\n").into_bytes()
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
mod tests {
    use super::*;
    use crate::testing::{book, head, lantern};

    fn data(book: &Book, name: &str) -> Vec<Value> {
        let answer: Value = serde_json::from_slice(&brapi(book)[name]).expect("JSON");
        let data = answer["result"]["data"].as_array().expect("a list").clone();
        assert_eq!(answer["metadata"]["pagination"]["totalCount"], data.len());
        data
    }

    const TREES: &str = "tree_id,row,place,x_m,y_m,tag,genotype,role,grafted_on\n\
        A,2,3,,,Q-1,,,\nG,,,,,,sel 1,named,A\nC,,,1.5,-2,,,susceptible_check,\n";
    const SCORES: &str = "score_id,tree_id,trait,value,scored_on,round,scorer,note,replaces\n\
        s1,A,scab_leaf,0,2031-06-14T09:31:05+02:00,June,ann,,\n\
        s2,A,scab_leaf,1,2031-06-14T10:31:05+02:00,June,ann,again,s1\n\
        s3,G,bloom,,2031-05-02,,,wet,\n";

    #[test]
    fn trees_are_observation_units_with_their_positions() {
        let units = data(&book(head(true), TREES, SCORES), "observationunits.json");
        let check = |nth: usize, x: [&str; 2], y: [&str; 2], entry: &str| {
            let position = &units[nth]["observationUnitPosition"];
            let of = |name: &str| position[name].as_str().expect("text").to_owned();
            assert_eq!([of("positionCoordinateX"), of("positionCoordinateXType")], x);
            assert_eq!([of("positionCoordinateY"), of("positionCoordinateYType")], y);
            assert_eq!(of("entryType"), entry);
        };
        check(0, ["3", "PLANTED_INDIVIDUAL"], ["2", "PLANTED_ROW"], "TEST");
        check(1, ["3", "PLANTED_INDIVIDUAL"], ["2", "PLANTED_ROW"], "TEST");
        check(2, ["1.5", "MEASURED_COL"], ["-2", "MEASURED_ROW"], "CHECK");
        assert_eq!(units[0]["observationUnitName"], "Q-1");
        assert_eq!(units[1]["germplasmDbId"], "sel 1");
        assert_eq!(units[1]["additionalInfo"]["grafted_on"], "A");
        let geo = &units[2]["observationUnitPosition"]["geoCoordinates"];
        assert_eq!(geo["geometry"]["type"], "Point");
        let nowhere = data(&book(head(false), TREES, SCORES), "observationunits.json");
        assert!(nowhere[0]["observationUnitPosition"].get("geoCoordinates").is_none());
    }

    #[test]
    fn traits_are_variables_with_trait_method_and_scale() {
        let variables = data(&book(head(true), TREES, SCORES), "variables.json");
        let [scab, bloom] = &variables[..] else { panic!("two traits") };
        assert_eq!(scab["observationVariableDbId"], "scab_leaf");
        assert_eq!(scab["trait"]["traitName"], "Scab on leaves");
        assert_eq!(scab["scale"]["dataType"], "Ordinal");
        let category = json!({"value": "1", "label": "some"});
        assert_eq!(scab["scale"]["validValues"]["categories"][1], category);
        assert_eq!(bloom["scale"]["units"], "clusters");
        let limits = json!({"minimumValue": "0", "maximumValue": "200"});
        assert_eq!(bloom["scale"]["validValues"], limits);
        assert_eq!(bloom["method"]["methodClass"], "Measurement");
    }

    #[test]
    fn scores_that_stand_are_observations() {
        let observations = data(&book(head(true), TREES, SCORES), "observations.json");
        let [corrected, unseen] = &observations[..] else { panic!("two stand") };
        assert_eq!(corrected["observationDbId"], "s2");
        assert_eq!(corrected["value"], "1");
        assert_eq!(corrected["observationTimeStamp"], "2031-06-14T10:31:05+02:00");
        assert_eq!(corrected["collector"], "ann");
        assert_eq!(corrected["season"], json!({"seasonDbId": "2031", "year": 2031}));
        assert_eq!(unseen["value"], Value::Null, "looked for, but could not be scored");
        assert!(unseen.get("observationTimeStamp").is_none(), "a bare date is no moment");
        assert_eq!(unseen["additionalInfo"], json!({"scored_on": "2031-05-02", "note": "wet"}));
    }

    #[test]
    fn every_observation_of_the_demo_plot_names_a_unit_and_a_variable() {
        let book = lantern();
        let ids = |name: &str, id: &str| -> Vec<String> {
            let id = |one: &Value| one[id].as_str().expect("an id").to_owned();
            data(&book, name).iter().map(id).collect()
        };
        let units = ids("observationunits.json", "observationUnitDbId");
        let variables = ids("variables.json", "observationVariableDbId");
        assert_eq!(units.len(), book.plot().trees().len());
        let units: std::collections::BTreeSet<_> = units.into_iter().collect();
        let observations = data(&book, "observations.json");
        assert_eq!(observations.len(), book.plot().standing_scores().count());
        for one in observations {
            assert!(units.contains(one["observationUnitDbId"].as_str().expect("a unit")));
            let variable = one["observationVariableDbId"].as_str().expect("a variable").to_owned();
            assert!(variables.contains(&variable));
        }
    }
}
