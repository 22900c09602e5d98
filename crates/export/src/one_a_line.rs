//! JSON with one thing a line: each is text before the next is made, so that large plots fit.

use serde_json::Value;

/// The list of the things between what comes before and after it, and how many they are.
pub(crate) fn list(
    before: &str,
    things: impl Iterator<Item = Value>,
    after: impl FnOnce(usize) -> String,
) -> Vec<u8> {
    let mut text = format!("{before}[");
    let mut count = 0;
    for thing in things {
        text.push_str(if count == 0 { "\n" } else { ",\n" });
        text.push_str(&thing.to_string());
        count += 1;
    }
    text.push_str("\n]");
    text.push_str(&after(count));
    text.into_bytes()
}
