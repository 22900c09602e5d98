//! Local Moran, Gi and Gi*, with their corrections for many tests.

use std::collections::BTreeMap;

use spatial::{
    Local, Test, benjamini_hochberg, benjamini_yekutieli, gi, gi_star, local_moran,
    local_moran_permutation,
};

use crate::data::{Table, case, json, number};
use crate::{ANALYTIC, close, close_permutation};

/// Rows of a table by case, style and variable.
fn groups<'a>(table: &'a Table, style: &str, var: &str) -> BTreeMap<[&'a str; 3], Vec<usize>> {
    let (cases, styles, vars) = (table.text("case"), table.text(style), table.text(var));
    let mut groups: BTreeMap<_, Vec<usize>> = BTreeMap::new();
    for row in 0..table.len() {
        groups.entry([cases[row], styles[row], vars[row]]).or_default().push(row);
    }
    groups
}

#[test]
fn every_site_of_every_case() {
    let reference = Table::read("local_stats.csv");
    let column = |name: &str| reference.maybe(name);
    let (value, value_1) = (column("Ii_n"), column("Ii_nminus1"));
    let (e_cond, v_cond, p_cond) = (column("E_cond"), column("V_cond"), column("p2_cond"));
    let (e_tot, v_tot) = (column("E_tot"), column("V_tot"));
    let (g_z, g_star_z) = (column("G_z"), column("Gstar_z"));
    let (bh, by) = (column("fdr_bh_p2_cond"), column("fdr_by_p2_cond"));
    let groups = groups(&reference, "style", "var");
    assert_eq!(groups.len(), 28);
    for ([name, style, var], rows) in groups {
        let (table, weights) = case(name, style);
        let values = table.numbers(var);
        let found = local_moran(&weights, &values).expect("defined");
        let hot = gi(&weights, &values).expect("defined");
        let star = gi_star(&weights, &values).expect("defined");
        assert_eq!(rows.len(), values.len());
        let tested: Vec<usize> =
            (0..rows.len()).filter(|&i| found[i].conditional.test.is_some()).collect();
        let p: Vec<f64> = tested
            .iter()
            .filter_map(|&i| found[i].conditional.test)
            .map(Test::p_two_sided)
            .collect();
        let adjusted: BTreeMap<usize, (f64, f64)> = tested
            .iter()
            .copied()
            .zip(benjamini_hochberg(&p).into_iter().zip(benjamini_yekutieli(&p)))
            .collect();
        for (i, &row) in rows.iter().enumerate() {
            let what = |key: &str| format!("{name} {style} {var} site {} {key}", i + 1);
            let check = |found: f64, expected: &[Option<f64>], key: &str| {
                close(found, expected[row].expect("a value"), ANALYTIC, &what(key));
            };
            let site = &found[i];
            check(site.conditional.value, &value, "Ii_n");
            check(site.value_n_minus_1, &value_1, "Ii_nminus1");
            check(site.conditional.expected, &e_cond, "E_cond");
            check(site.conditional.variance, &v_cond, "V_cond");
            check(site.total.expected, &e_tot, "E_tot");
            check(site.total.variance, &v_tot, "V_tot");
            let z = |local: &Local| local.test.map(|test| test.z);
            let both = |found: Option<f64>, expected: &[Option<f64>], key: &str| {
                assert_eq!(found.is_some(), expected[row].is_some(), "{}", what(key));
                if let Some(found) = found {
                    check(found, expected, key);
                }
            };
            both(site.conditional.test.map(Test::p_two_sided), &p_cond, "p2_cond");
            both(z(&hot[i]), &g_z, "G_z");
            both(z(&star[i]), &g_star_z, "Gstar_z");
            both(adjusted.get(&i).map(|a| a.0), &bh, "fdr_bh");
            both(adjusted.get(&i).map(|a| a.1), &by, "fdr_by");
        }
    }
}

/// Mean and spread against 49,999 draws of one library. It draws the k neighbours *with*
/// replacement from the n − 1 others, we draw without, so its variance is larger by
/// (n − 2)/(n − 1 − k). Its p-values are of that other distribution: not compared here, but with
/// exact enumeration below.
#[test]
fn permutations() {
    const DRAWS: usize = 9_999;
    let reference = Table::read("local_moran_permutation.csv");
    let (mean, variance) = (reference.numbers("E_sim"), reference.numbers("V_sim"));
    let groups = groups(&reference, "style", "var");
    assert_eq!(groups.len(), 3);
    for ([name, style, var], rows) in groups {
        let (table, weights) = case(name, style);
        let values = table.numbers(var);
        let found = local_moran_permutation(&weights, &values, DRAWS, 9).expect("defined");
        let analytic = local_moran(&weights, &values).expect("defined");
        for (i, &row) in rows.iter().enumerate() {
            let what = format!("{name} site {}", i + 1);
            let test = found[i].expect("no island");
            let (n, k) = (values.len() as f64, weights.of(i).len() as f64);
            let spread = (variance[row] * (n - 1.0 - k) / (n - 2.0)).sqrt();
            let allowed = 4.0 * variance[row].sqrt() * (1.0 / DRAWS as f64 + 1.0 / 49_999.0).sqrt();
            assert!((test.mean - mean[row]).abs() <= allowed, "{what}: mean {}", test.mean);
            close(test.standard_deviation, spread, 0.04, &what);
            close(test.standard_deviation, analytic[i].conditional.variance.sqrt(), 0.04, &what);
        }
    }
}

/// Every choice of neighbours for each site of the tiny lattice: exact shares.
#[test]
fn exact_by_combination() {
    const DRAWS: usize = 100_000;
    let exact = json("local_moran_exact_tiny.json");
    let (table, weights) = case("tiny_open__rook", "W");
    let values = table.numbers("z");
    let analytic = local_moran(&weights, &values).expect("defined");
    let found = local_moran_permutation(&weights, &values, DRAWS, 21).expect("defined");
    for site in exact["values"].as_array().expect("a list") {
        let i = number(site, "i") as usize - 1;
        let moments = analytic[i].conditional;
        close(moments.value, number(site, "Ii_n"), ANALYTIC, "value");
        close(moments.expected, number(site, "mean"), ANALYTIC, "mean");
        close(moments.variance, number(site, "var_population"), ANALYTIC, "variance");
        let test = found[i].expect("no island");
        for (p, key) in
            [(test.p_greater, "p_ge"), (test.p_less, "p_le"), (test.p_two_sided, "p_two_absdev")]
        {
            let what = format!("site {} {key}", i + 1);
            close_permutation(p, DRAWS as f64, number(site, key), 1e12, &what);
        }
    }
}
