//! The walk's laws: what it says is what the lines say, however often one goes back and forth.

use proptest::prelude::*;

use super::*;
use crate::sample::{orchard, score};

fn setup(traits: &[usize]) -> Setup {
    Setup {
        season: Season(2031),
        round: "2".into(),
        traits: traits.iter().map(|&nth| TraitIx::new(nth)).collect(),
        wish: Wish::default(),
        scorer: None,
        blind: false,
    }
}

fn begin(plot: &Plot, setup: Setup, bookmark: Option<&Bookmark>) -> Walk {
    Walk::begin(plot, &Rows::of(plot), setup, bookmark).expect("a walk")
}

/// A plot under a walk, with ids and a clock that move on by themselves.
struct Field {
    plot: Plot,
    walk: Walk,
    ticks: u32,
}

impl Field {
    fn new(traits: &[usize]) -> Self {
        let plot = orchard();
        let walk = begin(&plot, setup(traits), None);
        Self { plot, walk, ticks: 0 }
    }

    fn stamp(&mut self) -> Stamp {
        self.ticks += 1;
        let (minute, second) = (self.ticks / 60, self.ticks % 60);
        let when = format!("2031-06-14T09:{minute:02}:{second:02}+02:00");
        let id = |nth: u32| ScoreId::new(format!("s{}-{nth}", self.ticks));
        Stamp { ids: [id(1), id(2)], when: When::parse(&when).expect("a moment") }
    }

    fn say(&mut self, command: Command) -> Result<(), Unable> {
        let stamp = self.stamp();
        let step = self.walk.plan(&self.plot, command, stamp)?;
        for line in step.lines() {
            self.plot.add_score(line.clone()).expect("a line that the plot takes");
        }
        if let Some(change) = step.tree_change() {
            self.plot.change_tree(change.clone()).expect("a change that the plot takes");
        }
        self.walk.take(step);
        Ok(())
    }

    fn said(&mut self, commands: &[Command]) -> &mut Self {
        for command in commands {
            self.say(command.clone()).expect("a command");
        }
        self
    }

    fn here(&self) -> Option<&str> {
        self.walk.tree().map(|tree| self.plot.tree(tree).id().as_str())
    }

    fn all(&self) -> Vec<Content> {
        let slots = self.walk.setup().traits.len();
        let cells = (0..self.walk.route().stops.len())
            .flat_map(|stop| (0..slots).map(move |slot| Cursor { stop, slot }));
        cells.map(|at| self.walk.content(at).clone()).collect()
    }
}

use Command::{CouldNot, GoTo, GoToLeftBehind, GoToTrait, Note, Redo, Score, Skip, Tell, Undo};

fn scored(value: f64) -> Content {
    Content::Scored { value, note: None }
}

#[test]
fn the_next_tree_comes_by_itself_and_a_row_takes_a_tap_for_each_tree() {
    let mut field = Field::new(&[0]);
    for place in 1..=10 {
        assert_eq!(field.here(), Some(format!("t01{place:03}").as_str()));
        field.say(Score(0.0)).expect("a score");
    }
    assert_eq!(field.here(), Some("t02006"), "the next row from the end where the first ended");
    assert_eq!(field.walk.legs()[0].tally, Tally { trees: 10, done: 10, ..Tally::default() });
    assert!(field.walk.legs()[1].here);
}

#[test]
fn several_traits_are_asked_at_each_tree() {
    let mut field = Field::new(&[0, 1]);
    field.said(&[Score(1.0)]);
    assert_eq!((field.here(), field.walk.asked()), (Some("t01001"), Some(TraitIx::new(1))));
    field.said(&[Score(0.0)]);
    assert_eq!((field.here(), field.walk.asked()), (Some("t01002"), Some(TraitIx::new(0))));
}

#[test]
fn not_scored_could_not_be_scored_and_clean_are_three_things() {
    let mut field = Field::new(&[0]);
    field.said(&[Score(0.0), CouldNot("leaves fallen".into()), Skip, Score(2.0)]);
    assert_eq!(
        field.all()[..4],
        [
            scored(0.0),
            Content::CouldNot { reason: Some("leaves fallen".into()) },
            Content::Open,
            scored(2.0)
        ]
    );
    let tally = field.walk.total();
    assert_eq!((tally.done, tally.could_not, tally.left_behind), (3, 1, 1));
    assert_eq!(field.walk.left_behind(), [2]);
    field.said(&[GoToLeftBehind]);
    assert_eq!(field.here(), Some("t01003"));
}

#[test]
fn taking_back_adds_a_line_and_loses_none() {
    let mut field = Field::new(&[0]);
    field.said(&[Score(1.0), Undo]);
    assert_eq!((field.here(), field.all()[0].clone()), (Some("t01001"), Content::Open));
    assert_eq!(field.plot.scores().len(), 2);
    assert!(field.plot.scores()[1].is_withdrawal());
    field.said(&[Redo]);
    assert_eq!((field.here(), field.all()[0].clone()), (Some("t01002"), scored(1.0)));
    assert_eq!(field.plot.scores().len(), 3);
    assert_eq!(field.plot.standing_scores().count(), 1);
}

#[test]
fn a_correction_taken_back_brings_the_first_score_again() {
    let mut field = Field::new(&[0]);
    field.said(&[Score(1.0), Score(0.0), GoTo(0), Score(2.0)]);
    assert_eq!(field.here(), Some("t01003"), "on to the next tree that is open");
    field.said(&[Undo]);
    assert_eq!(field.all()[..2], [scored(1.0), scored(0.0)]);
    field.said(&[Undo, Undo]);
    assert!(field.all().iter().all(Content::is_open));
    assert_eq!(field.say(Undo), Err(Unable::NothingToUndo));
    field.said(&[Redo, Redo, Redo]);
    assert_eq!(field.all()[..2], [scored(2.0), scored(0.0)]);
    assert_eq!(field.say(Redo), Err(Unable::NothingToRedo));
}

#[test]
fn a_score_corrected_to_could_not_be_scored_stands_as_such() {
    let mut field = Field::new(&[0]);
    field.said(&[Score(1.0), GoTo(0), CouldNot("cut out".into())]);
    let standing: Vec<_> = field.plot.standing_scores().map(|(_, it)| it.clone()).collect();
    assert_eq!(standing.len(), 1);
    assert_eq!((standing[0].value, standing[0].note.as_deref()), (None, Some("cut out")));
    field.said(&[Undo]);
    assert_eq!(field.all()[0], scored(1.0));
}

#[test]
fn a_skip_can_be_taken_back() {
    let mut field = Field::new(&[0]);
    field.said(&[Score(1.0), Skip, Skip, Undo]);
    assert_eq!(field.here(), Some("t01003"));
    field.said(&[Redo]);
    assert_eq!(field.here(), Some("t01004"));
    field.said(&[Undo, Undo]);
    assert_eq!((field.here(), field.all()[0].clone()), (Some("t01002"), scored(1.0)));
    field.said(&[Undo]);
    assert_eq!(field.here(), Some("t01001"));
}

#[test]
fn a_note_waits_for_its_tree_and_joins_a_reason() {
    let mut field = Field::new(&[0]);
    field.said(&[Note(" two stems ".into())]);
    assert_eq!(field.walk.waiting_note(0), Some("two stems"));
    assert!(field.plot.scores().is_empty());
    field.said(&[Score(1.0), Note("wet".into()), CouldNot("too high".into())]);
    let notes: Vec<_> = field.plot.scores().iter().map(|it| it.note.as_deref()).collect();
    assert_eq!(notes, [Some("two stems"), Some("too high; wet")]);
    field.said(&[GoTo(0), Note("three stems".into())]);
    assert_eq!(
        field.all()[0],
        Content::Scored { value: 1.0, note: Some("three stems".into()) },
        "a note on a scored tree corrects the line"
    );
    assert_eq!(field.walk.waiting_note(0), None);
}

#[test]
fn another_scorers_line_counts_but_is_not_ones_own_to_take_back() {
    let mut plot = orchard();
    let mut theirs = score("their-1", "t01001", "scab", 2.0, "2031-06-14");
    (theirs.round, theirs.scorer) = (Some("2".into()), Some("Wren".into()));
    plot.add_score(theirs).expect("a score");
    let walk = begin(&plot, setup(&[0]), None);
    assert_eq!(*walk.content(Cursor { stop: 0, slot: 0 }), scored(2.0));
    assert!(walk.undo_takes_back().is_none());
    assert_eq!(walk.total().done, 1);
}

#[test]
fn another_round_or_season_is_another_walk() {
    let mut plot = orchard();
    for (id, round, day) in [("a", "1", "2031-06-14"), ("b", "2", "2030-06-14")] {
        let mut draft = score(id, "t01001", "scab", 2.0, day);
        draft.round = Some(round.into());
        plot.add_score(draft).expect("a score");
    }
    assert_eq!(begin(&plot, setup(&[0]), None).total().done, 0);
}

#[test]
fn what_the_walk_finds_does_not_change_its_route() {
    let mut field = Field::new(&[0]);
    let mut wish = setup(&[0]);
    wish.wish.sick_last = true;
    let before = begin(&field.plot, wish.clone(), None).route().clone();
    field.said(&[Score(2.0), Score(2.0)]);
    assert_eq!(*begin(&field.plot, wish, None).route(), before);
}

#[test]
fn the_end_of_the_walk_says_so() {
    let mut field = Field::new(&[0]);
    field.said(&[GoTo(20), Score(0.0)]);
    assert_eq!(field.here(), None);
    assert_eq!(field.say(Score(1.0)), Err(Unable::AtTheEnd));
    assert_eq!(field.walk.total().left_behind, 20);
    assert_eq!(field.say(GoTo(21)), Err(Unable::NoSuchStop));
    field.said(&[Undo]);
    assert_eq!(field.here(), Some("t03008"));
}

#[test]
fn a_walk_needs_something_to_score_and_someone_standing() {
    let plot = orchard();
    let rows = Rows::of(&plot);
    assert_eq!(Walk::begin(&plot, &rows, setup(&[]), None), Err(Unable::NothingToScore));
    let mut nowhere = setup(&[0]);
    nowhere.wish.rows = Some([9].into());
    assert_eq!(Walk::begin(&plot, &rows, nowhere, None), Err(Unable::NobodyStands));
}

#[test]
fn a_dead_tree_is_told_not_scored_and_asks_for_nothing_more() {
    let mut field = Field::new(&[0, 1]);
    field.said(&[Score(1.0), Tell(Fact::Dead)]);
    assert_eq!(field.here(), Some("t01002"), "its other trait is not asked for");
    let dead = field.plot.tree_ix("t01001").expect("a tree");
    assert_eq!(field.plot.tree(dead).status(), plot::Status::Dead);
    assert_eq!(field.plot.scores().len(), 1, "a fact is no score");
    let tally = field.walk.total();
    assert_eq!((tally.done, tally.gone, tally.left_behind), (1, 1, 0));
    field.said(&[GoTo(0)]);
    assert_eq!(field.say(Score(0.0)), Err(Unable::Gone));
    assert_eq!(field.say(Tell(Fact::Dead)), Err(Unable::KnownAlready));
    field.said(&[Undo]);
    assert_eq!((field.here(), field.walk.total().gone), (Some("t01001"), 0));
    assert_eq!(field.plot.tree(dead).status(), plot::Status::Alive);
    field.said(&[Undo]);
    assert_eq!((field.here(), field.walk.undo_takes_back()), (Some("t01001"), None));
    field.said(&[Redo, Redo]);
    assert_eq!((field.walk.total().gone, field.here()), (1, Some("t01002")));
}

#[test]
fn that_a_tree_stands_after_all_can_be_said_much_later() {
    let mut field = Field::new(&[0]);
    field.said(&[Tell(Fact::NothingHere), Score(0.0), GoTo(0), Tell(Fact::Stands)]);
    assert_eq!((field.here(), field.walk.total().gone), (Some("t01001"), 0));
    field.said(&[Undo]);
    assert_eq!(field.walk.total().gone, 1, "nothing is there again");
    field.said(&[Redo, Score(0.0)]);
    assert_eq!((field.here(), field.walk.total().done), (Some("t01003"), 2));
}

#[test]
fn words_join_the_note_of_the_tree_with_their_day() {
    let mut field = Field::new(&[0]);
    field.said(&[Tell(Fact::NoTag), Tell(Fact::TwoTrees)]);
    assert_eq!(field.here(), Some("t01001"), "it is still to be scored");
    let note = |field: &Field| field.plot.trees()[0].draft().note.clone();
    assert_eq!(note(&field).as_deref(), Some("2031-06-14: no tag; 2031-06-14: two trees here"));
    assert_eq!(field.say(Tell(Fact::NoTag)), Err(Unable::KnownAlready));
    field.said(&[Undo]);
    assert_eq!(note(&field).as_deref(), Some("2031-06-14: no tag"));
    assert_eq!(
        field.walk.undo_takes_back(),
        Some(TakenBack::Told(0, plot::TreeCell::Note, "2031-06-14: no tag"))
    );
    field.said(&[Undo]);
    assert_eq!(note(&field), None);
}

#[test]
fn a_tree_that_died_in_another_round_is_not_on_the_route() {
    let mut field = Field::new(&[0]);
    field.said(&[Tell(Fact::NothingHere)]);
    assert_eq!(begin(&field.plot, setup(&[0]), None).route().stops.len(), 21);
    let next = Setup { round: "3".into(), ..setup(&[0]) };
    assert_eq!(begin(&field.plot, next, None).route().stops.len(), 20);
}

#[test]
fn a_second_scorer_who_is_blind_sees_nothing_of_the_first() {
    let mut plot = orchard();
    let mut theirs = score("their-1", "t01001", "scab", 2.0, "2031-06-14");
    (theirs.round, theirs.scorer) = (Some("2".into()), Some("Wren".into()));
    plot.add_score(theirs).expect("a score");
    plot.add_score(score("old", "t01001", "scab", 2.0, "2031-05-02")).expect("a score");
    let blind = Setup { scorer: Some("Teal".into()), blind: true, ..setup(&[0]) };
    let walk = begin(&plot, blind.clone(), None);
    assert!(walk.content(Cursor { stop: 0, slot: 0 }).is_open());
    assert_eq!((walk.total().done, walk.earlier(&plot)), (0, None));
    // An order by what was found before would tell it.
    let mut wish = blind.clone();
    wish.wish.sick_last = true;
    assert_eq!(begin(&plot, wish, None).route().stops, walk.route().stops);
    let open = begin(&plot, Setup { blind: false, ..blind.clone() }, None);
    assert_eq!(open.total().done, 1);
    let rows = Rows::of(&plot);
    let nameless = Setup { scorer: None, ..blind };
    assert_eq!(Walk::begin(&plot, &rows, nameless, None), Err(Unable::BlindWithoutName));
}

#[test]
fn both_scorers_lines_stand_side_by_side() {
    let mut field = Field::new(&[0]);
    field.said(&[Score(2.0)]);
    let blind = Setup { scorer: Some("Teal".into()), blind: true, ..setup(&[0]) };
    field.walk = begin(&field.plot, blind, None);
    field.said(&[Score(0.0)]);
    let standing: Vec<_> = field
        .plot
        .standing_scores()
        .map(|(_, score)| (score.scorer.as_deref(), score.value))
        .collect();
    assert_eq!(standing, [(None, Some(2.0)), (Some("Teal"), Some(0.0))]);
}

#[test]
fn the_summary_tells_time_without_pauses_who_was_skipped_and_what_is_odd() {
    let mut field = Field::new(&[0]);
    // Scored in May: clean, sick, and sick by a moment that counts no more.
    for (id, tree, value, day) in [
        ("m1", "t01001", 0.0, "2031-05-02"),
        ("m2", "t01002", 2.0, "2031-05-01"),
        ("m3", "t01003", 2.0, "2031-05-01"),
        ("m4", "t01003", 0.0, "2031-05-02"),
        ("m5", "t01004", 1.0, "2030-05-02"),
    ] {
        field.plot.add_score(score(id, tree, "scab", value, day)).expect("a score");
    }
    assert_eq!(field.walk.earlier(&field.plot).map(|it| it.id.as_str()), Some("m1"));
    field.said(&[Score(1.0), Score(0.0), Score(0.0), Score(0.0), Skip]);
    field.ticks += 1_000;
    field.said(&[Tell(Fact::Dead), CouldNot("leaves fallen".into()), GoTo(20), Score(0.0)]);
    let summary = field.walk.summary(&field.plot);
    // Three steps of a second, a long pause, then one step and a step over the way there.
    assert_eq!(summary.time, time::Duration::seconds(3 + 1 + 2));
    assert_eq!(summary.skipped, 1);
    let tally = summary.tally;
    assert_eq!((tally.done, tally.could_not, tally.gone, tally.left_behind), (7, 1, 1, 14));
    let odd: Vec<_> =
        summary.jumps.iter().map(|it| (it.at.stop, it.earlier, it.now, it.odd)).collect();
    assert_eq!(odd, [(1, 2.0, 0.0, crate::Odd::CleanAgain)]);
    let again = begin(&field.plot, setup(&[0]), Some(&field.walk.bookmark()));
    assert_eq!(again.summary(&field.plot), summary, "a reload forgets none of it");
}

#[test]
fn a_bookmark_that_was_not_the_last_gives_way_to_the_lines() {
    let mut field = Field::new(&[0, 1]);
    field.said(&[Score(0.0)]);
    let early = field.walk.bookmark();
    field.said(&[Score(0.0), Score(1.0)]);
    let again = begin(&field.plot, setup(&[0, 1]), Some(&early));
    assert_eq!(
        again.cursor(),
        Some(Cursor { stop: 1, slot: 1 }),
        "half of the second tree is done"
    );
}

#[test]
fn one_of_several_traits_can_be_gone_to_and_is_come_back_to() {
    let mut field = Field::new(&[0, 1, 2]);
    field.said(&[Score(1.0), GoToTrait(2)]);
    assert_eq!(field.walk.asked(), Some(TraitIx::new(2)));
    let again = begin(&field.plot, setup(&[0, 1, 2]), Some(&field.walk.bookmark()));
    assert_eq!(again.cursor(), Some(Cursor { stop: 0, slot: 2 }));
    field.said(&[Score(37.0)]);
    assert_eq!(field.here(), Some("t01002"));
    assert_eq!(field.walk.left_behind(), [0], "its second trait has no answer");
    assert_eq!(field.say(GoToTrait(3)), Err(Unable::NoSuchStop));
    field.said(&[GoToLeftBehind]);
    assert_eq!((field.here(), field.walk.asked()), (Some("t01001"), Some(TraitIx::new(1))));
}

fn fact() -> impl Strategy<Value = Fact> {
    prop_oneof![
        Just(Fact::Dead),
        Just(Fact::NothingHere),
        Just(Fact::Stands),
        Just(Fact::NoTag),
        Just(Fact::TwoTrees),
    ]
}

fn command() -> impl Strategy<Value = Command> {
    prop_oneof![
        6 => prop_oneof![Just(0.0), Just(1.0)].prop_map(Score),
        2 => "[ab]?".prop_map(CouldNot),
        1 => "[ab]?".prop_map(Note),
        2 => Just(Skip),
        2 => (0usize..22).prop_map(GoTo),
        1 => Just(GoToLeftBehind),
        1 => (0usize..3).prop_map(GoToTrait),
        3 => fact().prop_map(Tell),
        5 => Just(Undo),
        4 => Just(Redo),
    ]
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(400))]

    /// A walk taken up from its lines and bookmark is the walk that was left.
    #[test]
    fn the_state_is_the_replay(commands in proptest::collection::vec(command(), 0..60)) {
        let mut field = Field::new(&[0, 1]);
        for command in commands {
            let _ = field.say(command);
        }
        let bookmark = field.walk.bookmark();
        let again = begin(&field.plot, setup(&[0, 1]), Some(&bookmark));
        let mut left = field.walk.clone();
        // That a tree was skipped is kept, but not when, so that it cannot be undone.
        left.ledger = left.ledger.without_skips();
        prop_assert_eq!(again, left);
    }

    /// The lines that stand in the plot say what the walk says.
    #[test]
    fn the_plot_says_the_same(commands in proptest::collection::vec(command(), 0..60)) {
        let mut field = Field::new(&[0, 1]);
        let mut lines = 0;
        for command in commands {
            let _ = field.say(command);
            prop_assert!(field.plot.scores().len() >= lines, "no line is ever removed");
            lines = field.plot.scores().len();
        }
        let mut from_plot = vec![Content::Open; field.all().len()];
        for (_, score) in field.plot.standing_scores() {
            let stop = field.walk.stop_of(score.tree).expect("a stop");
            let cell = &mut from_plot[stop * 2 + score.trait_ix.get()];
            prop_assert!(cell.is_open(), "one standing line for each cell");
            let note = score.note.clone();
            *cell = match score.value {
                Some(value) => Content::Scored { value, note },
                None => Content::CouldNot { reason: note },
            };
        }
        prop_assert_eq!(from_plot, field.all());
        for (stop, &tree) in field.walk.route().stops.iter().enumerate() {
            let stands = field.plot.tree(tree).status() == plot::Status::Alive;
            prop_assert_eq!(field.walk.is_gone(stop), !stands);
        }
    }

    /// Undo then redo is as if nothing had been done; undo alone goes all the way back.
    #[test]
    fn undo_then_redo_is_the_same(commands in proptest::collection::vec(command(), 0..40)) {
        let mut field = Field::new(&[0, 1]);
        for command in commands {
            let _ = field.say(command);
            if field.walk.undo_takes_back().is_some() {
                let before = (field.all(), field.walk.can_redo());
                field.say(Undo).expect("an undo");
                prop_assert!(field.walk.can_redo());
                field.say(Redo).expect("a redo");
                prop_assert_eq!(before, (field.all(), field.walk.can_redo()));
            }
        }
        while field.walk.undo_takes_back().is_some() {
            field.say(Undo).expect("an undo");
        }
        prop_assert!(field.all().iter().all(Content::is_open));
        let planted = orchard();
        prop_assert_eq!(field.plot.trees(), planted.trees(), "every fact is taken back");
        while field.walk.can_redo() {
            field.say(Redo).expect("a redo");
        }
    }
}
