//! A neighbour of a chosen tree in one line.

use plot::Plot;
use proof::Neighbour;

use super::{disease, metres, percent, score, when};

/// Probability of having been able to be infected below which a clean neighbour is called
/// probably resistant.
pub(crate) const COULD_HAVE: f64 = 0.5;

/// `0.75 m N: took scab, 5: about 25 % of leaves, seen 14 June 2031`, or what else is known.
pub fn neighbour(plot: &Plot, of: &str, near: &Neighbour) -> String {
    let mut place = if near.bearing_deg.is_none() && near.distance_m < 0.005 {
        "same trunk or hole".to_owned()
    } else {
        metres(near.distance_m)
    };
    if let (Some(bearing_deg), Some(_)) = (near.bearing_deg, plot.head().origin) {
        place = format!("{place} {}", compass(bearing_deg));
    }
    let found = match (near.worst, near.severity) {
        (Some((trait_ix, value, on)), Some(severity)) if severity > 0.0 => format!(
            "took {}, {}, seen {}",
            disease(of),
            score(plot.trait_of(trait_ix), Some(value)),
            when(on)
        ),
        (Some(_), _) => match near.could_have {
            Some(could_have) if could_have >= COULD_HAVE => {
                format!("clean, though it could have taken it ({})", percent(could_have))
            }
            Some(could_have) => {
                format!("clean, probably resistant ({})", percent(1.0 - could_have))
            }
            None => "clean".to_owned(),
        },
        (None, _) => "not scored".to_owned(),
    };
    format!("{place}: {found}")
}

/// The point of the compass of a true bearing: `N`, `NE` … `NW`.
pub fn compass(bearing_deg: f64) -> &'static str {
    const POINTS: [&str; 8] = ["N", "NE", "E", "SE", "S", "SW", "W", "NW"];
    POINTS[((bearing_deg.rem_euclid(360.0) / 45.0).round() as usize) % 8]
}
