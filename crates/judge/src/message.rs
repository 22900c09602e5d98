//! What page and judge say to each other.

use files::FileSet;
use plot::Season;
use proof::Report;
use serde::{Deserialize, Serialize};
use serde_bytes::ByteBuf;

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
pub enum ToJudge {
    /// From now on it is about this plot.
    Plot(Files),
    /// A line was added to `scores.csv`.
    Line(ByteBuf),
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

/// A plot folder's files as they travel.
#[derive(Debug, Serialize, Deserialize)]
pub struct Files(Vec<(String, ByteBuf)>);

impl Files {
    /// Name and bytes of each.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &[u8])> {
        self.0.iter().map(|(name, bytes)| (name.as_str(), bytes.as_slice()))
    }
}

impl From<FileSet> for Files {
    fn from(files: FileSet) -> Self {
        Self(files.into_iter().map(|(name, bytes)| (name, ByteBuf::from(bytes))).collect())
    }
}

impl From<&FileSet> for Files {
    fn from(files: &FileSet) -> Self {
        files.clone().into()
    }
}

impl From<Files> for FileSet {
    fn from(files: Files) -> Self {
        files.0.into_iter().map(|(name, bytes)| (name, bytes.into_vec())).collect()
    }
}
