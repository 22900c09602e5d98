//! What a made-up plot must show of the truth that it was made with.

use epidemic::{
    Checks, DiseaseTruth, Frailty, Kernel, Kind, MadeUp, Pattern, Recipe, make, measure, oracle,
};
use plot::{Plot, Reading, Role, TreeIx};

fn made(kind: Kind, seed: u64) -> MadeUp {
    make(&kind.recipe(seed), seed).unwrap_or_else(|refusal| panic!("{}: {refusal}", kind.as_str()))
}

fn judged(made: &MadeUp) -> Vec<TreeIx> {
    let looked_at = |tree: &TreeIx| !made.truth[0].tree(*tree).strands.is_empty();
    let trees = made.plot.trees_ix().map(|(tree, _)| tree);
    trees.filter(|tree| made.plot.is_judged(*tree)).filter(looked_at).collect()
}

fn seen(plot: &Plot, tree: TreeIx) -> bool {
    plot.scores_of(tree).any(|(_, s)| matches!(plot.reading(s), Some(Reading::Infected(_))))
}

fn share(trees: &[TreeIx], of: impl Fn(TreeIx) -> bool) -> f64 {
    trees.iter().filter(|&&tree| of(tree)).count() as f64 / trees.len().max(1) as f64
}

fn with_role(plot: &Plot, role: Role) -> Vec<TreeIx> {
    plot.trees_ix().filter(|(_, tree)| tree.role() == role).map(|(tree, _)| tree).collect()
}

#[test]
fn every_kind_is_a_plot_with_something_to_judge() {
    for &kind in Kind::ALL {
        let made = made(kind, 11);
        assert_eq!(Kind::parse(kind.as_str()), Some(kind));
        assert!(!kind.about().is_empty());
        assert_eq!(made.truth[0].trees.len(), made.plot.trees().len(), "{}", kind.as_str());
        let judged = judged(&made);
        let infected = share(&judged, |tree| seen(&made.plot, tree));
        assert!(judged.len() > 300, "{}: {} judged", kind.as_str(), judged.len());
        assert!((0.05..0.95).contains(&infected), "{}: {infected}", kind.as_str());
        assert!(made.plot.diseases().contains(&made.truth[0].disease.as_str()));
    }
}

#[test]
fn the_same_seed_gives_the_same_plot_and_another_another() {
    let text = |seed: u64| {
        let made = made(Kind::Replanted, seed);
        format!("{:?}{:?}{:?}", made.plot.trees(), made.plot.scores(), made.truth)
    };
    assert_eq!(text(5), text(5));
    assert_ne!(text(5), text(6));
}

/// Guards against a change of the generator or of a library below it; proves nothing else.
#[test]
fn a_plot_is_pinned() {
    let made = made(Kind::Blocks, 42);
    let truth = &made.truth[0];
    let doses: f64 = truth.trees.iter().map(|tree| tree.dose).sum();
    let resistant = truth.trees.iter().filter(|tree| tree.resistant).count();
    let found = (made.plot.scores().len(), resistant, format!("{doses:.9}"));
    assert_eq!(found, (5144, 225, "948.430731934".to_owned()));
}

#[test]
fn a_null_plot_has_no_resistant_seedling() {
    for kind in [Kind::Null, Kind::NullPatchy] {
        let made = made(kind, 3);
        assert!(kind.is_null());
        assert!(judged(&made).iter().all(|&tree| !made.truth[0].tree(tree).resistant));
    }
}

#[test]
fn shares_of_resistant_seedlings_are_those_of_the_recipe() {
    let recipe = Kind::Blocks.recipe(8);
    let epidemic::Genetics::Gene(shares) = &recipe.diseases[0].genetics else {
        panic!("a major gene")
    };
    let made = make(&recipe, 8).expect("a plot");
    for (cross, expected) in recipe.planting.crosses.iter().zip(shares) {
        let of_it: Vec<TreeIx> = judged(&made)
            .into_iter()
            .filter(|&tree| {
                let key = made.plot.tree(tree).cross();
                key.seed_parent.as_deref() == Some(&cross.seed_parent)
                    && key.pollen_parent.as_deref() == Some(&cross.pollen_parent)
            })
            .collect();
        let found = share(&of_it, |tree| made.truth[0].tree(tree).resistant);
        let error = (expected * (1.0 - expected) / of_it.len() as f64).sqrt();
        assert!((found - expected).abs() <= 3.5 * error, "{}: {found}", cross.mark);
    }
}

#[test]
fn scores_say_what_the_truth_says_they_saw() {
    for kind in [Kind::Blocks, Kind::Missed, Kind::FalseAlarms, Kind::Blossom, Kind::Gaps] {
        let made = made(kind, 4);
        let truth = &made.truth[0];
        for (tree, _) in made.plot.trees_ix() {
            let strands = &truth.tree(tree).strands;
            let noted = strands.iter().flat_map(|strand| &strand.looks).any(|look| look.seen);
            assert_eq!(noted, seen(&made.plot, tree), "{}", kind.as_str());
        }
    }
}

#[test]
fn checks_stand_at_their_intervals_whatever_stands_there_already() {
    for (susceptible, resistant) in [(10, 50), (15, 60), (7, 7)] {
        let mut recipe = Kind::Blocks.recipe(1);
        (recipe.planting.rows, recipe.planting.places) = (12, 60);
        recipe.planting.gaps = 0.0;
        recipe.planting.susceptible_checks.0 = Checks::Every(susceptible);
        recipe.planting.resistant_checks.0 = Checks::Every(resistant);
        let made = make(&recipe, 1).expect("a plot");
        let close = |role, interval: u32| {
            let expected = 720.0 / f64::from(interval);
            (with_role(&made.plot, role).len() as f64 - expected).abs() <= 12.0
        };
        assert!(close(Role::SusceptibleCheck, susceptible), "{susceptible}");
        assert!(close(Role::ResistantCheck, resistant), "{resistant}");
        assert!(!with_role(&made.plot, Role::ResistantCheck).is_empty(), "{resistant}");
    }
}

#[test]
fn susceptible_checks_are_infected_more_than_resistant_ones() {
    let (mut susceptible, mut resistant) = (0.0, 0.0);
    for seed in 1..=4 {
        let made = made(Kind::Blocks, seed);
        let infected = |role| share(&with_role(&made.plot, role), |tree| seen(&made.plot, tree));
        susceptible += infected(Role::SusceptibleCheck) / 4.0;
        resistant += infected(Role::ResistantCheck) / 4.0;
    }
    assert!(susceptible > 0.5 && resistant < 0.2, "{susceptible} against {resistant}");
}

#[test]
fn a_susceptible_tree_escapes_as_often_as_its_dose_says() {
    // Without frailty and errors of looking, exp(-dose) is exactly the chance to be seen clean;
    // many plots together must meet it within sampling error, low and high doses apart.
    let mut bins = [(0.0, 0.0, 0.0); 4];
    for seed in 1..=6 {
        let mut recipe = Kind::Scattered.recipe(seed);
        recipe.diseases[0].frailty = Frailty::None;
        recipe.looking.false_negative = 0.0;
        let made = make(&recipe, seed).expect("a plot");
        for tree in judged(&made) {
            let truth = made.truth[0].tree(tree);
            if !truth.resistant {
                let bin = &mut bins[(truth.dose as usize).min(3)];
                let chance = (-truth.dose).exp();
                bin.0 += chance;
                bin.1 += chance * (1.0 - chance);
                bin.2 += f64::from(u8::from(!seen(&made.plot, tree)));
            }
        }
    }
    for (expected, variance, found) in bins {
        assert!((found - expected).abs() < 3.5 * variance.sqrt(), "{found} against {expected}");
    }
}

#[test]
fn the_oracle_is_calibrated() {
    let mut cases = Vec::new();
    for kind in [Kind::Blocks, Kind::Missed, Kind::FalseAlarms, Kind::GammaFrailty, Kind::Clones] {
        for seed in 1..=4 {
            let made = made(kind, seed);
            let luck = oracle::luck(&made.plot, &made.truth[0]);
            let susceptible = |tree: &TreeIx| !made.truth[0].tree(*tree).resistant;
            cases.extend(luck.iter().map(|(tree, luck)| (*luck, susceptible(tree))));
        }
    }
    for bin in measure::calibration(&cases, 5) {
        let error = (bin.stated * (1.0 - bin.stated) / bin.count as f64).sqrt();
        assert!((bin.stated - bin.found).abs() < 4.0 * error.max(0.01), "{bin:?}");
    }
}

#[test]
fn neighbours_of_infected_trees_are_infected_more_the_shorter_the_reach() {
    // With inoculum that lands evenly, only neighbours can make neighbours alike.
    let excess = |half_distance_m: f64| -> f64 {
        let of_seed = |seed: u64| {
            let mut recipe = Kind::Null.recipe(1);
            recipe.planting.place_spacing_m = 0.75;
            recipe.diseases[0].kernel = Kernel::Exponential { half_distance_m };
            recipe.diseases[0].primary.pattern = Pattern::Even;
            recipe.diseases[0].primary.amount = 0.05;
            recipe.diseases[0].strength = vec![0.9];
            recipe.seasons = 1;
            let made = make(&recipe, seed).expect("a plot");
            neighbour_excess(&made.plot, &made.truth[0], &judged(&made))
        };
        (1..=12).map(of_seed).sum::<f64>() / 12.0
    };
    let (short, middle, long) = (excess(0.6), excess(3.0), excess(60.0));
    assert!(short > middle + 0.05 && middle > long && long < 0.08, "{short} {middle} {long}");
}

/// Correlation of being seen infected between trees next to each other in a row.
fn neighbour_excess(plot: &Plot, truth: &DiseaseTruth, trees: &[TreeIx]) -> f64 {
    let _ = truth;
    let p = share(trees, |tree| seen(plot, tree));
    let deviation = |tree: TreeIx| f64::from(u8::from(seen(plot, tree))) - p;
    let (mut sum, mut pairs) = (0.0, 0.0);
    for pair in trees.windows(2) {
        if plot.tree(pair[0]).spot().distance_m(plot.tree(pair[1]).spot()) < 1.0 {
            sum += deviation(pair[0]) * deviation(pair[1]);
            pairs += 1.0;
        }
    }
    sum / (pairs * p * (1.0 - p))
}

#[test]
fn an_edge_source_makes_the_near_half_sicker() {
    let mut recipe = Kind::Downwind.recipe(2);
    recipe.diseases[0].primary.pattern = Pattern::Edge { to_deg: 0.0, length_m: 8.0 };
    recipe.diseases[0].kernel =
        Kernel::Downwind { half_distance_m: 1.5, to_deg: 0.0, against: 0.25 };
    let made = make(&recipe, 2).expect("a plot");
    let dose = |upper: bool| {
        let half: Vec<f64> = judged(&made)
            .into_iter()
            .filter(|&tree| made.plot.tree(tree).place().is_some_and(|at| (at > 25) == upper))
            .map(|tree| made.truth[0].tree(tree).dose)
            .collect();
        half.iter().sum::<f64>() / half.len() as f64
    };
    assert!(dose(false) > 1.5 * dose(true), "{} {}", dose(false), dose(true));
}

#[test]
fn quiet_ordinary_and_violent_seasons_differ() {
    let infected = |kind: Kind| {
        let of = |seed| {
            let made = made(kind, seed);
            share(&judged(&made), |tree| seen(&made.plot, tree))
        };
        (1..=4).map(of).sum::<f64>() / 4.0
    };
    let (quiet, ordinary, violent) =
        (infected(Kind::Quiet), infected(Kind::Blocks), infected(Kind::Violent));
    assert!(quiet + 0.1 < ordinary && ordinary + 0.05 < violent, "{quiet} {ordinary} {violent}");
}

#[test]
fn severity_grows_with_dose() {
    let made = made(Kind::NullPatchy, 3);
    let mut cases: Vec<(f64, f64)> = Vec::new();
    for tree in judged(&made) {
        let worst = made.plot.scores_of(tree).filter_map(|(_, s)| match made.plot.reading(s) {
            Some(Reading::Infected(severity)) => Some(severity),
            _ => None,
        });
        if let Some(worst) = worst.max_by(f64::total_cmp) {
            cases.push((made.truth[0].tree(tree).dose, worst));
        }
    }
    cases.sort_by(|a, b| a.0.total_cmp(&b.0));
    let mean = |cases: &[(f64, f64)]| cases.iter().map(|c| c.1).sum::<f64>() / cases.len() as f64;
    let third = cases.len() / 3;
    let (low, high) = (mean(&cases[..third]), mean(&cases[2 * third..]));
    assert!(high > 1.5 * low, "{low} {high}");
}

#[test]
fn a_tree_without_blossom_is_not_at_risk_there() {
    let made = made(Kind::Blossom, 3);
    let blossom = made.plot.trait_ix("blossom_blight").expect("the trait");
    let bloom = made.plot.trait_ix("bloom").expect("the trait");
    for (_, score) in made.plot.standing_scores().filter(|(_, score)| score.trait_ix == blossom) {
        let season = made.plot.season_of(score);
        let bloomed = made.plot.scores_of(score.tree).any(|(_, other)| {
            other.trait_ix == bloom
                && made.plot.season_of(other) == season
                && other.value.is_some_and(|value| value >= 1.0)
        });
        let infected = matches!(made.plot.reading(score), Some(Reading::Infected(_)));
        assert!(bloomed || !infected, "{}", made.plot.tree(score.tree).id());
    }
}

#[test]
fn a_replanted_place_holds_a_second_tree_with_later_scores() {
    let made = made(Kind::Replanted, 7);
    let mut replanted = 0;
    for (ix, tree) in made.plot.trees_ix() {
        let Some(planted_on) = tree.draft().planted_on else { continue };
        assert!(made.plot.scores_of(ix).all(|(_, score)| score.scored_on.date() >= planted_on));
        if let Some(removed_on) = tree.draft().removed_on {
            assert!(made.plot.scores_of(ix).all(|(_, score)| score.scored_on.date() < removed_on));
            let heirs = made.plot.trees().iter().filter(|heir| {
                (heir.row(), heir.place()) == (tree.row(), tree.place())
                    && heir.draft().planted_on.is_some_and(|day| day > removed_on)
            });
            replanted += heirs.count();
        }
    }
    assert!(replanted > 20, "{replanted}");
    assert!(made.plot.trees().iter().filter(|tree| tree.carrier().is_some()).count() == 36);
}

#[test]
fn copies_share_their_genes() {
    let made = made(Kind::Clones, 9);
    let copies = made.plot.copies();
    assert!(copies.len() > 40);
    for trees in copies.values() {
        let of = |tree: &TreeIx| made.truth[0].tree(*tree).susceptibility;
        assert!(trees.iter().all(|tree| of(tree) == of(&trees[0])));
    }
}

#[test]
fn an_unusable_recipe_is_refused() {
    let check = |spoil: fn(&mut Recipe), field: &str| {
        let mut recipe = Kind::Blocks.recipe(1);
        spoil(&mut recipe);
        let refused = make(&recipe, 1).err().map(|refusal| refusal.column);
        assert_eq!(refused, Some(field));
    };
    check(|recipe| recipe.planting.rows = 0, "rows");
    check(|recipe| recipe.planting.crosses.clear(), "crosses");
    check(|recipe| recipe.seasons = 0, "seasons");
    check(|recipe| recipe.planting.gaps = 1.5, "share");
    check(|recipe| recipe.diseases[0].genetics = epidemic::Genetics::Gene(vec![0.5]), "genetics");
    check(
        |recipe| recipe.diseases[0].kernel = Kernel::Exponential { half_distance_m: f64::NAN },
        "kernel",
    );
}

#[test]
fn a_plot_of_one_tree_and_one_without_seedlings_are_made() {
    let mut one = Kind::Blocks.recipe(1);
    (one.planting.rows, one.planting.places) = (1, 1);
    assert_eq!(make(&one, 1).expect("a plot").plot.trees().len(), 1);
    let mut checks = Kind::Blocks.recipe(1);
    checks.planting.susceptible_checks.0 = Checks::Every(1);
    let made = make(&checks, 1).expect("a plot");
    assert!(oracle::clean_trees(&made.plot, &made.truth[0]).is_empty());
}

/// What is grafted in the third season leaves the two before as they were, and is scored from then on.
#[test]
fn grafts_change_nothing_of_what_was_before_them() {
    use epidemic::{Graft, make_with};
    for kind in [Kind::Blocks, Kind::Blossom, Kind::Foci] {
        let recipe = kind.recipe(12);
        let without = make(&recipe, 12).expect("a plot");
        let (of, on) = (TreeIx::new(40), TreeIx::new(200));
        let graft = Graft { of, on, season: 2 };
        let with = make_with(&recipe, 12, &[graft]).expect("a plot");
        let year = recipe.first_season + 2;
        let before = |made: &MadeUp| -> Vec<_> {
            let scores = made.plot.scores().iter();
            scores.filter(|score| made.plot.season_of(score).0 < year).cloned().collect()
        };
        assert_eq!(before(&with), before(&without), "{}", kind.as_str());
        assert!(!before(&with).is_empty());
        let ix = with.plot.tree_ix("G0001").expect("the graft");
        let tree = with.plot.tree(ix);
        assert_eq!(tree.spot(), with.plot.tree(on).spot());
        assert_eq!(tree.genotype(), with.plot.tree(of).genotype());
        let (copy, source) = (with.truth[0].tree(ix), with.truth[0].tree(of));
        assert_eq!(
            (copy.resistant, copy.susceptibility),
            (source.resistant, source.susceptibility)
        );
        let scored: Vec<i32> =
            with.plot.scores_of(ix).map(|(_, score)| with.plot.season_of(score).0).collect();
        assert!(!scored.is_empty() && scored.iter().all(|&season| season >= year), "{scored:?}");
        let lost = Graft { of: TreeIx::new(99_999), on, season: 2 };
        make_with(&recipe, 12, &[lost]).expect_err("no such tree");
    }
}
