//! AUDPC, AUDPS and the false discovery rate.

use std::collections::BTreeMap;

use season::{audpc, audps};
use spatial::{benjamini_hochberg, benjamini_yekutieli};

use crate::data::{Table, json, list, number};
use crate::{ANALYTIC, close};

#[test]
fn worked_curve() {
    let reference = &json("audpc_fdr.json")["audpc"];
    let (time, severity) = (list(reference, "t"), list(reference, "y"));
    close(audpc(&time, &severity).expect("defined"), number(reference, "audpc"), ANALYTIC, "audpc");
    close(audps(&time, &severity).expect("defined"), number(reference, "audps"), ANALYTIC, "audps");
}

/// 111 plots of the potato blight trial; 9 minus the score is the severity.
#[test]
fn potato_blight() {
    let field = Table::read("lee_potatoblight_1997.csv");
    let day = |date: &str| {
        // All readings lie in November and December 1997.
        let (month, day) = date["1997-".len()..].split_once('-').expect("a date");
        let before = if month == "12" { 30.0 } else { 0.0 };
        before + day.parse::<f64>().expect("a day")
    };
    let mut curves: BTreeMap<String, Vec<(f64, f64)>> = BTreeMap::new();
    let [gen_, col, row, rep] = ["gen", "col", "row", "rep"].map(|name| field.text(name));
    for (at, (date, score)) in field.text("date").into_iter().zip(field.maybe("y")).enumerate() {
        let key = format!("{}|{}|{}|{}", rep[at], row[at], col[at], gen_[at]);
        if let Some(score) = score {
            curves.entry(key).or_default().push((day(date), 9.0 - score));
        }
    }
    let reference = Table::read("audpc_lee1997.csv");
    let (area, stairs) =
        (reference.numbers("audpc_of_9_minus_score"), reference.numbers("audps_of_9_minus_score"));
    let (count, days) = (reference.numbers("nobs"), reference.numbers("days"));
    assert_eq!(reference.len(), 111);
    for (at, key) in reference.text("key").into_iter().enumerate() {
        let curve = curves.get(key).unwrap_or_else(|| panic!("{key} is not in the field"));
        let (time, severity): (Vec<f64>, Vec<f64>) = curve.iter().copied().unzip();
        assert_eq!((time.len() as f64, time[time.len() - 1] - time[0]), (count[at], days[at]));
        close(audpc(&time, &severity).expect("defined"), area[at], ANALYTIC, key);
        close(audps(&time, &severity).expect("defined"), stairs[at], ANALYTIC, key);
    }
}

/// The 15 p-values of the example in Benjamini & Hochberg 1995: 4 are discoveries at 0.05.
#[test]
fn false_discovery_rate() {
    let reference = &json("audpc_fdr.json")["fdr"];
    let p = list(reference, "p");
    for (found, key) in [(benjamini_hochberg(&p), "BH"), (benjamini_yekutieli(&p), "BY")] {
        for (found, expected) in found.into_iter().zip(list(reference, key)) {
            close(found, expected, ANALYTIC, key);
        }
    }
    let discoveries = benjamini_hochberg(&p).into_iter().filter(|&p| p <= 0.05).count();
    assert_eq!(discoveries as f64, number(reference, "n_reject_BH_05"));
}
