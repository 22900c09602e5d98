//! Moran's I and Geary's c.

use spatial::{Global, PermutationTest, Weights, geary, lattice, moran, moran_permutation};

use crate::data::{Table, json, number, weights};
use crate::{ANALYTIC, close, close_permutation};

/// Every stored case; `esda` counts islands in n as we do, `spdep` does where there are none.
#[test]
fn moran_and_geary() {
    let cases = json("global_autocorrelation.json");
    let cases = cases.as_array().expect("a list");
    assert_eq!(cases.len(), 42);
    for case in cases {
        let id = case["id"].as_str().expect("an id");
        let table = Table::read(case["data_file"].as_str().expect("a file"));
        let style = case["style"].as_str().expect("a style");
        let file = case["weights_file"].as_str().expect("a file");
        let weights = weights(file, table.len(), style);
        let values = table.numbers(case["variable"].as_str().expect("a variable"));

        let sums = weights.sums();
        for (found, key) in [(sums.s0, "S0"), (sums.s1, "S1"), (sums.s2, "S2")] {
            close(found, number(case, key), ANALYTIC, &format!("{id} {key}"));
        }
        let reference = &case["esda"];
        let check = |found: f64, key: &str| {
            close(found, number(reference, key), ANALYTIC, &format!("{id} {key}"));
        };
        let found = moran(&weights, &values).expect("defined");
        check(found.value, "moran_I");
        check(found.expected, "moran_EI");
        check(found.variance_normality, "moran_VI_norm");
        check(found.variance_randomisation, "moran_VI_rand");
        let normality = found.normality.expect("varies");
        let randomisation = found.randomisation.expect("varies");
        check(normality.z, "moran_z_norm");
        check(normality.p_two_sided(), "moran_p2_norm");
        check(randomisation.z, "moran_z_rand");
        check(randomisation.p_two_sided(), "moran_p2_rand");
        let islands = case["islands_1based"].as_array().expect("a list").len();
        assert_eq!(found.islands, islands, "{id}");
        let greater =
            if islands == 0 { "moran_pgreater_rand" } else { "moran_pgreater_rand_adjnFALSE" };
        close(
            randomisation.p_greater(),
            number(&case["spdep"], greater),
            ANALYTIC,
            &format!("{id} {greater}"),
        );

        let found = geary(&weights, &values).expect("defined");
        check(found.value, "geary_C");
        check(found.variance_randomisation, "geary_VC_rand");
        // Our z falls where c falls below 1, as esda's.
        check(found.randomisation.expect("varies").z, "geary_z_rand");

        check_permutations(id, &weights, &values, &case["permutation_reference"]);
    }
}

fn check_permutations(id: &str, weights: &Weights, values: &[f64], reference: &serde_json::Value) {
    const DRAWS: usize = 20_000;
    let found = moran_permutation(weights, values, DRAWS, 3).expect("defined");
    let m_reference = number(reference, "perm_n");
    for (p, key) in [(found.p_greater, "perm_p_greater"), (found.p_two_sided, "perm_p_two_absdev")]
    {
        let expected = number(reference, key);
        close_permutation(p, DRAWS as f64, expected, m_reference, &format!("{id} {key}"));
    }
    let spread = number(reference, "perm_sd");
    let allowed = 4.0 * spread * (1.0 / DRAWS as f64 + 1.0 / m_reference).sqrt();
    assert!((found.mean - number(reference, "perm_mean")).abs() < allowed, "{id} mean");
    close(found.standard_deviation, spread, 0.04, &format!("{id} perm_sd"));
}

/// All 8! arrangements of the tiny lattice were enumerated: the shares are exact.
#[test]
fn exact_enumeration() {
    let cases = json("global_autocorrelation.json");
    let mut seen = 0;
    for case in cases.as_array().expect("a list") {
        let exact = &case["exact_enumeration_8_factorial"];
        if exact.is_null() {
            continue;
        }
        seen += 1;
        let id = case["id"].as_str().expect("an id");
        let table = Table::read("tiny_open.csv");
        let file = case["weights_file"].as_str().expect("a file");
        let weights = weights(file, table.len(), case["style"].as_str().expect("a style"));
        let values = table.numbers("z");
        let found: Global = moran(&weights, &values).expect("defined");
        close(found.expected, number(exact, "exact_mean"), ANALYTIC, id);
        close(found.variance_randomisation, number(exact, "exact_var_popn"), ANALYTIC, id);
        const DRAWS: usize = 200_000;
        let test: PermutationTest =
            moran_permutation(&weights, &values, DRAWS, 17).expect("defined");
        for (p, key) in [
            (test.p_greater, "exact_p_greater"),
            (test.p_less, "exact_p_less"),
            (test.p_two_sided, "exact_p_two_absdev"),
        ] {
            close_permutation(p, DRAWS as f64, number(exact, key), 1e12, &format!("{id} {key}"));
        }
    }
    assert_eq!(seen, 2);
}

/// Whole pepper fields, rook neighbours, binary (computed; Gumpertz, Graham & Ristaino 1997 give
/// the data): I of field 1 0.221253, of field 2 0.477522.
#[test]
fn pepper_fields() {
    for (file, expected) in [("pepper_F1.csv", 0.221_253), ("pepper_F2.csv", 0.477_522)] {
        let table = Table::read(file);
        let places: Vec<_> = table
            .pairs("row", "quadrat")
            .into_iter()
            .map(|(row, quadrat)| (row as i64, quadrat as i64))
            .collect();
        let weights = lattice(&places, spatial::Contiguity::Rook).expect("one place each");
        let found = moran(&weights, &table.numbers("diseased")).expect("defined");
        assert!((found.value - expected).abs() < 5e-7, "{file}: {}", found.value);
    }
}

/// Our own builders give the stored weights.
#[test]
fn weights_are_built_alike() {
    let check = |file: &str, table: &Table, found: Weights| {
        assert_eq!(found, weights(file, table.len(), "B"), "{file}");
    };
    let lattice_of = |table: &Table, row: &str, place: &str, contiguity| {
        let places: Vec<_> =
            table.pairs(row, place).into_iter().map(|(r, p)| (r as i64, p as i64)).collect();
        lattice(&places, contiguity).expect("one place each")
    };
    let pepper = Table::read("pepper_F2.csv");
    let rook = spatial::Contiguity::Rook;
    check("W_pepper_F2_rook.csv", &pepper, lattice_of(&pepper, "row", "quadrat", rook));
    check(
        "W_pepper_F2_queen.csv",
        &pepper,
        lattice_of(&pepper, "row", "quadrat", spatial::Contiguity::Queen),
    );
    check("W_pepper_F2_rook.csv", &pepper, Weights::band(&pepper.pairs("x", "y"), 1.0));
    let apple = Table::read("batchelor.apple.csv");
    check("W_batchelor.apple_rook.csv", &apple, lattice_of(&apple, "row", "col", rook));
    let tiny = Table::read("tiny_open.csv");
    check("W_tiny_open_rook.csv", &tiny, lattice_of(&tiny, "row", "col", rook));
    let open = Table::read("synth_lattice_open.csv");
    let spots = open.pairs("x", "y");
    check("W_synth_lattice_open_band4p2.csv", &open, Weights::band(&spots, 4.2));
    check("W_synth_lattice_open_band5.csv", &open, Weights::band(&spots, 5.0));
    let points = Table::read("synth_points_open.csv");
    let spots = points.pairs("x", "y");
    check("W_synth_points_open_band18.csv", &points, Weights::band(&spots, 18.0));
    check("W_synth_points_open_knn4.csv", &points, Weights::nearest(&spots, 4));
    check("W_synth_points_open_knn8.csv", &points, Weights::nearest(&spots, 8));
}
