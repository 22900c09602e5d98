//! An edit as a record of a log: JSON, which a person can read when all else fails.

use std::borrow::Cow;
use std::collections::BTreeMap;

use plot::{Edit, EditId, EditPart, TreeField, TreeId, TreeLine, When};
use serde::{Deserialize, Serialize};

/// The record of an edit.
pub(crate) fn line(edit: &Edit) -> Vec<u8> {
    let parts = edit.parts.iter().map(Part::of).collect();
    let line = Line {
        id: edit.id.as_str().into(),
        words: edit.words.as_ref().into(),
        done_on: edit.done_on,
        undoes: edit.undoes.as_ref().map(|id| id.as_str().into()),
        parts,
    };
    serde_json::to_vec(&line).expect("words make JSON")
}

/// What a record says; an error in words where it is no edit.
pub(crate) fn edit(record: &[u8]) -> Result<Edit, String> {
    let line: Line<'_> = serde_json::from_slice(record).map_err(|error| error.to_string())?;
    Ok(Edit {
        id: EditId::new(line.id),
        words: line.words.into(),
        done_on: line.done_on,
        undoes: line.undoes.map(EditId::new),
        parts: line.parts.into_iter().map(Part::read).collect::<Result<_, _>>()?,
    })
}

#[derive(Serialize, Deserialize)]
struct Line<'a> {
    id: Cow<'a, str>,
    words: Cow<'a, str>,
    done_on: When,
    #[serde(default, skip_serializing_if = "Option::is_none")]
    undoes: Option<Cow<'a, str>>,
    parts: Vec<Part<'a>>,
}

#[derive(Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
enum Part<'a> {
    Add(Cells<'a>),
    Set { tree_id: Cow<'a, str>, column: Cow<'a, str>, from: Cow<'a, str>, to: Cow<'a, str> },
    TakeOut(Cells<'a>),
    Lie { from: Cow<'a, str>, to: Cow<'a, str> },
}

/// The cells of a line by their columns, `tree_id` among them.
type Cells<'a> = BTreeMap<Cow<'a, str>, Cow<'a, str>>;

impl<'a> Part<'a> {
    fn of(part: &'a EditPart) -> Self {
        match part {
            EditPart::Add(line) => Self::Add(cells(line)),
            EditPart::TakeOut(line) => Self::TakeOut(cells(line)),
            EditPart::Set { tree, field, from, to } => Self::Set {
                tree_id: tree.as_str().into(),
                column: field.as_str().into(),
                from: from.as_ref().into(),
                to: to.as_ref().into(),
            },
            EditPart::Lie { from, to } => {
                Self::Lie { from: from.as_ref().into(), to: to.as_ref().into() }
            }
        }
    }

    fn read(self) -> Result<EditPart, String> {
        Ok(match self {
            Self::Add(cells) => EditPart::Add(tree_line(cells)?),
            Self::TakeOut(cells) => EditPart::TakeOut(tree_line(cells)?),
            Self::Set { tree_id, column, from, to } => EditPart::Set {
                tree: TreeId::new(tree_id),
                field: field(&column)?,
                from: from.into(),
                to: to.into(),
            },
            Self::Lie { from, to } => EditPart::Lie { from: from.into(), to: to.into() },
        })
    }
}

fn cells(line: &TreeLine) -> Cells<'_> {
    let cells = line.cells.iter().map(|(field, text)| (field.as_str().into(), (&**text).into()));
    cells.chain([(ID.into(), line.id.as_str().into())]).collect()
}

const ID: &str = "tree_id";

fn tree_line(mut cells: Cells<'_>) -> Result<TreeLine, String> {
    let id = cells.remove(ID).ok_or("a line without tree_id")?;
    cells.into_iter().try_fold(TreeLine::new(TreeId::new(id)), |line, (column, text)| {
        Ok(line.with(field(&column)?, text))
    })
}

fn field(column: &str) -> Result<TreeField, String> {
    TreeField::parse(column).ok_or_else(|| format!("no such column: {column}"))
}
