//! `leeward proof` on the demo plot: columns, verdicts, pooling, the same in CSV and JSON.

use std::collections::BTreeMap;

use crate::plots::sound;
use crate::run::{Gave, demo_plot, leeward, on_disk, table};

const COLUMNS: &str = "tree_id, genotype, disease, verdict, luck, luck_low, luck_high, dose, \
    seasons_scored, rounds_scored, worst_score, neighbours_scored, neighbours_infected, \
    nearest_infected_m, expected_severity, severity_gap";

fn proof(options: &[&str]) -> Gave {
    let demo = demo_plot();
    let fixed = ["proof", demo.to_str().expect("UTF-8"), "--disease", "scab"];
    leeward(fixed.iter().chain(options))
}

#[test]
fn one_line_for_each_tree_that_was_scored_with_the_columns_of_the_contract() {
    let gave = proof(&[]);
    assert_eq!(gave.code, Some(0), "{}", gave.said);
    let (header, rows) = table(&gave.out);
    assert_eq!(header.join(", "), COLUMNS);
    let book = files::open(
        ["plot.json", "trees.csv", "scores.csv"]
            .map(|name| (name.to_owned(), std::fs::read(demo_plot().join(name)).expect("a file")))
            .into(),
    );
    let book = book.0.expect("a book");
    let plot = book.plot();
    let scored = plot.trees_ix().filter(|&(tree, _)| {
        plot.scores_of(tree)
            .any(|(_, score)| plot.trait_of(score.trait_ix).disease.as_deref() == Some("scab"))
    });
    let expected: Vec<&str> = scored.map(|(_, tree)| tree.id().as_str()).collect();
    let ids: Vec<&str> = rows.iter().map(|row| row["tree_id"].as_str()).collect();
    assert_eq!(ids, expected, "in the order of trees.csv");
    let mut verdicts = BTreeMap::new();
    for row in &rows {
        *verdicts.entry(row["verdict"].as_str()).or_insert(0) += 1;
        let number = |column: &str| row[column].parse::<f64>().ok();
        match number("luck") {
            None => assert_eq!(row["verdict"], "infected"),
            Some(luck) => {
                let verdict = proof::Verdict::of_luck(luck).as_str();
                assert_eq!(row["verdict"], verdict, "luck alone decides");
                let (low, high) = (number("luck_low"), number("luck_high"));
                assert!(low <= Some(luck) && Some(luck) <= high, "{row:?}");
                assert!(low >= Some(0.0) && high <= Some(1.0));
            }
        }
    }
    assert_eq!(
        verdicts.keys().copied().collect::<Vec<_>>(),
        ["infected", "leaning", "proven", "untested"]
    );
    assert!(gave.said.contains("susceptible checks took scab"), "{}", gave.said);
    assert!(gave.said.contains("Proof is against what this plot held."), "{}", gave.said);
}

#[test]
fn copies_are_pooled_by_genotype() {
    let by_tree = table(&proof(&[]).out).1;
    let (header, rows) = table(&proof(&["--by", "genotype"]).out);
    assert_eq!(header.join(", "), COLUMNS);
    let mut trees: BTreeMap<&str, Vec<&str>> = BTreeMap::new();
    for row in &by_tree {
        trees.entry(&row["genotype"]).or_default().push(&row["tree_id"]);
    }
    let pooled: BTreeMap<&str, Vec<&str>> = rows
        .iter()
        .map(|row| (row["genotype"].as_str(), row["tree_id"].split(' ').collect()))
        .collect();
    assert_eq!(pooled, trees, "every scored copy in the line of its genotype");
    assert!(rows.iter().any(|row| row["tree_id"].contains(' ')), "the demo plot has copies");
}

#[test]
fn json_and_csv_say_the_same_numbers() {
    let rows = table(&proof(&[]).out).1;
    let json: Vec<serde_json::Value> =
        serde_json::from_str(&proof(&["--format", "json"]).out).expect("JSON");
    assert_eq!(json.len(), rows.len());
    for (object, row) in json.iter().zip(&rows) {
        for (column, cell) in row {
            let value = &object[column];
            match value.as_f64() {
                Some(number) => assert_eq!(cell.parse(), Ok(number), "{column}"),
                None => assert_eq!(cell, value.as_str().unwrap_or_default(), "{column}"),
            }
        }
    }
}

#[test]
fn a_season_of_its_own_is_judged_by_its_scores_alone() {
    let rows = table(&proof(&["--season", "2030"]).out).1;
    assert!(rows.iter().all(|row| row["seasons_scored"] == "1"));
    let gave = proof(&["--season", "1999"]);
    assert_eq!(gave.code, Some(1), "nothing to judge");
    assert_eq!(gave.out.lines().count(), 1, "the header alone");
}

#[test]
fn where_nobody_can_be_judged_everyone_stays_untested_and_it_ends_with_1() {
    let folder = on_disk("few", &sound());
    let gave = leeward(["proof", folder.to_str().expect("UTF-8"), "--disease", "scab"]);
    assert_eq!(gave.code, Some(1));
    let (_, rows) = table(&gave.out);
    let verdicts: Vec<&str> = rows.iter().map(|row| row["verdict"].as_str()).collect();
    assert_eq!(verdicts, ["untested", "infected"]);
    assert!(gave.said.contains("Only 1 tree took scab"), "{}", gave.said);
}

#[test]
fn the_whole_report_holds_the_numbers_of_the_table_and_calls_trees_by_their_ids() {
    let rows = table(&proof(&[]).out).1;
    let gave = proof(&["--whole"]);
    assert_eq!(gave.code, Some(0), "{}", gave.said);
    let whole: serde_json::Value = serde_json::from_str(&gave.out).expect("JSON");
    let trees = whole["trees"].as_array().expect("trees");
    assert_eq!(trees.len(), rows.len());
    let mut leaning = 0;
    for (tree, row) in trees.iter().zip(&rows) {
        assert_eq!(tree["tree"], row["tree_id"]);
        let judgement = &tree["judgement"];
        assert_eq!(judgement["verdict"], row["verdict"]);
        assert_eq!(judgement["luck"]["value"].as_f64(), row["luck"].parse().ok());
        assert_eq!(judgement["dose"].as_f64(), row["dose"].parse().ok());
        let nearest = &judgement["neighbours"]["nearest_infected"];
        assert!(
            nearest.is_null()
                || rows.iter().any(|other| {
                    nearest["tree"] == other["tree_id"] && other["verdict"] == "infected"
                }),
            "{nearest}"
        );
        if row["verdict"] == "leaning" {
            leaning += 1;
            let after = judgement["settle"]["luck_after_season"].as_f64();
            assert!(after < row["luck"].parse().ok(), "another clean season lowers luck");
        }
    }
    assert!(leaning > 0);
    let ids: Vec<&str> = rows.iter().map(|row| row["tree_id"].as_str()).collect();
    let left = whole["leftover"]["by_tree"].as_object().expect("what is left over");
    assert!(left.len() > ids.len() / 2 && left.keys().all(|id| ids.contains(&id.as_str())));
    let kernel = &whole["fit"]["spread"]["kernel"];
    let half = kernel["exponential"]["half_distance_m"].as_f64();
    let length_m = half.or(kernel["power_law"]["scale_m"].as_f64());
    assert!(length_m.is_some_and(|length_m| length_m > 0.0), "{kernel}");
    assert!(whole["fit"]["prior_witnesses"].as_f64().is_some_and(|k| k > 0.0));
    let busiest = whole["busy_places"][0]["tree"].as_str().expect("a tree");
    assert!(ids.contains(&busiest));
    let tested = whole["crosses"].as_array().expect("crosses");
    assert!(tested.iter().any(|cross| cross["position_test"]["p"].is_f64()));
    assert!(whole["calibration"].as_array().is_some_and(|bins| bins.len() >= 5));
}
