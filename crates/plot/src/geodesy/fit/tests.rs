use proptest::prelude::*;

use super::*;

fn spot(x_m: f64, y_m: f64) -> Spot {
    Spot { x_m, y_m }
}

#[test]
fn parameters_and_scale_are_those_of_a_general_purpose_library() {
    // statsmodels 0.15.0: RLM(y, X, M=HuberT(t=1.345)).fit(maxiter=1000, tol=1e-14, scale_est="mad")
    // on ten points of a plan turned by 78°, with small errors and two gross ones.
    let plan: Vec<Spot> = [
        (0.0, 0.0),
        (0.75, 0.0),
        (1.5, 0.0),
        (2.25, 0.0),
        (0.0, 3.0),
        (0.75, 3.0),
        (1.5, 3.0),
        (2.25, 3.0),
        (0.0, 6.0),
        (0.75, 6.0),
    ]
    .map(|(x, y)| spot(x, y))
    .to_vec();
    let errors = [
        (0.01, -0.02),
        (0.0, 0.03),
        (-0.015, 0.005),
        (0.02, 0.01),
        (-0.01, -0.01),
        (1.5, 0.4),
        (0.005, -0.025),
        (-0.02, 0.015),
        (0.012, 0.0),
        (0.3, -2.0),
    ];
    let (b, a) = 78.0_f64.to_radians().sin_cos();
    let seen: Vec<Spot> = plan
        .iter()
        .zip(errors)
        .map(|(at, (east, north))| {
            spot(4.0 + a * at.x_m - b * at.y_m + east, -2.0 + b * at.x_m + a * at.y_m + north)
        })
        .collect();
    let (fit, converged) = huber(&plan, &seen).expect("a fit");
    assert!(converged);
    for (found, expect) in
        [(fit.e, 4.00838831), (fit.n, -1.98605548), (fit.a, 0.20268888), (fit.b, 0.97472773)]
    {
        assert!((found - expect).abs() < 1e-8, "{found} {expect}");
    }
    let residuals: Vec<Spot> =
        plan.iter().zip(&seen).map(|(plan, seen)| fit.residual(*plan, *seen)).collect();
    assert!((scale(&residuals) - 0.027255164675489146).abs() < 1e-8);
}

/// Rows of a plan, each point measured with small errors of a fixed pattern; every seventh metres
/// off.
fn measured(truth: Origin, outliers: bool) -> Vec<(Spot, Globe)> {
    let mut points = Vec::new();
    for nth in 0..210_u32 {
        let at = spot(f64::from(nth % 30) * 0.75, f64::from(nth / 30) * 3.0);
        // Errors between −2 and 2 cm without a trend: a low-discrepancy pattern.
        let error = |step: f64| ((f64::from(nth) * step).fract() - 0.5) * 0.04;
        let gross = if outliers && nth % 7 == 3 { 1.0 + f64::from(nth % 5) * 2.0 } else { 0.0 };
        let shifted = spot(at.x_m + error(0.618_034) + gross, at.y_m + error(0.754_878) - gross);
        points.push((at, truth.globe_from_plot(shifted)));
    }
    points
}

#[test]
fn a_known_place_is_found_again_though_a_seventh_of_the_points_is_metres_off() {
    for bearing in [0.0, 12.0, 135.0, 271.5] {
        let truth = Origin { lon: 5.12, lat: 52.04, row_bearing_deg: bearing };
        let fit = fit_origin(&measured(truth, true)).expect("a fit");
        assert!(fit.converged);
        let off = truth.plot_from_globe(Globe { lon: fit.origin.lon, lat: fit.origin.lat });
        assert!(off.distance_m(spot(0.0, 0.0)) < 0.02, "{off:?}");
        let turn = (fit.origin.row_bearing_deg - bearing + 540.0).rem_euclid(360.0) - 180.0;
        assert!(turn.abs() < 0.1, "{turn}");
        assert!((fit.stretch - 1.0).abs() < 2e-3, "{}", fit.stretch);
        let found: Vec<usize> = (0..210).filter(|&nth| fit.suspicious[nth]).collect();
        assert_eq!(found, (0..210).filter(|nth| nth % 7 == 3).collect::<Vec<_>>());
        // Off by 3 m along the row and by 3 m to the right, at the tenth: y is to the left.
        let tenth = fit.residuals[31];
        assert!((tenth.x_m - 3.0).abs() < 0.1 && (tenth.y_m + 3.0).abs() < 0.1, "{tenth:?}");
    }
}

#[test]
fn what_cannot_be_fitted_says_why() {
    let globe = |lon: f64| Globe { lon, lat: 52.04 };
    let check = |points: &[(Spot, Globe)], why| assert_eq!(fit_origin(points), Err(why));
    check(&[], NoFit::TooFew);
    check(&[(spot(0.0, 0.0), globe(5.0)), (spot(1.0, 0.0), globe(5.1))], NoFit::TooFew);
    check(&[(spot(1.0, 1.0), globe(5.0)); 4], NoFit::OneSpot);
}

#[test]
fn points_without_errors_fit_to_the_last_digit() {
    let truth = Origin { lon: -70.2, lat: -33.4, row_bearing_deg: 300.0 };
    let points: Vec<(Spot, Globe)> = [(0.0, 0.0), (10.0, 0.0), (0.0, 30.0), (10.0, 30.0)]
        .map(|(x, y)| (spot(x, y), truth.globe_from_plot(spot(x, y))))
        .to_vec();
    let fit = fit_origin(&points).expect("a fit");
    assert!((fit.origin.row_bearing_deg - 300.0).abs() < 1e-4, "{fit:?}");
    assert!(fit.residuals.iter().all(|off| off.distance_m(spot(0.0, 0.0)) < 1e-4));
    assert!(fit.suspicious.iter().all(|is| !is));
}

proptest! {
    #[test]
    fn the_order_of_points_does_not_matter(turn in 1_usize..200) {
        let truth = Origin { lon: 5.12, lat: 52.04, row_bearing_deg: 12.0 };
        let mut points = measured(truth, true);
        let one = fit_origin(&points).expect("a fit");
        points.rotate_left(turn);
        let other = fit_origin(&points).expect("a fit");
        prop_assert!((one.origin.lon - other.origin.lon).abs() < 1e-11);
        prop_assert!((one.origin.row_bearing_deg - other.origin.row_bearing_deg).abs() < 1e-6);
    }
}
