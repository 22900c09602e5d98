//! How the trend of a field, and vigour beside disease, are said.

use language::{count, say};
use plot::Plot;
use vigour::{LeftOut, Link, Part, SeasonFit, Trend, Tried, Undefined, Variances};

use super::{number, season_name, share_of};

/// What belongs beside every adjusted number.
pub fn trend_caution() -> &'static str {
    say!(
        "A trend takes away what neighbours share, also where they share it by their genes: look \
         at the raw number, the trend and the adjusted number side by side."
    )
}

/// What a trend is called within a sentence.
pub fn trend(trend: Trend) -> &'static str {
    match trend {
        Trend::None => say!("no trend"),
        Trend::Papadakis => say!("the neighbours' residuals"),
        Trend::Rows => say!("rows and places along them"),
        Trend::Surface => say!("a smooth surface"),
        Trend::Ar1 => say!("an autoregression along and across the rows"),
    }
}

/// What taking a trend out of the numbers does; none: the best is looked for.
pub fn trend_does(trend: Option<Trend>) -> &'static str {
    match trend {
        None => {
            say!(
                "No trend, rows, surface and autoregression are all fitted, and the one is taken that \
                 describes the numbers best for what it costs: the simplest, unless another is \
                 clearly better."
            )
        }
        Some(Trend::None) => {
            say!(
                "Nothing is taken out: a tree on good soil counts as a strong tree. Families and copies \
                 still tell of each other."
            )
        }
        Some(Trend::Rows) => {
            say!(
                "Each row, and each place along the rows, gets an effect of its own. For a headland, a \
                 ditch, a row that was planted later."
            )
        }
        Some(Trend::Surface) => {
            say!(
                "A smooth surface is laid over the plot, as bent as the numbers ask for. For soil that \
                 changes slowly, along a slope or towards a hedge."
            )
        }
        Some(Trend::Ar1) => {
            say!(
                "Neighbours are taken to be alike, the more so the nearer they stand along and across \
                 the rows. For patches of any shape. It may take long on a large plot."
            )
        }
        Some(Trend::Papadakis) => {
            say!(
                "A tree is compared with the trees in the four places around it. Simple and old; \
                 nothing tells whether it is better than another, so it is never taken by itself."
            )
        }
    }
}

/// What each part of the model is called, with its variance in squared units, the tree's own rest
/// last.
pub fn variances(variances: &Variances) -> Vec<(&'static str, f64)> {
    let groups = [
        (say!("between crosses"), variances.cross),
        (say!("between genotypes"), variances.genotype),
    ];
    let mut told: Vec<(&'static str, f64)> =
        groups.into_iter().filter_map(|(what, variance)| Some((what, variance?))).collect();
    let of_trend = variances.trend.iter().filter(|(part, _)| !part.is_correlation());
    told.extend(of_trend.map(|&(estimated, variance)| (part(estimated), variance)));
    told.push((say!("the tree itself, and its measurement"), variances.rest));
    told
}

/// How alike neighbours are: what each correlation is called, with its value.
pub fn correlations(variances: &Variances) -> Vec<(&'static str, f64)> {
    let of_trend = variances.trend.iter().filter(|(part, _)| part.is_correlation());
    of_trend.map(|&(estimated, value)| (part(estimated), value)).collect()
}

fn part(part: Part) -> &'static str {
    match part {
        Part::Rows => say!("between rows"),
        Part::Places => say!("between places along the rows"),
        Part::Across => say!("bend of the surface across the rows"),
        Part::Along => say!("bend of the surface along the rows"),
        Part::Field => say!("patches on which neighbours are alike"),
        Part::RhoAcross => say!("from one row to the next"),
        Part::RhoAlong => say!("from one place to the next"),
    }
}

/// Which trend a season was adjusted for, and why: one sentence, then one for each way that was
/// left out.
pub fn trends(plot: &Plot, season: &SeasonFit) -> Vec<String> {
    let mut measured = count!(
        season.trees,
        "In {season}, 1 tree measured",
        "In {season}, {trees} trees measured",
        season = season_name(plot, season.season),
        trees = season.trees
    );
    if season.missing > 0 {
        measured = say!("{measured}, {missing} could not be", missing = season.missing);
    }
    let done = match season.trend {
        None => say!("nothing is adjusted").to_owned(),
        Some(Trend::None) => say!("no trend is taken out").to_owned(),
        Some(taken) => say!("adjusted for {trend}", trend = trend(taken)),
    };
    let mut told = vec![match season.trend.and_then(|taken| others(season, taken)) {
        None => say!("{measured}: {done}."),
        Some(others) => {
            say!("{measured}: {done} (AIC: {others}; more parameters must be better by 2).")
        }
    }];
    for tried in &season.tried {
        if let Err(left_out) = tried.outcome {
            told.push(say!(
                "{trend} was left out: {reason}.",
                trend = plot::capital(trend(tried.trend)),
                reason = reason(left_out)
            ));
        }
    }
    told
}

/// Beside what the trend was chosen; none: beside nothing.
fn others(season: &SeasonFit, taken: Trend) -> Option<String> {
    let aic = |tried: &Tried| tried.outcome.ok()?.aic();
    let own = season.tried.iter().find(|tried| tried.trend == taken).and_then(aic);
    let others = season.tried.iter().filter(|tried| tried.trend != taken);
    let others: Vec<String> = others
        .filter_map(|tried| {
            let apart = aic(tried)? - own?;
            let (is_better, trend) = (apart < 0.0, trend(tried.trend));
            let apart = number((apart.abs() * 10.0).round() / 10.0);
            Some(match is_better {
                true => say!("{trend} better by {apart}"),
                false => say!("{trend} worse by {apart}"),
            })
        })
        .collect();
    (!others.is_empty()).then(|| others.join(", "))
}

fn reason(left_out: LeftOut) -> String {
    let plain = match left_out {
        LeftOut::FewTrees { needed, found } => {
            return count!(
                found,
                "1 tree measured, {needed} are needed",
                "{found} trees measured, {needed} are needed"
            );
        }
        LeftOut::NoPlace { trees } => {
            return count!(
                trees,
                "1 tree has no row and place",
                "{trees} trees have no row and place"
            );
        }
        LeftOut::LargeLattice { cells, most } => {
            return say!("{cells} places are more than the {most} that are computed");
        }
        LeftOut::Undefined(Undefined::NotFinite { index }) => {
            return say!("value {index} is not a finite number");
        }
        LeftOut::Undefined(Undefined::TooFew { needed, found }) => {
            return say!("{found} values, {needed} are needed");
        }
        LeftOut::FewLines => say!("there are too few rows, and places along them, to compare"),
        LeftOut::OneSpot => say!("all trees stand in one spot"),
        LeftOut::Undefined(Undefined::Constant) => say!("all numbers are alike"),
        LeftOut::Undefined(Undefined::TooLarge { .. }) => {
            say!("so many repeated genotypes would take it minutes")
        }
        LeftOut::Undefined(Undefined::NotToldApart) => {
            say!("parts of the model cannot be told apart")
        }
        LeftOut::NoMaximum => say!("its likelihood has no highest point here"),
        LeftOut::NoNeighbours => say!("the neighbours tell nothing"),
    };
    plain.to_owned()
}

/// Whether strong trees take a disease more, with numbers.
pub fn vigour_link(of: &str, link: &Link) -> String {
    let Some(found) = link.correlation else {
        return count!(
            link.trees,
            "Whether strong trees take {of} more cannot be told: 1 tree can be compared, \
             {infected} infected.",
            "Whether strong trees take {of} more cannot be told: {trees} trees can be compared, \
             {infected} infected.",
            trees = link.trees,
            infected = link.infected
        );
    };
    let says = match (found.low > 0.0, found.high < 0.0) {
        (true, _) => say!("strong trees take it more here"),
        (_, true) => say!("strong trees take it less here"),
        _ => say!("no difference between strong and weak trees is told"),
    };
    let third = |nth: usize| share_of(link.thirds[nth].infected, link.thirds[nth].trees);
    say!(
        "{of}: {says}. Rank correlation {value} ({low} to {high}, 90 % interval) among {trees} \
         within {groups}; infected: {weakest} of the weakest third, {middle} of the middle, \
         {strongest} of the strongest.",
        of = plot::capital(of),
        value = number(found.value),
        low = number(found.low),
        high = number(found.high),
        trees = count!(link.trees, "1 tree", "{trees} trees", trees = link.trees),
        groups = count!(link.groups, "1 group", "{groups} groups", groups = link.groups),
        weakest = third(0),
        middle = third(1),
        strongest = third(2)
    )
}

/// What the fit of the proof makes of vigour (`proof::FitFacts::vigour_effect`).
pub fn vigour_effect(of: &str, effect: f64) -> String {
    if effect == 0.0 {
        return say!("The judgement of {of} leaves vigour out: the plot does not show an effect.");
    }
    match number((libm::exp(effect) * 100.0).round() / 100.0).as_str() {
        "1" => {
            say!(
                "The judgement of {of} expects as many infections of strong trees as of weak ones."
            )
        }
        times => say!(
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
