//! The report of a plot: job, seasons, verdicts by cross, the proven with their reasons, what was
//! decided, and the method in one page.

mod disease;

use language::{count, say};
use plot::{Fate, Plot, Status, Weather};
use proof::{CrossReport, Report, Verdict};
use scene::{Ground, Theme, words};
use walk::Ends;

use crate::method::method;
use crate::{Block, Column, Document, Table};

/// Of so many proven trees the reasons are usually written out.
pub const EXPLAINED: usize = 20;

/// The inks of its maps: it is printed.
const THEME: Theme = Theme::Grey;

/// What a report is made of.
#[derive(Clone, Copy, Debug)]
pub struct Reported<'a> {
    /// The plot.
    pub plot: &'a Plot,
    /// What the ends of its rows are called.
    pub ends: &'a Ends,
    /// Its hours of weather.
    pub weather: &'a Weather,
    /// The judgements, one for each disease that is reported.
    pub reports: &'a [Report],
    /// Of so many of the proven the reasons are written out, the least luck first.
    pub explained: usize,
}

/// The report of a plot, disease by disease.
pub fn report(asked: &Reported<'_>) -> Document {
    let Reported { plot, reports, .. } = *asked;
    let named: Vec<String> = reports.iter().map(|one| words::disease(plot, &one.disease)).collect();
    let ground = Ground::of(plot).with_ends(asked.ends.clone());
    let mut blocks = job(plot, &named);
    for one in reports {
        blocks.extend(disease::blocks(asked, &ground, one));
    }
    blocks.extend(decided(plot));
    blocks.extend(method());
    // Wood carries what was not asked about as well.
    let others =
        plot.diseases().into_iter().filter(|name| reports.iter().all(|it| it.disease != *name));
    blocks.extend(others.flat_map(|name| words::cautions::of_disease(plot, name)).map(Block::Note));
    Document { title: format!("{}: {}", plot.head().name, named.join(", ")), blocks }
}

/// What was asked, and of what.
fn job(plot: &Plot, named: &[String]) -> Vec<Block> {
    let standing = plot.trees().iter().filter(|tree| tree.status() == Status::Alive).count();
    let days: Vec<_> = plot.standing_scores().map(|(_, score)| score.scored_on.date()).collect();
    let span = days.iter().copied().min().zip(days.iter().copied().max());
    let (trees, scores) = (plot.trees().len(), plot.standing_scores().count());
    let trees = count!(trees, "1 tree", "{trees} trees");
    let scores = count!(scores, "1 score", "{scores} scores");
    let mut lines = vec![say!("{trees}, {standing} of them standing; {scores}.")];
    lines.extend(span.map(|(first, last)| {
        say!("Scored from {first} to {last}.", first = words::day(first), last = words::day(last))
    }));
    lines.extend(plot.head().origin.map(|origin| {
        let [lat, lon] = [origin.lat, origin.lon].map(f64::abs);
        say!(
            "At {latitude}, {longitude}; rows bear {bearing}°.",
            latitude = match origin.lat < 0.0 {
                true => say!("{lat:.4}° south"),
                false => say!("{lat:.4}° north"),
            },
            longitude = match origin.lon < 0.0 {
                true => say!("{lon:.4}° west"),
                false => say!("{lon:.4}° east"),
            },
            bearing = words::number(origin.row_bearing_deg)
        )
    }));
    let diseases = named.iter().cloned().reduce(|list, last| say!("{list} or {last}"));
    let asked = say!(
        "The question: which trees without symptoms resist {diseases}, and which were merely \
         missed by it?",
        diseases = diseases.unwrap_or_default()
    );
    vec![Block::Paragraph(asked), Block::List(lines)]
}

/// What the breeder decided on trees, keep first; nothing where nothing was.
fn decided(plot: &Plot) -> Vec<Block> {
    let mut rows: Vec<(Fate, Vec<String>)> = Vec::new();
    for tree in plot.trees() {
        let Some(decision) = plot.decisions().standing(tree.id()) else { continue };
        let Some(fate) = decision.fate else { continue };
        rows.push((
            fate,
            vec![
                words::fate(decision.fate).to_owned(),
                tree.name(),
                place(tree),
                words::when(decision.decided_on),
                decision.reason.as_deref().unwrap_or_default().to_owned(),
            ],
        ));
    }
    if rows.is_empty() {
        return Vec::new();
    }
    rows.sort_by_key(|(fate, _)| *fate);
    let columns = [say!("Decision"), say!("Tree"), say!("Place"), say!("Since"), say!("Reason")]
        .map(Column::words)
        .to_vec();
    let table = Table {
        caption: say!("What the breeder decided; no verdict changes by it.").to_owned(),
        columns,
        rows: rows.into_iter().map(|(_, row)| row).collect(),
    };
    vec![Block::Heading(2, say!("Decisions").to_owned()), Block::Table(table)]
}

/// How many seedlings of each cross were scored, and how many have each verdict.
pub(crate) fn crosses(report: &Report, caption: String) -> Table {
    let mut columns = vec![Column::words(say!("Cross")), Column::numbers(say!("Scored"))];
    columns.extend(Verdict::ALL.map(|it| Column::numbers(&plot::capital(words::verdict(it)))));
    let rows = report.crosses.iter().map(|cross| {
        let counts = [cross.scored].into_iter().chain(cross.verdicts);
        [name(cross)].into_iter().chain(counts.map(|it| it.to_string())).collect()
    });
    Table { caption, columns, rows: rows.collect() }
}

/// What a cross is called.
fn name(cross: &CrossReport) -> String {
    cross.cross.clone().unwrap_or_else(|| say!("parents unknown").to_owned())
}

/// `row 7, place 12`; nothing for a tree without them.
pub(crate) fn place(tree: &plot::Tree) -> String {
    let place = tree.row().zip(tree.place());
    place.map_or_else(String::new, |(row, place)| say!("row {row}, place {place}"))
}

#[cfg(test)]
mod tests;
