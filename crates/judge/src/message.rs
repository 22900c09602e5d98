//! What page and judge say to each other.

use std::borrow::Cow;

use files::FileSet;
use plot::Season;
use proof::Report;
use serde::{Deserialize, Deserializer, Serialize};
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
pub enum ToJudge<'a> {
    /// From now on it is about this plot.
    Plot(Files<'a>),
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

/// A plot folder's files as they travel: lent by who sends them, owned by who gets them.
#[derive(Debug, Serialize, Deserialize)]
pub struct Files<'a>(Vec<File<'a>>);

#[derive(Debug, Serialize, Deserialize)]
struct File<'a> {
    name: Cow<'a, str>,
    #[serde(serialize_with = "serde_bytes::serialize", deserialize_with = "owned")]
    bytes: Cow<'a, [u8]>,
}

fn owned<'a, 'de, D: Deserializer<'de>>(wire: D) -> Result<Cow<'a, [u8]>, D::Error> {
    ByteBuf::deserialize(wire).map(|bytes| Cow::Owned(bytes.into_vec()))
}

impl<'a> Files<'a> {
    /// Lends files by name.
    pub fn lent(files: impl IntoIterator<Item = (&'a String, &'a Vec<u8>)>) -> Self {
        let file = |(name, bytes): (&'a String, &'a Vec<u8>)| File {
            name: Cow::Borrowed(name),
            bytes: Cow::Borrowed(bytes),
        };
        Self(files.into_iter().map(file).collect())
    }

    /// Name and bytes of each.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &[u8])> {
        self.0.iter().map(|file| (file.name.as_ref(), file.bytes.as_ref()))
    }
}

impl From<FileSet> for Files<'static> {
    fn from(files: FileSet) -> Self {
        let file = |(name, bytes)| File { name: Cow::Owned(name), bytes: Cow::Owned(bytes) };
        Self(files.into_iter().map(file).collect())
    }
}

impl From<Files<'_>> for FileSet {
    fn from(files: Files<'_>) -> Self {
        let file = |file: File<'_>| (file.name.into_owned(), file.bytes.into_owned());
        files.0.into_iter().map(file).collect()
    }
}
