//! The choice of the layer.

use language::say;
use leptos::prelude::*;
use plot::Plot;
use scene::Layer;

use super::shown::{Shown, shown};
use crate::parts::lean::changing;
use crate::state::{App, app};

/// All layers of the plot under the headings of their diseases.
#[component]
pub fn LayerChoice() -> impl IntoView {
    let (app, shown) = (app(), shown());
    let choose = move |event| {
        let key = event_target_value(&event);
        if let Some(layer) = app.plot_now(|plot| Layer::from_key(plot, &key)).flatten() {
            shown.layer.set(layer);
        }
    };
    view! {
        <label class="map-layer">
            <span class="hidden-words">{say!("Layer")}</span>
            <select on:change=choose>{changing(move || groups(app, shown))}</select>
        </label>
    }
}

fn groups(app: App, shown: Shown) -> AnyView {
    let chosen = shown.layer.get_untracked();
    let layers = app.plot(|plot| {
        let all = Layer::all(plot);
        let entry = |layer: &Layer| (layer.heading(plot), layer.key(plot), words(layer, plot));
        all.iter().map(|layer| (entry(layer), *layer == chosen)).collect::<Vec<_>>()
    });
    let layers = layers.unwrap_or_default();
    let same_heading = |a: &(Entry, bool), b: &(Entry, bool)| a.0.0 == b.0.0;
    let group = |layers: &[(Entry, bool)]| {
        let option = |((_, key, words), chosen): &(Entry, bool)| {
            let (key, words, chosen) = (key.clone(), words.clone(), *chosen);
            view! { <option value=key selected=chosen>{words}</option> }.into_any()
        };
        let options: Vec<AnyView> = layers.iter().map(option).collect();
        view! { <optgroup label=layers[0].0.0.clone()>{options}</optgroup> }.into_any()
    };
    layers.chunk_by(same_heading).map(group).collect::<Vec<_>>().into_any()
}

/// Heading, key and words.
type Entry = (String, String, String);

/// `Scab: verdict`; a closed choice shows no heading, so the words must stand alone.
fn words(layer: &Layer, plot: &Plot) -> String {
    let disease = layer.heading(plot);
    match layer {
        Layer::Verdict(_) => say!("{disease}: verdict"),
        Layer::Luck(_) => say!("{disease}: luck"),
        Layer::Dose(_) => say!("{disease}: dose"),
        Layer::Pressure(_) => say!("{disease}: pressure"),
        Layer::Leftover(_) => say!("{disease}: left over"),
        Layer::Trait(_) | Layer::Vigour | Layer::Cross => layer.label(plot),
    }
}
