//! Whether vigour is used where it matters and left alone where it does not, on made-up plots.

use epidemic::{Kind, make};
use proof::{Options, Run};

/// Mean fitted effect over four plots whose hazard rises by `exp(effect)` for one standard
/// deviation of vigour.
fn fitted_effect(effect: f64) -> f64 {
    let effects = (1..=4).map(|seed| {
        let mut recipe = Kind::Scattered.recipe(seed);
        recipe.trunks = true;
        recipe.diseases[0].vigour_effect = effect;
        let made = make(&recipe, seed).expect("a plot");
        let disease = &made.truth[0].disease;
        let report = Run::to_the_end(&made.plot, disease, &Options::default()).expect("a report");
        report.fit.expect("a fit").vigour_effect
    });
    effects.sum::<f64>() / 4.0
}

#[test]
fn vigour_counts_where_it_matters() {
    let fitted = fitted_effect(0.5);
    assert!(fitted > 0.25, "{fitted}");
}

#[test]
fn vigour_is_left_alone_where_it_does_not_matter() {
    let fitted = fitted_effect(0.0);
    assert!(fitted < 0.1, "{fitted}");
}
