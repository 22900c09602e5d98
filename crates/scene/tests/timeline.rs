//! Events on the walk through rounds: where they lie between the stops, and what they belong to.
#![allow(clippy::unwrap_used, reason = "a test may stop")]

mod sample;

use plot::{Event, Round, When};
use scene::{Happening, Moment};

/// Rounds of scab: 3 June and 2 July 2031, 5 June 2032.
fn told() -> (Vec<Round>, Vec<Happening>) {
    let mut plot = sample::plot();
    let event = |from: &str, to: &str, kind: &str| Event {
        from: When::parse_date(from).unwrap(),
        to: When::parse_date(to).unwrap(),
        kind: kind.to_owned(),
        rows: Vec::new(),
        note: None,
    };
    plot.set_events(vec![
        event("2032-09-01", "2032-09-01", "Spray"),
        event("2031-04-20", "2031-04-20", "spray"),
        event("2031-06-18", "2031-06-20", "hail"),
        event("2031-06-30", "2031-07-04", "pruning"),
        event("2031-10-01", "2031-10-01", "frost"),
        event("2032-02-01", "2032-02-01", "mulch"),
    ]);
    let scab = plot.trait_ix("scab_leaf").unwrap();
    let rounds = plot.rounds(|score| score.trait_ix == scab);
    let all = Happening::all(&plot, &rounds);
    (rounds, all)
}

#[test]
fn each_event_lies_where_its_day_is() {
    let (rounds, all) = told();
    assert_eq!(Moment::stops(&rounds).len(), 5);
    let at: Vec<(char, f64)> = all.iter().map(|one| (one.letter, one.at)).collect();
    // From 3 June to 2 July are 29 days; 18 June is the 15th, 30 June the 27th.
    let expect =
        [('S', 0.0), ('H', 15.0 / 29.0), ('P', 27.0 / 29.0), ('F', 1.5), ('M', 2.5), ('S', 3.5)];
    assert_eq!(at, expect);
    let between: Vec<&str> =
        all.iter().map(|one| one.words.split_once('(').unwrap().1.trim_end_matches(')')).collect();
    assert_eq!(
        between,
        [
            "before the first round",
            "between round 1 of 2031 and round 2 of 2031",
            "during round 2 of 2031",
            "between round 2 of 2031 and round 1 of 2032",
            "between round 2 of 2031 and round 1 of 2032",
            "after the last round",
        ]
    );
    assert_eq!(all.iter().filter(|one| one.is_spray).count(), 2);
}

#[test]
fn a_round_has_what_happened_since_the_round_before() {
    let (rounds, all) = told();
    let check = |moment: Moment, expect: &str| {
        let of = all.iter().filter(|one| one.is_of(&moment, &rounds));
        assert_eq!(of.map(|one| one.letter).collect::<String>(), expect, "{moment:?}");
    };
    check(Moment::from(&rounds[0]), "S");
    check(Moment::from(&rounds[1]), "HP");
    // What happened in the winter is of its own season, whichever round comes next.
    check(Moment::from(&rounds[2]), "M");
    check(Moment::Season(rounds[0].season), "SHPF");
    check(Moment::Season(rounds[2].season), "MS");
    check(Moment::All, "SHPFMS");
}

#[test]
fn without_rounds_events_are_told_too() {
    let mut plot = sample::plot();
    let day = When::parse_date("2031-04-20").unwrap();
    let kind = "hail".to_owned();
    plot.set_events(vec![Event { from: day, to: day, kind, rows: Vec::new(), note: None }]);
    let all = Happening::all(&plot, &[]);
    assert_eq!(all[0].words, "Hail, 20 April 2031, the whole plot (no round was walked)");
    assert_eq!(all[0].at, 0.0);
}
