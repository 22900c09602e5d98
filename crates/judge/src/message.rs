//! What page and judge say to each other.

use plot::Season;
use proof::Report;
use serde::{Deserialize, Serialize};
use serde_bytes::Bytes;

/// What is to be judged.
#[derive(Clone, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
pub struct Question {
    /// The disease.
    pub disease: String,
    /// Only these seasons; empty: all.
    pub seasons: Vec<Season>,
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
}
