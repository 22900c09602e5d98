//! What is reported of one disease.

use language::{count, say};
use plot::{Plot, capital};
use proof::{Judgement, Report, TreeReport, Verdict};
use scene::{
    Camera, Facing, Ground, Insets, Layer, Moment, Page, Sheet, Sources, Viewport, svg_apart, words,
};

use super::{Reported, THEME, name, place};
use crate::{Block, Column, Table};

/// Seasons, verdicts by cross, map, the proven and the leaning, cautions.
pub(super) fn blocks(asked: &Reported<'_>, ground: &Ground, report: &Report) -> Vec<Block> {
    let plot = asked.plot;
    let of = words::disease(plot, &report.disease);
    let mut blocks = vec![Block::Heading(2, capital(&of))];
    blocks.extend(words::cautions::of_disease(plot, &report.disease).into_iter().map(Block::Note));
    let limits: Vec<String> = report.limits.iter().map(|it| words::limit(&of, it)).collect();
    if !limits.is_empty() {
        blocks.extend([Block::Paragraph(say!("What the data could not carry:").to_owned())]);
        blocks.push(Block::List(limits));
    }
    blocks.extend(seasons(asked, report));
    blocks.extend([Block::Heading(3, say!("Verdicts on {of} by cross"))]);
    blocks.push(Block::Paragraph(counts(report)));
    blocks.push(Block::Table(crosses(report)));
    let told = report.crosses.iter().filter_map(|cross| {
        let counts = cross.segregation.as_ref()?;
        Some(format!("{}: {}", name(cross), words::segregation(cross, counts)))
    });
    let told: Vec<String> = told.collect();
    if !told.is_empty() {
        blocks.push(Block::List(told));
    }
    blocks.push(map(plot, ground, report));
    blocks.extend(clean(asked, report, &of));
    blocks
}

/// How hard each season tested.
fn seasons(asked: &Reported<'_>, report: &Report) -> Vec<Block> {
    let plot = asked.plot;
    let lines = report.seasons.iter().map(|seen| {
        let test = words::season_test(plot, asked.weather, &report.disease, seen);
        words::season(plot, &report.disease, seen, &test).join(" ")
    });
    vec![
        Block::Heading(3, say!("How hard the seasons tested").to_owned()),
        Block::List(lines.collect()),
    ]
}

fn counts(report: &Report) -> String {
    let of = |verdict| report.trees.iter().filter(|it| it.judgement.verdict == verdict).count();
    let told = Verdict::ALL.map(|verdict| format!("{} {}", of(verdict), words::verdict(verdict)));
    let trees = report.trees.len();
    let trees = count!(trees, "1 scored tree", "{trees} scored trees");
    say!("Of {trees}: {verdicts}.", verdicts = told.join(", "))
}

fn crosses(report: &Report) -> Table {
    let caption =
        say!("Seedlings by cross; the share is corrected for escapes, with its 90 % interval.");
    let mut table = super::crosses(report, caption.to_owned());
    table.columns.push(Column::numbers(say!("Resistant share")));
    for (row, cross) in table.rows.iter_mut().zip(&report.crosses) {
        let share = cross.resistant_share.as_ref();
        row.push(share.map_or_else(|| "–".to_owned(), words::estimate));
    }
    table
}

fn map(plot: &Plot, ground: &Ground, report: &Report) -> Block {
    let sources = Sources { plot, ground, record: None, report: Some(report) };
    let sheet = Sheet::of(sources, &Layer::Verdict(report.disease.clone()), &Moment::All);
    let viewport = Viewport { width: 700.0, height: 900.0 };
    let turn_deg = Facing::Upright.turn_deg(ground.bounds(), viewport, ground.origin());
    let insets = Insets { top: 40.0, right: 40.0, bottom: 40.0, left: 40.0 };
    let camera = Camera::fit(ground.bounds(), viewport, insets, turn_deg);
    let page = Page::plain(plot, ground, &sheet, &camera, THEME);
    // The pictures of two diseases stand in one document.
    let own = svg_apart(page, &format!("{}-", id(&report.disease)));
    Block::Figure { svg: own, caption: format!("{}: {}", plot.head().name, sheet.title()) }
}

/// A disease as a part of an id.
fn id(disease: &str) -> String {
    disease.bytes().map(|byte| format!("{byte:02x}")).collect()
}

/// The proven in a table, and why; how many are leaning.
fn clean(asked: &Reported<'_>, report: &Report, of: &str) -> Vec<Block> {
    let plot = asked.plot;
    // That a resistant check stays clean proves nothing new.
    let is_judged = |one: &&TreeReport| is_proven(one) && plot.is_judged(one.tree);
    let mut proven: Vec<&TreeReport> = report.trees.iter().filter(is_judged).collect();
    let luck = |one: &TreeReport| one.judgement.luck.map_or(1.0, |luck| luck.value);
    proven.sort_by(|a, b| {
        luck(a).total_cmp(&luck(b)).then_with(|| {
            let id = |one: &TreeReport| plot.tree(one.tree).id().clone();
            id(a).cmp(&id(b))
        })
    });
    let mut blocks = vec![Block::Heading(3, say!("Proven against {of}"))];
    if proven.is_empty() {
        blocks.push(Block::Paragraph(say!(
            "No tree is proven against {of}: clean scores here are no proof yet."
        )));
        return blocks;
    }
    blocks.push(Block::Note(words::proof_is_local().to_owned()));
    let rows = proven.iter().map(|one| row(plot, one)).collect();
    let columns = [say!("Tree"), say!("Place"), say!("Cross")].map(Column::words);
    let numbers =
        [say!("Luck"), say!("At most"), say!("Dose"), say!("Seasons")].map(Column::numbers);
    blocks.push(Block::Table(Table {
        caption: count!(
            proven.len(),
            "1 proven tree, the least luck first, with the upper end of its 90 % interval; checks \
             are left out.",
            "{trees} proven trees, the least luck first, with the upper end of its 90 % interval; \
             checks are left out.",
            trees = proven.len()
        ),
        columns: columns.into_iter().chain(numbers).collect(),
        rows,
    }));
    for one in proven.iter().take(asked.explained) {
        let tree = plot.tree(one.tree);
        blocks.push(Block::Heading(3, say!("Why {name}", name = tree.name())));
        let said = [words::judgement(of, &one.judgement)];
        let reasons = words::reasons(plot, &report.disease, &one.judgement);
        let gone = (tree.status() != plot::Status::Alive).then(|| {
            say!(
                "It does not stand any more: {standing}.",
                standing = words::standing(tree.status())
            )
        });
        let decided = plot.decisions().standing(tree.id()).map(words::decision);
        blocks.push(Block::List(
            said.into_iter().chain(reasons).chain(gone).chain(decided).collect(),
        ));
    }
    let more = proven.len().saturating_sub(asked.explained);
    if more > 0 {
        blocks.push(Block::Paragraph(say!(
            "The reasons of {more} more are on their cards in Leeward."
        )));
    }
    blocks
}

fn is_proven(one: &&TreeReport) -> bool {
    one.judgement.verdict == Verdict::Proven
}

fn row(plot: &Plot, one: &TreeReport) -> Vec<String> {
    let tree = plot.tree(one.tree);
    let Judgement { luck, dose, seasons_scored, .. } = &one.judgement;
    vec![
        tree.name(),
        place(tree).replace(' ', "\u{a0}").replace(",\u{a0}", ", "),
        tree.parentage().unwrap_or_default().replace("no. ", "no.\u{a0}"),
        luck.as_ref().map(|luck| words::percent(luck.value)).unwrap_or_default(),
        luck.as_ref().map(|luck| words::percent(luck.high)).unwrap_or_default(),
        dose.map(|dose| language::decimal(format!("{dose:.1}"))).unwrap_or_default(),
        seasons_scored.to_string(),
    ]
}
