//! A tree and its neighbours, as far as they are known, in one line each.

use language::{count, say};
use plot::{Plot, capital};
use proof::{Known, Look, Nearby, Neighbour, Report, Span};

use super::{disease, metres, percent, score, share_of, when};
use crate::neighbours::{Tells, tells};

/// Probability of having been able to be infected below which a clean neighbour is called
/// probably resistant.
pub(crate) const COULD_HAVE: f64 = 0.5;

/// `0.75 m N: took scab, 5: about 25 % of leaves, seen 14 June 2031, round 2`, or what else is
/// known.
pub fn neighbour(plot: &Plot, of: &str, near: &Neighbour, span: Span) -> String {
    let mut place = if near.bearing_deg.is_none() && near.distance_m < 0.005 {
        say!("same trunk or hole").to_owned()
    } else {
        metres(near.distance_m)
    };
    if let (Some(bearing_deg), Some(_)) = (near.bearing_deg, plot.head().origin) {
        place = format!("{place} {}", compass(bearing_deg));
    }
    let known = known(plot, of, &near.known, span);
    let found = match (tells(near), near.could_have) {
        (Tells::CouldHave, Some(could_have)) => {
            say!("{known}, though it could have taken it ({share})", share = percent(could_have))
        }
        (Tells::NoWitness, Some(could_have)) => {
            say!("{known}, probably resistant ({share})", share = percent(1.0 - could_have))
        }
        _ => known,
    };
    format!("{place}: {found}")
}

/// `counts 18 %`: how much of what presses on the tree a neighbour tells; none where nobody knows.
pub fn weight(near: &Neighbour) -> Option<String> {
    near.weight.map(|weight| say!("counts {share}", share = percent(weight)))
}

/// The chosen tree itself at a moment: `This tree: clean on 3 June 2031, round 1.`
pub fn itself(plot: &Plot, of: &str, nearby: &Nearby) -> String {
    say!("This tree: {known}.", known = known(plot, of, &nearby.own, nearby.span))
}

/// All neighbours in one or two sentences: how many took the disease, how many could have, how
/// many were not looked at, and what the infected ones weigh.
pub fn nearby(of: &str, nearby: &Nearby) -> String {
    let ones = |wanted| nearby.nearest.iter().filter(|near| tells(near) == wanted).count();
    let (infected, unknown) = (ones(Tells::Infected), ones(Tells::Unknown));
    let share = share_of(infected, nearby.nearest.len());
    let mut line = match nearby.span {
        Span::All => capital(&say!("{share} nearest trees took {of}")),
        Span::Season(_) => say!("In that season {share} nearest trees took {of}"),
        Span::Until(..) => say!("By then {share} nearest trees had taken {of}"),
    };
    let could_have = ones(Tells::CouldHave);
    if could_have > 0 && nearby.infected_weight.is_some() {
        line = count!(
            could_have,
            "{line}; 1 clean one could have",
            "{line}; {could_have} clean ones could have"
        );
    }
    if unknown > 0 {
        line.push_str(&format!("; {unknown} {}", not_looked_at(nearby.span)));
    }
    match nearby.infected_weight.map(percent) {
        None => line + ".",
        Some(share) => say!("{line}. By weight, {share} of all around took it."),
    }
}

/// `47 more trees farther away count 38 % together`; none where none does.
pub fn farther(nearby: &Nearby) -> Option<String> {
    let weight = nearby.farther_weight.filter(|_| nearby.farther > 0)?;
    Some(count!(
        nearby.farther,
        "One more tree farther away counts {share}.",
        "{trees} more trees farther away count {share} together.",
        trees = nearby.farther,
        share = percent(weight)
    ))
}

/// What the weights are, or why there are none.
pub fn weighing(of: &str, report: Option<&Report>) -> String {
    match report {
        Some(report) if report.fit.is_some() => say!(
            "A neighbour counts by how far {of} travels on this plot, along the row and across it, \
             and by how likely it could have been infected itself."
        ),
        Some(_) => say!(
            "This plot cannot tell how far {of} travels, so only distance is shown, and nobody's \
             weight."
        ),
        None => say!("Not judged yet: only distance is shown, and nobody's weight.").to_owned(),
    }
}

/// `took scab, first seen 3 June 2031, round 1; worst 5: about 25 % of leaves`, `clean on 3 June
/// 2031, round 1`, `not looked at yet`.
fn known(plot: &Plot, of: &str, known: &Known, span: Span) -> String {
    match (&known.infected, known.worst, &known.looked) {
        (Some(first), Some((trait_ix, value, worst)), _) => {
            let score = score(plot.trait_of(trait_ix), Some(value));
            let (of, look) = (disease(plot, of), look(first));
            if first.on == worst {
                say!("took {of}, {score}, seen {look}")
            } else {
                say!("took {of}, first seen {look}; worst {score}")
            }
        }
        (None, Some(_), Some(last)) if span != Span::All => {
            say!("clean on {look}", look = look(last))
        }
        (None, Some(_), _) => say!("clean").to_owned(),
        _ => not_looked_at(span).to_owned(),
    }
}

fn not_looked_at(span: Span) -> &'static str {
    match span {
        Span::All => say!("not scored"),
        Span::Season(_) => say!("not scored that season"),
        Span::Until(..) => say!("not looked at yet"),
    }
}

/// `3 June 2031, round 1`.
fn look(look: &Look) -> String {
    match &look.round {
        Some(round) => say!("{day}, round {round}", day = when(look.on)),
        None => when(look.on),
    }
}

/// The point of the compass of a true bearing: `N`, `NE` … `NW`.
pub fn compass(bearing_deg: f64) -> &'static str {
    match ((bearing_deg.rem_euclid(360.0) / 45.0).round() as usize) % 8 {
        0 => say!("N"; "point of the compass"),
        1 => say!("NE"; "point of the compass"),
        2 => say!("E"; "point of the compass"),
        3 => say!("SE"; "point of the compass"),
        4 => say!("S"; "point of the compass"),
        5 => say!("SW"; "point of the compass"),
        6 => say!("W"; "point of the compass"),
        _ => say!("NW"; "point of the compass"),
    }
}
