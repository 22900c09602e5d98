//! Logistic, autologistic and beta-binomial regression.

use serde_json::Value;
use spatial::{
    Logistic, Neighbouring, Weights, autologistic, beta_binomial, dispersion_index, logistic,
};

use crate::close;
use crate::data::{Table, json, list, number, weights};

/// Generalised linear models: 1e-6.
const MODEL: f64 = 1e-6;

fn check(found: &Logistic, reference: &Value, what: &str) {
    assert!(found.converged, "{what}");
    let r = &reference["R"];
    let check = |found: &[f64], expected: Vec<f64>, key: &str| {
        assert_eq!(found.len(), expected.len(), "{what} {key}");
        for (found, expected) in found.iter().zip(expected) {
            close(*found, expected, MODEL, &format!("{what} {key}"));
        }
    };
    check(&found.coefficients, list(r, "coef"), "coef");
    check(&found.standard_errors, list(r, "se"), "se");
    let p: Vec<f64> = found.tests.iter().map(|test| test.p_two_sided()).collect();
    check(&p, list(r, "p"), "p");
    if reference["python"].is_object() {
        check(&found.robust_standard_errors, list(&reference["python"], "se_HC0"), "se_HC0");
    }
    close(found.deviance, number(r, "deviance"), MODEL, what);
    close(found.null_deviance, number(r, "null_deviance"), MODEL, what);
    close(found.log_likelihood, number(r, "logLik"), MODEL, what);
}

/// Links of a 20 × 20 field at a fixed step, both ways.
fn field_links(places: &[(f64, f64)], steps: &[(i32, i32)]) -> Weights {
    let at = |row: f64, quadrat: f64| places.iter().position(|&place| place == (row, quadrat));
    let mut pairs = Vec::new();
    for (from, &(row, quadrat)) in places.iter().enumerate() {
        for &(down, along) in steps {
            if let Some(to) = at(row + f64::from(down), quadrat + f64::from(along)) {
                pairs.push((from, to, 1.0));
            }
        }
    }
    Weights::from_pairs(places.len(), &pairs).expect("good pairs")
}

/// Both pepper fields, whole and without the two outer rings, six models each.
#[test]
fn pepper_autologistic() {
    let reference = json("regression.json");
    let mut seen = 0;
    for field in ["F1", "F2"] {
        let table = Table::read(&format!("pepper_{field}.csv"));
        let places = table.pairs("row", "quadrat");
        // One quadrat of each field has water far beyond all others (25.84 and 26, the next 17.64):
        // the reference, and the published n = 253, take it for unknown.
        let water: Vec<Option<f64>> =
            table.maybe("water").into_iter().map(|water| water.filter(|&w| w < 20.0)).collect();
        let leaf = table.maybe("leaf");
        let yes = table.yes("diseased");
        let along = field_links(&places, &[(0, 1), (0, -1)]);
        let across = field_links(&places, &[(1, 0), (-1, 0)]);
        let along_2 = field_links(&places, &[(0, 2), (0, -2)]);
        let across_2 = field_links(&places, &[(2, 0), (-2, 0)]);
        let diagonal = field_links(&places, &[(1, 1), (1, -1), (-1, 1), (-1, -1)]);
        let rook = field_links(&places, &[(0, 1), (0, -1), (1, 0), (-1, 0)]);
        for region in ["inner", "all"] {
            let used: Vec<usize> = (0..table.len())
                .filter(|&i| {
                    let inside = |at: f64| (3.0..=18.0).contains(&at);
                    let (row, quadrat) = places[i];
                    water[i].is_some() && (region == "all" || (inside(row) && inside(quadrat)))
                })
                .collect();
            for (model, measured, around) in [
                ("m1", true, vec![]),
                ("m2_wr_ar", true, vec![&along, &across]),
                ("m3_nospat", false, vec![&along, &across]),
                ("m4_second", true, vec![&along, &across, &along_2, &across_2]),
                ("m5_diag", true, vec![&along, &across, &diagonal]),
                ("m6_iso", false, vec![&rook]),
            ] {
                let key = format!("pepper_{field}_{region}_{model}");
                let rows: Vec<Vec<f64>> = (0..table.len())
                    .map(|i| match (measured, water[i], leaf[i]) {
                        (true, Some(water), Some(leaf)) => vec![1.0, water, leaf],
                        // Lines without water are not used.
                        (true, ..) => vec![1.0, 0.0, 0.0],
                        _ => vec![1.0],
                    })
                    .collect();
                let found =
                    autologistic(&rows, &yes, &around, Neighbouring::Sum, &used).expect("fitted");
                check(&found, &reference[&key], &key);
                seen += 1;
            }
        }
    }
    assert_eq!(seen, 24);
}

/// Neighbour-only fits to the inner squares, lines without water included (computed).
#[test]
fn pepper_neighbours_only() {
    for (field, diseased, coefficients, deviance) in [
        ("F1", 42, [-2.286_855, 1.403_575, 0.001_718], 200.552),
        ("F2", 35, [-2.737_242, 1.282_027, 0.779_878], 158.349),
    ] {
        let table = Table::read(&format!("pepper_{field}.csv"));
        let places = table.pairs("row", "quadrat");
        let yes = table.yes("diseased");
        let along = field_links(&places, &[(0, 1), (0, -1)]);
        let across = field_links(&places, &[(1, 0), (-1, 0)]);
        let inside = |at: f64| (3.0..=18.0).contains(&at);
        let used: Vec<usize> =
            (0..400).filter(|&i| inside(places[i].0) && inside(places[i].1)).collect();
        assert_eq!(used.iter().filter(|&&i| yes[i]).count(), diseased);
        let rows = vec![vec![1.0]; 400];
        let found = autologistic(&rows, &yes, &[&along, &across], Neighbouring::Sum, &used)
            .expect("fitted");
        for (found, expected) in found.coefficients.iter().zip(coefficients) {
            assert!((found - expected).abs() < 1e-6, "{field}: {found}");
        }
        assert!((found.deviance - deviance).abs() < 5e-4, "{field}: {}", found.deviance);
    }
}

/// The published table 4, model 1 of Gumpertz, Graham & Ristaino 1997 (n = 253), and the same with
/// sums of neighbours along and across.
#[test]
fn pepper_published() {
    let reference = json("regression.json");
    for (key, expected) in [
        ("pepper_F2_inner_m1", vec![-9.101_962_3, 0.705_999_3, 0.460_393_1]),
        ("pepper_F2_inner_m2_wr_ar", vec![-7.778_915, 0.523_968, 0.437_840, 0.620_717, 0.498_292]),
    ] {
        // That our fit equals the stored one is checked above; here, that the stored one is the
        // published one.
        for (stored, published) in list(&reference[key]["R"], "coef").iter().zip(expected) {
            assert!((stored - published).abs() < 5e-7, "{key}: {stored}");
        }
    }
}

/// Sum, mean and one step of centring on the open lattice.
#[test]
fn lattice_autologistic() {
    let reference = json("regression.json");
    let table = Table::read("synth_lattice_open.csv");
    let band = weights("W_synth_lattice_open_band5.csv", table.len(), "B");
    let rows: Vec<Vec<f64>> =
        table.numbers("height").into_iter().map(|height| vec![1.0, height]).collect();
    let yes = table.yes("diseased");
    let used: Vec<usize> = (0..table.len()).collect();
    for (key, neighbouring) in [
        ("synth_lattice_open_autologistic_sum", Neighbouring::Sum),
        ("synth_lattice_open_autologistic_mean", Neighbouring::Mean),
        ("synth_lattice_open_centered", Neighbouring::Centred),
    ] {
        let found = autologistic(&rows, &yes, &[&band], neighbouring, &used).expect("fitted");
        check(&found, &reference[key], key);
    }
}

/// Germination of two seed sorts on two root extracts: binomial, then beta-binomial.
#[test]
fn crowder_seeds() {
    let reference = json("regression.json");
    let table = Table::read("crowder.seeds.csv");
    let flag = |column: &str, level: &str| -> Vec<f64> {
        table.text(column).into_iter().map(|cell| f64::from(u8::from(cell == level))).collect()
    };
    let (sort, extract) = (flag("gen", "O73"), flag("extract", "cucumber"));
    let rows: Vec<Vec<f64>> =
        sort.iter().zip(&extract).map(|(s, e)| vec![1.0, *s, *e, s * e]).collect();
    let (yes, trials) = (table.numbers("germ"), table.numbers("n"));
    let found = logistic(&rows, &yes, &trials).expect("fitted");
    check(&found, &reference["crowder_binomial"], "crowder_binomial");

    let found = beta_binomial(&rows, &yes, &trials).expect("fitted");
    assert!(found.converged);
    let r = list(&reference["crowder_betabin"]["R"], "coef");
    for (found, expected) in found.coefficients.iter().zip([r[0], r[2], r[3], r[4]]) {
        close(*found, expected, MODEL, "crowder_betabin coef");
    }
    close(found.theta.ln(), r[1], MODEL, "logit rho");
    close(found.rho, number(&reference["crowder_betabin"]["R"], "rho"), MODEL, "rho");
    let python = &reference["crowder_betabin"]["python"];
    close(found.log_likelihood, number(python, "logLik"), MODEL, "log-likelihood");
    // The reference differentiated numerically.
    let stored = list(python, "se_observed_info");
    let own = found.standard_errors.expect("θ above 0");
    for (found, expected) in own.iter().chain(&found.log_theta_standard_error).zip(stored) {
        close(*found, expected, 2e-3, "standard error");
    }
}

/// Apple shoots inoculated with canker: 3 sorts, 3 doses, 4 blocks (Jansen & Hoekstra 1993).
#[test]
fn canker_dose() {
    let reference = json("regression.json");
    let table = Table::read("jansen.apple.csv");
    let flag = |column: &str, level: &str| -> Vec<f64> {
        table.text(column).into_iter().map(|cell| f64::from(u8::from(cell == level))).collect()
    };
    let columns = [
        flag("gen", "sort_2"),
        flag("gen", "sort_3"),
        flag("inoculum", "1000"),
        flag("inoculum", "5000"),
        flag("block", "B2"),
        flag("block", "B3"),
        flag("block", "B4"),
    ];
    let (yes, trials) = (table.numbers("y"), table.numbers("n"));
    let rows = |width: usize| -> Vec<Vec<f64>> {
        (0..table.len())
            .map(|i| {
                std::iter::once(1.0)
                    .chain(columns[..width].iter().map(|column| column[i]))
                    .collect()
            })
            .collect()
    };
    let found = logistic(&rows(7), &yes, &trials).expect("fitted");
    check(&found, &reference["jansen_apple_glm"], "jansen_apple_glm");
    // The mixed model found no variance between blocks, which leaves the model without them.
    let mixed = &reference["jansen_apple_glmer"]["R"];
    assert_eq!(number(mixed, "sd_block"), 0.0);
    let found = logistic(&rows(4), &yes, &trials).expect("fitted");
    for (found, expected) in found.coefficients.iter().zip(list(mixed, "coef")) {
        close(*found, expected, 1e-4, "without blocks");
    }
    close(found.log_likelihood, number(mixed, "logLik"), MODEL, "log-likelihood");
}

/// The pepper fields in blocks of 2 × 2 (computed after Hughes & Madden 1993): index of dispersion
/// and maximum-likelihood p and θ.
#[test]
fn pepper_blocks() {
    for (field, frequencies, index, theta, share) in [
        ("F1", [68, 19, 7, 3, 3], 2.0077, 0.458_92, Some(0.137_17)),
        ("F2", [69, 18, 4, 1, 8], 2.6141, 1.025_69, None),
    ] {
        let table = Table::read(&format!("pepper_{field}.csv"));
        let mut counts = vec![0.0; 100];
        for ((row, quadrat), yes) in
            table.pairs("row", "quadrat").into_iter().zip(table.yes("diseased"))
        {
            let block = |at: f64| (at as usize - 1) / 2;
            counts[10 * block(row) + block(quadrat)] += f64::from(u8::from(yes));
        }
        let found: Vec<usize> =
            (0..5).map(|k| counts.iter().filter(|&&count| count == k as f64).count()).collect();
        assert_eq!(found, frequencies);
        let dispersion = dispersion_index(&counts, 4.0).expect("defined");
        assert!((dispersion - index).abs() < 5e-5, "{field}: {dispersion}");
        let fitted = beta_binomial(&vec![vec![1.0]; 100], &counts, &[4.0; 100]).expect("fitted");
        assert!(fitted.converged);
        assert!((fitted.theta - theta).abs() < 5e-6, "{field}: {}", fitted.theta);
        if let Some(share) = share {
            let found = 1.0 / (1.0 + (-fitted.coefficients[0]).exp());
            assert!((found - share).abs() < 5e-6, "{field}: {found}");
        }
    }
}
