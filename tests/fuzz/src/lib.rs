//! What each fuzz target does with its bytes, and the laws that hold whatever they are.
//!
//! A target that needs several pieces takes them apart at [`PART`], so that its seeds stay files
//! that a person can read.

mod folder;
mod imports;
mod kept;
mod laws;
mod united;

pub use folder::{decisions, disease, events, plot_json, scores, trees, weather};
pub use imports::{list, planting_list, receiver};
pub use kept::{archive, log};
pub use united::merge;

/// What parts the pieces of an input: the ASCII record separator.
pub const PART: u8 = 0x1e;

/// The pieces of an input.
fn parts(bytes: &[u8]) -> impl Iterator<Item = &[u8]> {
    bytes.split(|&byte| byte == PART)
}

/// A piece: its first line, and what stands below it.
fn headed(part: &[u8]) -> (String, &[u8]) {
    let end = part.iter().position(|&byte| byte == b'\n').unwrap_or(part.len());
    let below = part.get(end + 1..).unwrap_or_default();
    (String::from_utf8_lossy(&part[..end]).into_owned(), below)
}
