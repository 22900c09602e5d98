//! Which tree is this? asked a few thousand times on made-up rows of which the truth is known.

use plot::{Head, Layout, Plot, Status, TreeDraft, TreeId, TreeIx};
use rand::{Rng, SeedableRng};
use rand_chacha::ChaCha8Rng;
use walk::{Differs, End, PlantingList, Rows, Seen, Who};

/// How the ground differs from the list.
#[derive(Clone, Copy, Debug)]
struct Ground {
    missing_tags: f64,
    misread: f64,
    /// Trees put in, and as many taken out, without a note: half each.
    shifted: f64,
}

/// A plot that lost a fifth of its tags; what the costs were set for.
const USUAL: Ground = Ground { missing_tags: 0.20, misread: 0.03, shifted: 0.02 };

#[derive(Clone, Copy, Debug)]
struct Asked {
    knows_row: bool,
    /// Trees looked at on either side.
    reach: usize,
    /// Tags that are drawn by lot instead of numbered through.
    by_lot: bool,
}

/// A tree as it stands.
#[derive(Clone, Debug)]
struct Standing {
    /// None: nobody wrote it down.
    listed: Option<TreeIx>,
    tag: Option<String>,
}

const ROWS: i32 = 12;
const PLACES: i32 = 60;

/// Rows in runs of crosses numbered within each; a twentieth of the places is known to be gone.
fn planted(by_lot: bool, chance: &mut ChaCha8Rng) -> Plot {
    let head = Head {
        name: "Made-up rows".into(),
        layout: Layout { row_spacing_m: 3.0, place_spacing_m: 0.75, first_row: 1, first_place: 1 },
        origin: None,
        season_starts_month: 1,
        traits: Vec::new(),
        diseases: Default::default(),
        crosses: Vec::new(),
    };
    let mut plot = Plot::new(head).expect("a head");
    let mut lots: Vec<i32> = (1_000..1_000 + ROWS * PLACES).collect();
    for at in (1..lots.len()).rev() {
        lots.swap(at, chance.random_range(0..=at));
    }
    let prefixes = ["MB", "TR", "W", "QK", "E", "PH", "AL"];
    for nth in 0..ROWS * PLACES {
        let (run, number) = (nth / 110, nth % 110 + 1);
        let tag = match by_lot {
            true => lots[usize::try_from(nth).expect("small")].to_string(),
            false => format!("{}-{number}", prefixes[usize::try_from(run).expect("small")]),
        };
        let mut tree = TreeDraft::new(TreeId::new(format!("t{nth}")));
        tree.location.row = Some(nth / PLACES + 1);
        tree.location.place = Some(nth % PLACES + 1);
        tree.tag = Some(tag.as_str().into());
        if chance.random_bool(0.05) {
            tree.status = [Status::Dead, Status::Removed, Status::Empty][chance.random_range(0..3)];
        }
        plot.add_tree(tree).expect("a tree");
    }
    plot
}

/// What stands in each row, some of it otherwise than it is written.
fn grown(plot: &Plot, rows: &Rows, ground: Ground, chance: &mut ChaCha8Rng) -> Vec<Vec<Standing>> {
    let mut all = Vec::new();
    for row in rows.all() {
        let mut standing = Vec::new();
        for place in &row.places {
            let tree = plot.tree(place.occupant());
            let stands = match tree.status() {
                Status::Alive => !chance.random_bool(ground.shifted / 2.0),
                Status::Dead => chance.random_bool(0.2),
                Status::Removed | Status::Empty => chance.random_bool(0.02),
            };
            if stands {
                let has_tag = !chance.random_bool(ground.missing_tags);
                let tag = tree.tag().filter(|_| has_tag).map(str::to_owned);
                standing.push(Standing { listed: Some(place.occupant()), tag });
            }
            if chance.random_bool(ground.shifted / 2.0) {
                let tag = chance.random_bool(0.5).then(|| slipped("N-7", chance));
                standing.push(Standing { listed: None, tag });
            }
        }
        all.push(standing);
    }
    all
}

/// One letter or digit of it other, left out or doubled.
fn slipped(tag: &str, chance: &mut ChaCha8Rng) -> String {
    let mut letters: Vec<char> = tag.chars().collect();
    let at = chance.random_range(0..letters.len());
    match chance.random_range(0..4) {
        0 if letters.len() > 1 => drop(letters.remove(at)),
        1 => letters.insert(at, letters[at]),
        _ if letters[at].is_ascii_digit() => {
            letters[at] = char::from(b'0' + chance.random_range(0..10_u8));
        }
        _ => letters[at] = char::from(b'A' + chance.random_range(0..26_u8)),
    }
    letters.into_iter().collect()
}

/// What is read at a tree, right or wrong.
fn read(tag: Option<&str>, ground: Ground, all: &[&str], chance: &mut ChaCha8Rng) -> Seen {
    match tag {
        None => Seen::NoTag,
        Some(tag) if !chance.random_bool(ground.misread) => Seen::Tag(tag.to_owned()),
        Some(tag) if chance.random_bool(2.0 / 3.0) => Seen::Tag(slipped(tag, chance)),
        Some(_) => Seen::Tag(all[chance.random_range(0..all.len())].to_owned()),
    }
}

#[derive(Default)]
struct Told {
    cases: usize,
    right: usize,
    sum_of_stated: f64,
    /// In tenths of the stated probability: cases, right ones, sum of the stated.
    bins: [(usize, usize, f64); 10],
}

impl Told {
    fn take(&mut self, stated: f64, is_right: bool) {
        self.cases += 1;
        self.right += usize::from(is_right);
        self.sum_of_stated += stated;
        let bin = &mut self.bins[((stated * 10.0) as usize).min(9)];
        *bin = (bin.0 + 1, bin.1 + usize::from(is_right), bin.2 + stated);
    }
    fn join(&mut self, other: &Self) {
        self.cases += other.cases;
        self.right += other.right;
        self.sum_of_stated += other.sum_of_stated;
        for (bin, more) in self.bins.iter_mut().zip(&other.bins) {
            *bin = (bin.0 + more.0, bin.1 + more.1, bin.2 + more.2);
        }
    }
    /// Every tenth that has cases.
    fn table(&self) -> String {
        let line = |(at, &(cases, right, stated)): (usize, &(usize, usize, f64))| {
            let (n, low) = (cases as f64, at * 10);
            let (stated, right) = (100.0 * stated / n, 100.0 * right as f64 / n);
            format!(
                "  {low:>2}–{} %: {cases} cases, stated {stated:.1} %, right {right:.1} %\n",
                low + 10
            )
        };
        self.bins.iter().enumerate().filter(|(_, bin)| bin.0 > 0).map(line).collect()
    }
    fn share_right(&self) -> f64 {
        self.right as f64 / self.cases as f64
    }
    fn mean_stated(&self) -> f64 {
        self.sum_of_stated / self.cases as f64
    }
    /// Mean distance between stated and true, weighted by cases.
    fn off(&self) -> f64 {
        let off = |&(_, right, stated): &(usize, usize, f64)| (right as f64 - stated).abs();
        self.bins.iter().map(off).sum::<f64>() / self.cases as f64
    }
    fn line(&self, name: &str) -> String {
        format!(
            "{name}: {} cases, right {:.1} %, stated {:.1} %, mean distance {:.2} points",
            self.cases,
            100.0 * self.share_right(),
            100.0 * self.mean_stated(),
            100.0 * self.off()
        )
    }
}

/// Asks of untagged trees in made-up fields; where three tags or more were read within ten places,
/// and of all cases.
fn ask(seed: u64, fields: usize, ground: Ground, asked: Asked) -> (Told, Told) {
    let mut chance = ChaCha8Rng::seed_from_u64(seed);
    let (mut of_three, mut of_all) = (Told::default(), Told::default());
    for _ in 0..fields {
        let plot = planted(asked.by_lot, &mut chance);
        let rows = Rows::of(&plot);
        let list = PlantingList::of(&plot, &rows);
        let every_tag: Vec<&str> = plot.trees().iter().filter_map(plot::Tree::tag).collect();
        let grown = grown(&plot, &rows, ground, &mut chance);
        for _ in 0..40 {
            let row_at = chance.random_range(0..grown.len());
            let row = &grown[row_at];
            let bare: Vec<usize> = (0..row.len()).filter(|&at| row[at].tag.is_none()).collect();
            if bare.is_empty() {
                continue;
            }
            let here = bare[chance.random_range(0..bare.len())];
            let from = here.saturating_sub(asked.reach);
            let to = row.len().min(here + asked.reach + 1);
            let mut steps: Vec<Seen> = (from..to)
                .map(|at| match at == here {
                    true => Seen::This,
                    false => read(row[at].tag.as_deref(), ground, &every_tag, &mut chance),
                })
                .collect();
            if chance.random_bool(0.5) {
                steps.reverse();
            }
            let tags = steps.iter().filter(|step| matches!(step, Seen::Tag(_))).count();
            let known = asked.knows_row.then(|| rows.all()[row_at].number);
            let Ok(answer) = list.which(&steps, known) else { continue };
            let best = answer.guesses[0];
            let is_right = match (best.who, row[here].listed) {
                (Who::Listed(guess), Some(truth)) => guess == truth,
                (Who::NotListed { .. }, None) => true,
                _ => false,
            };
            of_all.take(best.probability, is_right);
            if tags >= 3 {
                of_three.take(best.probability, is_right);
            }
        }
    }
    (of_three, of_all)
}

/// In each tenth with a hundred cases, what was stated lies within three standard errors of the
/// share that was right, and three points more.
fn is_calibrated(told: &Told) -> bool {
    told.bins.iter().filter(|(cases, ..)| *cases >= 100).all(|&(cases, right, stated)| {
        let (n, share, stated) = (cases as f64, right as f64 / cases as f64, stated / cases as f64);
        let error = (stated * (1.0 - stated) / n).sqrt();
        (share - stated).abs() <= 3.0 * error + 0.03
    })
}

#[test]
fn three_tags_tell_the_tree_and_what_is_stated_is_true() {
    let mut all = Told::default();
    for (seed, knows_row, by_lot) in
        [(1, false, false), (2, true, false), (3, false, true), (4, true, true)]
    {
        let asked = Asked { knows_row, reach: 4, by_lot };
        let (of_three, of_all) = ask(seed, 120, USUAL, asked);
        println!("{asked:?}");
        println!("  {}", of_three.line("three tags or more"));
        println!("  {}", of_all.line("one tag or more"));
        assert!(of_three.cases > 4_500);
        assert!(of_three.share_right() >= 0.95, "{}", of_three.line("three tags"));
        assert!(of_three.off() <= 0.015, "{}", of_three.line("three tags"));
        all.join(&of_all);
    }
    println!("one tag or more, all four together\n{}", all.table());
    assert!(is_calibrated(&all), "{}", all.table());
}

/// One tag or two: wide of certain, and said so.
#[test]
fn fewer_tags_are_less_sure_and_say_so() {
    let asked = Asked { knows_row: false, reach: 1, by_lot: false };
    let (_, of_all) = ask(5, 120, USUAL, asked);
    println!("a tree on either side: {}\n{}", of_all.line("one or two tags"), of_all.table());
    assert!(of_all.share_right() < 0.95);
    assert!(is_calibrated(&of_all), "{}", of_all.table());
}

/// The costs are fixed; ground that is better or worse than they take it to be.
#[test]
fn on_other_ground_what_is_stated_stays_near() {
    let asked = Asked { knows_row: false, reach: 4, by_lot: false };
    for (seed, missing_tags, misread, shifted) in [(6, 0.4, 0.06, 0.04), (7, 0.05, 0.01, 0.005)] {
        let ground = Ground { missing_tags, misread, shifted };
        let (of_three, _) = ask(seed, 120, ground, asked);
        println!("{ground:?}: {}", of_three.line("three tags or more"));
        assert!(of_three.share_right() >= 0.90, "{}", of_three.line("three tags"));
        assert!((of_three.share_right() - of_three.mean_stated()).abs() <= 0.04);
    }
}

/// Rows walked from end to end: trees that went and trees that were put in without a note.
#[test]
fn a_whole_row_tells_who_went_and_who_was_put_in() {
    let mut chance = ChaCha8Rng::seed_from_u64(8);
    let mut told = Told::default();
    let (mut true_ones, mut found) = (0, 0);
    for field in 0..60 {
        let plot = planted(field % 2 == 0, &mut chance);
        let rows = Rows::of(&plot);
        let list = PlantingList::of(&plot, &rows);
        let every_tag: Vec<&str> = plot.trees().iter().filter_map(plot::Tree::tag).collect();
        for (row, standing) in rows.all().iter().zip(grown(&plot, &rows, USUAL, &mut chance)) {
            let mut steps: Vec<Seen> = standing
                .iter()
                .map(|tree| read(tree.tag.as_deref(), USUAL, &every_tag, &mut chance))
                .collect();
            let begun_at = if chance.random_bool(0.5) { End::Low } else { End::High };
            if begun_at == End::High {
                steps.reverse();
            }
            let at = |step: usize| match begun_at {
                End::Low => step,
                End::High => steps.len() - 1 - step,
            };
            let stands = |ix: TreeIx| standing.iter().any(|tree| tree.listed == Some(ix));
            let went = |ix: TreeIx| plot.tree(ix).status() == Status::Alive && !stands(ix);
            let occupants = row.places.iter().map(walk::Place::occupant);
            true_ones += occupants.filter(|&ix| went(ix)).count();
            true_ones += standing.iter().filter(|tree| tree.listed.is_none()).count();
            let checked = list.check_row(&plot, row.number, begun_at, &steps, true).expect("a row");
            for one in &checked.differences {
                let is_right = match one.what {
                    Differs::Missing(ix) => went(ix),
                    Differs::NotListed { .. } => {
                        one.step.is_some_and(|step| standing[at(step)].listed.is_none())
                    }
                    _ => continue,
                };
                found += usize::from(is_right);
                told.take(one.probability, is_right);
            }
        }
    }
    let share_found = f64::from(found as u32) / f64::from(true_ones as u32);
    println!("{}\n{}", told.line("went or were put in"), told.table());
    println!("of {true_ones} that went or were put in, {:.1} % were told", 100.0 * share_found);
    assert!(true_ones > 500);
    // Where a neighbour has no tag either, nobody can tell which of the two it was: what counts is
    // that what is said to be certain is, and that the rest is said to be uncertain.
    let (cases, right, _) = told.bins[9];
    assert!(cases > 400 && right as f64 / cases as f64 >= 0.97, "{}", told.table());
    assert!(share_found >= 0.75, "{share_found}");
    assert!((told.share_right() - told.mean_stated()).abs() <= 0.03, "{}", told.line("told"));
    assert!(is_calibrated(&told), "{}", told.table());
}
