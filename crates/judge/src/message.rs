//! What page and judge say to each other.

use plot::{Season, TraitIx};
use proof::Report;
use serde::{Deserialize, Serialize};
use serde_bytes::Bytes;
use vigour::{Link, Trend, Vigour};

/// What is to be judged.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Question {
    /// The disease.
    pub disease: String,
    /// Only these seasons; empty: all.
    pub seasons: Vec<Season>,
}

/// Of which trait the vigour is to be told, and how it is adjusted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct Growing {
    /// The trait.
    pub trait_ix: TraitIx,
    /// The trend of the field that is taken out; none: the best by restricted likelihood.
    pub trend: Option<Trend>,
}

/// How strongly trees grow, and how diseases go with that.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
pub struct Grown {
    /// By tree and by season.
    pub vigour: Vigour,
    /// By disease of the plot.
    pub links: Vec<(String, Link)>,
}

/// What the page says to the judge.
#[derive(Debug, Serialize, Deserialize)]
pub enum ToJudge<'a> {
    /// From now on it is about another plot, whose files come in pieces.
    Plot,
    /// So much more of a file of the plot.
    Piece {
        /// The file's name.
        file: &'a str,
        /// Bytes of the whole file.
        of: u64,
        /// The bytes that come next.
        #[serde(borrow)]
        bytes: &'a Bytes,
    },
    /// A line was added to `scores.csv`.
    Line(#[serde(borrow)] &'a Bytes),
    /// Judge, in place of whatever runs.
    Judge {
        /// What is asked.
        question: Question,
        /// The plot's version, to come back with the answer.
        version: u64,
    },
    /// Tell the vigour of the trees, in place of whatever runs.
    Grow {
        /// What is asked.
        growing: Growing,
        /// The plot's version, to come back with the answer.
        version: u64,
    },
    /// Stop whatever runs.
    Stop,
}

/// What the judge says to the page.
#[derive(Debug, Serialize, Deserialize)]
pub enum FromJudge {
    /// How far it is.
    Progress {
        /// As asked.
        question: Question,
        /// Steps done.
        done: u64,
        /// Steps in all, as far as is known.
        of: u64,
    },
    /// It is done.
    Done {
        /// As asked.
        question: Question,
        /// As asked.
        version: u64,
        /// What was found.
        report: Box<Report>,
    },
    /// It cannot be done, in words.
    Unusable {
        /// As asked.
        question: Question,
        /// As asked.
        version: u64,
        /// Why.
        why: String,
    },
    /// How far the models of vigour are.
    Grows {
        /// As asked.
        growing: Growing,
        /// Models fitted.
        done: u64,
        /// Models in all, at most.
        of: u64,
    },
    /// They are done; none: the plot cannot be read.
    Grown {
        /// As asked.
        growing: Growing,
        /// As asked.
        version: u64,
        /// What was found.
        found: Option<Box<Grown>>,
    },
}
