//! Names that files use for things, and the small numbers by which a loaded plot holds them.

use serde::{Deserialize, Serialize};
use std::fmt;

macro_rules! name {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        pub struct $name(Box<str>);

        impl $name {
            /// Wraps a name as it stands in a file.
            pub fn new(text: impl Into<Box<str>>) -> Self {
                Self(text.into())
            }
            /// The name as it stands in a file.
            pub fn as_str(&self) -> &str {
                &self.0
            }
        }
        impl fmt::Display for $name {
            fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
                f.write_str(&self.0)
            }
        }
        impl std::borrow::Borrow<str> for $name {
            fn borrow(&self) -> &str {
                &self.0
            }
        }
    };
}

macro_rules! index {
    ($(#[$doc:meta])* $name:ident) => {
        $(#[$doc])*
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
        pub struct $name(u32);

        impl $name {
            /// From a position in the plot's list.
            ///
            /// # Panics
            /// When the list would hold more than `u32::MAX` things.
            pub fn new(position: usize) -> Self {
                Self(u32::try_from(position).expect("a plot holds fewer than 2^32 things"))
            }
            /// The position in the plot's list.
            pub fn get(self) -> usize {
                self.0 as usize
            }
        }
        impl From<$name> for u32 {
            fn from(index: $name) -> Self {
                index.0
            }
        }
    };
}

name!(
    /// A tree's or graft's own name: unique in the plot, never used again.
    TreeId
);
name!(
    /// The name shared by copies of one genotype.
    GenotypeId
);
name!(
    /// A trait's name, as the `trait` column of `scores.csv` says it.
    TraitId
);
name!(
    /// A score's name: unique for ever, also between two phones.
    ScoreId
);
name!(
    /// An edit's name: unique for ever, also between two phones.
    EditId
);
name!(
    /// A decision's name: unique for ever, also between two phones.
    DecisionId
);
index!(
    /// A tree within a loaded [`Plot`](crate::Plot).
    TreeIx
);
index!(
    /// A trait within a loaded [`Plot`](crate::Plot).
    TraitIx
);
index!(
    /// A score within a loaded [`Plot`](crate::Plot).
    ScoreIx
);
