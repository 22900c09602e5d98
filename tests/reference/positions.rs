//! Clark–Evans.

use spatial::{Window, clark_evans};

use crate::data::{Table, json, list, number};
use crate::{ANALYTIC, close};

#[test]
fn with_and_without_the_edge() {
    let cases = json("clark_evans.json");
    for (name, case) in cases["cases"].as_object().expect("cases") {
        let points = Table::read(&format!("{name}.csv")).pairs("x", "y");
        let [left_m, right_m, bottom_m, top_m] = list(case, "window").try_into().expect("four");
        let window = Window { left_m, bottom_m, right_m, top_m };
        let found = clark_evans(&points, &window).expect("defined");
        for (value, key) in [
            (found.mean_nearest_m, "mean_nn"),
            (found.plain.ratio, "R_naive"),
            (found.plain.test.z, "z_naive"),
            (found.plain.test.p_two_sided(), "p2_naive"),
            (found.donnelly.ratio, "R_donnelly"),
            (found.donnelly.test.z, "z_donnelly_analytic"),
            (found.donnelly.test.p_two_sided(), "p2_donnelly_analytic"),
        ] {
            close(value, number(case, key), ANALYTIC, &format!("{name} {key}"));
        }
    }
}

/// Six points in an area of 100 (computed after Clark & Evans 1954): R 0.4899, z −2.390.
#[test]
fn six_points() {
    let points = [(1.0, 1.0), (2.0, 1.0), (2.0, 2.0), (8.0, 8.0), (9.0, 8.0), (8.0, 9.0)];
    let window = Window { left_m: 0.0, bottom_m: 0.0, right_m: 10.0, top_m: 10.0 };
    let found = clark_evans(&points, &window).expect("defined").plain;
    assert!((found.ratio - 0.4899).abs() < 5e-5, "{}", found.ratio);
    assert!((found.test.z + 2.390).abs() < 5e-4, "{}", found.test.z);
}
