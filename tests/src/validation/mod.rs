//! How well `proof` judges made-up plots whose truth is known.

pub mod trial;
