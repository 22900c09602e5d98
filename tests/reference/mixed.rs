//! Mixed models by restricted likelihood.

use serde_json::Value;
use vigour::{Fixed, Mixed, Relation, Structure, Term};

use crate::close;
use crate::data::{Table, json, list, number};

/// Restricted likelihood of the reference: variance components 1e-4, −2 log-likelihood 1e-6.
const COMPONENTS: f64 = 1e-4;
const DEVIANCE: f64 = 1e-6;

fn numbered(words: &[&str]) -> (Vec<usize>, Vec<String>) {
    let mut levels: Vec<String> = words.iter().map(|&word| word.to_owned()).collect();
    levels.sort();
    levels.dedup();
    let of = words.iter().map(|word| levels.iter().position(|level| level == word));
    (of.map(|level| level.expect("a level")).collect(), levels)
}

fn term(levels: &[usize]) -> Term {
    Term::levels(&levels.iter().copied().map(Some).collect::<Vec<_>>())
}

/// The wheat trial of Nebraska: yields, sorts, replicates.
fn nin() -> (Vec<f64>, Vec<usize>, Vec<usize>) {
    let table = Table::read("stroup.nin.csv");
    let yields = table.maybe("yield");
    let grown: Vec<usize> = (0..table.len()).filter(|&at| yields[at].is_some()).collect();
    let of = |column: &str| {
        let words = table.text(column);
        numbered(&grown.iter().map(|&at| words[at]).collect::<Vec<_>>()).0
    };
    (grown.iter().filter_map(|&at| yields[at]).collect(), of("gen"), of("rep"))
}

fn check_nin(name: &str, fixed: &[usize], random: &[usize]) {
    let reference = &json("mixed_blup.json")[name]["R"];
    let (yields, _, _) = nin();
    let model = Mixed::new(&yields, &[Fixed::Factor(fixed.to_vec())], vec![term(random)]);
    let model = model.expect("a model");
    let fit = model.estimate().expect("a fit");
    close(fit.deviance, number(reference, "m2logLik"), DEVIANCE, name);
    let components = list(reference, "varcomp");
    close(fit.estimates[0][0], components[0], COMPONENTS, name);
    close(fit.rest, components[1], COMPONENTS, name);
    let (fixed, errors) = (list(reference, "fixef"), list(reference, "fixef_se"));
    assert_eq!(fit.fixed().len(), fixed.len());
    for ((found, value), error) in fit.fixed().iter().zip(fixed).zip(errors) {
        assert!((found.value - value).abs() < 1e-5, "{name}: {found:?} {value}");
        close(found.standard_error, error, COMPONENTS, name);
    }
    for (found, value) in fit.effects(0).iter().zip(list(reference, "blup")) {
        assert!((found.value - value).abs() < 1e-4, "{name}: {found:?} {value}");
    }
    assert_eq!(fit.effects(0).len(), list(reference, "blup").len());
}

/// The variance of sorts is estimated as 0, that of replicates is not (lme4).
#[test]
fn components_and_predictions_of_a_wheat_trial() {
    let (_, sorts, replicates) = nin();
    check_nin("nin_gen_random", &replicates, &sorts);
    check_nin("nin_rep_random", &sorts, &replicates);
}

/// An animal model at a given ratio, with the relationship's inverse made from the pedigree
/// (Henderson 1976, *Biometrics* 32:69): effects, and the diagonal of C⁻¹ from which reliability
/// comes.
#[test]
fn predictions_by_pedigree() {
    let reference = &json("mixed_blup.json")["pedigree"];
    let pairs: Vec<(usize, usize)> = rows(&reference["pedigree_sire_dam"])
        .map(|row| (row[0] as usize, row[1] as usize))
        .collect();
    let records: Vec<&Value> = reference["records"].as_array().expect("records").iter().collect();
    let values: Vec<f64> = records.iter().map(|one| one[2].as_f64().expect("a value")).collect();
    let sex: Vec<usize> = records.iter().map(|one| usize::from(one[1] == "F")).collect();
    let animals = records.iter().map(|one| one[0].as_u64().expect("an animal") as usize - 1);
    let of = animals.map(|animal| vec![(animal, 1.0)]).collect();
    let structure = Structure::Known(relation(&pairs));
    let ratio = Some(1.0 / number(reference, "alpha"));
    let model = Mixed::new(&values, &[Fixed::Factor(sex)], vec![Term { of, structure, ratio }]);
    let model = model.expect("a model");
    let fit = model.at(&[]).expect("a fit");
    let (means, fixed) = (fit.fixed(), list(reference, "fixed"));
    close(means[0].value, fixed[0], 1e-9, "males");
    close(means[0].value + means[1].value, fixed[1], 1e-9, "females");
    let expected = list(reference, "u").into_iter().zip(list(reference, "diagCinv_animals"));
    for (found, (value, spread)) in fit.effects(0).iter().zip(expected) {
        close(found.value, value, 1e-9, "effect");
        close(found.standard_error.powi(2) / fit.rest, spread, 1e-9, "C⁻¹");
    }
}

fn rows(value: &Value) -> impl Iterator<Item = Vec<f64>> {
    let row = |row: &Value| {
        row.as_array().expect("a row").iter().map(|cell| cell.as_f64().expect("a number")).collect()
    };
    value.as_array().expect("rows").iter().map(row)
}

/// Henderson's rules without inbreeding: none of the eight animals is inbred.
fn relation(parents: &[(usize, usize)]) -> Relation {
    let mut full = vec![vec![0.0; parents.len()]; parents.len()];
    let mut log_determinant = 0.0;
    for (own, &(sire, dam)) in parents.iter().enumerate() {
        let known: Vec<usize> =
            [sire, dam].into_iter().filter(|&one| one > 0).map(|one| one - 1).collect();
        let precision = 4.0 / (4.0 - known.len() as f64);
        log_determinant += f64::ln(precision);
        full[own][own] += precision;
        for &parent in &known {
            full[own][parent] -= precision / 2.0;
            for &other in &known {
                full[parent.max(other)][parent.min(other)] +=
                    if other <= parent { precision / 4.0 } else { 0.0 };
            }
        }
    }
    let precision = full
        .iter()
        .enumerate()
        .flat_map(|(i, row)| (0..=i).map(move |j| (i, j, row[j])))
        .filter(|one| one.2 != 0.0)
        .collect();
    Relation { levels: parents.len(), precision, log_determinant }
}

/// Model 4 of Gilmour, Cullis & Verbyla 1997 (*JABES* 2:269) for the trial of Slate Hall Farm: sorts
/// and a linear trend over rows fixed, deviations of rows and columns random, the rest a separable
/// first-order autoregression without a part of its own for each plot.
///
/// As published: rows 20290, columns 2519, rest 23950, correlation 0.439 over columns and 0.125 over
/// rows, slope 31.72252.
#[test]
fn the_published_autoregression_of_slate_hall() {
    let table = Table::read("gilmour.slatehall.csv");
    let (sorts, _) = numbered(&table.text("gen"));
    let whole = |column: &str| -> Vec<usize> {
        table.numbers(column).into_iter().map(|number| number as usize - 1).collect()
    };
    let (rows, columns) = (whole("row"), whole("col"));
    // A nugget of one millionth stands for none.
    let nugget = 1e-6;
    let cells = rows.iter().zip(&columns).map(|(row, column)| vec![(row * 10 + column, 1.0)]);
    let lattice = Structure::Lattice { across: vec![1; 14], along: vec![1; 9] };
    let field = Term { of: cells.collect(), structure: lattice, ratio: Some(1.0 / nugget) };
    let (over_rows, over_columns) = (term(&rows), term(&columns));
    let fixed = [Fixed::Factor(sorts), Fixed::Covariate(table.numbers("row"))];
    let yields = table.numbers("yield");
    let terms = vec![field, over_rows, over_columns];
    let model = Mixed::new(&yields, &fixed, terms).expect("a model");
    let fit = model.estimate().expect("a fit");
    let field = fit.rest / nugget;
    // The published numbers have four digits or three decimals.
    close(field, 23950.0, 1e-3, "rest");
    assert!((fit.estimates[0][1] - 0.125).abs() < 1e-3, "{:?}", fit.estimates);
    assert!((fit.estimates[0][2] - 0.439).abs() < 1e-3, "{:?}", fit.estimates);
    close(fit.estimates[1][0], 20290.0, 1e-3, "rows");
    close(fit.estimates[2][0], 2519.0, 1e-3, "columns");
    let slope = fit.fixed().last().expect("a slope").value;
    close(slope.abs(), 31.72252, 1e-4, "linear trend over rows");
}

/// Sorts alone, the rest independent (generalised least squares of nlme without correlation).
#[test]
fn a_wheat_trial_without_random_terms() {
    let reference = &json("mixed_blup.json")["wheat2_gls_indep"]["R"];
    let (yields, sorts, _) = nin();
    let model = Mixed::new(&yields, &[Fixed::Factor(sorts)], Vec::new()).expect("a model");
    let fit = model.estimate().expect("a fit");
    close(fit.rest.sqrt(), number(reference, "sigma"), 1e-9, "sigma");
    close(fit.deviance, -2.0 * number(reference, "logLikREML"), DEVIANCE, "−2 log-likelihood");
}
