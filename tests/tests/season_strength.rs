//! The word for how hard a season tested, against made-up plots of which the truth is known.

use std::collections::{BTreeMap, BTreeSet};

use epidemic::{Kind, MadeUp, make};
use plot::{Season, Weather};
use proof::{Options, Run};
use season::Strength;

/// Share of the truly susceptible trees that were seen with the disease, season by season.
fn truth(made: &MadeUp, disease: &str) -> Vec<f64> {
    let truth = made.truth_of(disease).expect("the disease");
    let mut seasons: Vec<(u32, u32)> = Vec::new();
    for tree in truth.trees.iter().filter(|tree| !tree.resistant) {
        let mut seen = BTreeMap::new();
        for strand in &tree.strands {
            *seen.entry(strand.season).or_insert(false) |=
                strand.looks.iter().any(|look| look.seen);
        }
        for (season, seen) in seen {
            seasons.resize(seasons.len().max(season + 1), (0, 0));
            seasons[season].0 += u32::from(seen);
            seasons[season].1 += 1;
        }
    }
    seasons.into_iter().map(|(seen, of)| f64::from(seen) / f64::from(of)).collect()
}

#[test]
fn the_word_fits_what_susceptible_trees_really_took() {
    let mut told = BTreeSet::new();
    let mut seasons = 0;
    for kind in
        [Kind::Blocks, Kind::Quiet, Kind::Violent, Kind::FourSeasons, Kind::Gaps, Kind::NoChecks]
    {
        for seed in 7_001..=7_004 {
            let made = make(&kind.recipe(seed), seed).expect("a plot");
            let disease = made.truth[0].disease.clone();
            let truth = truth(&made, &disease);
            let run = Run::new(&made.plot, &disease, &Options::default()).expect("a disease");
            let seen = run.seasons();
            let first = seen.first().map_or(0, |it| it.season.0);
            for seen in &seen {
                let test =
                    scene::words::season_test(&made.plot, &Weather::default(), &disease, seen);
                let Season(year) = seen.season;
                let took = truth[usize::try_from(year - first).expect("in order")];
                let strength = test.tested.strength;
                let fits = match strength {
                    Strength::Quiet => took <= 0.36,
                    Strength::Fair => (0.27..=0.77).contains(&took),
                    Strength::Strong => took >= 0.68,
                    Strength::Unknown => kind == Kind::NoChecks,
                };
                assert!(
                    fits,
                    "{} {seed}, {year}: {strength:?}, and {took:.2} took it",
                    kind.as_str()
                );
                told.insert(strength);
                seasons += 1;
            }
        }
    }
    assert_eq!((told.len(), seasons), (4, 76), "each word was told: {told:?}");
}
