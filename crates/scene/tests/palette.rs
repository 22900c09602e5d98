//! Every pair of classes that must be told apart, seen with four kinds of eyes.
//!
//! Deficiencies are simulated by the matrices of Machado, Oliveira & Fernandes 2009 (IEEE
//! Transactions on Visualization and Computer Graphics 15:1291–1298) at full severity, in linear
//! sRGB. Differences are CIEDE2000, checked against the pairs of Sharma, Wu & Dalal 2005 (Color
//! Research & Application 30:21–30).

use scene::{Ink, Rgb, Theme};

/// Neighbouring steps of an ordered scale differ by at least this much, for every eye.
const NEIGHBOURS: f64 = 11.0;
/// Any two of the four verdicts differ by at least this much, for every eye.
const VERDICTS: f64 = 15.0;
/// Unordered colours next to each other in their order differ by at least this much, for every
/// eye.
const MEMBERS: f64 = 12.0;
/// Any two of the unordered colours, which also differ in shape, differ by at least this much.
const ANY_TWO: f64 = 5.0;
/// The two sides of what is more or less than expected differ by at least this much, for every
/// eye; the four classes next to each other by [`NEIGHBOURS`].
const SIDES: f64 = 20.0;
/// Neighbouring tints of the ground, and the least of them and paper, differ by at least this
/// much, for every eye: wide fields side by side, where 2.3 is just noticeable.
const TINTS: f64 = 3.5;
/// Contrast of outlines with the paper and with every tint, after WCAG 2.2, 1.4.11.
const LINE_CONTRAST: f64 = 3.0;

const EYES: [(&str, [[f64; 3]; 3]); 4] = [
    ("common", [[1.0, 0.0, 0.0], [0.0, 1.0, 0.0], [0.0, 0.0, 1.0]]),
    (
        "protan",
        [
            [0.152286, 1.052583, -0.204868],
            [0.114503, 0.786281, 0.099216],
            [-0.003882, -0.048116, 1.051998],
        ],
    ),
    (
        "deutan",
        [
            [0.367322, 0.860646, -0.227968],
            [0.280085, 0.672501, 0.047413],
            [-0.011820, 0.042940, 0.968881],
        ],
    ),
    (
        "tritan",
        [
            [1.255528, -0.076749, -0.178779],
            [-0.078411, 0.930809, 0.147602],
            [0.004733, 0.691367, 0.303900],
        ],
    ),
];

#[test]
fn neighbouring_steps_differ_for_every_eye() {
    for theme in [Theme::Day, Theme::Evening, Theme::Grey] {
        for ink in [Ink::Severity as fn(u8) -> Ink, Ink::Amount] {
            for step in 0..4 {
                check_apart(theme, ink(step), ink(step + 1), NEIGHBOURS);
            }
        }
    }
}

#[test]
fn ordered_steps_run_evenly_away_from_the_paper_in_a_grey_print() {
    for theme in [Theme::Day, Theme::Evening, Theme::Grey] {
        for ink in [Ink::Severity as fn(u8) -> Ink, Ink::Amount] {
            let paper = lightness(theme.rgb(Ink::Paper));
            let away: Vec<f64> =
                (0..5).map(|step| (lightness(theme.rgb(ink(step))) - paper).abs()).collect();
            for pair in away.windows(2) {
                assert!(pair[1] - pair[0] > 10.0, "{theme:?}: {away:?}");
            }
        }
    }
}

#[test]
fn verdicts_differ_for_every_eye() {
    let verdicts = [Ink::Proven, Ink::Leaning, Ink::Untested, Ink::Infected];
    for theme in [Theme::Day, Theme::Evening, Theme::Grey] {
        for (nth, a) in verdicts.into_iter().enumerate() {
            for b in &verdicts[..nth] {
                check_apart(theme, a, *b, VERDICTS);
            }
        }
    }
}

#[test]
fn less_and_more_than_expected_differ_for_every_eye() {
    for theme in [Theme::Day, Theme::Evening] {
        for step in 0..4 {
            check_apart(theme, Ink::Departure(step), Ink::Departure(step + 1), NEIGHBOURS);
        }
        for step in 0..2 {
            check_apart(theme, Ink::Departure(step), Ink::Departure(4 - step), SIDES);
        }
        let paper = lightness(theme.rgb(Ink::Paper));
        let away = |step| (lightness(theme.rgb(Ink::Departure(step))) - paper).abs();
        assert!(away(2) < away(1) && away(1) < away(0), "{theme:?}: fewer");
        assert!(away(2) < away(3) && away(3) < away(4), "{theme:?}: more");
    }
}

#[test]
fn tints_of_the_ground_differ_for_every_eye_and_in_a_grey_print() {
    for theme in [Theme::Day, Theme::Evening, Theme::Grey] {
        let mut before = Ink::Paper;
        for step in 0..4 {
            check_apart(theme, before, Ink::Tint(step), TINTS);
            let lightness = |ink| lightness(theme.rgb(ink));
            let apart = (lightness(Ink::Tint(step)) - lightness(before)).abs();
            assert!(apart > 4.0, "{theme:?} {step}: {apart}");
            before = Ink::Tint(step);
        }
    }
}

#[test]
fn unordered_classes_differ_for_every_eye() {
    for theme in [Theme::Day, Theme::Grey] {
        for nth in 0..7_u8 {
            check_apart(theme, Ink::Member(nth), Ink::Member((nth + 1) % 7), MEMBERS);
            for other in 0..nth {
                check_apart(theme, Ink::Member(nth), Ink::Member(other), ANY_TWO);
            }
        }
    }
}

#[test]
fn outlines_stand_off_the_paper_and_every_tint() {
    for theme in [Theme::Day, Theme::Evening, Theme::Grey] {
        for ink in [Ink::Line, Ink::Faint] {
            for ground in (0..4).map(Ink::Tint).chain([Ink::Paper]) {
                let (a, b) = (luminance(theme.rgb(ink)), luminance(theme.rgb(ground)));
                let contrast = (a.max(b) + 0.05) / (a.min(b) + 0.05);
                assert!(contrast >= LINE_CONTRAST, "{theme:?} {ink:?} on {ground:?}: {contrast}");
            }
        }
    }
}

#[test]
fn the_difference_is_that_of_the_published_pairs() {
    // Sharma, Wu & Dalal 2005, table 1, pairs 1, 7, 17, 25 and 34 (from memory).
    for (a, b, difference) in [
        ([50.0, 2.6772, -79.7751], [50.0, 0.0, -82.7485], 2.0425),
        ([50.0, 0.0, 0.0], [50.0, -1.0, 2.0], 2.3669),
        ([50.0, 2.5, 0.0], [73.0, 25.0, -18.0], 27.1492),
        ([60.2574, -34.0099, 36.2677], [60.4626, -34.1751, 39.4387], 1.2644),
        ([2.0776, 0.0795, -1.1350], [0.9033, -0.0636, -0.5514], 0.9082),
    ] {
        assert!((ciede2000(a, b) - difference).abs() < 1e-4, "{a:?} {b:?}: {}", ciede2000(a, b));
    }
}

#[test]
fn in_grey_everything_is_grey_and_departures_differ_from_their_neighbours() {
    for step in 0..4 {
        check_apart(Theme::Grey, Ink::Departure(step), Ink::Departure(step + 1), NEIGHBOURS);
    }
    for ink in [Ink::Paper, Ink::Line, Ink::Faint, Ink::Infected, Ink::Proven, Ink::Tint(3)] {
        let [r, g, b] = Theme::Grey.rgb(ink);
        assert!(r == g && g == b, "{ink:?}");
    }
    assert_eq!(Theme::Grey.rgb(Ink::Paper), [255; 3], "no ink where there is nothing");
}

fn check_apart(theme: Theme, a: Ink, b: Ink, least: f64) {
    for (eye, matrix) in EYES {
        let seen = |ink| lab(seen_by(&matrix, linear(theme.rgb(ink))));
        let difference = ciede2000(seen(a), seen(b));
        assert!(
            difference >= least,
            "{theme:?}, {eye} eye: {a:?} and {b:?} differ by {difference:.1}"
        );
    }
}

fn linear(rgb: Rgb) -> [f64; 3] {
    rgb.map(|channel| {
        let share = f64::from(channel) / 255.0;
        if share <= 0.04045 { share / 12.92 } else { ((share + 0.055) / 1.055).powf(2.4) }
    })
}

fn seen_by(matrix: &[[f64; 3]; 3], rgb: [f64; 3]) -> [f64; 3] {
    matrix.map(|row| {
        let sum: f64 = row.iter().zip(rgb).map(|(factor, channel)| factor * channel).sum();
        sum.clamp(0.0, 1.0)
    })
}

fn luminance(rgb: Rgb) -> f64 {
    let [r, g, b] = linear(rgb);
    0.2126 * r + 0.7152 * g + 0.0722 * b
}

fn lightness(rgb: Rgb) -> f64 {
    lab(linear(rgb))[0]
}

/// CIELAB under D65 of linear sRGB.
fn lab([r, g, b]: [f64; 3]) -> [f64; 3] {
    let x = (0.4124564 * r + 0.3575761 * g + 0.1804375 * b) / 0.95047;
    let y = 0.2126729 * r + 0.7151522 * g + 0.0721750 * b;
    let z = (0.0193339 * r + 0.1191920 * g + 0.9503041 * b) / 1.08883;
    let [x, y, z] = [x, y, z].map(|t: f64| {
        if t > (6.0_f64 / 29.0).powi(3) { t.cbrt() } else { t * 841.0 / 108.0 + 4.0 / 29.0 }
    });
    [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
}

/// The colour difference of CIE 142:2001, with all weights 1.
fn ciede2000([l1, a1, b1]: [f64; 3], [l2, a2, b2]: [f64; 3]) -> f64 {
    let seventh = |c: f64| (c.powi(7) / (c.powi(7) + 25_f64.powi(7))).sqrt();
    let stretch = 0.5 * (1.0 - seventh((a1.hypot(b1) + a2.hypot(b2)) / 2.0));
    let (a1, a2) = (a1 * (1.0 + stretch), a2 * (1.0 + stretch));
    let (c1, c2) = (a1.hypot(b1), a2.hypot(b2));
    let hue = |a: f64, b: f64| b.atan2(a).to_degrees().rem_euclid(360.0);
    let (h1, h2) = (hue(a1, b1), hue(a2, b2));
    let grey = c1 * c2 == 0.0;
    let turn = match h2 - h1 {
        _ if grey => 0.0,
        turn if turn > 180.0 => turn - 360.0,
        turn if turn < -180.0 => turn + 360.0,
        turn => turn,
    };
    let dh = 2.0 * (c1 * c2).sqrt() * (turn / 2.0).to_radians().sin();
    let (l, c) = ((l1 + l2) / 2.0, (c1 + c2) / 2.0);
    let h = if grey {
        h1 + h2
    } else if (h1 - h2).abs() <= 180.0 {
        (h1 + h2) / 2.0
    } else if h1 + h2 < 360.0 {
        (h1 + h2 + 360.0) / 2.0
    } else {
        (h1 + h2 - 360.0) / 2.0
    };
    let cos = |deg: f64| deg.to_radians().cos();
    let t = 1.0 - 0.17 * cos(h - 30.0) + 0.24 * cos(2.0 * h) + 0.32 * cos(3.0 * h + 6.0)
        - 0.20 * cos(4.0 * h - 63.0);
    let rotation =
        -2.0 * seventh(c) * (60.0 * (-((h - 275.0) / 25.0).powi(2)).exp()).to_radians().sin();
    let sl = 1.0 + 0.015 * (l - 50.0).powi(2) / (20.0 + (l - 50.0).powi(2)).sqrt();
    let (sc, sh) = (1.0 + 0.045 * c, 1.0 + 0.015 * c * t);
    let (dl, dc, dh) = ((l2 - l1) / sl, (c2 - c1) / sc, dh / sh);
    (dl * dl + dc * dc + dh * dh + rotation * dc * dh).sqrt()
}
