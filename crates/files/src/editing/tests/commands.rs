//! Laws of everything that a person does to a plot, in random order: scores, corrections and
//! withdrawals, facts seen on a walk, edits with undo and redo, decisions; kept in a log as the
//! browser keeps it, torn anywhere, and on two phones at once.

use plot::{Decision, DecisionId, Fate, Plot, ScoreDraft, ScoreId, TraitId, TreeDraft, TreeIx};
use proptest::prelude::*;
use proptest::sample::Index;
use std::collections::BTreeMap;

use super::laws::{Act, FILES, WORDS, act, perform};
use super::*;
use crate::{journal, merge};

#[derive(Clone, Debug)]
enum Command {
    Edit(Act),
    Score(Index, Option<u8>),
    /// Without a value it withdraws the score.
    Correct(Index, Option<u8>),
    Fact(Index, bool, Index),
    Decide(Index, Index),
}

fn command() -> impl Strategy<Value = Command> {
    let value = || proptest::option::of(any::<u8>());
    prop_oneof![
        3 => act().prop_map(Command::Edit),
        2 => (any::<Index>(), value()).prop_map(|(tree, value)| Command::Score(tree, value)),
        1 => (any::<Index>(), value()).prop_map(|(of, value)| Command::Correct(of, value)),
        1 => any::<(Index, bool, Index)>().prop_map(|(tree, note, to)| Command::Fact(tree, note, to)),
        1 => any::<(Index, Index)>().prop_map(|(tree, fate)| Command::Decide(tree, fate)),
    ]
}

fn commands() -> impl Strategy<Value = Vec<Command>> {
    proptest::collection::vec(command(), 0..25)
}

/// Does it; gives the record for the log, of the kind that the keeper gives it.
fn taken(book: &mut Book, command: &Command, name: &str) -> Option<Vec<u8>> {
    let tree = |at: &Index| {
        let trees = book.plot().trees();
        (!trees.is_empty()).then(|| at.get(trees).id().clone())
    };
    let score = |tree: TreeId, value: Option<u8>, replaces: Option<ScoreId>| ScoreDraft {
        id: ScoreId::new(name),
        tree,
        trait_id: TraitId::new("girth"),
        value: value.map(|value| f64::from(value) / 3.0),
        scored_on: day(),
        round: None,
        scorer: replaces.is_some().then(|| "a, \"b\"".into()),
        note: value.is_none().then(|| "no\nladder".into()),
        replaces,
    };
    let before = book.clone();
    let done = match command {
        Command::Edit(act) => return perform(book, act, name).map(|it| journal::record(b'E', &it)),
        Command::Score(of, value) => {
            let draft = score(tree(of)?, *value, None);
            book.record(draft).map(|(_, line)| (b'L', line))
        }
        Command::Correct(of, value) => {
            let scores = book.plot().scores();
            let of = (!scores.is_empty()).then(|| of.get(scores).clone())?;
            let tree = book.plot().tree(of.tree).id().clone();
            let draft = score(tree, *value, Some(of.id));
            book.record(draft).map(|(_, line)| (b'L', line))
        }
        Command::Fact(of, note, to) => {
            let (cell, to) = match note {
                true => (TreeCell::Note, *to.get(&WORDS)),
                false => (TreeCell::Status, to.get(Status::ALL).as_str()),
            };
            let change = TreeChange {
                tree: tree(of)?,
                cell,
                from: "".into(),
                to: to.into(),
                changed_on: day(),
                round: None,
                scorer: None,
                after: None,
            };
            book.change_tree(change).map(|line| (b'T', line))
        }
        Command::Decide(of, fate) => {
            let fates = [None, Some(Fate::Keep), Some(Fate::Watch), Some(Fate::Cull)];
            let fate = *fate.get(&fates);
            let id = DecisionId::new(name);
            let reason = Some("sweet, \"firm\"".into());
            book.decide(Decision { id, tree: tree(of)?, fate, decided_on: day(), reason })
                .map(|line| (b'D', line))
        }
    };
    if done.is_err() {
        same(book, &before);
    }
    done.ok().map(|(kind, payload)| journal::record(kind, &payload))
}

/// A log taken up over the files that it began with, in the order of the page that opens them.
fn taken_up(start: &str, log: &[u8]) -> Book {
    let mut book = book_of(start, "");
    let records = journal::read(log).records;
    let of = |kind: u8| -> Vec<u8> {
        records.iter().filter(|one| one.kind == kind).flat_map(|one| one.payload).copied().collect()
    };
    let told = book.replay_trees(records.iter().filter_map(|one| match one.kind {
        b'E' => Some(TreeRecord::Edit(one.payload)),
        b'T' => Some(TreeRecord::Changes(one.payload)),
        _ => None,
    }));
    assert_eq!(told, []);
    assert_eq!(book.replay(&of(b'L')), []);
    assert_eq!(book.replay_decisions(&of(b'D')), []);
    book
}

fn same(one: &Book, other: &Book) {
    for (name, bytes) in one.files() {
        let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
        assert_eq!(text(bytes), text(other.files().get(name).map_or(&[], Vec::as_slice)), "{name}");
    }
    assert_eq!(one.files().len(), other.files().len());
    assert_eq!(one.plot().trees(), other.plot().trees());
    assert_eq!(one.plot().scores(), other.plot().scores());
    assert_eq!(one.plot().changes(), other.plot().changes());
    assert_eq!(one.plot().decisions().all(), other.plot().decisions().all());
    assert_eq!(one.edits(), other.edits());
}

/// What a plot says, whatever the order of its lines.
type Said = (BTreeMap<String, TreeDraft>, BTreeMap<String, String>, BTreeMap<String, Decision>);

fn said(plot: &Plot) -> Said {
    let trees = plot.trees().iter().map(|tree| (tree.id().to_string(), tree.draft().clone()));
    let id = |tree: TreeIx| plot.tree(tree).id();
    let scores = plot.scores().iter().map(|score| {
        let it =
            format!("{} {:?} {:?} {:?}", id(score.tree), score.value, score.note, score.replaces);
        (score.id.to_string(), it)
    });
    let decisions = plot.decisions().all().iter().map(|one| (one.id.to_string(), one.clone()));
    (trees.collect(), scores.collect(), decisions.collect())
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(96))]

    #[test]
    fn the_plot_is_what_its_log_gives_wherever_that_was_torn(
        file in 0..FILES.len(),
        commands in commands(),
        torn in any::<Index>(),
    ) {
        let start = FILES[file];
        let mut book = book_of(start, "");
        let mut log = journal::version();
        let mut then = vec![(log.len(), book.clone())];
        for (nth, command) in commands.iter().enumerate() {
            if let Some(record) = taken(&mut book, command, &format!("n{nth}")) {
                log.extend(record);
                then.push((log.len(), book.clone()));
            }
        }
        same(&taken_up(start, &log), &book);
        let torn = torn.index(log.len() + 1);
        let whole = then.iter().rev().find(|(end, _)| *end <= torn);
        let (_, whole) = whole.unwrap_or(&then[0]);
        same(&taken_up(start, &log[..torn]), whole);
        // Scores and decisions are only ever added.
        for pair in then.windows(2) {
            for file in ["scores.csv", "decisions.csv"] {
                let lines = |book: &Book| records(book.files().get(file).map_or(&[], Vec::as_slice));
                let (before, after) = (lines(&pair[0].1), lines(&pair[1].1));
                prop_assert!(after.len() >= before.len());
                for (was, is) in before.iter().zip(&after).skip(1) {
                    prop_assert_eq!(&was[..], &is[..was.len()]);
                }
            }
        }
    }

    #[test]
    fn two_phones_that_meet_know_the_same_whoever_comes_first(
        file in 0..2_usize,
        ours in commands(),
        theirs in commands(),
    ) {
        let phone = |name: &str, commands: &[Command]| {
            let mut book = book_of(FILES[file], "");
            for (nth, command) in commands.iter().enumerate() {
                taken(&mut book, command, &format!("{name}{nth}"));
            }
            book
        };
        let (ours, theirs) = (phone("a", &ours), phone("b", &theirs));
        let met = |one: &Book, other: &Book| merge(one.files(), other.files()).expect("one plot");
        let (one, other) = (met(&ours, &theirs), met(&theirs, &ours));
        let read = |files: &FileSet| open(files.clone()).0.expect("a book");
        let (first, second) = (read(&one.files), read(&other.files));
        prop_assert_eq!(said(first.plot()), said(second.plot()));
        prop_assert_eq!(one.conflicts.len(), other.conflicts.len());
        for phone in [&ours, &theirs] {
            let again = merge(&one.files, phone.files()).expect("one plot");
            prop_assert_eq!(&again.files, &one.files, "meeting again changes nothing");
            // What was scored and decided on a tree that both have is there.
            let (trees, scores, decisions) = said(first.plot());
            for (id, score) in said(phone.plot()).1 {
                let tree = phone.plot().score(phone.plot().score_ix(&id).expect("a score")).tree;
                if trees.contains_key(phone.plot().tree(tree).id().as_str()) {
                    prop_assert_eq!(scores.get(&id), Some(&score));
                }
            }
            for (id, decision) in said(phone.plot()).2 {
                if trees.contains_key(decision.tree.as_str()) {
                    prop_assert_eq!(decisions.get(&id), Some(&decision));
                }
            }
        }
    }
}

/// The cells of each record.
fn records(bytes: &[u8]) -> Vec<Vec<String>> {
    super::laws::cells(&String::from_utf8_lossy(bytes))
}
