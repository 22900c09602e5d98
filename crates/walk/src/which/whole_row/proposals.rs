//! A difference said in words, and what may be done about it.

use language::say;
use plot::{Act, Plot, Stand, Status, TreeField, TreeIx};

use super::{Difference, Differs};
use crate::Sure;

impl Difference {
    /// How sure it is, in words; nothing where it is nearly certain.
    pub fn doubt(&self) -> Option<&'static str> {
        match Sure::of(self.probability) {
            Sure::NearlyCertain => None,
            Sure::Likely => Some(say!("likely")),
            Sure::Perhaps => Some(say!("perhaps; it may be a neighbour")),
            Sure::CannotTell => Some(say!("it cannot be told from its neighbours")),
        }
    }
}

impl Differs {
    /// `Place 12: MB-34 is not there.`
    pub fn sentence(&self, plot: &Plot) -> String {
        let name = |tree: TreeIx| plot.tree(tree).name();
        let at = |tree: TreeIx, said: String| match plot.tree(tree).place() {
            Some(place) => say!("Place {place}: {said}"),
            None => said,
        };
        let says = |tag: &Option<String>| match tag {
            Some(tag) => say!("its tag says {tag}"),
            None => say!("it has no tag").to_owned(),
        };
        match self {
            Self::Missing(tree) => at(*tree, say!("{tree} is not there.", tree = name(*tree))),
            Self::NoTag(tree) => at(*tree, say!("{tree} shows no tag.", tree = name(*tree))),
            Self::OtherTag(tree, tag) => {
                at(*tree, say!("the tag says {tag}, the list {tree}.", tree = name(*tree)))
            }
            Self::NewTag(tree, tag) => at(*tree, say!("the tag says {tag}, the list has none.")),
            Self::Stands(tree, tag) => {
                let written = written(&name(*tree), plot.tree(*tree).status());
                let tag = says(tag);
                at(*tree, say!("{written}, yet a tree stands there; {tag}."))
            }
            Self::NotListed { after, before, tag } => {
                let place = match (after.map(name), before.map(name)) {
                    (Some(after), Some(before)) => say!("Between {after} and {before}"),
                    (Some(after), None) => say!("Behind {after}, at the row's end"),
                    (None, Some(before)) => say!("Before {before}, at the row's end"),
                    (None, None) => say!("In the row").to_owned(),
                };
                say!("{place}: a tree that is not on the list; {tag}.", tag = says(tag))
            }
        }
    }

    /// What may be done about it, each with the words of its button.
    pub fn proposals(&self, plot: &Plot) -> Vec<(String, Act)> {
        let id = |tree: TreeIx| plot.tree(tree).id().clone();
        let tagged = |tag: &Option<String>| -> Vec<(TreeField, String)> {
            tag.iter().map(|tag| (TreeField::Tag, tag.clone())).collect()
        };
        let retag = |tree: TreeIx, tag: &String| {
            let cells = vec![(TreeField::Tag, tag.clone())];
            (say!("Its tag is {tag}"), Act::Relabel { tree: id(tree), cells, truly: true })
        };
        let enter = |stand, tag| (say!("Enter it").to_owned(), Act::Enter(stand, tagged(tag)));
        match self {
            Self::Missing(tree) => vec![
                (say!("It died").to_owned(), Act::Gone(id(*tree), Status::Dead)),
                (say!("Taken out").to_owned(), Act::Gone(id(*tree), Status::Removed)),
            ],
            Self::NoTag(tree) => {
                vec![(say!("Note it").to_owned(), Act::Note(id(*tree), "no tag".to_owned()))]
            }
            Self::OtherTag(tree, tag) | Self::NewTag(tree, tag) => vec![retag(*tree, tag)],
            Self::Stands(tree, tag) => {
                let another = enter(Stand::With(id(*tree)), tag);
                if plot.tree(*tree).status() == Status::Empty {
                    return vec![another];
                }
                let cells =
                    [(TreeField::Status, Status::Alive.as_str()), (TreeField::RemovedOn, "")];
                let cells = cells.map(|(field, text)| (field, text.to_owned())).to_vec();
                let alive = Act::Relabel { tree: id(*tree), cells, truly: false };
                vec![
                    (say!("It lives").to_owned(), alive),
                    (say!("Another tree").to_owned(), another.1),
                ]
            }
            Self::NotListed { after: Some(after), tag, .. } => {
                vec![enter(Stand::Behind(id(*after)), tag)]
            }
            Self::NotListed { before: Some(before), tag, .. } => {
                let at = plot.tree(*before).row().zip(plot.tree(*before).place());
                let stand = at.map(|(row, place)| Stand::At(row, place.saturating_sub(1)));
                stand.map(|stand| enter(stand, tag)).into_iter().collect()
            }
            Self::NotListed { .. } => Vec::new(),
        }
    }
}

/// How the list has a tree that stands all the same.
fn written(tree: &str, status: Status) -> String {
    match status {
        Status::Empty => say!("the place is written as empty").to_owned(),
        Status::Dead => say!("{tree} is written as dead"),
        Status::Removed => say!("{tree} is written as removed"),
        Status::Alive => say!("{tree} is written as alive"),
    }
}
