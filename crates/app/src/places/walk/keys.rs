//! The keys of a scale: large, under the thumb, with the scale's words in view.

use language::{decimal, say};
use leptos::prelude::*;
use plot::{Kind, Scale, Step};
use walk::{Command, Content};

use super::head::words_of;
use super::number_pad::NumberPad;
use super::walker::Walker;

/// The keys of the trait that is asked for: made anew only when another trait is asked for.
#[component]
pub fn Keys(walker: Walker) -> impl IntoView {
    let slot = Memo::new(move |_| walker.read(|walk| walk.cursor().map(|at| at.slot)).flatten());
    let said = move || {
        walker
            .read_on(|walk, plot| {
                let (asked, content) = (walk.asked()?, walk.content(walk.cursor()?));
                Some((words_of(plot, asked, content), content.is_open()))
            })
            .flatten()
            .unwrap_or_default()
    };
    let keys = move || {
        let slot = slot.get()?;
        let (label, kind) = walker.read_on_now(|walk, plot| {
            let traits = &walk.setup().traits;
            let one = plot.trait_of(traits[slot]);
            let label = match traits.len() {
                1 => one.label.clone(),
                all => say!("{nth} of {all}: {label}", nth = slot + 1, label = one.label),
            };
            (label, one.kind.clone())
        })?;
        Some(match kind {
            Kind::Ordinal(scale) => view! { <ScaleKeys walker label scale /> }.into_any(),
            Kind::Number { unit, min, max } => {
                view! { <NumberPad walker label unit min max /> }.into_any()
            }
        })
    };
    view! {
        <div class="walk-asked">
            {keys}
            <p class="walk-said" class:walk-open=move || said().1>{move || said().0}</p>
        </div>
    }
}

/// One key for each class of the scale, in the order of `plot.json`.
#[component]
pub fn ScaleKeys(walker: Walker, label: String, scale: Scale) -> impl IntoView {
    let says = move |value: f64| {
        let is_it = |content: &Content| matches!(content, Content::Scored { value: it, .. } if *it == value);
        walker.read(|walk| walk.cursor().is_some_and(|at| is_it(walk.content(at)))) == Some(true)
    };
    let steps: Vec<Step> = scale.steps().to_vec();
    let columns = if steps.len() > 4 { "two" } else { "one" };
    let rows = steps.len().div_ceil(2).to_string();
    let key = move |step: Step| {
        let Step { value, label, severity } = step;
        let words = format!("{} {label}", decimal(value.to_string()));
        let digit = digit_of(value);
        // The length of the bar is the share of tissue affected; roots let small shares be seen.
        let share = severity.filter(|&it| it > 0.0).map(|it| format!("{:.3}", it.sqrt()));
        view! {
            <button
                class="walk-key"
                class:walk-clean=severity == Some(0.0)
                aria-pressed=move || says(value).to_string()
                aria-keyshortcuts=digit
                on:click=move |_| walker.say_of_tree(Command::Score(value), &words)
            >
                <span class="walk-value">{decimal(value.to_string())}</span>
                <span class="walk-label">{label}</span>
                {share.map(|share| view! { <span class="walk-share" style=("--share", share) aria-hidden="true"></span> })}
            </button>
        }
    };
    view! {
        <fieldset class="walk-keys" data-columns=columns style=("--rows", rows)>
            <legend>{label}</legend>
            {steps.into_iter().map(|step| key(step).into_any()).collect_view()}
        </fieldset>
    }
}

/// The class that a key of the keyboard stands for, with its words.
pub fn key_for(walker: Walker, key: &str) -> Option<(f64, String)> {
    walker
        .read_on(|walk, plot| {
            let Kind::Ordinal(scale) = &plot.trait_of(walk.asked()?).kind else { return None };
            let step =
                scale.steps().iter().find(|step| digit_of(step.value).as_deref() == Some(key))?;
            Some((step.value, format!("{} {}", decimal(step.value.to_string()), step.label)))
        })
        .flatten()
}

/// A value of one digit is that key, and 10 is 0 where the scale has no 0 of its own.
fn digit_of(value: f64) -> Option<String> {
    match value.to_string() {
        digit if digit.len() == 1 => Some(digit),
        ten if ten == "10" => Some("0".to_owned()),
        _ => None,
    }
}
