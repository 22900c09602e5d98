//! What crosses crates: reference values, goldens, the contract of the command line, and how well
//! made-up plots are judged.

pub mod pepper;
pub mod validation;
