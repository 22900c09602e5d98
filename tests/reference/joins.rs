//! Join counts, free and non-free.

use serde_json::Value;
use spatial::{JoinCounts, join_count_permutation, join_counts};

use crate::data::{Table, json, number, weights};
use crate::{ANALYTIC, close};

#[test]
fn every_case() {
    let cases = json("join_counts.json");
    let cases = cases.as_array().expect("a list");
    assert_eq!(cases.len(), 14);
    for case in cases {
        let id = case["id"].as_str().expect("an id");
        let table = Table::read(&format!("{}.csv", case["dataset"].as_str().expect("a set")));
        let file = case["weights_file"].as_str().expect("a file");
        let weights = weights(file, table.len(), case["style"].as_str().expect("a style"));
        let yes = table.yes(case["variable"].as_str().expect("a variable"));
        let found = join_counts(&weights, &yes).expect("defined");
        assert_eq!(found.yes as f64, number(case, "n1"), "{id}");
        let own = &case["independent_numpy_and_esda"];
        for (value, key) in [
            (found.both.value, "num_BB"),
            (found.one.value, "num_BW"),
            (found.neither.value, "num_WW"),
            (found.both.expected_non_free, "nonfree_E_BB"),
            (found.both.variance_non_free, "nonfree_V_BB"),
            (found.one.expected_non_free, "nonfree_E_BW"),
            (found.one.variance_non_free, "nonfree_V_BW"),
            (found.both.expected_free, "free_E_BB"),
            (found.both.variance_free, "free_V_BB"),
            (found.one.expected_free, "free_E_BW"),
            (found.one.variance_free, "free_V_BW"),
        ] {
            if let Some(expected) = own[key].as_f64() {
                close(value, expected, ANALYTIC, &format!("{id} {key}"));
            }
        }
        // The second library takes islands out of n in its moments: compared where there are none.
        if weights.islands().is_empty() {
            check_spdep(id, &found, &case["spdep"]);
        }
        let shuffled = join_count_permutation(&weights, &yes, 5_000, 2).expect("defined");
        let spread = found.both.variance_non_free.sqrt();
        let allowed = 4.0 * spread / 5_000f64.sqrt();
        assert!((shuffled.mean - found.both.expected_non_free).abs() < allowed, "{id}");
        close(shuffled.standard_deviation, spread, 0.06, id);
    }
}

fn check_spdep(id: &str, found: &JoinCounts, spdep: &Value) {
    let test = found.both.non_free.expect("varies");
    for (value, key) in [
        (found.both.value, "jc_BB11"),
        (found.both.expected_non_free, "jcE_BB11"),
        (found.both.variance_non_free, "jcV_BB11"),
        (test.z, "jcz_BB11"),
        (test.p_greater(), "jcp_greater_BB11"),
        (found.neither.value, "jc_WW00"),
        (found.neither.expected_non_free, "jcE_WW00"),
        (found.neither.variance_non_free, "jcV_WW00"),
        (found.one.value, "jcm_1:0_Joincount"),
        (found.one.expected_non_free, "jcm_1:0_Expected"),
        (found.one.variance_non_free, "jcm_1:0_Variance"),
    ] {
        close(value, number(spdep, key), ANALYTIC, &format!("{id} {key}"));
    }
}

/// The published layout of Cliff & Ord: rook neighbours, non-free sampling (computed, confirmed by
/// 200,000 permutations).
#[test]
fn five_by_five() {
    let rows = ["11000", "11100", "01000", "00001", "00000"];
    let places: Vec<_> = (0..25).map(|at| (at / 5, at % 5)).collect();
    let yes: Vec<_> = rows.iter().flat_map(|row| row.bytes().map(|mark| mark == b'1')).collect();
    let weights = spatial::lattice(&places, spatial::Contiguity::Rook).expect("one place each");
    let found = join_counts(&weights, &yes).expect("defined");
    assert_eq!((found.both.value, found.one.value, found.neither.value), (6.0, 11.0, 23.0));
    for (value, expected, digits) in [
        (found.both.expected_non_free, 2.8, 1e-9),
        (found.both.variance_non_free, 1.61692, 5e-6),
        (found.both.non_free.expect("varies").z, 2.517, 5e-4),
        (found.one.expected_non_free, 16.8, 1e-9),
        (found.one.variance_non_free, 6.35810, 5e-6),
        (found.one.non_free.expect("varies").z, -2.300, 5e-4),
        (found.neither.expected_non_free, 20.4, 1e-9),
    ] {
        assert!((value - expected).abs() <= digits, "{value} against {expected}");
    }
}

/// Whole pepper fields, rook: F1 54/400, BB 34, E 13.6286, z 6.334; F2 61/400, BB 64, E 17.4286,
/// z 13.054 (computed).
#[test]
fn pepper_fields() {
    for (file, both, expected, z) in
        [("pepper_F1.csv", 34.0, 13.6286, 6.334), ("pepper_F2.csv", 64.0, 17.4286, 13.054)]
    {
        let table = Table::read(file);
        let rook = weights("W_pepper_F2_rook.csv", table.len(), "B");
        let found = join_counts(&rook, &table.yes("diseased")).expect("defined").both;
        assert_eq!(found.value, both);
        assert!((found.expected_non_free - expected).abs() < 5e-5);
        assert!((found.non_free.expect("varies").z - z).abs() < 5e-4);
    }
}
