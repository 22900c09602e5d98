//! How the trend of a field, and vigour beside disease, are said.

use plot::Plot;
use vigour::{LeftOut, Link, SeasonFit, Trend, Tried, Undefined};

use super::names::spaced;
use super::{count, number, season_name, share_of};

/// What belongs beside every adjusted number.
pub const TREND_CAUTION: &str = "A trend takes away what neighbours share, also where they share \
                                 it by their genes: look at the raw number, the trend and the \
                                 adjusted number side by side.";

/// What a trend is called within a sentence.
fn trend(trend: Trend) -> &'static str {
    match trend {
        Trend::None => "no trend",
        Trend::Papadakis => "the neighbours' residuals",
        Trend::Rows => "rows and places along them",
        Trend::Surface => "a smooth surface",
        Trend::Ar1 => "an autoregression along and across the rows",
    }
}

/// Which trend a season was adjusted for, and why: one sentence, then one for each way that was
/// left out.
pub fn trends(plot: &Plot, season: &SeasonFit) -> Vec<String> {
    let measured = format!(
        "In {}, {} measured{}",
        season_name(plot, season.season),
        count(season.trees, "tree"),
        match season.missing {
            0 => String::new(),
            some => format!(", {some} could not be"),
        }
    );
    let mut told = vec![match season.trend {
        None => format!("{measured}: nothing is adjusted."),
        Some(Trend::None) => {
            format!("{measured}: no trend is taken out{}.", why(season, Trend::None))
        }
        Some(taken) => format!("{measured}: adjusted for {}{}.", trend(taken), why(season, taken)),
    }];
    for tried in &season.tried {
        if let Err(left_out) = tried.outcome {
            let name = trend(tried.trend);
            told.push(format!("{} was left out: {}.", plot::capital(name), reason(left_out)));
        }
    }
    told
}

/// Beside what the trend was chosen.
fn why(season: &SeasonFit, taken: Trend) -> String {
    let aic = |tried: &Tried| tried.outcome.ok()?.aic();
    let own = season.tried.iter().find(|tried| tried.trend == taken).and_then(aic);
    let others = season.tried.iter().filter(|tried| tried.trend != taken);
    let others: Vec<String> = others
        .filter_map(|tried| {
            let apart = aic(tried)? - own?;
            let word = if apart < 0.0 { "better" } else { "worse" };
            let apart = number((apart.abs() * 10.0).round() / 10.0);
            Some(format!("{} {word} by {apart}", trend(tried.trend)))
        })
        .collect();
    match others.is_empty() {
        true => String::new(),
        false => format!(" (AIC: {}; more parameters must be better by 2)", others.join(", ")),
    }
}

fn reason(left_out: LeftOut) -> String {
    match left_out {
        LeftOut::FewTrees { needed, found } => {
            format!("{} measured, {needed} are needed", count(found, "tree"))
        }
        LeftOut::NoPlace { trees: 1 } => "1 tree has no row and place".to_owned(),
        LeftOut::NoPlace { trees } => format!("{trees} trees have no row and place"),
        LeftOut::FewLines => "there are too few rows, and places along them, to compare".to_owned(),
        LeftOut::OneSpot => "all trees stand in one spot".to_owned(),
        LeftOut::LargeLattice { cells, most } => {
            format!("{cells} places are more than the {most} that are computed")
        }
        LeftOut::Undefined(Undefined::Constant) => "all numbers are alike".to_owned(),
        LeftOut::Undefined(Undefined::TooLarge { .. }) => {
            "so many repeated genotypes would take it minutes".to_owned()
        }
        LeftOut::Undefined(other) => other.to_string(),
        LeftOut::NoMaximum => "its likelihood has no highest point here".to_owned(),
        LeftOut::NoNeighbours => "the neighbours tell nothing".to_owned(),
    }
}

/// Whether strong trees take a disease more, with numbers.
pub fn vigour_link(of: &str, link: &Link) -> String {
    let of = spaced(of);
    let Some(found) = link.correlation else {
        return format!(
            "Whether strong trees take {of} more cannot be told: {} can be compared, {} infected.",
            count(link.trees, "tree"),
            link.infected
        );
    };
    let says = match (found.low > 0.0, found.high < 0.0) {
        (true, _) => "strong trees take it more here",
        (_, true) => "strong trees take it less here",
        _ => "no difference between strong and weak trees is told",
    };
    let third = |nth: usize| share_of(link.thirds[nth].infected, link.thirds[nth].trees);
    format!(
        "{}: {says}. Rank correlation {} ({} to {}, 90 % interval) among {} within {}; infected: {} \
         of the weakest third, {} of the middle, {} of the strongest.",
        plot::capital(&of),
        number(found.value),
        number(found.low),
        number(found.high),
        count(link.trees, "tree"),
        count(link.groups, "group"),
        third(0),
        third(1),
        third(2),
    )
}

/// What the fit of the proof makes of vigour (`proof::FitFacts::vigour_effect`).
pub fn vigour_effect(of: &str, effect: f64) -> String {
    let of = spaced(of);
    if effect == 0.0 {
        return format!(
            "The judgement of {of} leaves vigour out: the plot does not show an effect."
        );
    }
    format!(
        "The judgement of {of} expects {} times as many infections of a tree whose log vigour is \
         one standard deviation higher.",
        number((libm::exp(effect) * 100.0).round() / 100.0)
    )
}

#[cfg(test)]
mod tests {
    use vigour::{RankCorrelation, Third};

    use super::*;

    fn link(low: f64, value: f64, high: f64) -> Link {
        let third = |infected| Third { trees: 20, infected };
        Link {
            trees: 60,
            infected: 24,
            groups: 3,
            correlation: Some(RankCorrelation { value, low, high, p: 0.01 }),
            thirds: [third(3), third(8), third(13)],
        }
    }

    #[test]
    fn what_the_interval_allows_is_said_and_no_more() {
        let says = |link: &Link, words: &str| {
            let told = vigour_link("fire_blight", link);
            assert!(told.contains(words), "{told}");
        };
        says(
            &link(0.1, 0.3, 0.5),
            "strong trees take it more here. Rank correlation 0.3 (0.1 to 0.5",
        );
        says(
            &link(0.1, 0.3, 0.5),
            "60 trees within 3 groups; infected: 3 of 20 of the weakest third",
        );
        says(&link(-0.1, 0.1, 0.3), "no difference");
        says(&link(-0.5, -0.3, -0.1), "take it less");
        says(&Link { correlation: None, ..link(0.0, 0.0, 0.0) }, "cannot be told: 60 trees");
    }

    #[test]
    fn an_effect_is_said_as_a_factor() {
        assert!(vigour_effect("scab", 0.405_465).contains("1.5 times"));
        assert!(vigour_effect("scab", 0.0).contains("leaves vigour out"));
    }
}
