//! The plot itself: built record by record, refusing what would make it untrue.

mod by_name;
mod changing;

use std::collections::BTreeMap;
use std::sync::Arc;

use by_name::ByName;
use hashbrown::{HashMap, HashSet};
use language::say;
use time::Date;

use crate::{
    Cross, CrossKey, Decision, Decisions, Disease, Diseases, Event, GenotypeId, Layout, Origin,
    Reading, Refusal, Role, Score, ScoreDraft, ScoreId, ScoreIx, Season, Spot, Status, Trait,
    TraitId, TraitIx, Tree, TreeChange, TreeDraft, TreeIx, WhereGiven,
};

/// What `plot.json` says: everything but trees and scores.
#[derive(Clone, Debug, PartialEq)]
pub struct Head {
    /// The plot's name.
    pub name: String,
    /// The planting grid.
    pub layout: Layout,
    /// Where on earth it lies.
    pub origin: Option<Origin>,
    /// Month (1 to 12) in which a season starts.
    pub season_starts_month: u8,
    /// What is scored.
    pub traits: Vec<Trait>,
    /// What the breeder says about crosses.
    pub crosses: Vec<Cross>,
    /// What is known of diseases.
    pub diseases: Diseases,
}

/// A plot that is valid by construction: every tree has finite metres and an id of its own, every
/// score names a tree and a trait that exist and a value that its scale allows.
#[derive(Clone, Debug)]
pub struct Plot {
    head: Head,
    trees: Vec<Tree>,
    scores: Vec<Score>,
    changes: Vec<TreeChange>,
    events: Vec<Event>,
    decisions: Decisions,
    tree_by_id: ByName,
    trait_by_id: HashMap<TraitId, TraitIx>,
    score_by_id: ByName,
    /// Scores that another line corrects or withdraws, whether they are there or not.
    replaced: HashSet<ScoreId>,
    /// By score: whether it is one of them.
    is_replaced: Vec<bool>,
    scores_of: Vec<Vec<ScoreIx>>,
    words: HashSet<Arc<str>>,
    /// The greatest number that an id of our own ever had here.
    greatest_serial: u32,
    /// Counts how often other trees came to stand in the list, or the same in another order.
    order: u64,
}

/// Metres beyond which a position is taken for a mistake: a plot is no larger than this.
const FARTHEST_M: f64 = 100_000.0;

impl Plot {
    /// A plot without trees.
    ///
    /// # Errors
    /// An empty name, a spacing or origin out of range, a month outside 1–12, two traits of one
    /// id, a `needs` that names no other trait of the plot, an expected share outside 0–1.
    pub fn new(head: Head) -> Result<Self, Refusal> {
        if head.name.trim().is_empty() {
            return Err(Refusal::new("name", say!("nothing"), say!("the plot's name")));
        }
        head.layout.check()?;
        if let Some(origin) = &head.origin {
            origin.check()?;
        }
        if !(1..=12).contains(&head.season_starts_month) {
            return Err(Refusal::new(
                "season_starts_month",
                head.season_starts_month.to_string(),
                say!("a month from 1 to 12"),
            ));
        }
        let mut trait_by_id = HashMap::new();
        for (nth, one) in head.traits.iter().enumerate() {
            if one.id.as_str().is_empty() {
                return Err(Refusal::new("traits.id", say!("nothing"), say!("a name")));
            }
            if trait_by_id.insert(one.id.clone(), TraitIx::new(nth)).is_some() {
                return Err(Refusal::new(
                    "traits.id",
                    say!("{id} twice", id = one.id),
                    say!("each id once"),
                ));
            }
        }
        for one in &head.traits {
            if let Some(needs) = &one.needs
                && (!trait_by_id.contains_key(&needs.trait_id) || needs.trait_id == one.id)
            {
                return Err(Refusal::new(
                    "traits.needs",
                    needs.trait_id.to_string(),
                    say!("the id of another trait of this plot"),
                ));
            }
        }
        for cross in &head.crosses {
            for (disease, share) in &cross.expected_resistant {
                if !(0.0..=1.0).contains(share) {
                    return Err(Refusal::new(
                        "crosses.expected_resistant",
                        format!("{disease}: {share}"),
                        say!("a share from 0 to 1"),
                    ));
                }
            }
        }
        Ok(Self {
            head,
            trees: Vec::new(),
            scores: Vec::new(),
            changes: Vec::new(),
            events: Vec::new(),
            decisions: Decisions::default(),
            tree_by_id: ByName::default(),
            trait_by_id,
            score_by_id: ByName::default(),
            replaced: HashSet::new(),
            is_replaced: Vec::new(),
            scores_of: Vec::new(),
            words: HashSet::new(),
            greatest_serial: 0,
            order: 0,
        })
    }

    /// Makes room for so many more trees and scores, so that a long file need not move those
    /// before.
    pub fn make_room(&mut self, trees: usize, scores: usize) {
        let Self { trees: standing, tree_by_id, scores: held, score_by_id, .. } = self;
        tree_by_id.reserve(trees, tree_names(standing));
        score_by_id.reserve(scores, score_names(held));
        self.trees.reserve_exact(trees);
        self.scores_of.reserve_exact(trees);
        self.scores.reserve_exact(scores);
        self.is_replaced.reserve_exact(scores);
    }

    /// Takes a tree into the plot. A graft's carrier must be there already.
    ///
    /// # Errors
    /// An empty or used id; a carrier that is not there; no position at all; a position that is
    /// not finite or farther than 100 km from the origin; `lon`/`lat` without an origin; a graft
    /// with a place other than its carrier's; a removal before planting.
    pub fn add_tree(&mut self, mut draft: TreeDraft) -> Result<TreeIx, Refusal> {
        if draft.id.as_str().is_empty() {
            return Err(Refusal::new("tree_id", say!("nothing"), say!("an id of its own")));
        }
        if let Some(earlier) = self.tree_ix(draft.id.as_str()) {
            return Err(self.second_tree(&draft, earlier));
        }
        if let (Some(planted), Some(removed)) = (draft.planted_on, draft.removed_on)
            && removed < planted
        {
            return Err(Refusal::new(
                "removed_on",
                removed.to_string(),
                say!("a day on or after planted_on ({planted})"),
            ));
        }
        let carrier = match &draft.grafted_on {
            None => None,
            Some(id) => Some(self.tree_ix(id.as_str()).ok_or_else(|| {
                Refusal::new("grafted_on", format!("\"{id}\""), say!("the tree_id of another tree"))
            })?),
        };
        let spot = match carrier {
            Some(carrier) => self.graft_spot(&mut draft.location, carrier)?,
            None => self.settle(&draft.location)?,
        };
        self.intern(&mut draft.cross.seed_parent);
        self.intern(&mut draft.cross.pollen_parent);
        self.never_give_again(&draft.id);
        let ix = TreeIx::new(self.trees.len());
        self.tree_by_id.add(ix.into(), draft.id.as_str(), tree_names(&self.trees));
        self.trees.push(Tree { draft, spot, carrier });
        self.scores_of.push(Vec::new());
        Ok(ix)
    }

    /// Takes a score into the plot; an earlier score that it `replaces` no longer stands.
    ///
    /// The score that it replaces need not be there: it may stand on another phone.
    ///
    /// # Errors
    /// An empty or used id; a tree or trait that does not exist; a value off the trait's scale.
    pub fn add_score(&mut self, mut draft: ScoreDraft) -> Result<ScoreIx, Refusal> {
        if draft.id.as_str().is_empty() {
            return Err(Refusal::new("score_id", say!("nothing"), say!("an id of its own")));
        }
        if self.score_ix(draft.id.as_str()).is_some() {
            return Err(Refusal::new(
                "score_id",
                say!("\"{id}\", which an earlier line has", id = draft.id),
                say!("an id of its own"),
            ));
        }
        let tree = draft.tree.as_str();
        let tree = self.tree_ix(tree).ok_or_else(|| Refusal::no_tree(tree))?;
        let trait_ix = self.trait_ix(draft.trait_id.as_str()).ok_or_else(|| {
            Refusal::new(
                "trait",
                format!("\"{}\"", draft.trait_id),
                say!("a trait id of plot.json"),
            )
        })?;
        if let Some(value) = draft.value {
            self.trait_of(trait_ix).check(value)?;
        }
        self.intern(&mut draft.round);
        self.intern(&mut draft.scorer);
        let ix = ScoreIx::new(self.scores.len());
        if let Some(replaced) = &draft.replaces {
            if let Some(earlier) = self.score_ix(replaced.as_str()) {
                self.is_replaced[earlier.get()] = true;
            }
            self.replaced.insert(replaced.clone());
        }
        self.is_replaced.push(self.replaced.contains(&draft.id));
        self.score_by_id.add(ix.into(), draft.id.as_str(), score_names(&self.scores));
        self.scores_of[tree.get()].push(ix);
        self.scores.push(Score {
            id: draft.id,
            tree,
            trait_ix,
            value: draft.value,
            scored_on: draft.scored_on,
            round: draft.round,
            scorer: draft.scorer,
            note: draft.note,
            replaces: draft.replaces,
        });
        Ok(ix)
    }

    /// What `plot.json` says.
    pub fn head(&self) -> &Head {
        &self.head
    }
    /// What was done to it and what befell it, in the order of `events.csv`.
    pub fn events(&self) -> &[Event] {
        &self.events
    }
    /// Says what was done to it and what befell it.
    pub fn set_events(&mut self, events: Vec<Event>) {
        self.events = events;
    }
    /// What the breeder decided on its trees.
    pub fn decisions(&self) -> &Decisions {
        &self.decisions
    }
    /// Takes a decision into the plot.
    ///
    /// # Errors
    /// An empty or used id; a tree that does not exist.
    pub fn decide(&mut self, decision: Decision) -> Result<(), Refusal> {
        let tree = decision.tree.as_str();
        self.tree_ix(tree).ok_or_else(|| Refusal::no_tree(tree))?;
        self.decisions.add(decision)
    }
    /// All trees, in the order in which they were taken in.
    pub fn trees(&self) -> &[Tree] {
        &self.trees
    }
    /// All trees with their index.
    pub fn trees_ix(&self) -> impl Iterator<Item = (TreeIx, &Tree)> {
        self.trees.iter().enumerate().map(|(nth, tree)| (TreeIx::new(nth), tree))
    }
    /// One tree.
    pub fn tree(&self, ix: TreeIx) -> &Tree {
        &self.trees[ix.get()]
    }
    /// The tree of an id.
    pub fn tree_ix(&self, id: &str) -> Option<TreeIx> {
        self.tree_by_id.find(id, tree_names(&self.trees)).map(TreeIx::new)
    }
    /// One trait.
    pub fn trait_of(&self, ix: TraitIx) -> &Trait {
        &self.head.traits[ix.get()]
    }
    /// The trait of an id.
    pub fn trait_ix(&self, id: &str) -> Option<TraitIx> {
        self.trait_by_id.get(id).copied()
    }
    /// Every line ever taken, also those that no longer stand.
    pub fn scores(&self) -> &[Score] {
        &self.scores
    }
    /// One line.
    pub fn score(&self, ix: ScoreIx) -> &Score {
        &self.scores[ix.get()]
    }
    /// The line of an id.
    pub fn score_ix(&self, id: &str) -> Option<ScoreIx> {
        self.score_by_id.find(id, score_names(&self.scores)).map(ScoreIx::new)
    }
    /// Whether a line still stands: it is neither corrected nor withdrawn nor itself a withdrawal.
    pub fn stands(&self, ix: ScoreIx) -> bool {
        !self.score(ix).is_withdrawal() && !self.is_replaced[ix.get()]
    }
    /// The lines that stand, in the order in which they were taken in.
    pub fn standing_scores(&self) -> impl Iterator<Item = (ScoreIx, &Score)> {
        (0..self.scores.len())
            .map(ScoreIx::new)
            .filter(|&ix| self.stands(ix))
            .map(|ix| (ix, self.score(ix)))
    }
    /// The lines of one tree that stand, in the order in which they were taken in.
    pub fn scores_of(&self, tree: TreeIx) -> impl Iterator<Item = (ScoreIx, &Score)> {
        self.scores_of[tree.get()]
            .iter()
            .copied()
            .filter(|&ix| self.stands(ix))
            .map(|ix| (ix, self.score(ix)))
    }

    /// How many scores and decisions a tree has, also those that no longer stand.
    pub fn lines_of(&self, tree: TreeIx) -> usize {
        self.scores_of[tree.get()].len() + self.decisions.of(self.tree(tree).id()).count()
    }

    /// What a score says about its trait's disease; none when the trait has no disease.
    pub fn reading(&self, score: &Score) -> Option<Reading> {
        let one = self.trait_of(score.trait_ix);
        one.disease.as_ref()?;
        Some(match score.value.and_then(|value| one.severity(value)) {
            None => Reading::Unseen,
            Some(severity) if severity > 0.0 => Reading::Infected(severity),
            Some(_) => Reading::Clean,
        })
    }

    /// Whether the tree had, in the season of a score, what the score's trait needs to be shown at
    /// all; true where it needs nothing.
    pub fn is_at_risk(&self, score: &Score) -> bool {
        let Some(needs) = &self.trait_of(score.trait_ix).needs else { return true };
        let Some(needed) = self.trait_ix(needs.trait_id.as_str()) else { return false };
        let season = self.season_of(score);
        self.scores_of(score.tree).any(|(_, other)| {
            other.trait_ix == needed
                && self.season_of(other) == season
                && other.value.is_some_and(|value| value >= needs.at_least)
        })
    }

    /// Whether a score was taken before its tree was planted: it belongs to no tree.
    pub fn is_before_planting(&self, score: &Score) -> bool {
        let planted = self.tree(score.tree).draft().planted_on;
        planted.is_some_and(|planted| score.scored_on.date() < planted)
    }

    /// The severity that a score shows of its trait's disease, 0 where it is clean; none when it
    /// shows nothing: not seen, taken before the tree was planted, or clean on a tree that lacked
    /// what the disease needs.
    pub fn shown_severity(&self, score: &Score) -> Option<f64> {
        if self.is_before_planting(score) {
            return None;
        }
        match self.reading(score)? {
            Reading::Unseen => None,
            Reading::Infected(severity) => Some(severity),
            Reading::Clean => self.is_at_risk(score).then_some(0.0),
        }
    }

    /// What is known of a disease by the name that traits call it; none: nothing is.
    pub fn disease(&self, name: &str) -> Option<&Disease> {
        self.head.diseases.called(name)
    }

    /// The diseases that traits name, each once, in the order of the traits.
    pub fn diseases(&self) -> Vec<&str> {
        let mut diseases: Vec<&str> = Vec::new();
        for one in self.head.traits.iter().filter_map(|one| one.disease.as_deref()) {
            if !diseases.contains(&one) {
                diseases.push(one);
            }
        }
        diseases
    }

    /// The traits of a disease.
    pub fn traits_of_disease(&self, disease: &str) -> Vec<TraitIx> {
        let of_it = |one: &Trait| one.disease.as_deref() == Some(disease);
        (0..self.head.traits.len())
            .map(TraitIx::new)
            .filter(|&ix| of_it(self.trait_of(ix)))
            .collect()
    }

    /// The season of a score.
    pub fn season_of(&self, score: &Score) -> Season {
        self.season_on(score.scored_on.date())
    }

    /// The season of a day.
    pub fn season_on(&self, day: Date) -> Season {
        Season::of(day, self.head.season_starts_month)
    }

    /// The traits of a disease by whatever name they call it.
    pub fn traits_of_profile(&self, disease: &Disease) -> Vec<TraitIx> {
        let is_it = |name: &str| disease.is_called(name);
        (0..self.head.traits.len())
            .map(TraitIx::new)
            .filter(|&ix| self.trait_of(ix).disease.as_deref().is_some_and(is_it))
            .collect()
    }

    /// The trees of each genotype that has more than one.
    pub fn copies(&self) -> BTreeMap<GenotypeId, Vec<TreeIx>> {
        let mut copies: BTreeMap<GenotypeId, Vec<TreeIx>> = BTreeMap::new();
        for (ix, tree) in self.trees_ix() {
            if let Some(genotype) = &tree.draft().genotype {
                copies.entry(genotype.clone()).or_default().push(ix);
            }
        }
        copies.retain(|_, trees| trees.len() > 1);
        copies
    }

    /// What the breeder expects of a cross for a disease.
    pub fn expected_resistant(&self, key: &CrossKey, disease: &str) -> Option<f64> {
        self.head
            .crosses
            .iter()
            .find(|cross| cross.key == *key)
            .and_then(|cross| cross.expected_resistant.get(disease).copied())
    }

    /// Whether a tree is one that is judged: a seedling or named sort that was ever planted.
    pub fn is_judged(&self, ix: TreeIx) -> bool {
        let tree = self.tree(ix);
        tree.status() != Status::Empty && matches!(tree.role(), Role::Seedling | Role::Named)
    }

    fn second_tree(&self, draft: &TreeDraft, earlier: TreeIx) -> Refusal {
        let at = |location: &WhereGiven| match (location.row, location.place, location.spot) {
            (Some(row), Some(place), _) => say!("row {row} place {place}"),
            (_, _, Some(spot)) => say!("x {x} m, y {y} m", x = spot.x_m, y = spot.y_m),
            _ => say!("no place").to_owned(),
        };
        let (here, there) = (at(&draft.location), at(&self.tree(earlier).draft.location));
        let found = if here == there {
            say!("\"{id}\", which an earlier line has", id = draft.id)
        } else {
            say!("\"{id}\" in two places: {there}, and here {here}", id = draft.id)
        };
        Refusal::new("tree_id", found, say!("an id of its own, and one place for each tree"))
    }

    fn settle(&self, location: &WhereGiven) -> Result<Spot, Refusal> {
        let (column, spot) = match (location, self.head.origin) {
            (WhereGiven { spot: Some(spot), .. }, _) => ("x_m", *spot),
            (WhereGiven { globe: Some(globe), .. }, Some(origin)) => {
                if !(globe.lon.abs() <= 180.0 && globe.lat.abs() <= 90.0) {
                    return Err(Refusal::new(
                        "lon",
                        format!("{}, {}", globe.lon, globe.lat),
                        say!("degrees: lon -180 to 180, lat -90 to 90"),
                    ));
                }
                ("lon", origin.plot_from_globe(*globe))
            }
            (WhereGiven { row: Some(row), place: Some(place), .. }, _) => {
                ("row", self.head.layout.spot(*row, *place))
            }
            (WhereGiven { globe: Some(_), .. }, None) => {
                return Err(Refusal::new(
                    "lon",
                    say!("degrees, but plot.json has no origin"),
                    say!("an origin in plot.json, or row and place"),
                ));
            }
            _ => {
                return Err(Refusal::new(
                    "row",
                    say!("no position"),
                    say!("row and place, or x_m and y_m, or lon and lat"),
                ));
            }
        };
        if !(spot.x_m.abs() <= FARTHEST_M && spot.y_m.abs() <= FARTHEST_M) {
            return Err(Refusal::new(
                column,
                say!("x {x} m, y {y} m", x = spot.x_m, y = spot.y_m),
                say!("a position within 100 km of the plot's origin"),
            ));
        }
        Ok(spot)
    }

    fn graft_spot(&self, location: &mut WhereGiven, carrier: TreeIx) -> Result<Spot, Refusal> {
        let carrier = self.tree(carrier);
        let elsewhere = |own: Option<i32>, carriers: Option<i32>| own.is_some() && own != carriers;
        if elsewhere(location.row, carrier.row()) || elsewhere(location.place, carrier.place()) {
            return Err(Refusal::new(
                "row",
                say!("a graft in another place than the tree that carries it"),
                say!("nothing, or the place of \"{id}\"", id = carrier.id()),
            ));
        }
        (location.row, location.place) = (carrier.row(), carrier.place());
        Ok(carrier.spot)
    }

    /// Keeps one copy of a word that many records share.
    fn intern(&mut self, word: &mut Option<Arc<str>>) {
        if let Some(text) = word {
            match self.words.get(text.as_ref()) {
                Some(known) => *text = known.clone(),
                None => {
                    self.words.insert(text.clone());
                }
            }
        }
    }
}

/// The name of the tree at a position.
fn tree_names<'a>(trees: &'a [Tree]) -> impl Fn(u32) -> &'a str {
    |at| trees[at as usize].id().as_str()
}

/// The name of the score at a position.
fn score_names<'a>(scores: &'a [Score]) -> impl Fn(u32) -> &'a str {
    |at| scores[at as usize].id.as_str()
}

#[cfg(test)]
mod tests;
