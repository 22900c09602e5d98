//! Changes of a tree's cell as lines of a log: what the cell said, what it says now, when and by
//! whom.

use language::say;
use plot::{ScoreId, TreeCell, TreeChange, TreeId, When};

use crate::table::{Line, columns};
use crate::written::Lines;

columns!(ChangeColumn:
    TreeId = "tree_id", Cell = "column", From = "from", To = "to", ChangedOn = "changed_on",
    Round = "round", Scorer = "scorer", After = "after",
);
use ChangeColumn as C;

/// The line of a change, with its end; there is no header.
pub(crate) fn line(change: &TreeChange) -> Vec<u8> {
    let when = change.changed_on.to_string();
    let after = change.after.as_ref().map_or("", ScoreId::as_str);
    let mut line = Lines::new(false);
    line.push(
        [
            change.tree.as_str(),
            change.cell.as_str(),
            &change.from,
            &change.to,
            &when,
            change.round.as_deref().unwrap_or_default(),
            change.scorer.as_deref().unwrap_or_default(),
            after,
        ]
        .into_iter(),
    );
    line.into_bytes()
}

/// What a line says; none when anything in it was refused.
pub(crate) fn change(line: &mut Line<'_>) -> Option<TreeChange> {
    let tree = line.needed(C::TreeId, || say!("the tree_id of a tree"));
    let cell = line.read(C::Cell, || say!("status or note"), TreeCell::parse);
    let when =
        line.read(C::ChangedOn, || say!("a date, or date and time with offset"), When::parse);
    let text = |column| line.text(column).map(Into::into);
    Some(TreeChange {
        from: text(C::From).unwrap_or_default(),
        to: text(C::To).unwrap_or_default(),
        round: text(C::Round),
        scorer: text(C::Scorer),
        after: line.text(C::After).map(ScoreId::new),
        tree: TreeId::new(tree?),
        cell: cell?,
        changed_on: when?,
    })
}
