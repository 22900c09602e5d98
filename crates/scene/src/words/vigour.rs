//! How the trend of a field, and vigour beside disease, are said.

use plot::Plot;
use vigour::{LeftOut, Link, Part, SeasonFit, Trend, Tried, Undefined, Variances};

use super::{count, number, season_name, share_of};

/// What belongs beside every adjusted number.
pub const TREND_CAUTION: &str = "A trend takes away what neighbours share, also where they share \
                                 it by their genes: look at the raw number, the trend and the \
                                 adjusted number side by side.";

/// What a trend is called within a sentence.
pub fn trend(trend: Trend) -> &'static str {
    match trend {
        Trend::None => "no trend",
        Trend::Papadakis => "the neighbours' residuals",
        Trend::Rows => "rows and places along them",
        Trend::Surface => "a smooth surface",
        Trend::Ar1 => "an autoregression along and across the rows",
    }
}

/// What taking a trend out of the numbers does; none: the best is looked for.
pub fn trend_does(trend: Option<Trend>) -> &'static str {
    match trend {
        None => {
            "No trend, rows, surface and autoregression are all fitted, and the one is taken that \
             describes the numbers best for what it costs: the simplest, unless another is \
             clearly better."
        }
        Some(Trend::None) => {
            "Nothing is taken out: a tree on good soil counts as a strong tree. Families and copies \
             still tell of each other."
        }
        Some(Trend::Rows) => {
            "Each row, and each place along the rows, gets an effect of its own. For a headland, a \
             ditch, a row that was planted later."
        }
        Some(Trend::Surface) => {
            "A smooth surface is laid over the plot, as bent as the numbers ask for. For soil that \
             changes slowly, along a slope or towards a hedge."
        }
        Some(Trend::Ar1) => {
            "Neighbours are taken to be alike, the more so the nearer they stand along and across \
             the rows. For patches of any shape. It may take long on a large plot."
        }
        Some(Trend::Papadakis) => {
            "A tree is compared with the trees in the four places around it. Simple and old; \
             nothing tells whether it is better than another, so it is never taken by itself."
        }
    }
}

/// What each part of the model is called, with its variance in squared units, the tree's own rest
/// last.
pub fn variances(variances: &Variances) -> Vec<(&'static str, f64)> {
    let groups = [("between crosses", variances.cross), ("between genotypes", variances.genotype)];
    let mut told: Vec<(&'static str, f64)> =
        groups.into_iter().filter_map(|(what, variance)| Some((what, variance?))).collect();
    let of_trend = variances.trend.iter().filter(|(part, _)| !part.is_correlation());
    told.extend(of_trend.map(|&(estimated, variance)| (part(estimated), variance)));
    told.push(("the tree itself, and its measurement", variances.rest));
    told
}

/// How alike neighbours are: what each correlation is called, with its value.
pub fn correlations(variances: &Variances) -> Vec<(&'static str, f64)> {
    let of_trend = variances.trend.iter().filter(|(part, _)| part.is_correlation());
    of_trend.map(|&(estimated, value)| (part(estimated), value)).collect()
}

fn part(part: Part) -> &'static str {
    match part {
        Part::Rows => "between rows",
        Part::Places => "between places along the rows",
        Part::Across => "bend of the surface across the rows",
        Part::Along => "bend of the surface along the rows",
        Part::Field => "patches on which neighbours are alike",
        Part::RhoAcross => "from one row to the next",
        Part::RhoAlong => "from one place to the next",
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
        plot::capital(of),
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
    if effect == 0.0 {
        return format!(
            "The judgement of {of} leaves vigour out: the plot does not show an effect."
        );
    }
    match number((libm::exp(effect) * 100.0).round() / 100.0).as_str() {
        "1" => {
            format!(
                "The judgement of {of} expects as many infections of strong trees as of weak ones."
            )
        }
        times => format!(
            "The judgement of {of} expects {times} times as many infections of a tree whose log \
             vigour is one standard deviation higher."
        ),
    }
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
            let told = vigour_link("fire blight", link);
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
    fn a_correlation_is_no_variance() {
        let fitted = Variances {
            cross: Some(2.0),
            genotype: None,
            trend: vec![(Part::Field, 3.0), (Part::RhoAcross, 0.4), (Part::RhoAlong, 0.9)],
            rest: 1.5,
        };
        let numbers = |told: Vec<(&str, f64)>| told.iter().map(|one| one.1).collect::<Vec<_>>();
        assert_eq!(numbers(variances(&fitted)), [2.0, 3.0, 1.5]);
        assert_eq!(numbers(correlations(&fitted)), [0.4, 0.9]);
    }

    #[test]
    fn an_effect_is_said_as_a_factor() {
        assert!(vigour_effect("scab", 0.405_465).contains("1.5 times"));
        assert!(vigour_effect("scab", 0.004).contains("as many infections of strong trees as"));
        assert!(vigour_effect("scab", 0.0).contains("leaves vigour out"));
    }
}
