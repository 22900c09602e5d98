//! Built-in profiles held to trade facts, a plot's own beside and over them, and hostile ones.

use plot::Problem;
use plot::disease::WeatherRule;
use serde_json::json;

use super::*;

/// What a `plot.json` with these profiles knows, and what is wrong with it.
fn read(diseases: &str) -> (Option<Diseases>, Vec<Problem>) {
    let text = format!(
        "{{\"format\": \"leeward-plot\", \"version\": 1, \"name\": \"N\", \"layout\": \
         {{\"row_spacing_m\": 3, \"place_spacing_m\": 1}}, \"diseases\": {diseases}}}"
    );
    let mut findings = Findings::of("plot.json");
    let head = super::super::read(text.as_bytes(), &mut findings);
    (head.map(|head| head.diseases), findings.into_problems())
}

fn sound(diseases: &Value) -> Diseases {
    let (read, problems) = read(&diseases.to_string());
    assert_eq!(problems, []);
    read.expect("a head")
}

fn told(diseases: &str) -> Vec<String> {
    let (read, problems) = read(diseases);
    assert_eq!(read, Some(built_in_diseases()), "a faulty profile is left out");
    problems.iter().map(ToString::to_string).collect()
}

#[test]
fn each_built_in_profile_is_sound_and_says_where_its_numbers_come_from() {
    for text in PROFILES {
        let value: Value = serde_json::from_str(text).expect("JSON");
        let mut findings = Findings::of("profile");
        let fields = Fields::of(&value, String::new(), &mut findings);
        assert!(fields.and_then(|mut fields| profile(&mut fields)).is_some());
        assert_eq!(findings.into_problems(), []);
        for (name, part) in value.as_object().expect("an object") {
            let parts = part.as_array().cloned().unwrap_or_else(|| vec![part.clone()]);
            for part in parts.iter().filter(|part| part.is_object()) {
                let source = part["source"].as_str().unwrap_or_default();
                assert!(!source.is_empty(), "{name}: {part}");
            }
        }
    }
    let ids: Vec<String> = built_in_diseases().iter().map(|it| it.id.clone()).collect();
    assert_eq!(ids, ["scab", "fire_blight", "canker"]);
    assert_eq!(read("null").0, Some(built_in_diseases()));
}

/// Steiner 1990, Acta Horticulturae 273:139–148 (amounts of rain from memory); Beresford & Kim
/// 2011, Phytopathology 101:135–146; MacHardy & Gadoury 1989, Phytopathology 79:304.
#[test]
fn weather_rules_have_the_published_numbers() {
    let all = built_in_diseases();
    let rule = |name: &str| all.called(name).and_then(|it| it.weather.clone()).expect("a rule");
    let WeatherRule::OpenFlowers(blossoms) = rule("Erwinia amylovora") else { panic!("flowers") };
    assert_eq!((blossoms.degree_hours, blossoms.degree_hours_above_c), (110.0, 18.3));
    assert_eq!((blossoms.within_degree_days, blossoms.degree_days_above_c), (44.0, 4.4));
    assert_eq!(blossoms.daily_mean_c, 15.6);
    assert_eq!((blossoms.rain_mm, blossoms.rain_day_before_mm), (0.25, 2.5));
    let WeatherRule::FavourableMonths(months) = rule("European canker") else { panic!("months") };
    assert_eq!((months.rain_days_share, months.warm_hours_a_day), (0.3, 8.0));
    assert_eq!((months.warm_from_c, months.warm_to_c), (11.0, 16.0));
    let WeatherRule::Wetness(wetness) = rule("apple scab") else { panic!("wetness") };
    let night = wetness.night.expect("a night rule");
    assert_eq!((wetness.break_hours, night.counts_from_hour), (8, 7));
    assert_eq!(all.called("scab").map(|it| it.unseen_days), Some(9));
    let on_tools = |name| all.called(name).map(|it| (it.is_on_tools, it.is_in_grafting_wood));
    assert_eq!(on_tools("scab"), Some((false, false)));
    assert_eq!(on_tools("fire blight"), Some((true, true)));
    assert_eq!(on_tools("canker"), Some((false, true)));
}

/// Half-distances: b = 0.5 per m halves in ln 2 / b = 1.386 m (computed); the grid of every
/// built-in disease is the usual one, on which docs/validation.md rests.
#[test]
fn built_in_diseases_are_judged_with_the_usual_grid() {
    for it in built_in_diseases().iter() {
        assert_eq!(it.reach, plot::disease::Reach::default(), "{}", it.id);
    }
}

#[test]
fn what_differs_is_enough_for_a_built_in_disease() {
    let all = sound(&json!([
        {"id": "Fireblight", "spread": {"half_distances_m": [2, 20]}, "cautions": [{"text": "Ask."}]},
        {"id": "brown rot"}
    ]));
    assert_eq!(
        all.iter().map(|it| &*it.id).collect::<Vec<_>>(),
        ["scab", "Fireblight", "canker", "brown rot"]
    );
    let blight = all.called("fire_blight").expect("still called so");
    assert_eq!(blight.reach.half_distances_m, [2.0, 20.0]);
    assert_eq!((blight.cautions.as_slice(), blight.is_on_tools), (&["Ask.".to_owned()][..], true));
    let built_in = built_in_diseases();
    let before = built_in.called("fire_blight").expect("built in");
    assert_eq!((&blight.weather, &blight.label), (&before.weather, &before.label));
    assert!(blight.own.is_some() && before.own.is_none());
    assert_eq!(all.called("brown_rot").map(|it| it.label.as_str()), Some("brown rot"));
    // Its label alone means it as well.
    let all = sound(&json!([{"id": "mine", "label": "scab"}]));
    let mine = all.called("scab").expect("still called so");
    assert_eq!((&*mine.id, all.iter().count()), ("mine", built_in.iter().count()));
    assert_eq!(Some(&mine.weather), built_in.called("scab").map(|it| &it.weather));
    // Null takes away, another rule replaces the whole of the built-in one.
    let all = sound(&json!([
        {"id": "scab", "weather": null, "names": ["black spot"]},
        {"id": "canker", "weather": {"rule": "wetness", "table": [{"from_c": 5, "hours": 6}]}}
    ]));
    assert_eq!(all.called("black spot").map(|it| it.weather.is_none()), Some(true));
    assert!(all.called("Venturia inaequalis").is_some());
    let canker = all.called("canker").and_then(|it| it.weather.as_ref());
    assert!(matches!(canker, Some(WeatherRule::Wetness(rule)) if rule.table[0].to_c == 5.0));
}

#[test]
fn every_fault_is_told_by_its_path() {
    let told = told(
        r#"[{"id": "rot", "label": 7,
            "traits": [{"id": "a", "kind": "ordinal", "scale": [{"value": 1, "severity": 2}]},
                       {"id": "b", "kind": "number", "needs": {"trait": "c", "at_least": 1}}],
            "months_at_risk": {"first": 0, "last": 13}, "latency": {"unseen_days": -1},
            "weather": {"rule": "wetness", "break_hours": 0, "table": [
                {"from_c": 9, "to_c": 8, "hours": 5}, {"from_c": 10, "hours": -5}]},
            "spread": {"half_distances_m": [-1, 2], "usual_half_distance_m": 0},
            "rounds": [{"stage": "May", "traits": ["z"]}], "cautions": ["ask"], "on_tools": "no"},
           {"id": "  "}, 5, {"id": "scab", "weather": {"rule": "moon"}},
           {"id": "mould", "weather": {"rule": "open_flowers", "degree_hours": 1}}]"#,
    );
    let expected = [
        "diseases[0].label: found 7,",
        "diseases[0].traits[0].scale[0].severity: found 2,",
        "diseases[0].months_at_risk.first: found 0,",
        "diseases[0].months_at_risk.last: found 13,",
        "diseases[0].latency.unseen_days: found -1,",
        "diseases[0].weather.break_hours: found 0,",
        "diseases[0].weather.table[0].to_c: found 8, expected a number from 9 to 60",
        "diseases[0].weather.table[1].hours: found -5,",
        "diseases[0].spread.half_distances_m: found a list, expected 1 to 12 distances",
        "diseases[0].spread.usual_half_distance_m: found 0,",
        "diseases[0].cautions[0]: found \"ask\", expected an object",
        "diseases[0].on_tools: found \"no\", expected true or false",
        "diseases[0].traits[1].needs.trait: found \"c\", expected the id of a trait",
        "diseases[0].rounds[0].traits: found \"z\",",
        "diseases[1].id: found \"  \", expected a name",
        "diseases[2]: found 5, expected an object",
        "diseases[3].weather.rule: found \"moon\", expected \"wetness\", \"open_flowers\" or",
        "diseases[4].weather.degree_hours_above_c: found nothing,",
        "diseases[4].weather.within_degree_days: found nothing,",
    ];
    for expected in expected {
        assert!(told.iter().any(|line| line.contains(expected)), "{expected}\n{told:#?}");
    }
}

#[test]
fn tables_rise_and_are_whole() {
    let of = |table: &str| {
        told(&format!(r#"[{{"id": "rot", "weather": {{"rule": "wetness", "table": {table}}}}}]"#))
    };
    let check = |table: &str, expected: &str| {
        let told = of(table);
        assert!(told.len() == 1 && told[0].contains(expected), "{told:#?}");
    };
    check("[]", "weather.table: found a list, expected a list of lines");
    check("5", "weather.table: found 5, expected a list of lines");
    check(
        r#"[{"from_c": 5, "to_c": 8, "hours": 9}, {"from_c": 8, "hours": 5}]"#,
        "table[1].from_c: found 8, expected more than the line before (8)",
    );
    check(
        r#"[{"from_c": 5, "hours": 9, "severe_hours": 20}, {"from_c": 8, "hours": 5}]"#,
        "table[1].severe_hours: found nothing, expected in all lines, or in none",
    );
}

#[test]
fn two_of_one_name_and_fields_of_no_meaning_are_told() {
    let (all, problems) = read(r#"[{"id": "brown rot", "colour": "red"}, {"id": "brown_rot"}]"#);
    let told: Vec<String> = problems.iter().map(ToString::to_string).collect();
    assert_eq!(told.len(), 2, "{told:#?}");
    assert!(told[0].contains("diseases[0].colour: found a field of no meaning"), "{}", told[0]);
    assert!(told[1].contains("diseases[1].id: found \"brown_rot\" twice"), "{}", told[1]);
    assert_eq!(all.map(|all| all.len()), Some(4), "the first stands");
}

#[test]
fn hostile_profiles_are_faults_and_not_the_end() {
    for text in ["NaN", "[NaN]", r#"[{"id": "a", "spread": {"half_distances_m": [NaN]}}]"#] {
        let (head, problems) = read(text);
        assert!(head.is_none() && problems[0].found.contains("no valid JSON"), "{text}");
    }
    let (head, problems) = read(r#"[{"id": "a", "spread": {"half_distances_m": [1e999]}}]"#);
    assert!(head.is_none() && problems.len() == 1, "{problems:?}");
    let deep = format!("[{{\"id\": {}{}}}]", "[".repeat(500), "]".repeat(500));
    let (head, problems) = read(&deep);
    assert!(head.is_none() && problems[0].expected.contains("127 levels"), "{problems:?}");
    let many: Vec<Value> = (0..100_000).map(|nth| json!({"id": format!("d{nth}")})).collect();
    let (all, problems) = read(&Value::from(many).to_string());
    assert_eq!(all.map(|all| all.len()), Some(103), "as many as are allowed are read");
    assert_eq!(problems.len(), 1);
    assert_eq!((&*problems[0].found, &*problems[0].expected), ("100000 profiles", "at most 100"));
    let line = json!({"from_c": 1, "hours": 1});
    let long = json!([{"id": "a", "weather": {"rule": "wetness", "table": vec![line; 100_000]}}]);
    let told = told(&long.to_string());
    assert_eq!(told.len(), 1, "{told:#?}");
    assert!(told[0].contains("table: found 100000 entries, expected at most 100"), "{}", told[0]);
}
