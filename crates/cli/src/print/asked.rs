//! What is asked of `leeward print`, and what of it goes together.

use std::path::PathBuf;
use std::str::FromStr;

use anyhow::{Context, bail};
use clap::{Args, ValueEnum};
use paper::{Format, LabelSize, Orientation, Paper};
use plot::Plot;

/// A plot on paper: field sheets, tags, map, report; or a copy of it to read.
#[derive(Args)]
pub(crate) struct Call {
    /// The plot folder, or a zip of one.
    pub(super) plot: PathBuf,
    /// What is printed.
    #[arg(long, value_enum)]
    pub(super) what: What,
    /// The file to write, or with --format svg the folder; it must not be there yet.
    #[arg(long)]
    pub(super) out: PathBuf,
    /// One HTML file that prints a page to a sheet, or a folder with a picture of each page.
    #[arg(long, value_enum, default_value_t = As::Html)]
    pub(super) format: As,
    /// The size of the paper.
    #[arg(long, value_enum, default_value_t = Size::A4)]
    page: Size,
    /// Lay the paper on its long side.
    #[arg(long)]
    landscape: bool,
    /// The disease, as the traits of plot.json name it; for report and copy more than one may be
    /// given, and without any all are taken.
    #[arg(long)]
    pub(super) disease: Vec<String>,
    /// A trait to score, or the one that the map shows; may be given again.
    #[arg(long = "trait")]
    pub(super) traits: Vec<String>,
    /// Only these rows, such as 3-7,9.
    #[arg(long)]
    pub(super) rows: Option<String>,
    /// Only this tree; may be given again.
    #[arg(long)]
    pub(super) tree: Vec<String>,
    #[command(flatten)]
    pub(super) walk: Walk,
    #[command(flatten)]
    pub(super) labels: Labels,
    /// Leave the photos out of the copy.
    #[arg(long)]
    pub(super) no_photos: bool,
}

/// In which order field sheets go.
#[derive(Args)]
pub(super) struct Walk {
    /// Field sheets begin with the highest row.
    #[arg(long)]
    pub(super) from_last_row: bool,
    /// Field sheets begin where place numbers stop.
    #[arg(long)]
    pub(super) from_high_end: bool,
    /// Field sheets walk each row from the same end.
    #[arg(long)]
    pub(super) one_way: bool,
    /// Field sheets have trees that were seen with symptoms last.
    #[arg(long)]
    pub(super) sick_last: bool,
}

/// How the labels of tags lie on a sheet, in millimetres.
#[derive(Args)]
pub(super) struct Labels {
    /// Tags for plain paper that is cut: 4 x 12, 3 x 8 or 2 x 4 on a page.
    #[arg(long, value_enum, default_value_t = Cut::Medium)]
    pub(super) size: Cut,
    /// Labels beside and below each other on a sheet, such as 3x8.
    #[arg(long)]
    pub(super) labels: Option<Pair>,
    /// Width and height of a label, such as 63x34.
    #[arg(long, requires = "labels")]
    pub(super) label: Option<Pair>,
    /// From the left and the upper edge of the sheet to the first label, such as 8x12.
    #[arg(long, requires = "labels")]
    pub(super) margin: Option<Pair>,
    /// From the left (upper) edge of a label to that of the next; without it nothing is between.
    #[arg(long, requires = "labels")]
    pub(super) pitch: Option<Pair>,
    /// Move everything right and down, such as 0.5x-1: what the printer is off.
    #[arg(long, allow_hyphen_values = true)]
    pub(super) offset: Option<Pair>,
    /// The first label that is still on the first sheet, along the rows.
    #[arg(long, default_value_t = 1)]
    pub(super) start: usize,
    /// A page for plain paper with the labels' outlines and a ruler, in place of tags.
    #[arg(long)]
    pub(super) test_page: bool,
    /// Where Leeward is to be found (https://…/): any reader then leads to the tree's card.
    #[arg(long)]
    pub(super) address: Option<String>,
    /// Only trees without a tag.
    #[arg(long)]
    pub(super) no_tag: bool,
}

/// What is printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum What {
    /// Trees in walking order with boxes for their scores.
    FieldSheets,
    /// Labels with square code, short code and words.
    Tags,
    /// The map in grey.
    Map,
    /// What was found out, and how.
    Report,
    /// One file to look at without Leeward, with the plot folder in it.
    Copy,
}

/// How pages are written.
#[derive(Clone, Copy, Debug, PartialEq, Eq, ValueEnum)]
pub(crate) enum As {
    /// One HTML file.
    Html,
    /// A folder of SVG files.
    Svg,
}

#[derive(Clone, Copy, Debug, ValueEnum)]
enum Size {
    /// 210 x 297 mm.
    A4,
    /// 215.9 x 279.4 mm.
    Letter,
}

/// A size of tags for plain paper.
#[derive(Clone, Copy, Debug, ValueEnum)]
pub(super) enum Cut {
    /// 4 x 12.
    Small,
    /// 3 x 8.
    Medium,
    /// 2 x 4.
    Large,
}

impl From<Cut> for LabelSize {
    fn from(cut: Cut) -> Self {
        match cut {
            Cut::Small => Self::Small,
            Cut::Medium => Self::Medium,
            Cut::Large => Self::Large,
        }
    }
}

/// Two numbers, across and down: `63x34`.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(super) struct Pair(pub(super) [f64; 2]);

impl FromStr for Pair {
    type Err = String;

    fn from_str(text: &str) -> Result<Self, String> {
        let number = |part: &str| part.trim().parse::<f64>().ok().filter(|it| it.is_finite());
        let pair = text.split_once(['x', '×']);
        pair.and_then(|(across, down)| Some(Self([number(across)?, number(down)?])))
            .ok_or_else(|| format!("found \"{text}\", expected two numbers, such as 63x34"))
    }
}

impl Call {
    /// # Errors
    /// Arguments that say nothing of what is printed: a slip would else go unnoticed.
    pub(super) fn check(&self) -> anyhow::Result<()> {
        use What::{Copy, FieldSheets, Map, Report, Tags};
        let Labels { labels, offset, test_page, address, no_tag, start, .. } = &self.labels;
        let walk = &self.walk;
        let walks = walk.from_last_row || walk.from_high_end || walk.one_way || walk.sick_last;
        let told: [(&str, bool, &[What]); 14] = [
            ("--format svg", self.format == As::Svg, &[FieldSheets, Tags, Map]),
            ("--landscape", self.landscape, &[FieldSheets, Tags, Map, Report]),
            ("--disease", !self.disease.is_empty(), &[FieldSheets, Map, Report, Copy]),
            ("--trait", !self.traits.is_empty(), &[FieldSheets, Map]),
            ("--rows", self.rows.is_some(), &[FieldSheets, Tags]),
            ("--tree", !self.tree.is_empty(), &[FieldSheets, Tags]),
            ("the order of a walk", walks, &[FieldSheets]),
            ("--labels", labels.is_some(), &[Tags]),
            ("--offset", offset.is_some(), &[Tags]),
            ("--start", *start != 1, &[Tags]),
            ("--test-page", *test_page, &[Tags]),
            ("--address", address.is_some(), &[Tags]),
            ("--no-tag", *no_tag, &[Tags]),
            ("--no-photos", self.no_photos, &[Copy]),
        ];
        for (name, given, goes_with) in told {
            if given && !goes_with.contains(&self.what) {
                let whats = goes_with.iter().filter_map(ValueEnum::to_possible_value);
                let whats: Vec<String> = whats.map(|it| it.get_name().to_owned()).collect();
                let what = self.what.to_possible_value().map(|it| it.get_name().to_owned());
                bail!(
                    "--what {}: found {name}, which goes with {}",
                    what.unwrap_or_default(),
                    whats.join(", ")
                );
            }
        }
        Ok(())
    }

    /// The paper.
    pub(super) fn paper(&self) -> Format {
        let paper = match self.page {
            Size::A4 => Paper::A4,
            Size::Letter => Paper::Letter,
        };
        let orientation =
            if self.landscape { Orientation::Landscape } else { Orientation::Portrait };
        Format { paper, orientation }
    }

    /// The diseases asked for, or all that some trait counts for.
    ///
    /// # Errors
    /// A plot without one, where none was asked for.
    pub(super) fn diseases(&self, plot: &Plot) -> anyhow::Result<Vec<String>> {
        if !self.disease.is_empty() {
            return Ok(self.disease.clone());
        }
        let all: Vec<String> = plot.diseases().into_iter().map(str::to_owned).collect();
        if all.is_empty() && self.what == What::Report {
            return None.context("--disease: found a plot of which no trait counts for a disease");
        }
        Ok(all)
    }
}
