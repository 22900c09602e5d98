//! How the page is for whoever sees, hears or handles it otherwise: what the journeys of it counted.

use std::fmt::Write as _;
use std::fs;

use anyhow::{Context, Result};
use serde_json::Value;

use crate::shell::top;

/// The journeys that count.
const JOURNEYS: [&str; 4] = ["access", "keyboard", "reading", "colours"];
/// Sizes and themes of each look.
const LOOKS_EACH: usize = 4;

/// What was looked at and found; runs the journeys that have not counted yet.
pub(super) fn figures() -> Result<String> {
    let missing: Vec<&str> = JOURNEYS.into_iter().filter(|name| counted(name).is_err()).collect();
    if !missing.is_empty() {
        crate::test::journeys(&missing)?;
    }
    let [access, keyboard, reading, colours] = JOURNEYS.map(counted);
    let (access, keyboard, reading, colours) = (access?, keyboard?, reading?, colours?);
    let mut text = String::from("| what | looked at | found |\n| --- | --- | --- |\n");
    let elsewhere = elsewhere()?;
    writeln!(
        text,
        "| axe: WCAG 2.2 A and AA, good practice | {} states × phone and laptop × day and evening = {} looks | {} violations |",
        len(&access["states"]),
        access["looks"],
        access["violations"],
    )?;
    writeln!(
        text,
        "| axe: WCAG 2.2 A and AA, in the other journeys | {elsewhere} states, {} looks | a journey fails at the first violation |",
        elsewhere * LOOKS_EACH,
    )?;
    writeln!(
        text,
        "| names, headings and landmarks in the browser's accessibility tree | the same {} states | {} named things, none without a name |",
        len(&access["states"]),
        access["names"],
    )?;
    writeln!(
        text,
        "| the three uses by keys alone | {} stops on the way | each named, seen, marked, 24 px or larger |",
        keyboard["stops"],
    )?;
    let mut ways: Vec<String> = Vec::new();
    for (way, states) in reading.as_object().into_iter().flatten() {
        ways.push(format!("{way} {states}"));
    }
    writeln!(
        text,
        "| ways of reading | states for each: {} | nothing cut or told by colour alone |",
        ways.join(", ")
    )?;
    text.push_str("\nStops of the Tab key: ");
    let mut stops: Vec<String> = Vec::new();
    for (place, count) in keyboard["tabStops"].as_object().into_iter().flatten() {
        stops.push(format!("{place} {count}"));
    }
    writeln!(text, "{}.\n", stops.join(", "))?;
    text.push_str("| theme | pairs | least contrast of words (4.5 wanted) | of borders and rings (3 wanted) |\n| --- | --- | --- | --- |\n");
    for (theme, found) in colours.as_object().into_iter().flatten() {
        writeln!(
            text,
            "| {theme} | {} | {} | {} |",
            found["pairs"],
            least(&found["words"]),
            least(&found["edges"])
        )?;
    }
    Ok(text)
}

/// What a journey counted.
pub(super) fn counted(journey: &str) -> Result<Value> {
    let file = top().join(format!("tests/artefacts/counted-{journey}.json"));
    let text = fs::read(&file).with_context(|| format!("no {}", file.display()))?;
    Ok(serde_json::from_slice(&text)?)
}

/// States that journeys have looked at in passing.
fn elsewhere() -> Result<usize> {
    let mut states = 0;
    for entry in fs::read_dir(top().join("tests/browser/journeys"))? {
        states += fs::read_to_string(entry?.path())?.matches("await looks(page, ").count();
    }
    Ok(states)
}

fn len(list: &Value) -> usize {
    list.as_array().map_or(0, Vec::len)
}

fn least(pair: &Value) -> String {
    let words = |key: &str| pair[key].as_str().unwrap_or_default().to_owned();
    let contrast = pair["contrast"].as_f64().unwrap_or_default();
    format!("{contrast:.2}: {} on {}", words("on"), words("ground"))
}
