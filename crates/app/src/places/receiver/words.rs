//! Positions and their fit in words.

use language::{count, say};
use std::collections::BTreeMap;

use files::list::{Positions, Quality, Survey};
use plot::Spot;
use scene::words::metres;
use walk::compass_point;

/// What was read.
pub(super) fn held(positions: &Positions) -> Vec<String> {
    let found = &positions.read;
    let mut lines = Vec::new();
    let all = found.fixes.len();
    let mut kinds: BTreeMap<Quality, usize> = BTreeMap::new();
    found
        .fixes
        .iter()
        .filter_map(|fix| fix.quality)
        .for_each(|it| *kinds.entry(it).or_default() += 1);
    let kinds: Vec<String> = kinds
        .iter()
        .map(|(kind, many)| {
            say!("{many} {kind} ({usual})", kind = kind.as_str(), usual = usual(*kind))
        })
        .collect();
    lines.push(match kinds.is_empty() {
        true => count!(all, "1 position.", "{all} positions."),
        false => count!(
            all,
            "1 position: {kinds}.",
            "{all} positions: {kinds}.",
            kinds = kinds.join(", ")
        ),
    });
    let range = |values: Vec<f64>, written: fn(f64) -> String| {
        let least = values.iter().copied().reduce(f64::min)?;
        let most = values.iter().copied().reduce(f64::max)?;
        let (least, most) = (written(least), written(most));
        Some(if least == most { least } else { say!("{least} to {most}") })
    };
    let of =
        |read: fn(&files::list::Fix) -> Option<f64>| found.fixes.iter().filter_map(read).collect();
    if let Some(hdop) = range(of(|fix| fix.hdop), scene::words::number) {
        lines.push(say!("Horizontal dilution of precision (HDOP): {hdop}."));
    }
    match range(of(|fix| fix.sigma_m), metres) {
        Some(sigma) => lines.push(say!("Standard deviation by the receiver itself: {sigma}.")),
        None if found.fixes.is_empty() => {}
        None => lines.push(say!("It does not say how far off a position may be.").to_owned()),
    }
    match found.others {
        0 => {}
        more => lines.push(count!(
            more,
            "1 sentence of another kind was passed over.",
            "{more} sentences of other kinds were passed over."
        )),
    }
    lines
}

/// How far off a position of this kind is as a rule.
fn usual(kind: Quality) -> &'static str {
    match kind {
        Quality::Alone => say!("metres off as a rule"),
        Quality::Differential => say!("about a metre off as a rule"),
        Quality::Precise => say!("metres off as a rule"),
        Quality::Fixed => say!("centimetres off as a rule"),
        Quality::Float => say!("decimetres off as a rule"),
        Quality::Reckoned => say!("not measured"),
        Quality::Manual => say!("not measured"),
        Quality::Simulated => say!("not measured"),
    }
}

/// The fit: what, and how much.
pub(super) fn facts(survey: &Survey) -> Vec<(&'static str, String)> {
    let Ok(fit) = &survey.fit else { return Vec::new() };
    let mut facts = Vec::new();
    let bearing = fit.origin.row_bearing_deg;
    facts.push((
        say!("Bearing of the rows"),
        say!(
            "{bearing:.1}°: place numbers rise towards the {point}",
            point = compass_point(bearing)
        ),
    ));
    facts.push((
        say!("First place of the plan"),
        say!("longitude {lon:.7}°, latitude {lat:.7}°", lon = fit.origin.lon, lat = fit.origin.lat),
    ));
    if let Some((place_m, row_m)) = survey.spacing_m() {
        let than = match (fit.stretch - 1.0) * 100.0 {
            more if more.abs() < 0.05 => say!("as the plan says").to_owned(),
            more if more > 0.0 => say!("{more:.1} % wider than the plan says"),
            less => say!("{less:.1} % closer than the plan says", less = less.abs()),
        };
        let words = say!(
            "{places} from place to place, {rows} from row to row: {than}",
            places = metres(place_m),
            rows = metres(row_m)
        );
        facts.push((say!("Spacing on the ground"), words));
    }
    facts.push((
        say!("Left over"),
        say!("standard deviation {sigma}, along the row or across", sigma = metres(fit.sigma_m)),
    ));
    let all = survey.points.len();
    facts.push((
        say!("Far off"),
        match survey.far_off() {
            0 => say!("none of {all}"),
            some => say!("{some} of {all}, more than {limit:.1} standard deviations", limit = 3.5),
        },
    ));
    if let Some(error_m) = survey.error_m() {
        let words = say!(
            "nineteen of twenty positions within {error} in each direction",
            error = metres(error_m)
        );
        facts.push((say!("Accuracy"), words));
    }
    if let Some(off_m) = survey.lies_off_m() {
        let words = say!("{off} from where the positions have it", off = metres(off_m));
        facts.push((say!("The plot is said to lie"), words));
    }
    facts
}

/// What must be known before anything is taken.
pub(super) fn warned(survey: &Survey) -> Vec<String> {
    let mut lines = Vec::new();
    if let Err(why) = &survey.fit {
        lines.push(say!(
            "Nothing can be fitted: {why}. Three places that do not lie in one spot are needed."
        ));
    }
    if survey.is_turned_over {
        let words = say!(
            "Row numbers rise to the right of the way in which place numbers rise. A plan has them \
             rise to the left, so it cannot lie as measured; what is said here is of the plan turned \
             over. Take the positions of all trees instead: each then stands where it was measured. \
             Trees without a position stay on the wrong side."
        );
        lines.push(words.to_owned());
    }
    if !survey.tells_trees_apart() {
        lines.push(match survey.error_m() {
            Some(error_m) => say!(
                "These positions do not tell one tree from the next: they may be {error} off, which is more \
                 than half of the way to the next place. Take only where the plot lies, and leave \
                 the trees in their rows and places.",
                error = metres(error_m)
            ),
            None => {
                say!("Nobody can say whether these positions tell one tree from the next.").to_owned()
            }
        });
    }
    lines
}

/// How far off, along the row and across.
pub(super) fn off(off: Option<Spot>) -> [String; 2] {
    let Some(Spot { x_m, y_m }) = off else {
        return [(); 2].map(|()| say!("not known").to_owned());
    };
    let said = |off_m: f64, sides: fn(bool, String) -> String| match off_m.abs() < 0.005 {
        true => say!("as planned").to_owned(),
        false => sides(off_m > 0.0, metres(off_m.abs())),
    };
    let along = |is_on: bool, off: String| match is_on {
        true => say!("{off} farther on"),
        false => say!("{off} farther back"),
    };
    let across = |is_up: bool, off: String| match is_up {
        true => say!("{off} towards higher rows"),
        false => say!("{off} towards lower rows"),
    };
    [said(x_m, along), said(y_m, across)]
}
