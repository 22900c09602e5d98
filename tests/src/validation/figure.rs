//! Figures of the validation page as SVG text.

use std::fmt::Write as _;

use epidemic::measure::{self, Bin};

use super::summary::{RANKINGS, Share, ranked};
use super::trial::Trial;

/// Colours that colour-blind eyes tell apart (Okabe & Ito 2008), with a dash pattern each.
const LINES: [(&str, &str); 3] = [("#0072b2", "none"), ("#1a1a1a", "6 3"), ("#d55e00", "2 3")];
const INK: &str = "#1a1a1a";
const FAINT: &str = "#c9c5bb";

/// Side of a square figure's frame, its margins, in pixels.
const SIDE: f64 = 320.0;
const LEFT: f64 = 56.0;
const TOP: f64 = 24.0;

/// Mean ROC curves over plots: at each share of susceptible trees let through, the mean share of
/// resistant ones.
pub fn roc<'a>(trials: impl Iterator<Item = &'a Trial>) -> String {
    let trials: Vec<&Trial> = trials.collect();
    let mut body = frame("susceptible trees let through", "resistant trees let through");
    line(&mut body, &[(0.0, 0.0), (1.0, 1.0)], FAINT, "none");
    for (nth, (name, score)) in RANKINGS.iter().enumerate() {
        let curves: Vec<Vec<(f64, f64)>> = trials
            .iter()
            .map(|trial| measure::roc(&ranked(trial, *score)))
            .filter(|curve| !curve.is_empty())
            .collect();
        let mean = |x: f64| curves.iter().map(|c| height(c, x)).sum::<f64>() / curves.len() as f64;
        let points: Vec<(f64, f64)> =
            (0..=100).map(|n| f64::from(n) / 100.0).map(|x| (x, mean(x))).collect();
        let (colour, dash) = LINES[nth];
        line(&mut body, &points, colour, dash);
        key(&mut body, nth, name, colour, dash);
    }
    square("ROC curves of luck, oracle and naive rule, mean over plots", &body)
}

/// Calibration: stated luck against the share that was susceptible, with 95 % intervals.
pub fn calibration(bins: &[Bin]) -> String {
    let mut body = frame("luck as stated", "share susceptible in truth");
    line(&mut body, &[(0.0, 0.0), (1.0, 1.0)], FAINT, "none");
    for bin in bins {
        let count = (bin.found * bin.count as f64).round() as usize;
        let Some((low, high)) = (Share { count, of: bin.count, error: 0.0 }).interval() else {
            continue;
        };
        let (colour, _) = LINES[0];
        line(&mut body, &[(bin.stated, low), (bin.stated, high)], colour, "none");
        let (x, y) = at(bin.stated, bin.found);
        let _ = writeln!(
            body,
            r#"<circle cx="{x:.1}" cy="{y:.1}" r="4" fill="{colour}"><title>{} trees</title></circle>"#,
            bin.count
        );
    }
    square("Calibration of luck", &body)
}

/// One bar for each name, with its 95 % interval and a limit drawn across.
pub fn bars(title: &str, bars: &[(&str, Share)], limit: f64, top: f64) -> String {
    const NAMES: f64 = 150.0;
    const WIDTH: f64 = 360.0;
    const STEP: f64 = 22.0;
    let x = |share: f64| NAMES + WIDTH * (share / top).min(1.0);
    let bottom = TOP + STEP * bars.len() as f64;
    let mut body = String::new();
    for (nth, (name, share)) in bars.iter().enumerate() {
        let y = TOP + STEP * nth as f64;
        let middle = y + STEP / 2.0;
        text(&mut body, NAMES - 8.0, middle + 4.0, "end", name);
        let (Some(value), Some((low, high))) = (share.share(), share.interval()) else {
            text(&mut body, NAMES + 8.0, middle + 4.0, "start", "none");
            continue;
        };
        let _ = writeln!(
            body,
            r#"<rect x="{NAMES}" y="{:.1}" width="{:.1}" height="12" fill="{}"/>"#,
            y + 5.0,
            x(value) - NAMES,
            LINES[0].0,
        );
        stroke(&mut body, (x(low), middle), (x(high), middle), INK, 1.5);
        let of = format!("{} of {}", share.count, share.of);
        text(&mut body, NAMES + WIDTH + 8.0, middle + 4.0, "start", &of);
    }
    stroke(&mut body, (x(limit), TOP - 4.0), (x(limit), bottom), LINES[2].0, 1.5);
    for tick in 0..=4 {
        let share = top * f64::from(tick) / 4.0;
        let words = format!("{:.0} %", 100.0 * share);
        text(&mut body, x(share), bottom + 16.0, "middle", &words);
    }
    svg(title, NAMES + WIDTH + 110.0, bottom + 28.0, &body)
}

fn height(curve: &[(f64, f64)], x: f64) -> f64 {
    let after = curve.partition_point(|point| point.0 <= x);
    match (curve.get(after.wrapping_sub(1)), curve.get(after)) {
        (Some(a), Some(b)) if b.0 > a.0 => a.1 + (x - a.0) / (b.0 - a.0) * (b.1 - a.1),
        (Some(a), _) => a.1,
        (None, _) => 0.0,
    }
}

fn at(x: f64, y: f64) -> (f64, f64) {
    (LEFT + SIDE * x, TOP + SIDE * (1.0 - y))
}

fn frame(across: &str, up: &str) -> String {
    let mut body = String::new();
    for tick in 0..=4 {
        let share = f64::from(tick) / 4.0;
        let words = format!("{share:.2}");
        let ((x, low), (left, y)) = (at(share, 0.0), at(0.0, share));
        stroke(&mut body, (x, low), (x, low + 4.0), INK, 1.0);
        stroke(&mut body, (left - 4.0, y), (left, y), INK, 1.0);
        text(&mut body, x, low + 17.0, "middle", &words);
        text(&mut body, left - 7.0, y + 4.0, "end", &words);
    }
    let (x, y) = at(0.0, 1.0);
    let _ = writeln!(
        body,
        r#"<rect x="{x}" y="{y}" width="{SIDE}" height="{SIDE}" fill="none" stroke="{INK}"/>"#
    );
    text(&mut body, LEFT + SIDE / 2.0, TOP + SIDE + 36.0, "middle", across);
    let middle = TOP + SIDE / 2.0;
    let _ = writeln!(
        body,
        r#"<text transform="translate(14 {middle}) rotate(-90)" text-anchor="middle">{up}</text>"#
    );
    body
}

fn key(body: &mut String, nth: usize, name: &str, colour: &str, dash: &str) {
    let y = TOP + SIDE - 16.0 - 18.0 * (2 - nth) as f64;
    let x = LEFT + SIDE - 110.0;
    let _ = writeln!(
        body,
        r#"<path d="M{x} {y}h30" stroke="{colour}" stroke-width="2" stroke-dasharray="{dash}"/>"#
    );
    text(body, x + 38.0, y + 4.0, "start", name);
}

fn line(body: &mut String, points: &[(f64, f64)], colour: &str, dash: &str) {
    let mut path = String::new();
    for (nth, &(x, y)) in points.iter().enumerate() {
        let (x, y) = at(x, y);
        let _ = write!(path, "{}{x:.1} {y:.1}", if nth == 0 { "M" } else { "L" });
    }
    let _ = writeln!(
        body,
        r#"<path d="{path}" fill="none" stroke="{colour}" stroke-width="2" stroke-dasharray="{dash}"/>"#
    );
}

fn stroke(body: &mut String, from: (f64, f64), to: (f64, f64), colour: &str, width: f64) {
    let _ = writeln!(
        body,
        r#"<path d="M{:.1} {:.1}L{:.1} {:.1}" stroke="{colour}" stroke-width="{width}"/>"#,
        from.0, from.1, to.0, to.1
    );
}

fn text(body: &mut String, x: f64, y: f64, anchor: &str, words: &str) {
    let _ = writeln!(body, r#"<text x="{x:.1}" y="{y:.1}" text-anchor="{anchor}">{words}</text>"#);
}

fn square(title: &str, body: &str) -> String {
    svg(title, LEFT + SIDE + 20.0, TOP + SIDE + 48.0, body)
}

fn svg(title: &str, width: f64, height: f64, body: &str) -> String {
    format!(
        concat!(
            r#"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {w} {h}" width="{w}" "#,
            r#"height="{h}" role="img" font-family="sans-serif" font-size="12" fill="{ink}">"#,
            "\n<title>{title}</title>\n",
            r##"<rect width="100%" height="100%" fill="#fbfaf6"/>"##,
            "\n{body}</svg>\n"
        ),
        w = width,
        h = height,
        ink = INK,
        title = title,
        body = body
    )
}
