//! `scores.csv`: a line becomes a score, a score becomes a line.

use std::collections::HashMap;

use language::say;
use plot::{
    Plot, Refusal, Score, ScoreDraft, ScoreId, ScoreIx, Status, TraitId, TreeId, Weight, When,
};

use crate::findings::{Findings, quoted};
use crate::table::{Column, Header, Line, Table, columns};

pub(crate) const FILE: &str = "scores.csv";

columns!(ScoreColumn:
    ScoreId = "score_id", TreeId = "tree_id", Trait = "trait", Value = "value",
    ScoredOn = "scored_on", Round = "round", Scorer = "scorer", Note = "note",
    Replaces = "replaces",
);
use ScoreColumn as C;

/// Columns without which the file cannot be read.
pub(crate) const REQUIRED: &[C] = &[C::ScoreId, C::TreeId, C::Trait, C::Value, C::ScoredOn];

/// What is known of lines that earlier files did not give.
#[derive(Debug, Default)]
pub(crate) struct Hints {
    /// Lines of `trees.csv` that were not taken, by id.
    pub(crate) faulty_trees: HashMap<String, u64>,
    /// Whether `plot.json` has faults, so that a trait may be missing for that.
    pub(crate) faulty_head: bool,
}

/// `scores.csv` while it is read.
#[derive(Debug)]
pub(crate) struct ScoreReading {
    table: Table,
    hints: Hints,
    /// Lines that replace a score, with that score.
    replacing: Vec<(u64, ScoreIx)>,
}

impl ScoreReading {
    /// Reads the header; none, with the fault told, when the file cannot be read at all.
    pub(crate) fn new(bytes: &[u8], hints: Hints, findings: &mut Findings) -> Option<Self> {
        let table = Table::new(bytes, REQUIRED, findings)?;
        Some(Self { table, hints, replacing: Vec::new() })
    }

    pub(crate) fn line(&self) -> u64 {
        self.table.line()
    }

    pub(crate) fn header(&self) -> &Header {
        self.table.header()
    }

    /// Takes up to `lines` further lines into the plot (without one, only reads them); gives
    /// whether more are left.
    pub(crate) fn step(
        &mut self,
        bytes: &[u8],
        lines: u64,
        mut plot: Option<&mut Plot>,
        findings: &mut Findings,
    ) -> bool {
        let Self { table, hints, replacing } = self;
        table.step(bytes, lines, findings, &mut |line| {
            let Some(draft) = draft(line) else { return };
            let Some(plot) = plot.as_deref_mut() else { return };
            match plot.add_score(draft) {
                Ok(ix) => {
                    if plot.score(ix).replaces.is_some() {
                        replacing.push((line.number(), ix));
                    }
                    if let Some(notice) = out_of_time(plot, ix) {
                        line.notice(notice);
                    }
                }
                Err(refusal) => line.refuse(hints.explain(refusal, line)),
            }
        })
    }

    /// Tells the corrections of scores that are nowhere in the file.
    pub(crate) fn finish(self, plot: Option<&Plot>, findings: &mut Findings) {
        let Some(plot) = plot else { return };
        for (line, ix) in self.replacing {
            let Some(replaced) = &plot.score(ix).replaces else { continue };
            if plot.score_ix(replaced.as_str()).is_none() {
                let found = quoted(replaced.as_str());
                let notice = Refusal::new("replaces", found, say!("a score_id of this file"));
                findings.refusal(Weight::Notice, Some(line), notice);
            }
        }
    }
}

impl Hints {
    /// The same refusal, with what an earlier fault has to do with it.
    fn explain(&self, mut refusal: Refusal, line: &Line<'_>) -> Refusal {
        if refusal.column == C::TreeId.name()
            && let Some(faulty) = line.text(C::TreeId).and_then(|id| self.faulty_trees.get(id))
        {
            refusal.expected =
                say!("a tree_id of trees.csv without fault (its line {faulty} has one)");
        }
        if refusal.column == C::Trait.name() && self.faulty_head {
            refusal.expected = say!("{expected} (which has faults)", expected = refusal.expected);
        }
        refusal
    }
}

/// What a line says; none when anything in it was refused.
pub(crate) fn draft(line: &mut Line<'_>) -> Option<ScoreDraft> {
    let id = line.needed(C::ScoreId, || say!("an id of its own"));
    let tree = line.needed(C::TreeId, || say!("a tree_id of trees.csv"));
    let trait_id = line.needed(C::Trait, || say!("a trait id of plot.json"));
    let value = line.number_in(C::Value);
    let expected = || say!("a date that exists, such as 2031-06-14 or 2031-06-14T09:31:05+02:00");
    let scored_on = match line.needed(C::ScoredOn, expected) {
        Some(_) => line.read(C::ScoredOn, expected, When::parse),
        None => None,
    };
    if !line.is_good() {
        return None;
    }
    let text = |column| line.text(column).map(Into::into);
    Some(ScoreDraft {
        id: ScoreId::new(id?),
        tree: TreeId::new(tree?),
        trait_id: TraitId::new(trait_id?),
        value,
        scored_on: scored_on?,
        round: text(C::Round),
        scorer: text(C::Scorer),
        note: text(C::Note),
        replaces: line.text(C::Replaces).map(ScoreId::new),
    })
}

/// A score of a tree that was not there on that day.
fn out_of_time(plot: &Plot, ix: ScoreIx) -> Option<Refusal> {
    let score = plot.score(ix);
    let (tree, day) = (plot.tree(score.tree), score.scored_on.date());
    let (planted, removed) = (tree.draft().planted_on, tree.draft().removed_on);
    let notice =
        |found: String, expected: String| Some(Refusal::new(C::ScoredOn.name(), found, expected));
    let id = tree.id();
    match (planted, removed) {
        (Some(planted), _) if day < planted => notice(
            say!("{day}, before \"{id}\" was planted"),
            say!("a day on or after planted_on ({planted})"),
        ),
        (_, Some(removed)) if day > removed => notice(
            say!("{day}, after \"{id}\" was removed"),
            say!("a day on or before removed_on ({removed})"),
        ),
        _ if tree.status() == Status::Empty && score.value.is_some() => notice(
            say!("{day}, a score of \"{id}\", where trees.csv has nothing"),
            say!("a tree whose status is not empty").to_owned(),
        ),
        _ => None,
    }
}

/// The cells of a score's line, in the order of the known columns.
pub(crate) fn cells(plot: &Plot, score: &Score) -> Vec<String> {
    fn cell<T: ToString>(value: Option<T>) -> String {
        value.map(|value| value.to_string()).unwrap_or_default()
    }
    vec![
        score.id.to_string(),
        plot.tree(score.tree).id().to_string(),
        plot.trait_of(score.trait_ix).id.to_string(),
        cell(score.value),
        score.scored_on.to_string(),
        cell(score.round.as_deref()),
        cell(score.scorer.as_deref()),
        cell(score.note.as_deref()),
        cell(score.replaces.as_ref()),
    ]
}
