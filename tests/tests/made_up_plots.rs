//! What `proof` must do on made-up plots, where the truth is known.

use crossing::validation::trial::{self, Trial};
use epidemic::{Kind, measure};
use proof::{Options, Verdict};

fn trials(kinds: impl Iterator<Item = Kind>, seeds: std::ops::Range<u64>) -> Vec<Trial> {
    let options = Options::default();
    kinds
        .flat_map(|kind| seeds.clone().map(move |seed| (kind, seed)))
        .map(|(kind, seed)| trial::run(kind, seed, &options).unwrap_or_else(|no| panic!("{no}")))
        .collect()
}

#[test]
fn luck_beats_the_share_of_infected_neighbours() {
    let kinds = Kind::ALL.iter().copied().filter(|kind| !kind.is_null());
    let (mut gains, mut plots) = (0.0, 0.0);
    for trial in trials(kinds, 900..902) {
        let area = |score: fn(&trial::Clean) -> f64| {
            let cases = trial.clean.iter().map(|tree| (score(tree), tree.resistant));
            measure::auc(&cases.collect::<Vec<_>>())
        };
        if let (Some(luck), Some(naive)) = (area(|tree| 1.0 - tree.luck), area(|tree| tree.naive)) {
            gains += luck - naive;
            plots += 1.0;
        }
    }
    assert!(plots >= 30.0, "only {plots} plots have clean trees of both classes");
    assert!(gains / plots >= 0.1, "luck beats the naive share by {:.3} only", gains / plots);
}

#[test]
fn where_nothing_is_resistant_next_to_nothing_is_proven() {
    let trials = trials([Kind::Null, Kind::NullPatchy].into_iter(), 900..908);
    let lucks = trials.iter().flat_map(|trial| &trial.clean).map(|tree| tree.luck);
    let verdicts: Vec<Verdict> = lucks.map(Verdict::of_luck).collect();
    let proven = verdicts.iter().filter(|verdict| **verdict == Verdict::Proven).count();
    assert!(verdicts.len() > 500, "only {} clean trees", verdicts.len());
    assert!(proven * 100 <= verdicts.len(), "{proven} of {} clean trees proven", verdicts.len());
}
