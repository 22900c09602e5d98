//! Pages of one size: field sheets, tags, the map.

use std::collections::BTreeSet;

use anyhow::{anyhow, bail};
use files::Book;
use paper::{FieldSheets, LabelSheet, MapPages, Page, Tags};
use plot::{Plot, Refusal, Status, TraitIx, TreeId};
use proof::Report;
use scene::Layer;
use walk::{End, Rows, Way, Wish, rows_from_text};

use super::asked::{Call, Pair};
use crate::judge::no_such_disease;

/// Field sheets of the traits asked for, of those of the diseases asked for, or of all.
///
/// # Errors
/// A trait, disease, row or tree that is not there; more traits than fit.
pub(super) fn field_sheets(call: &Call, book: &Book) -> anyhow::Result<Vec<Page>> {
    let plot = book.plot();
    let traits = traits(call, plot)?;
    let (wish, ends) = (wish(call, plot)?, book.row_ends().into());
    let asked =
        FieldSheets { plot, ends: &ends, traits: &traits, wish: &wish, format: call.paper() };
    paper::field_sheets(&asked).map_err(refused)
}

/// Tags of the standing trees asked for, in walking order.
///
/// # Errors
/// A row or tree that is not there; labels that do not lie on the paper or have no room.
pub(super) fn tags(call: &Call, plot: &Plot) -> anyhow::Result<Vec<Page>> {
    let sheet = sheet(call)?;
    if call.labels.test_page {
        return Ok(vec![paper::test_page(&sheet).map_err(refused)?]);
    }
    let wish = wish(call, plot)?;
    let trees = paper::trees_for_tags(plot, wish, call.labels.no_tag);
    let asked = Tags {
        plot,
        trees: &trees,
        sheet,
        start: call.labels.start,
        address: call.labels.address.as_deref(),
        outlined: call.labels.labels.is_none(),
    };
    paper::tags(&asked).map_err(refused)
}

/// The map of the verdicts on a disease, of a trait, or of the crosses.
///
/// # Errors
/// More than one layer; a trait that is not there.
pub(super) fn map(call: &Call, book: &Book, report: Option<&Report>) -> anyhow::Result<Vec<Page>> {
    let plot = book.plot();
    let layer = match (&call.disease[..], &call.traits[..]) {
        ([], []) => Layer::Cross,
        ([disease], []) => Layer::Verdict(disease.clone()),
        ([], [one]) => Layer::Trait(trait_ix(plot, one)?),
        _ => bail!("--what map: found several layers, expected one --disease or one --trait"),
    };
    let (ends, format) = (book.row_ends().into(), call.paper());
    Ok(paper::map_pages(&MapPages { plot, ends: &ends, layer: &layer, report, format }))
}

fn traits(call: &Call, plot: &Plot) -> anyhow::Result<Vec<TraitIx>> {
    let mut traits = Vec::new();
    for one in &call.traits {
        traits.push(trait_ix(plot, one)?);
    }
    for disease in &call.disease {
        let own = plot.traits_of_disease(disease);
        if own.is_empty() {
            return Err(no_such_disease(disease, &plot.diseases().join(", ")));
        }
        traits.extend(own);
    }
    if call.traits.is_empty() && call.disease.is_empty() {
        traits.extend((0..plot.head().traits.len()).map(TraitIx::new));
    }
    Ok(traits)
}

fn trait_ix(plot: &Plot, id: &str) -> anyhow::Result<TraitIx> {
    plot.trait_ix(id).ok_or_else(|| {
        let known: Vec<&str> = plot.head().traits.iter().map(|it| it.id.as_str()).collect();
        anyhow!("--trait: found \"{id}\", expected a trait of plot.json ({})", known.join(", "))
    })
}

/// Rows and trees asked for, and the order of the walk.
fn wish(call: &Call, plot: &Plot) -> anyhow::Result<Wish> {
    let rows = call.rows.as_deref().map(rows_from_text).transpose().map_err(refused)?.flatten();
    if let Some(asked) = &rows {
        let known: BTreeSet<i32> = Rows::of(plot).all().iter().map(|row| row.number).collect();
        if let Some(strange) = asked.iter().find(|row| !known.contains(row)) {
            bail!("--rows: found {strange}, expected a row of trees.csv");
        }
    }
    for id in &call.tree {
        let Some(ix) = plot.tree_ix(id) else {
            bail!("--tree: found \"{id}\", expected a tree_id of trees.csv");
        };
        if plot.tree(ix).status() != Status::Alive {
            bail!("--tree: found \"{id}\", which does not stand, expected a tree that does");
        }
    }
    let only =
        (!call.tree.is_empty()).then(|| call.tree.iter().map(|id| TreeId::new(&**id)).collect());
    let end = |high: bool| if high { End::High } else { End::Low };
    Ok(Wish {
        first_row: end(call.walk.from_last_row),
        first_place: end(call.walk.from_high_end),
        way: if call.walk.one_way { Way::OneWay } else { Way::Serpentine },
        rows,
        sick_last: call.walk.sick_last,
        only,
    })
}

/// The labels: those of plain paper, or as they were measured.
fn sheet(call: &Call) -> anyhow::Result<LabelSheet> {
    let labels = &call.labels;
    let paper = call.paper();
    let plain = LabelSheet::grid(paper.paper, labels.size.into());
    let offset_mm = labels.offset.map_or([0.0; 2], |Pair(offset)| offset);
    let Some(Pair(counts)) = labels.labels else {
        if call.paper() != plain.format {
            bail!("--landscape: found no --labels, expected how labels lie on such a page");
        }
        return Ok(LabelSheet { offset_mm, ..plain });
    };
    let [Some(Pair(label_mm)), Some(Pair(margin_mm))] = [labels.label, labels.margin] else {
        bail!("--labels: found no size and margin, expected --label and --margin in mm beside it");
    };
    if counts.iter().any(|it| it.fract() != 0.0 || !(1.0..=1000.0).contains(it)) {
        bail!("--labels: found {}x{}, expected whole numbers of labels", counts[0], counts[1]);
    }
    let [columns, rows] = counts.map(|it| it as usize);
    let pitch_mm = labels.pitch.map_or(label_mm, |Pair(pitch)| pitch);
    Ok(LabelSheet { format: paper, columns, rows, label_mm, margin_mm, pitch_mm, offset_mm })
}

fn refused(refusal: Refusal) -> anyhow::Error {
    anyhow!("--{refusal}")
}
