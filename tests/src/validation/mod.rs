//! How well `proof` judges made-up plots whose truth is known: trials, what they add up to, and
//! the page that shows it.

pub mod figure;
pub mod page;
pub mod planning;

pub mod summary;
pub mod targets;
pub mod trial;
