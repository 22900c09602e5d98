use plot::{Decision, DecisionId, TreeId, When};
use proof::Verdict;

use super::*;
use crate::testing::{judged, lantern, lantern_scab};
use crate::{Format, document_html};

fn reported(plot: &Plot, reports: &[Report], weather: &Weather) -> Document {
    let ends = Ends::default();
    report(&Reported { plot, ends: &ends, weather, reports, explained: 3 })
}

#[test]
fn a_report_says_what_was_found_why_and_what_it_does_not_say() {
    let book = lantern();
    let reports = [lantern_scab(), judged(&book, "canker")];
    let mut plot = book.plot().clone();
    let decide = |id: &str, tree: &str, fate| Decision {
        id: DecisionId::new(id),
        tree: TreeId::new(tree),
        fate: Some(fate),
        decided_on: When::parse("2031-10-02").expect("a date"),
        reason: Some("<i>weak</i>".into()),
    };
    plot.decide(decide("d1", "T0002", Fate::Cull)).expect("taken");
    plot.decide(decide("d2", "T0001", Fate::Keep)).expect("taken");
    let document = reported(&plot, &reports, book.weather());
    let Block::List(job) = &document.blocks[1] else { panic!("{:?}", document.blocks[1]) };
    assert_eq!(
        job.last().map(String::as_str),
        Some("At 46.0000° north, 20.0000° west; rows bear 12°.")
    );
    let tables: Vec<&Table> = document
        .blocks
        .iter()
        .filter_map(|block| if let Block::Table(table) = block { Some(table) } else { None })
        .collect();
    assert!(tables.iter().all(|it| it.rows.iter().all(|row| row.len() == it.columns.len())));
    let is_proven = |it: &&proof::TreeReport| {
        it.judgement.verdict == Verdict::Proven && plot.is_judged(it.tree)
    };
    let mut tables = tables.into_iter();
    for report in &reports {
        let crosses = tables.next().expect("a table of crosses");
        assert_eq!(crosses.rows.len(), report.crosses.len());
        let scored = |row: &Vec<String>| row[1].parse::<usize>().expect("a number");
        let of_crosses: usize = report.crosses.iter().map(|it| it.scored).sum();
        assert_eq!(crosses.rows.iter().map(scored).sum::<usize>(), of_crosses);
        let proven = report.trees.iter().filter(is_proven).count();
        if proven > 0 {
            assert_eq!(tables.next().map(|it| it.rows.len()), Some(proven));
        }
    }
    let (Some(decided), None) = (tables.next(), tables.next()) else { panic!("one table more") };
    let [keep, cull] = &decided.rows[..] else { panic!("two decisions") };
    assert_eq!((keep[0].as_str(), cull[0].as_str()), ("Keep", "Cull"));
    let has = |wanted: &Block| document.blocks.iter().filter(|block| *block == wanted).count();
    // Beside the proven of each disease that has any, and at the end.
    let with_proven: Vec<usize> = reports
        .iter()
        .map(|it| it.trees.iter().filter(is_proven).count())
        .filter(|it| *it > 0)
        .collect();
    assert!(!with_proven.is_empty());
    assert_eq!(has(&Block::Note(words::proof_is_local().to_owned())), with_proven.len() + 1);
    let html = document_html(&document, Format::default());
    let caution = &words::cautions::of_disease(&plot, "canker")[0];
    let other = &words::cautions::of_disease(&plot, "fire_blight")[0];
    assert_eq!(has(&Block::Note(other.clone())), 1, "of a disease that was not asked about");
    for words in ["In 2030 only 5 of 77 susceptible checks took scab", caution, "Why "] {
        assert!(html.contains(words), "{words}");
    }
    assert!(html.contains("&lt;i&gt;weak") && !html.contains("<i>weak"));
    let explained: usize = with_proven.iter().map(|proven| *proven.min(&3)).sum();
    assert_eq!(html.matches(">Why ").count(), explained, "three of a disease at the most");
}

#[test]
fn the_maps_of_two_diseases_do_not_share_their_marks() {
    let book = lantern();
    // What is drawn goes by the report's disease alone.
    let reports = [lantern_scab(), Report { disease: "canker".to_owned(), ..lantern_scab() }];
    let html = document_html(&reported(book.plot(), &reports, book.weather()), Format::default());
    let mut ids: Vec<&str> =
        html.split(" id=\"").skip(1).filter_map(|rest| rest.split('"').next()).collect();
    let all = ids.len();
    ids.sort_unstable();
    ids.dedup();
    assert_eq!(ids.len(), all);
    let uses = html.split("href=\"#").skip(1).filter_map(|rest| rest.split('"').next());
    for used in uses {
        assert!(ids.binary_search(&used).is_ok(), "{used}");
    }
}

#[test]
fn the_same_plot_gives_the_same_bytes() {
    let book = lantern();
    let reports = [lantern_scab()];
    let twice = [(); 2].map(|()| reported(book.plot(), &reports, book.weather()));
    assert_eq!(twice[0], twice[1]);
}
