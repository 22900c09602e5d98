//! The worked example of docs/method.md, and what the pieces of a fit must keep.

use plot::{Role, Season};
use spatial::{Ellipse, Kernel};

use super::*;
use crate::Options;
use crate::family::posterior;
use crate::pressure::Neighbours;
use crate::testing::{plot_of, score, tree, with_role};

/// Five trees a metre apart in one row, scored once; the third and the fifth are clean.
fn five_trees(role: Role) -> Case {
    let trees: Vec<_> =
        (1..=5).map(|place| with_role(role, tree(&format!("T{place}"), 1, place))).collect();
    let scores: Vec<_> = [1.0, 1.0, 0.0, 1.0, 0.0]
        .into_iter()
        .enumerate()
        .map(|(nth, value)| score(&format!("T{}", nth + 1), "leaf", Some(value), "2031-06-01"))
        .collect();
    Case::gather(&plot_of(&trees, &scores), "scab", &Options::default())
}

const ONE_PASS: Patience = Patience { most_passes: 1, hopeless_below: f64::NEG_INFINITY };

fn hypothesis() -> Hypothesis {
    Hypothesis {
        spread: Spread {
            kernel: Kernel::Exponential { half_distance_m: 1.0 },
            ellipse: Ellipse::CIRCLE,
        },
        evenness: 1.0,
        tissue_power: 0.0,
        vigour_effect: 0.0,
        round_memory: 1.0,
        season_memory: 0.0,
        frailty_sd: 0.0,
        leak: 0.0,
        all_tell: false,
    }
}

#[test]
fn five_trees_by_hand() {
    // The numbers of docs/method.md, section "By hand", worked there with pencil and paper.
    let case = five_trees(Role::Seedling);
    assert_eq!(case.seasons[0].season, Season(2031));
    let mut start = State::doubting(&case);
    start.level = vec![1.0];
    let weights = Neighbours::find(&case, 100.0).weigh(&hypothesis().spread);
    let fitted = fit(&case, &weights, &hypothesis(), &start, ONE_PASS);
    let close = |found: f64, expected: f64| {
        assert!((found - expected).abs() < 5e-4, "{found} {expected}");
    };
    let third = fitted.state.risk[2];
    close(third.mean, 1.2694);
    close(third.shape, 2.25);
    close(fitted.doses[2][0].clean, 1.2694);
    close(fitted.doses[2][0].shape, 1.125);
    close(fitted.explained[2].susceptible, 0.4275);
    close(1.0 - posterior(0.5, fitted.explained[2].susceptible, 1.0), 0.2995);
    // The fifth tree hears less: 1.0976 infections expected against 1.2694.
    close(fitted.doses[4][0].clean, 1.0976);
    close(fitted.explained[4].susceptible, 0.4950);
}

#[test]
fn an_infection_is_shared_out_over_its_interval() {
    let history = History {
        season: 0,
        start: 0,
        clean_end: 1,
        infected: Some(3),
        scored_end: 4,
        severity_permille: 100,
        is_untested: false,
    };
    let mut noted = Vec::new();
    let mut note = |round, event, time| noted.push((round, event, time));
    split_interval(&history, |round| [9.0, 0.5, 0.0, 0.5][round], &mut note);
    let total: f64 = noted.iter().map(|(_, event, _)| event).sum();
    assert!((total - 1.0).abs() < 1e-12);
    assert_eq!(noted.iter().map(|one| one.0).collect::<Vec<_>>(), [1, 2, 3]);
    assert_eq!(noted[1].1, 0.0, "no hazard, no infection");
    // First e^0 − e^−½, then e^−½ − e^−1, over 1 − e^−1.
    let first = (1.0 - libm::exp(-0.5)) / (1.0 - libm::exp(-1.0));
    assert!((noted[0].1 - first).abs() < 1e-12);
    // Where no hazard is known, every round is as likely.
    let mut even = Vec::new();
    split_interval(&history, |_| 0.0, &mut |_, event, _| even.push(event));
    assert_eq!(even, [1.0 / 3.0; 3]);
}

#[test]
fn levels_make_expected_infections_equal_those_seen() {
    // Among checks, without neighbours and frailty, the level of a round is the plain estimate
    // −ln(share clean): 3 of 5 infected give −ln 0.4 = 0.9163 (multiple-infection transformation).
    let case = five_trees(Role::SusceptibleCheck);
    let far = Neighbours::find(&case, 0.1).weigh(&hypothesis().spread);
    let sure = Hypothesis { evenness: 1e9, ..hypothesis() };
    let mut state = State::doubting(&case);
    for _ in 0..100 {
        state = fit(&case, &far, &sure, &state, ONE_PASS).state;
    }
    assert!((state.level[0] - 0.9163).abs() < 1e-4, "{}", state.level[0]);
}

#[test]
fn chances_of_a_season_add_up() {
    // Clean to the end, or infected in either of two rounds: one of the three happens.
    let dose = |clean: f64, seen: f64| SeasonDose { clean, seen, shape: 1.7 };
    let all = chance_of(&dose(1.1, 1.1), false, 1.3).0
        + chance_of(&dose(0.0, 0.4), true, 1.3).0
        + chance_of(&dose(0.4, 1.1), true, 1.3).0;
    assert!((all - 1.0).abs() < 1e-12);
}
