//! Answers of BrAPI: units, variables and observations of small books and the demo plot.

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
