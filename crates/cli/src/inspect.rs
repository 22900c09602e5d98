//! `leeward inspect`: what a plot folder holds, and every fault found in it.

use std::collections::BTreeMap;
use std::path::PathBuf;

use clap::Args;
use files::Book;
use plot::{Fate, Plot, Problem, Role, Status, Weight};
use serde::Serialize;

use crate::Answer;
use crate::folder::{Folder, counted, weight};
use crate::table::{Format, Table, json, say};

/// What a plot folder holds, and every fault found in it.
#[derive(Args)]
pub(crate) struct Call {
    /// The plot folder, or a zip of one.
    plot: PathBuf,
    /// How the answer is written.
    #[arg(long, value_enum, default_value_t = Format::Csv)]
    format: Format,
}

/// What is in the folder, and what is wrong with it.
#[derive(Serialize)]
struct Inspection<'a> {
    holds: Table,
    problems: &'a [Problem],
}

/// Reads the folder and says what is in it: 2 for faults, 1 for notices only, 0 for neither.
///
/// # Errors
/// The folder cannot be read from disk, or standard output cannot be written.
pub(crate) fn run(call: &Call) -> anyhow::Result<Answer> {
    let folder = Folder::read(&call.plot)?;
    let holds = holdings(&folder);
    match call.format {
        Format::Csv => holds.print(Format::Csv)?,
        Format::Json => say(&json(&Inspection { holds, problems: &folder.problems })?)?,
    }
    folder.tell();
    let (faults, notices) = (folder.count(Weight::Fault), folder.count(Weight::Notice));
    if faults + notices > 0 {
        let counts = [counted(faults, "fault"), counted(notices, "notice")].join(", ");
        eprintln!("{}: {counts}", call.plot.display());
    }
    Ok(match (faults, notices) {
        (0, 0) => Answer::Done,
        (0, _) => Answer::No,
        _ => Answer::Unusable,
    })
}

/// One line for each thing that is counted.
fn holdings(folder: &Folder) -> Table {
    let mut table = Table::new(&["what", "name", "count"]);
    let mut push = |what: &str, name: String, count: usize| {
        table.push(vec![what.into(), name.into(), count.into()]);
    };
    for (name, bytes) in &folder.listed {
        push("bytes of file", name.clone(), usize::try_from(*bytes).unwrap_or(usize::MAX));
    }
    if let Some(book) = &folder.book {
        counts(book, &mut push);
    }
    let count_of = |of| folder.problems.iter().filter(|problem| problem.weight == of).count();
    for of in [Weight::Fault, Weight::Notice] {
        push("problems", weight(of).to_owned(), count_of(of));
    }
    table
}

fn counts(book: &Book, push: &mut impl FnMut(&str, String, usize)) {
    let plot = book.plot();
    push("trees of plot", plot.head().name.clone(), plot.trees().len());
    let trees = |wanted: &dyn Fn(&plot::Tree) -> bool| {
        plot.trees().iter().filter(|tree| wanted(tree)).count()
    };
    for &status in Status::ALL {
        push("trees by status", status.as_str().to_owned(), trees(&|tree| tree.status() == status));
    }
    for &role in Role::ALL {
        push("trees by role", role.as_str().to_owned(), trees(&|tree| tree.role() == role));
    }
    push("grafts", String::new(), trees(&|tree| tree.carrier().is_some()));
    push("trees without tag", String::new(), trees(&|tree| tree.tag().is_none()));
    push("genotypes with copies", String::new(), plot.copies().len());
    let mut rows = BTreeMap::new();
    let mut crosses = BTreeMap::new();
    for tree in plot.trees() {
        if let Some(row) = tree.row() {
            *rows.entry(row).or_insert(0) += 1;
        }
        if tree.role() == Role::Seedling && tree.status() != Status::Empty {
            *crosses.entry(tree.cross().clone()).or_insert(0) += 1;
        }
    }
    push("rows", String::new(), rows.len());
    for (cross, seedlings) in crosses {
        let name =
            if cross.is_unknown() { "parents unknown".to_owned() } else { cross.to_string() };
        push("seedlings of cross", name, seedlings);
    }
    counts_of_scores(plot, push);
    for disease in plot.head().diseases.iter() {
        let profile = if disease.own.is_some() { "own" } else { "built-in" };
        let scored = plot.traits_of_profile(disease).len();
        push(&format!("traits of disease ({profile} profile)"), disease.id.clone(), scored);
    }
    push("events", String::new(), plot.events().len());
    let decided = |fate: Fate| {
        let all = plot.trees().iter();
        all.filter(|tree| plot.decisions().fate(tree.id()) == Some(fate)).count()
    };
    for fate in Fate::ALL {
        push("decided to", fate.as_str().to_owned(), decided(fate));
    }
    push("hours of weather", String::new(), book.weather().hours().len());
}

fn counts_of_scores(plot: &Plot, push: &mut impl FnMut(&str, String, usize)) {
    push("scores ever taken", String::new(), plot.scores().len());
    push("scores that stand", String::new(), plot.standing_scores().count());
    let mut traits = vec![0; plot.head().traits.len()];
    let mut seasons = BTreeMap::new();
    for (_, score) in plot.standing_scores() {
        traits[score.trait_ix.get()] += 1;
        *seasons.entry(plot.season_of(score)).or_insert(0) += 1;
    }
    for (one, scores) in plot.head().traits.iter().zip(traits) {
        push("scores of trait", one.id.to_string(), scores);
    }
    for (season, scores) in seasons {
        push("scores of season", season.to_string(), scores);
    }
    for disease in plot.diseases() {
        let of_it =
            |score: &plot::Score| plot.trait_of(score.trait_ix).disease.as_deref() == Some(disease);
        push("rounds of disease", disease.to_owned(), plot.rounds(of_it).len());
    }
}
