//! The report of a plot: job, seasons, verdicts by cross, the proven with their reasons, what was
//! decided, and the method in one page.

mod disease;

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
    let mut lines = vec![format!(
        "{}, {standing} of them standing; {}.",
        words::count(plot.trees().len(), "tree"),
        words::count(plot.standing_scores().count(), "score"),
    )];
    lines.extend(span.map(|(first, last)| {
        format!("Scored from {} to {}.", words::day(first), words::day(last))
    }));
    lines.extend(plot.head().origin.map(|origin| {
        format!(
            "At {:.4}° {}, {:.4}° {}; rows bear {}°.",
            origin.lat.abs(),
            if origin.lat < 0.0 { "south" } else { "north" },
            origin.lon.abs(),
            if origin.lon < 0.0 { "west" } else { "east" },
            words::number(origin.row_bearing_deg)
        )
    }));
    let asked = format!(
        "The question: which trees without symptoms resist {}, and which were merely missed by it?",
        named.join(" or ")
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
    let columns = ["Decision", "Tree", "Place", "Since", "Reason"].map(Column::words).to_vec();
    let table = Table {
        caption: "What the breeder decided; no verdict changes by it.".to_owned(),
        columns,
        rows: rows.into_iter().map(|(_, row)| row).collect(),
    };
    vec![Block::Heading(2, "Decisions".to_owned()), Block::Table(table)]
}

/// How many seedlings of each cross were scored, and how many have each verdict.
pub(crate) fn crosses(report: &Report, caption: String) -> Table {
    let mut columns = vec![Column::words("Cross"), Column::numbers("Scored")];
    columns.extend(Verdict::ALL.map(|it| Column::numbers(&plot::capital(it.as_str()))));
    let rows = report.crosses.iter().map(|cross| {
        let counts = [cross.scored].into_iter().chain(cross.verdicts);
        [name(cross)].into_iter().chain(counts.map(|it| it.to_string())).collect()
    });
    Table { caption, columns, rows: rows.collect() }
}

/// What a cross is called.
fn name(cross: &CrossReport) -> String {
    cross.cross.clone().unwrap_or_else(|| "parents unknown".to_owned())
}

/// `row 7, place 12`; nothing for a tree without them.
pub(crate) fn place(tree: &plot::Tree) -> String {
    let place = tree.row().zip(tree.place());
    place.map_or_else(String::new, |(row, place)| format!("row {row}, place {place}"))
}

#[cfg(test)]
mod tests;
