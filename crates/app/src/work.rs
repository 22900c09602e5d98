//! What runs beside the page, and the clock and chance that are handed in from outside.

pub mod clock;
