//! Fewer trees on the map: those of a cross, a role, a verdict.

mod sample;

use plot::{CrossKey, Role, TreeIx};
use proof::Verdict;
use scene::{Ground, Layer, Moment, Only, Sheet, Sources};

/// Trees shown of the sample's verdicts, and what the choice is called.
fn shown(only: &Only) -> (Vec<String>, String) {
    let (plot, report) = (sample::plot(), sample::report(&sample::plot()));
    let ground = Ground::of(&plot);
    let sources = Sources { plot: &plot, ground: &ground, record: None, report: Some(&report) };
    let sheet = Sheet::of(sources, &Layer::Verdict("scab".into()), &Moment::All)
        .only(|tree| only.shows(&plot, Some(&report), tree));
    let counted: usize = sheet.classes().iter().map(|class| class.count).sum();
    assert_eq!(counted, sheet.order().len(), "{only:?}");
    let name = |tree: &TreeIx| plot.tree(*tree).id().to_string();
    (sheet.order().iter().map(name).collect(), only.words())
}

fn of(seed_parent: &str, pollen_parent: &str) -> Option<CrossKey> {
    Some(CrossKey {
        seed_parent: Some(seed_parent.into()),
        pollen_parent: Some(pollen_parent.into()),
    })
}

#[test]
fn all_trees_leaves_nobody_out() {
    let (all, words) = shown(&Only::default());
    assert_eq!(words, "all trees");
    assert!(all.len() > 45, "{}", all.len());
}

#[test]
fn crosses_of_the_plot_add_up_and_each_shows_its_own() {
    let plot = sample::plot();
    let crosses = Only::crosses(&plot);
    let without = crosses.iter().position(|(cross, _)| cross.is_unknown());
    assert!(without.is_none_or(|at| at + 1 == crosses.len()), "those without parents come last");
    for (cross, count) in crosses {
        let (trees, _) = shown(&Only { cross: Some(cross.clone()), ..Only::default() });
        assert!(!trees.is_empty() && trees.len() <= count, "{cross}: {} of {count}", trees.len());
        for id in trees {
            let tree = plot.tree(plot.tree_ix(&id).unwrap());
            assert_eq!(tree.cross(), &cross, "{id}");
        }
    }
}

#[test]
fn what_is_asked_for_is_said_as_a_person_says_it() {
    let check = |only: Only, expected: &str| assert_eq!(only.words(), expected);
    check(
        Only {
            cross: of("Marl Beauty", "TR-9"),
            role: Some(Role::Seedling),
            verdict: Some(Verdict::Proven),
        },
        "proven seedlings of Marl Beauty × TR-9",
    );
    let unknown = CrossKey { seed_parent: None, pollen_parent: None };
    check(Only { cross: Some(unknown), ..Only::default() }, "trees without parents");
    check(Only { role: Some(Role::SusceptibleCheck), ..Only::default() }, "susceptible checks");
}

#[test]
fn a_verdict_shows_its_trees_and_hides_nobody_before_there_is_one() {
    let (plot, report) = (sample::plot(), sample::report(&sample::plot()));
    for verdict in Verdict::ALL {
        let only = Only { verdict: Some(verdict), ..Only::default() };
        for (ix, tree) in plot.trees_ix().filter(|(_, tree)| tree.status() != plot::Status::Empty) {
            let is = report.tree(ix).map(|line| line.judgement.verdict);
            assert_eq!(only.shows(&plot, Some(&report), ix), is == Some(verdict), "{}", tree.id());
            assert!(only.shows(&plot, None, ix), "{}", tree.id());
        }
    }
}

#[test]
fn an_empty_place_is_no_tree_of_any_choice() {
    let plot = sample::plot();
    let only = Only { role: Some(Role::Seedling), ..Only::default() };
    let empty: Vec<TreeIx> = plot
        .trees_ix()
        .filter(|(_, tree)| tree.status() == plot::Status::Empty)
        .map(|(ix, _)| ix)
        .collect();
    assert!(!empty.is_empty());
    assert!(empty.iter().all(|ix| !only.shows(&plot, None, *ix)));
}
