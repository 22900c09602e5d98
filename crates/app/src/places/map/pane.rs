//! A picture of the plot at a moment. The map has one, or two side by side: the moment of the
//! slider, and a season beside it.

use std::sync::Arc;

use leptos::prelude::*;
use plot::Season;
use proof::{Asked, Surroundings};
use scene::{Ground, Layer, Moment, NeighbourView, Only, Record, Sheet, Sources, Wash};

use super::under::Under;
use crate::parts::made_once;
use crate::state::App;

/// Neighbours that the neighbour view draws.
const NEIGHBOURS: usize = 8;

/// A picture's parts, as signals.
#[derive(Clone, Copy, Debug)]
pub struct Pane {
    /// When.
    pub moment: Signal<Moment>,
    /// The layer over the ground.
    pub sheet: Signal<Option<Arc<Sheet>>>,
    /// The tint of the ground; none while it is plain.
    pub wash: Signal<Option<Arc<Wash>>>,
    /// The neighbours of the chosen tree.
    pub neighbours: Signal<Option<Arc<NeighbourView>>>,
}

/// What pictures are made from, whatever their moment.
#[derive(Clone, Copy, Debug)]
pub struct Panes {
    pub app: App,
    pub layer: RwSignal<Layer>,
    pub only: RwSignal<Only>,
    pub ground: Signal<Option<Arc<Ground>>>,
    pub record: Signal<Option<Arc<Record>>>,
    pub surroundings: Signal<Option<Arc<Surroundings>>>,
    pub under: Under,
}

impl Panes {
    /// The picture of a moment.
    pub fn at(self, moment: Signal<Moment>) -> Pane {
        Pane {
            moment,
            sheet: made_once(move || self.sheet(&moment.get())),
            wash: self.under.wash_at(moment),
            neighbours: made_once(move || self.neighbours(&moment.get())),
        }
    }

    /// The picture of a season, once one is chosen; of nothing until then.
    pub fn of_season(self, season: RwSignal<Option<Season>>) -> Pane {
        let moment = move || season.get().map_or(Moment::All, Moment::Season);
        let pane = self.at(Memo::new(move |_| moment()).into());
        Pane {
            sheet: made_once(move || season.get().and_then(|_| pane.sheet.get())),
            wash: made_once(move || season.get().and_then(|_| pane.wash.get())),
            neighbours: made_once(move || season.get().and_then(|_| pane.neighbours.get())),
            ..pane
        }
    }

    fn sheet(self, moment: &Moment) -> Option<Arc<Sheet>> {
        let Self { app, ground, record, .. } = self;
        let (ground, record, layer, only) =
            (ground.get()?, record.get(), self.layer.get(), self.only.get());
        let of_layer = app.plot(|plot| layer.disease(plot).map(str::to_owned))?;
        let of_layer = of_layer.filter(|_| layer.needs_report());
        let report = of_layer.and_then(|disease| app.report(&disease));
        let judged = only.verdict.and_then(|_| app.report(&self.under.disease.get()?));
        app.plot(|plot| {
            let record = record.as_deref();
            let sources = Sources {
                plot,
                ground: &ground,
                record: record.filter(|one| Some(one.trait_ix()) == layer.trait_ix(plot)),
                report: report.as_deref(),
            };
            let sheet = Sheet::of(sources, &layer, moment);
            Arc::new(match only.is_all() {
                true => sheet,
                false => sheet.only(|tree| only.shows(plot, judged.as_deref(), tree)),
            })
        })
    }

    fn neighbours(self, moment: &Moment) -> Option<Arc<NeighbourView>> {
        let Self { app, surroundings, under, .. } = self;
        let tree = app.chosen.get()?;
        let (disease, rounds) = (under.disease.get()?, under.rounds.get()?);
        let report = app.report(&disease);
        let surroundings = surroundings.get()?;
        app.plot(|plot| {
            let report = report.as_deref();
            let asked = Asked { plot, report, disease: &disease, span: moment.span(&rounds) };
            let nearby = surroundings.nearby(asked, tree, NEIGHBOURS);
            Arc::new(NeighbourView::of(plot, &disease, report, &nearby))
        })
    }
}
