//! What counts as clean, infected, unknown or not at risk, and in which interval.

use plot::{Event, Role, TreeDraft, When};

use super::*;
use crate::testing::{copy_of, plot_of, score, tree, with_role};

fn gather(plot: &Plot, disease: &str) -> Case {
    Case::gather(plot, disease, &Options::default())
}

/// Rounds of one season as letters, one a tree: `.` not scored, `0` clean, `1` infected, `-`
/// looked for but could not be scored.
fn history_of(letters: &str) -> Option<(usize, usize, Option<usize>)> {
    let day = |nth: usize| format!("2031-06-{:02}", nth + 1);
    let mut scores = Vec::new();
    for (nth, letter) in letters.chars().enumerate() {
        // A second tree keeps every round in being.
        scores.push(score("B", "leaf", Some(0.0), &day(nth)));
        match letter {
            '.' => {}
            '-' => scores.push(score("A", "leaf", None, &day(nth))),
            digit => {
                let value = digit.to_digit(10).map(f64::from);
                scores.push(score("A", "leaf", value, &day(nth)));
            }
        }
    }
    let plot = plot_of(&[tree("A", 1, 1), tree("B", 1, 2)], &scores);
    let case = gather(&plot, "scab");
    let site = case.sites.iter().find(|site| plot.tree(site.tree).id().as_str() == "A")?;
    let history = site.histories.first()?;
    Some((history.start, history.clean_end, history.infected))
}

#[test]
fn a_round_not_scored_widens_the_interval() {
    assert_eq!(history_of("0001"), Some((0, 3, Some(3))));
    assert_eq!(history_of("0..1"), Some((0, 1, Some(3))));
    assert_eq!(history_of("0--1"), Some((0, 1, Some(3))));
    assert_eq!(history_of("...1"), Some((0, 0, Some(3))));
    assert_eq!(history_of("00.."), Some((0, 2, None)), "what came later is unknown, not clean");
    assert_eq!(history_of("0.0."), Some((0, 3, None)), "clean later is clean before");
    assert_eq!(history_of("0100"), Some((0, 1, Some(1))), "once seen it stays so");
    assert_eq!(history_of("...."), None, "not scored is not clean");
    assert_eq!(history_of("--.."), None, "could not be scored is not clean");
}

#[test]
fn traits_of_one_disease_join_and_each_season_starts_anew() {
    let plot = plot_of(
        &[tree("A", 1, 1)],
        &[
            score("A", "leaf", Some(0.0), "2031-06-01"),
            score("A", "fruit", Some(2.0), "2031-06-01"),
            score("A", "leaf", Some(0.0), "2032-06-01"),
            score("A", "fruit", Some(0.0), "2033-06-01"),
        ],
    );
    let case = gather(&plot, "scab");
    let histories: Vec<_> =
        case.sites[0].histories.iter().map(|one| (one.season, one.infected.is_some())).collect();
    assert_eq!(histories, [(0, true), (1, false)], "fruit value 0 only means: not observed");
    assert_eq!(case.seasons.len(), 3);
}

#[test]
fn a_tree_without_bloom_was_not_at_risk() {
    let plot = plot_of(
        &[tree("A", 1, 1), tree("B", 1, 2), tree("C", 1, 3), tree("D", 1, 4)],
        &[
            score("A", "bloom", Some(0.0), "2031-05-01"),
            score("A", "blossom", Some(0.0), "2031-05-20"),
            score("B", "bloom", Some(3.0), "2031-05-01"),
            score("B", "blossom", Some(0.0), "2031-05-20"),
            score("C", "blossom", Some(0.0), "2031-05-20"),
            // Bloom of another season is no bloom of this one.
            score("D", "bloom", Some(5.0), "2030-05-01"),
            score("D", "blossom", Some(0.0), "2031-05-20"),
        ],
    );
    let case = gather(&plot, "blight");
    let at_risk: Vec<&str> =
        case.sites.iter().map(|site| plot.tree(site.tree).id().as_str()).collect();
    assert_eq!(at_risk, ["B"]);
}

#[test]
fn a_replanted_tree_starts_when_it_was_planted() {
    let planted_on = plot::When::parse_date("2031-06-10");
    let later = TreeDraft { planted_on, ..tree("B", 1, 1) };
    let plot = plot_of(
        &[tree("A", 1, 1), later],
        &[
            score("A", "leaf", Some(0.0), "2031-06-01"),
            score("A", "leaf", Some(1.0), "2031-06-20"),
            score("B", "leaf", Some(1.0), "2031-06-01"),
            score("B", "leaf", Some(0.0), "2031-06-20"),
        ],
    );
    let case = gather(&plot, "scab");
    let expected = History {
        season: 0,
        start: 1,
        clean_end: 2,
        infected: None,
        scored_end: 2,
        severity_permille: 0,
        is_untested: false,
    };
    assert_eq!(case.sites[1].histories, [expected]);
}

#[test]
fn copies_share_a_group_and_checks_are_known() {
    let plot = plot_of(
        &[
            copy_of("G", tree("A", 1, 1)),
            copy_of("G", tree("B", 9, 9)),
            with_role(Role::SusceptibleCheck, tree("C", 1, 3)),
            with_role(Role::ResistantCheck, tree("D", 1, 4)),
            tree("E", 1, 5),
        ],
        &["A", "B", "C", "D", "E"].map(|id| score(id, "leaf", Some(0.0), "2031-06-01")),
    );
    let case = gather(&plot, "scab");
    let groups: Vec<(&str, usize, Standing)> = case
        .groups
        .iter()
        .map(|group| (group.genotype.as_str(), group.sites.len(), group.standing))
        .collect();
    let expected = [
        ("G", 2, Standing::Member(0)),
        ("C", 1, Standing::Susceptible),
        ("D", 1, Standing::Resistant),
        ("E", 1, Standing::Member(0)),
    ];
    assert_eq!(groups, expected);
}

/// Twenty trees in two rows, every fifth a susceptible check, looked at on 1 June, July and August
/// 2031 and 2032; `took` is who shows scab on 1 August 2031.
fn sprayed(took: &[&str], events: Vec<Event>) -> Case {
    let ids: Vec<String> = (0..20).map(|nth| format!("T{nth:02}")).collect();
    let trees: Vec<TreeDraft> = ids
        .iter()
        .enumerate()
        .map(|(nth, id)| {
            let (row, place) = (1 + nth as i32 / 10, 1 + nth as i32 % 10);
            let role = if nth % 5 == 0 { Role::SusceptibleCheck } else { Role::Seedling };
            with_role(role, tree(id, row, place))
        })
        .collect();
    let days = ["06-01", "07-01", "08-01"];
    let mut scores = Vec::new();
    for (year, (nth, day)) in
        [2031, 2032].iter().flat_map(|year| days.iter().enumerate().map(move |day| (year, day)))
    {
        for id in &ids {
            let infected = *year == 2031 && nth == 2 && took.contains(&id.as_str());
            let value = Some(f64::from(u8::from(infected)));
            scores.push(score(id, "leaf", value, &format!("{year}-{day}")));
        }
    }
    let mut plot = plot_of(&trees, &scores);
    plot.set_events(events);
    gather(&plot, "scab")
}

fn spray(day: &str, rows: Vec<std::ops::RangeInclusive<i32>>) -> Event {
    let day = When::parse_date(day).expect("a day");
    Event { from: day, to: day, kind: "spray".into(), rows, note: None }
}

/// Of each season the rounds that count as clean, of a tree by its number.
fn clean_ends(case: &Case, tree: usize) -> Vec<(usize, usize)> {
    let spans = case.sites[tree].histories.iter();
    spans.map(|it| (it.season, it.clean_end - case.seasons[it.season].first)).collect()
}

#[test]
fn clean_looks_after_a_spray_are_no_test() {
    // Sprayed between the first and the second look of 2031, row 1 alone.
    let case = sprayed(&[], vec![spray("2031-06-20", vec![1..=1])]);
    assert_eq!(clean_ends(&case, 1), [(0, 1), (1, 3)]);
    assert_eq!(case.sites[1].sprayed, [0]);
    assert_eq!(clean_ends(&case, 11), [(0, 3), (1, 3)], "the other row was not sprayed");
    assert!(case.sites[11].sprayed.is_empty());
    // Before the first look: that season says nothing of the tree, the next one does.
    let case = sprayed(&[], vec![spray("2031-05-20", vec![])]);
    assert_eq!(clean_ends(&case, 1), [(1, 3)]);
    assert_eq!(case.seasons[0].checks_scored, 0, "sprayed checks test nothing either");
    // After the last look, and what is no spray: nothing changes.
    let hail = Event { kind: "hail".into(), ..spray("2031-05-20", vec![]) };
    let case = sprayed(&[], vec![spray("2031-08-02", vec![]), hail]);
    assert_eq!(clean_ends(&case, 1), [(0, 3), (1, 3)]);
}

#[test]
fn a_spray_that_let_the_disease_through_is_a_test_all_the_same() {
    // Row 1 and 2 sprayed: of four checks two took it afterwards.
    let events = || vec![spray("2031-06-20", vec![])];
    let case = sprayed(&["T00", "T05"], events());
    assert_eq!(clean_ends(&case, 1), [(0, 3), (1, 3)]);
    assert!(case.sites.iter().all(|site| site.sprayed.is_empty()));
    // One of four is no more than chance.
    let case = sprayed(&["T00"], events());
    assert_eq!(clean_ends(&case, 1), [(0, 1), (1, 3)]);
    // What was seen infected stays so, but says as little of the season as the clean ones do.
    assert_eq!(case.sites[0].histories[0].infected, Some(2));
    assert!(case.sites[0].histories[0].is_untested);
    assert_eq!((case.seasons[0].checks_scored, case.seasons[0].checks_infected), (3, 0));
    // Many trees tell it, too.
    let many = ["T01", "T02", "T03", "T04", "T06", "T07", "T08"];
    assert_eq!(clean_ends(&sprayed(&many, events()), 9), [(0, 3), (1, 3)]);
}
