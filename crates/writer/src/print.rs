//! What is printed of a plot: pages of paper or a report, as the command line prints them.

use std::collections::BTreeMap;

use files::Book;
use paper::{
    Document, EXPLAINED, FieldSheets, Format, LabelSheet, LabelSize, MapPages, Orientation, Page,
    Paper, Reported, Tags,
};
use plot::{Plot, Refusal, TraitIx};
use proof::Report;
use scene::Layer;
use serde::{Deserialize, Serialize};
use walk::{End, Way, Wish, rows_from_text};

/// What a person wants to print.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct PrintWish {
    /// What.
    pub what: What,
    /// The paper: Letter, else A4.
    pub is_letter: bool,
    /// Whether the paper lies on its long side; tags never do.
    pub is_landscape: bool,
    /// Rows such as `3-7,9`; empty: all.
    pub rows: String,
}

/// What is printed.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum What {
    /// Trees in walking order with boxes for scores of these traits, by their ids.
    FieldSheets {
        /// The traits.
        traits: Vec<String>,
        /// Whether trees that were seen with symptoms come last.
        sick_last: bool,
    },
    /// Labels for plain paper that is cut.
    Tags {
        /// How large.
        size: LabelSize,
        /// The first label that is still on the first sheet, from 1.
        start: usize,
        /// Whether only trees without a tag get one.
        no_tag: bool,
    },
    /// The map in grey.
    Map(MapLayer),
    /// What was found out, and how.
    Report,
}

/// What the map shows.
#[derive(Clone, Debug, Default, PartialEq, Serialize, Deserialize)]
pub enum MapLayer {
    /// Crosses.
    #[default]
    Cross,
    /// A trait by its id.
    Trait(String),
    /// Verdicts on a disease, of which the report was handed over.
    Verdict(String),
}

/// What was made.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub enum Printed {
    /// Pages of one size.
    Pages {
        /// Standalone SVG documents; at most [`MOST_PAGES`].
        pages: Vec<String>,
        /// How many there are in all.
        of: usize,
    },
    /// A report.
    Report(Document),
}

/// Most pages that are made at a time: more are printed row by row.
pub const MOST_PAGES: usize = 200;

/// # Errors
/// Rows that are none, more traits than fit, no tree to print.
pub(crate) fn printed(
    wish: &PrintWish,
    book: &Book,
    reports: &BTreeMap<String, Report>,
) -> Result<Printed, Refusal> {
    let pages = match &wish.what {
        What::FieldSheets { traits, sick_last } => field_sheets(wish, traits, *sick_last, book)?,
        What::Tags { size, start, no_tag } => {
            return tags(wish, (*size, *start, *no_tag), book.plot());
        }
        What::Map(layer) => map(wish, layer, book, reports),
        What::Report => return Ok(Printed::Report(report(book, reports))),
    };
    let of = pages.len();
    Ok(Printed::Pages { pages: svgs(pages), of })
}

fn svgs(pages: Vec<Page>) -> Vec<String> {
    pages.into_iter().take(MOST_PAGES).map(|page| page.svg).collect()
}

fn field_sheets(
    wish: &PrintWish,
    traits: &[String],
    sick_last: bool,
    book: &Book,
) -> Result<Vec<Page>, Refusal> {
    let plot = book.plot();
    let traits: Vec<TraitIx> = traits.iter().filter_map(|id| plot.trait_ix(id)).collect();
    let walk = Wish { sick_last, ..walk_of(wish)? };
    let (ends, format) = (book.row_ends().into(), wish.format());
    paper::field_sheets(&FieldSheets { plot, ends: &ends, traits: &traits, wish: &walk, format })
}

/// Only as many tags are drawn as have room on the pages that are shown.
fn tags(
    wish: &PrintWish,
    (size, start, no_tag): (LabelSize, usize, bool),
    plot: &Plot,
) -> Result<Printed, Refusal> {
    let sheet = LabelSheet::grid(wish.format().paper, size);
    let trees = paper::trees_for_tags(plot, walk_of(wish)?, no_tag);
    let of = (trees.len() + start.saturating_sub(1)).div_ceil(sheet.count());
    let shown = trees.len().min((MOST_PAGES + 1) * sheet.count());
    let trees = &trees[..shown];
    let asked = Tags { plot, trees, sheet, start, address: None, outlined: true };
    Ok(Printed::Pages { pages: svgs(paper::tags(&asked)?), of })
}

fn map(
    wish: &PrintWish,
    layer: &MapLayer,
    book: &Book,
    reports: &BTreeMap<String, Report>,
) -> Vec<Page> {
    let plot = book.plot();
    let (layer, report) = match layer {
        MapLayer::Cross => (Layer::Cross, None),
        MapLayer::Trait(id) => (plot.trait_ix(id).map_or(Layer::Cross, Layer::Trait), None),
        MapLayer::Verdict(disease) => (Layer::Verdict(disease.clone()), reports.get(disease)),
    };
    let (ends, format) = (book.row_ends().into(), wish.format());
    paper::map_pages(&MapPages { plot, ends: &ends, layer: &layer, report, format })
}

fn report(book: &Book, reports: &BTreeMap<String, Report>) -> Document {
    let plot = book.plot();
    let reports: Vec<Report> =
        plot.diseases().iter().filter_map(|name| reports.get(*name)).cloned().collect();
    paper::report(&Reported {
        plot,
        ends: &book.row_ends().into(),
        weather: book.weather(),
        reports: &reports,
        explained: EXPLAINED,
    })
}

/// From the first row and the low end on.
fn walk_of(wish: &PrintWish) -> Result<Wish, Refusal> {
    let rows = match wish.rows.trim() {
        "" => None,
        rows => rows_from_text(rows)?,
    };
    let (way, first_row, first_place) = (Way::Serpentine, End::Low, End::Low);
    Ok(Wish { first_row, first_place, way, rows, sick_last: false, only: None })
}

impl PrintWish {
    fn format(&self) -> Format {
        let is_lying = self.is_landscape && !matches!(self.what, What::Tags { .. });
        Format {
            paper: if self.is_letter { Paper::Letter } else { Paper::A4 },
            orientation: if is_lying { Orientation::Landscape } else { Orientation::Portrait },
        }
    }
}
