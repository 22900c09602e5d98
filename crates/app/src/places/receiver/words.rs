//! Positions and their fit in words.

use std::collections::BTreeMap;

use files::list::{Positions, Quality, Survey};
use plot::Spot;
use scene::words::{count, metres};
use walk::compass_point;

/// What was read.
pub(super) fn held(positions: &Positions) -> Vec<String> {
    let found = &positions.read;
    let mut lines = Vec::new();
    let all = count(found.fixes.len(), "position");
    let mut kinds: BTreeMap<Quality, usize> = BTreeMap::new();
    found
        .fixes
        .iter()
        .filter_map(|fix| fix.quality)
        .for_each(|it| *kinds.entry(it).or_default() += 1);
    let kinds: Vec<String> = kinds
        .iter()
        .map(|(kind, many)| format!("{many} {} ({})", kind.as_str(), usual(*kind)))
        .collect();
    lines.push(match kinds.is_empty() {
        true => format!("{all}."),
        false => format!("{all}: {}.", kinds.join(", ")),
    });
    let range = |values: Vec<f64>, say: fn(f64) -> String| {
        let least = values.iter().copied().reduce(f64::min)?;
        let most = values.iter().copied().reduce(f64::max)?;
        let (least, most) = (say(least), say(most));
        Some(if least == most { least } else { format!("{least} to {most}") })
    };
    let of =
        |read: fn(&files::list::Fix) -> Option<f64>| found.fixes.iter().filter_map(read).collect();
    if let Some(hdop) = range(of(|fix| fix.hdop), scene::words::number) {
        lines.push(format!("Horizontal dilution of precision (HDOP): {hdop}."));
    }
    match range(of(|fix| fix.sigma_m), metres) {
        Some(sigma) => lines.push(format!("Standard deviation by the receiver itself: {sigma}.")),
        None if found.fixes.is_empty() => {}
        None => lines.push("It does not say how far off a position may be.".to_owned()),
    }
    match found.others {
        0 => {}
        1 => lines.push("1 sentence of another kind was passed over.".to_owned()),
        more => lines.push(format!("{more} sentences of other kinds were passed over.")),
    }
    lines
}

/// How far off a position of this kind is as a rule.
fn usual(kind: Quality) -> &'static str {
    match kind {
        Quality::Alone => "metres off as a rule",
        Quality::Differential => "about a metre off as a rule",
        Quality::Precise => "metres off as a rule",
        Quality::Fixed => "centimetres off as a rule",
        Quality::Float => "decimetres off as a rule",
        Quality::Reckoned => "not measured",
        Quality::Manual => "not measured",
        Quality::Simulated => "not measured",
    }
}

/// The fit: what, and how much.
pub(super) fn facts(survey: &Survey) -> Vec<(&'static str, String)> {
    let Ok(fit) = &survey.fit else { return Vec::new() };
    let mut facts = Vec::new();
    let bearing = fit.origin.row_bearing_deg;
    facts.push((
        "Bearing of the rows",
        format!("{bearing:.1}°: place numbers rise towards the {}", compass_point(bearing)),
    ));
    facts.push((
        "First place of the plan",
        format!("longitude {:.7}°, latitude {:.7}°", fit.origin.lon, fit.origin.lat),
    ));
    if let Some((place_m, row_m)) = survey.spacing_m() {
        let more = (fit.stretch - 1.0) * 100.0;
        let than = match more.abs() < 0.05 {
            true => "as the plan says".to_owned(),
            false => format!(
                "{:.1} % {} than the plan says",
                more.abs(),
                if more > 0.0 { "wider" } else { "closer" }
            ),
        };
        let words = format!(
            "{} from place to place, {} from row to row: {than}",
            metres(place_m),
            metres(row_m)
        );
        facts.push(("Spacing on the ground", words));
    }
    facts.push((
        "Left over",
        format!("standard deviation {}, along the row or across", metres(fit.sigma_m)),
    ));
    facts.push((
        "Far off",
        match survey.far_off() {
            0 => format!("none of {}", survey.points.len()),
            some => format!("{some} of {}, more than 3.5 standard deviations", survey.points.len()),
        },
    ));
    if let Some(error_m) = survey.error_m() {
        let words =
            format!("nineteen of twenty positions within {} in each direction", metres(error_m));
        facts.push(("Accuracy", words));
    }
    if let Some(off_m) = survey.lies_off_m() {
        let words = format!("{} from where the positions have it", metres(off_m));
        facts.push(("The plot is said to lie", words));
    }
    facts
}

/// What must be known before anything is taken.
pub(super) fn warned(survey: &Survey) -> Vec<String> {
    let mut lines = Vec::new();
    if let Err(why) = &survey.fit {
        lines.push(format!(
            "Nothing can be fitted: {why}. Three places that do not lie in one spot are needed."
        ));
    }
    if survey.is_turned_over {
        lines.push(
            "Row numbers rise to the right of the way in which place numbers rise. A plan has them \
             rise to the left, so it cannot lie as measured; what is said here is of the plan turned \
             over. Take the positions of all trees instead: each then stands where it was measured. \
             Trees without a position stay on the wrong side."
                .to_owned(),
        );
    }
    if !survey.tells_trees_apart() {
        lines.push(match survey.error_m() {
            Some(error_m) => format!(
                "These positions do not tell one tree from the next: they may be {} off, which is more \
                 than half of the way to the next place. Take only where the plot lies, and leave \
                 the trees in their rows and places.",
                metres(error_m)
            ),
            None => "Nobody can say whether these positions tell one tree from the next.".to_owned(),
        });
    }
    lines
}

/// How far off, along the row and across.
pub(super) fn off(off: Option<Spot>) -> [String; 2] {
    let said = |metres_off: f64, words: [&str; 2]| {
        let side = if metres_off < 0.0 { words[1] } else { words[0] };
        match metres_off.abs() < 0.005 {
            true => "as planned".to_owned(),
            false => format!("{} {side}", metres(metres_off.abs())),
        }
    };
    match off {
        Some(Spot { x_m, y_m }) => [
            said(x_m, ["farther on", "farther back"]),
            said(y_m, ["towards higher rows", "towards lower rows"]),
        ],
        None => ["not known".to_owned(), "not known".to_owned()],
    }
}
