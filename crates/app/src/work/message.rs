//! What page and keeper say to each other.

use files::FileSet;
use serde::{Deserialize, Serialize};
use serde_bytes::{ByteBuf, Bytes};

/// What the page says to the keeper.
#[derive(Debug, Serialize, Deserialize)]
pub enum ToKeeper<'a> {
    /// Keep this plot from now on; the one kept so far stays on the shelf.
    Put(#[serde(borrow)] NewPlot<'a>),
    /// Keep this line of `scores.csv`.
    Append {
        /// Counts the lines of this page, from 1.
        nth: u64,
        /// The line, with its end.
        line: &'a Bytes,
    },
    /// Keep this change of a cell of `trees.csv`.
    Change {
        /// As in `Append`: lines and changes are counted together.
        nth: u64,
        /// The line that [`files::Book::change_tree`] gave.
        line: &'a Bytes,
    },
    /// Keep this edit of trees.
    Edit {
        /// As in `Append`.
        nth: u64,
        /// What [`files::Book::edit`] or [`files::Book::turn_over`] gave.
        record: &'a Bytes,
    },
    /// Keep this decision on a tree.
    Decision {
        /// As in `Append`.
        nth: u64,
        /// The line that [`files::Book::decide`] gave.
        line: &'a Bytes,
    },
    /// Keep this new file of the folder: a picture.
    File {
        /// As in `Append`: lines, changes, edits, decisions and files are counted together.
        nth: u64,
        /// Its path.
        path: String,
        /// Its bytes.
        bytes: &'a Bytes,
    },
    /// A copy outside of this browser now holds every line up to now.
    Copied {
        /// When it was made, milliseconds since 1970.
        at_ms: u64,
    },
    /// Take a plot from the shelf.
    Bring {
        /// Its id.
        id: String,
    },
    /// Forget a plot of the shelf for good.
    Drop {
        /// Its id.
        id: String,
    },
    /// Put the open plot on the shelf; nothing is open then.
    Close,
    /// Ask the tab that writes to hand over.
    TakeOver,
    /// Try once more to write what found no room.
    Again,
}

/// What the keeper says to the page.
#[derive(Debug, Serialize, Deserialize)]
pub enum FromKeeper {
    /// What it can do in this tab, and what it has kept; said at the start, after `Bring`, and
    /// when another tab handed over.
    Ready {
        /// What it can do.
        standing: Standing,
        /// The plot that was open last.
        plot: Option<Kept>,
    },
    /// The plots on the shelf, the newest first.
    Shelf(Vec<OnShelf>),
    /// The plot is on disk.
    PutDone,
    /// The plot could not be put on disk, in words: nothing of it is kept.
    NotPut(String),
    /// Every line up to the `nth` is on disk.
    Appended {
        /// As in [`ToKeeper::Append`].
        nth: u64,
    },
    /// Something could not be kept, in words; what was kept before stays.
    Trouble(String),
    /// Whether the tab that writes gives signs of life; said in one that only reads.
    Writer {
        /// Whether it does.
        is_awake: bool,
    },
}

/// What the keeper can do in this tab.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub enum Standing {
    /// It has not answered yet.
    #[default]
    Starting,
    /// Every score is written and flushed.
    Writing,
    /// Another tab writes; this one only reads.
    ReadOnly,
    /// This browser gives no storage: scores do not survive the tab.
    Nowhere,
    /// A newer version of this page has written what is kept: it was left as it is.
    Outdated,
}

/// A plot to be kept.
#[derive(Debug, Serialize, Deserialize)]
pub struct NewPlot<'a> {
    /// A new id.
    pub id: String,
    /// The plot's name.
    pub name: String,
    /// Its files.
    #[serde(borrow)]
    pub files: Files<&'a Bytes>,
    /// What copies outside hold.
    pub outside: Outside,
    /// Whether it is the open plot with more in it, which is not kept beside it then.
    pub takes_place: bool,
    /// Edits that the files hold already.
    pub past: Vec<ByteBuf>,
}

/// What a log holds of the trees.
#[derive(Debug, Serialize, Deserialize)]
pub enum OfTrees {
    /// Changes of cells.
    Changes(ByteBuf),
    /// An edit.
    Edit(ByteBuf),
    /// An edit that the files hold already.
    Past(ByteBuf),
}

/// What copies outside of this browser hold.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Outside {
    /// When the last one was made, milliseconds since 1970; none: there is none.
    pub at_ms: Option<u64>,
    /// Lines of `scores.csv` that it lacks.
    pub lacks: u64,
}

/// A plot as it was kept.
#[derive(Debug, Serialize, Deserialize)]
pub struct Kept {
    /// Its id.
    pub id: String,
    /// Its files as they were put.
    pub files: Files<ByteBuf>,
    /// The lines of `scores.csv` taken since.
    pub lines: ByteBuf,
    /// Decisions made since.
    pub decisions: ByteBuf,
    /// What was made of the trees since, in its order.
    pub trees: Vec<OfTrees>,
    /// What copies outside hold.
    pub outside: Outside,
    /// Bytes that could not be read back.
    pub torn: u64,
}

/// A plot on the shelf.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
pub struct OnShelf {
    /// Its id.
    pub id: String,
    /// Its name.
    pub name: String,
    /// When it was put, milliseconds since 1970.
    pub put_ms: u64,
    /// What copies outside hold.
    pub outside: Outside,
}

/// A plot folder's files as they travel, by name: lent, or one's own.
#[derive(Debug, Serialize, Deserialize)]
pub struct Files<B>(Vec<(String, B)>);

impl<'a> Files<&'a Bytes> {
    /// Lends the files of a folder.
    pub fn lent(files: &'a FileSet) -> Self {
        Self(files.iter().map(|(name, bytes)| (name.clone(), Bytes::new(bytes))).collect())
    }

    /// Name and bytes of each.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &'a [u8])> {
        self.0.iter().map(|(name, bytes)| (name.as_str(), &***bytes))
    }
}

impl From<FileSet> for Files<ByteBuf> {
    fn from(files: FileSet) -> Self {
        Self(files.into_iter().map(|(name, bytes)| (name, ByteBuf::from(bytes))).collect())
    }
}

impl From<Files<ByteBuf>> for FileSet {
    fn from(files: Files<ByteBuf>) -> Self {
        files.0.into_iter().map(|(name, bytes)| (name, bytes.into_vec())).collect()
    }
}
