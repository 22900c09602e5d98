//! What tints the ground under the marks: the person's choice, and the wash made from it.

use std::sync::Arc;

use language::say;
use leptos::prelude::*;
use plot::{Round, Season};
use proof::Report;
use scene::{Field, Ground, Layer, Moment, Record, Underlay, Wash, WashSources};

use super::shown::{Shown, disease_shown, shown};
use crate::parts::lean::said;
use crate::parts::made_once;
use crate::state::App;

/// The ground under the marks, as signals.
#[derive(Clone, Copy, Debug)]
pub struct Under {
    /// What tints it.
    pub underlay: RwSignal<Underlay>,
    /// The rounds that the moment may name.
    pub rounds: Signal<Option<Arc<Vec<Round>>>>,
    /// The disease shown.
    pub disease: Memo<Option<String>>,
    app: App,
    report: Signal<Option<Arc<Report>>>,
    field: Signal<Option<Arc<Field>>>,
}

impl Under {
    /// Of the disease shown.
    pub fn new(
        app: App,
        kept: Underlay,
        layer: RwSignal<Layer>,
        ground: Signal<Option<Arc<Ground>>>,
        record: Signal<Option<Arc<Record>>>,
    ) -> Self {
        let underlay = RwSignal::new(kept);
        let disease = Memo::new(move |_| {
            let layer = layer.get();
            app.plot(|plot| disease_shown(plot, &layer)).flatten()
        });
        let rounds = made_once(move || {
            if let Some(record) = record.get() {
                return Some(record.rounds().clone());
            }
            let disease = disease.get();
            let layer = layer.get_untracked();
            app.plot(|plot| Arc::new(layer.rounds(plot, disease.as_deref())))
        });
        let tinted = Memo::new(move |_| underlay.get() != Underlay::Plain);
        let report = made_once(move || {
            let disease = disease.get().filter(|_| tinted.get())?;
            app.report(&disease)
        });
        let field = made_once(move || {
            let (report, ground) = (report.get()?, ground.get()?);
            app.plot(|plot| Some(Arc::new(Field::of(plot, &ground, &report)?))).flatten()
        });
        Self { underlay, rounds, disease, app, report, field }
    }

    /// The tint of the ground at a moment; none while it is plain.
    pub fn wash_at(self, moment: Signal<Moment>) -> Signal<Option<Arc<Wash>>> {
        made_once(move || {
            let (rounds, disease) = (self.rounds.get()?, self.disease.get()?);
            let (report, field) = (self.report.get(), self.field.get());
            self.app.plot(|plot| {
                let sources = WashSources {
                    plot,
                    disease: &disease,
                    report: report.as_deref(),
                    field: field.as_deref(),
                };
                Some(Arc::new(Wash::of(sources, self.underlay.get(), &moment.get(), &rounds)?))
            })?
        })
    }

    /// The seasons that the moment may name, in time.
    pub fn seasons(self) -> Vec<Season> {
        let rounds = self.rounds.get();
        let mut seasons: Vec<Season> =
            rounds.iter().flat_map(|rounds| rounds.iter()).map(|round| round.season).collect();
        seasons.dedup();
        seasons
    }
}

/// The choice of what tints the ground.
#[component]
pub fn GroundChoice() -> impl IntoView {
    let underlay = shown().under.underlay;
    let choose = move |event| {
        if let Some(chosen) = Underlay::from_key(&event_target_value(&event)) {
            underlay.set(chosen);
        }
    };
    let option = move |one: Underlay| {
        let selected = underlay.get_untracked() == one;
        view! { <option value=one.key() selected=selected>{one.label()}</option> }.into_any()
    };
    let options: Vec<AnyView> = Underlay::ALL.into_iter().map(option).collect();
    view! {
        <label class="map-layer map-ground">
            <span class="hidden-words">{say!("Ground")}</span>
            <select on:change=choose>{options}</select>
        </label>
    }
}

/// What of the map follows the slider, where not all of it does; nothing where there is no doubt.
pub fn follows(shown: Shown) -> AnyView {
    let whole_record = shown.layer.with(|layer| layer.needs_report() || *layer == Layer::Cross);
    if !whole_record || shown.moment.get() == Moment::All {
        return ().into_any();
    }
    let words = match shown.under.underlay.get() {
        Underlay::Plain => {
            say!("The marks are of the whole record. Tint the ground to see the disease walk.")
        }
        _ => say!("The marks are of the whole record; the ground walks."),
    };
    said("p", "hint map-follows", words)
}
