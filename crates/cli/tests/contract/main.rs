//! The contract of `leeward` on plot folders: what goes to standard output, what to standard
//! error, and how it ends.

mod bad_input;
mod docs;
mod ends;
mod export;
mod hostile;
mod many;
mod merge;
mod near;
mod pepper;
mod plan;
mod plots;
mod print;
mod progress;
mod proof;
mod run;
mod vigour;
mod zip;
