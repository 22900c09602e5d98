//! What will be scored in a new plot: the traits of the known diseases, and how strongly trees grow.

use files::{PlantingForm, Starter, chosen_traits, starters};
use language::{said, say, text};
use leptos::prelude::*;
use plot::{Kind, Trait, TraitId};

pub(super) const LEGEND: &str = text!("What will be scored");

/// Boxes to tick; what a ticked trait needs is ticked with it.
#[component]
pub(super) fn TraitChoice(form: RwSignal<PlantingForm>) -> impl IntoView {
    let all = StoredValue::new(starters());
    let ticked = RwSignal::new(ids(form));
    let toggle = move |id: &TraitId, wanted: bool| {
        ticked.update(|ticked| {
            ticked.retain(|it| it != id);
            ticked.extend(wanted.then(|| id.clone()));
        });
        let traits = ticked.with_untracked(|ticked| chosen_traits(|id| ticked.contains(id)));
        form.update(|form| form.traits = traits);
    };
    let tick = move |one: &Trait| {
        let (id, of) = (one.id.clone(), one.id.clone());
        let is_needed = Memo::new(move |_| {
            let needs = |it: &Starter| it.one.needs.as_ref().is_some_and(|it| it.trait_id == of);
            let is_ticked = |it: &Starter| ticked.with(|ticked| ticked.contains(&it.one.id));
            all.with_value(|all| all.iter().any(|it| needs(it) && is_ticked(it)))
        });
        let of = one.id.clone();
        let is_ticked = move || is_needed.get() || ticked.with(|ticked| ticked.contains(&of));
        view! {
            <label class="check">
                <input type="checkbox" prop:checked=is_ticked disabled=is_needed
                    on:change=move |event| toggle(&id, event_target_checked(&event)) />
                {one.label.clone()}
            </label>
        }
        .into_any()
    };
    let boxes = all.with_value(|all| all.iter().map(|it| tick(&it.one)).collect_view());
    let needs = move || {
        let lines =
            form.with(|form| form.traits.iter().filter_map(|one| need(form, one)).collect());
        let lines: Vec<String> = lines;
        lines.into_iter().map(|line| view! { <p class="hint">{line}</p> }).collect_view()
    };
    view! {
        <fieldset class="field-wide">
            <legend>{said(LEGEND)}</legend>
            {boxes}
            {needs}
        </fieldset>
    }
}

fn ids(form: RwSignal<PlantingForm>) -> Vec<TraitId> {
    form.with_untracked(|form| form.traits.iter().map(|one| one.id.clone()).collect())
}

/// What a trait needs to count, in words.
fn need(form: &PlantingForm, one: &Trait) -> Option<String> {
    let needs = one.needs.as_ref()?;
    let needed = form.traits.iter().find(|it| it.id == needs.trait_id)?;
    let least = match &needed.kind {
        Kind::Ordinal(scale) => scale.step(needs.at_least)?.label.clone(),
        Kind::Number { .. } => language::decimal(needs.at_least.to_string()),
    };
    Some(say!(
        "{trait_name}: a tree is clean only in a season in which {needed} was scored on it too, at least '{least}'.",
        trait_name = one.label,
        needed = needed.label
    ))
}
