//! What a new plot may start with, held to trade facts.

use super::*;

fn starter(id: &str) -> Trait {
    starters().into_iter().find(|it| it.one.id.as_str() == id).expect(id).one
}

/// By value: the severity, or `-` where nothing was observed.
fn severities(id: &str) -> String {
    let Kind::Ordinal(scale) = starter(id).kind else { panic!("{id} has a scale") };
    let one = |step: &Step| {
        let severity = step.severity.map_or("-".to_owned(), |severity| severity.to_string());
        format!("{}:{severity}", step.value)
    };
    scale.steps().iter().map(one).collect::<Vec<_>>().join(" ")
}

/// Lateur & Populer 1994, Euphytica 77:147: 0 no observation, 1 no symptom, 2 0–1 %, 3 1–5 %, 5
/// about 25 %, 7 about 50 %, 8 about 75 %, 9 over 90 %; 4 and 6 between.
#[test]
fn scab_is_scored_as_published_and_zero_is_not_clean() {
    let expected = "0:- 1:0 2:0.005 3:0.03 4:0.14 5:0.25 6:0.375 7:0.5 8:0.75 9:0.95";
    for id in ["scab_leaf", "scab_fruit"] {
        assert_eq!(severities(id), expected, "{id}");
        assert_eq!(starter(id).disease.as_deref(), Some("scab"));
    }
}

/// van der Zwet, Oitto & Brooks 1970, Plant Disease Reporter 54:835–839 (class limits from
/// memory): 10 = 0; 9 = 1–3; 8 = 4–6; 7 = 7–12; 6 = 13–25; 5 = 26–50; 4 = 51–75; 3 = 76–88;
/// 2 = 89–99; 1 = 100 % or dead. Severities are their middles.
#[test]
fn fire_blight_is_scored_as_published_and_a_high_number_is_healthy() {
    let classes: [(f64, f64, f64); 10] = [
        (10.0, 0.0, 0.0),
        (9.0, 1.0, 3.0),
        (8.0, 4.0, 6.0),
        (7.0, 7.0, 12.0),
        (6.0, 13.0, 25.0),
        (5.0, 26.0, 50.0),
        (4.0, 51.0, 75.0),
        (3.0, 76.0, 88.0),
        (2.0, 89.0, 99.0),
        (1.0, 100.0, 100.0),
    ];
    for id in ["blight_shoot", "blight_blossom"] {
        let one = starter(id);
        assert_eq!(one.disease.as_deref(), Some("fire_blight"));
        for (score, from, to) in classes {
            let severity = one.severity(score).expect("each class tells");
            assert!((severity - (from + to) / 200.0).abs() < 1e-9, "{id} {score}: {severity}");
        }
    }
    let needs = starter("blight_blossom").needs.expect("what does not bloom is not at risk");
    assert_eq!((needs.trait_id.as_str(), needs.at_least), ("bloom", 1.0));
}

/// Common practice, no source: counts, the longest lesion in mm, the share of the girth.
#[test]
fn canker_is_counted_and_measured() {
    let units = [
        ("canker_stem", "cankers"),
        ("canker_branch", "cankers"),
        ("canker_longest", "mm"),
        ("canker_girth", "%"),
    ];
    for (id, expected) in units {
        let Kind::Number { unit, .. } = starter(id).kind else { panic!("{id} is a number") };
        assert_eq!(unit.as_deref(), Some(expected), "{id}");
        assert_eq!(starter(id).severity(0.0), Some(0.0), "{id}");
    }
    assert_eq!(starter("canker_girth").severity(100.0), Some(1.0));
}

#[test]
fn each_disease_has_one_clean_class_and_severity_runs_one_way() {
    for it in starters() {
        let (Some(_), Kind::Ordinal(scale)) = (&it.one.disease, &it.one.kind) else { continue };
        let severities: Vec<f64> = scale.steps().iter().filter_map(|step| step.severity).collect();
        let clean = severities.iter().filter(|&&severity| severity == 0.0).count();
        assert_eq!(clean, 1, "{}", it.one.id);
        assert!(severities.is_sorted(), "{}", it.one.id);
    }
}

#[test]
fn what_a_chosen_trait_needs_comes_with_it() {
    let chosen = |ids: &[&str]| {
        let traits = chosen_traits(|id| ids.contains(&id.as_str()));
        traits
            .into_iter()
            .map(|one| match one.needs {
                Some(needs) => format!("{} ({})", one.id, needs.trait_id),
                None => one.id.to_string(),
            })
            .collect::<Vec<_>>()
    };
    let usual: Vec<String> = usual_traits().iter().map(|one| one.id.to_string()).collect();
    assert_eq!(usual, ["scab_leaf", "blight_shoot", "canker", "vigour", "trunk_diameter"]);
    assert_eq!(chosen(&["blight_blossom"]), ["blight_blossom (bloom)", "bloom"]);
    assert_eq!(chosen(&["scab_leaf"]), ["scab_leaf"]);
    assert_eq!(
        chosen(&["scab_leaf", "growing_tips"]),
        ["scab_leaf (growing_tips)", "growing_tips"]
    );
    assert_eq!(chosen(&[]), [""; 0]);
}
