//! What the map shows now: the layer and moment, the camera, and what is made from them.

use std::cell::RefCell;
use std::sync::Arc;

use leptos::prelude::*;
use plot::{Plot, Season, TreeIx};
use proof::Surroundings;
use scene::{Camera, Facing, Ground, Layer, Moment, Only, Record, Theme, Underlay};

use super::dark::theme;
use super::events::Events;
use super::pane::{Pane, Panes};
use super::under::Under;
use crate::parts::made_once;
use crate::state::App;

/// A small handle of signals, found in context by the parts of the map.
#[derive(Clone, Copy, Debug)]
pub struct Shown {
    /// The layer.
    pub layer: RwSignal<Layer>,
    /// The part of the record.
    pub moment: RwSignal<Moment>,
    /// Which way the plot is turned.
    pub facing: RwSignal<Facing>,
    /// How the plot is seen; none before the screen was measured.
    pub camera: RwSignal<Option<Camera>>,
    /// A tree that the camera is to go to.
    pub go_to: RwSignal<Option<TreeIx>>,
    /// Counts the movements of the camera: one that runs by itself ends when another begins.
    pub movement: StoredValue<u32>,
    /// The tree under the mouse, or under a finger that may be about to tap twice.
    pub hovered: RwSignal<Option<TreeIx>>,
    /// Trees of one place among which the person is to choose.
    pub offered: RwSignal<Vec<TreeIx>>,
    /// Whether the table is shown in place of the map.
    pub as_table: RwSignal<bool>,
    /// Light or dark.
    pub theme: Signal<Theme>,
    /// Where the marks lie.
    pub ground: Signal<Option<Arc<Ground>>>,
    /// What tints the ground under the marks.
    pub under: Under,
    /// What befell the plot on the walk through the rounds.
    pub events: Events,
    /// Which trees are shown.
    pub only: RwSignal<Only>,
    /// The picture of the slider's moment.
    pub pane: Pane,
    /// The season that is shown beside it, if any.
    pub season_beside: RwSignal<Option<Season>>,
    /// Its picture.
    pub beside: Pane,
    /// Whether the card shows the list of neighbours.
    pub lists_neighbours: RwSignal<bool>,
}

/// What stays while the person is elsewhere.
#[derive(Clone, Debug, Default)]
struct Kept {
    plot: String,
    version: u64,
    layer: String,
    moment: Moment,
    underlay: Underlay,
    only: Only,
    season_beside: Option<Season>,
    facing: Facing,
    camera: Option<Camera>,
    as_table: bool,
    ground: Option<Arc<Ground>>,
}

thread_local! {
    static KEPT: RefCell<Option<Kept>> = const { RefCell::new(None) };
}

impl Shown {
    /// As the person left the map of this plot, or its first layer and all of it.
    pub fn new(app: App) -> Self {
        let name = app.plot_now(name).unwrap_or_default();
        let kept = KEPT.with_borrow(Clone::clone).filter(|kept| kept.plot == name);
        let kept = kept.unwrap_or_default();
        let layer = app.plot_now(|plot| {
            let before = Layer::from_key(plot, &kept.layer);
            before.or_else(|| Layer::all(plot).into_iter().next())
        });
        let layer = RwSignal::new(layer.flatten().unwrap_or(Layer::Cross));
        let moment = RwSignal::new(kept.moment);
        let made = kept.ground.map(|ground| (kept.version, ground));
        let ground = made_once(move || match &made {
            Some((version, ground)) if *version == app.version() => Some(ground.clone()),
            _ => app.plot(|plot| Arc::new(Ground::of(plot).with_ends(app.row_ends()))),
        });
        let record = made_once(move || {
            let layer = layer.get();
            app.plot(|plot| Some(Arc::new(Record::of(plot, layer.trait_ix(plot)?)))).flatten()
        });
        let under = Under::new(app, kept.underlay, layer, ground, record);
        let surroundings = made_once(move || app.plot(|plot| Arc::new(Surroundings::of(plot))));
        let only = RwSignal::new(kept.only);
        let season_beside = RwSignal::new(kept.season_beside);
        let panes = Panes { app, layer, only, ground, record, surroundings, under };
        Self {
            layer,
            moment,
            facing: RwSignal::new(kept.facing),
            camera: RwSignal::new(kept.camera),
            go_to: RwSignal::new(None),
            movement: StoredValue::new(0),
            hovered: RwSignal::new(None),
            offered: RwSignal::new(Vec::new()),
            as_table: RwSignal::new(kept.as_table),
            theme: theme(app),
            ground,
            under,
            events: Events::new(app, under.rounds),
            only,
            pane: panes.at(moment.into()),
            season_beside,
            beside: panes.of_season(season_beside),
            lists_neighbours: RwSignal::new(false),
        }
    }

    /// What the layer shows, in a few words.
    pub fn title(self) -> Option<String> {
        self.pane.sheet.get().map(|sheet| sheet.title().to_owned())
    }

    /// A moment in words; follows the rounds.
    pub fn words_of(self, app: App, moment: &Moment) -> Option<String> {
        let rounds = self.under.rounds.get()?;
        app.plot(|plot| moment.label(plot, &rounds))
    }

    /// Keeps what the person sees for when they come back.
    pub fn remember(self, app: App) {
        let kept = app.plot_now(|plot| Kept {
            plot: name(plot),
            version: untrack(move || app.version()),
            layer: self.layer.with_untracked(|layer| layer.key(plot)),
            moment: self.moment.get_untracked(),
            underlay: self.under.underlay.get_untracked(),
            only: self.only.get_untracked(),
            season_beside: self.season_beside.get_untracked(),
            facing: self.facing.get_untracked(),
            camera: self.camera.get_untracked(),
            as_table: self.as_table.get_untracked(),
            ground: self.ground.get_untracked(),
        });
        KEPT.set(kept);
    }
}

/// The disease whose neighbours are shown: the layer's, else the plot's first.
pub fn disease_shown(plot: &Plot, layer: &Layer) -> Option<String> {
    let first = || plot.diseases().into_iter().next();
    layer.disease(plot).or_else(first).map(str::to_owned)
}

/// The map's handle.
///
/// # Panics
/// Outside of the map.
pub fn shown() -> Shown {
    expect_context()
}

fn name(plot: &Plot) -> String {
    format!("{} {}", plot.head().name, plot.trees().len())
}
