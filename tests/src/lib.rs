//! What crosses crates: reference values, goldens, the contract of the command line, how well
//! made-up plots are judged, and what means harm.

pub mod hostile;
pub mod pepper;
pub mod validation;
