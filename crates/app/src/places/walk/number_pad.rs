//! A pad for a measured number: digits, a point, and one key that takes it.

use language::{decimal, say};
use leptos::prelude::*;
use walk::Command;

use super::walker::Walker;

/// The pad's keys, row by row.
const KEYS: [&str; 12] = ["1", "2", "3", "4", "5", "6", "7", "8", "9", ".", "0", "⌫"];

/// The pad.
#[component]
pub fn NumberPad(
    walker: Walker,
    label: String,
    unit: Option<String>,
    min: Option<f64>,
    max: Option<f64>,
) -> impl IntoView {
    let typed = RwSignal::new(String::new());
    let unit = unit.unwrap_or_default();
    let take = {
        let unit = unit.clone();
        move || {
            if let Ok(value) = typed.get_untracked().parse::<f64>() {
                let words = format!("{} {unit}", decimal(value.to_string()));
                walker.say_of_tree(Command::Score(value), words.trim());
                typed.set(String::new());
            }
        }
    };
    let take_by_key = take.clone();
    let press = move |key: &str| {
        typed.update(|typed| match key {
            "⌫" => {
                typed.pop();
            }
            "." if typed.contains('.') => {}
            key => typed.push_str(key),
        });
    };
    let shown = |number: f64| decimal(number.to_string());
    let range = match (min, max) {
        (Some(min), Some(max)) => {
            say!("from {min} to {max} {unit}", min = shown(min), max = shown(max))
        }
        (Some(min), None) => say!("at least {min} {unit}", min = shown(min)),
        (None, Some(max)) => say!("at most {max} {unit}", max = shown(max)),
        (None, None) => unit.clone(),
    };
    let key = move |key: &'static str| {
        let face = decimal(key.to_owned());
        let name =
            if key == "⌫" { say!("Take the last digit away").to_owned() } else { face.clone() };
        view! { <button class="pad-key" aria-label=name on:click=move |_| press(key)>{face}</button> }
    };
    view! {
        <fieldset class="walk-pad">
            <legend>{label} " " <span class="walk-range">{range}</span></legend>
            <input
                class="pad-shown"
                type="text"
                inputmode="none"
                aria-label=say!("The number")
                prop:value=move || decimal(typed.get())
                on:input=move |event| typed.set(event_target_value(&event).replace(',', "."))
                on:keydown=move |event| {
                    if event.key() == "Enter" {
                        event.prevent_default();
                        take_by_key();
                    }
                }
            />
            <div class="pad-keys">{KEYS.map(key)}</div>
            <button
                class="walk-key pad-take"
                disabled=move || typed.with(|typed| typed.parse::<f64>().is_err())
                on:click=move |_| take()
            >
                {move || typed.with(|typed| if typed.is_empty() {
                    say!("Type the number").to_owned()
                } else {
                    say!("Take {typed} {unit}", typed = decimal(typed.clone()))
                })}
            </button>
        </fieldset>
    }
}
