//! Texts as sentences and refusals put them.

use language::say;

/// The same text with its first letter large.
pub fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// A text in quotation marks; an empty one is `nothing`.
pub(crate) fn quoted(text: &str) -> String {
    if text.is_empty() { say!("nothing").to_owned() } else { format!("\"{text}\"") }
}

/// What a cell says of a value; empty without one.
pub(crate) fn cell_of<T: ToString>(value: Option<T>) -> String {
    value.map(|value| value.to_string()).unwrap_or_default()
}
