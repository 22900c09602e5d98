//! A difference said in words, and what may be done about it.

use plot::{Act, Plot, Stand, Status, TreeField, TreeIx};

use super::{Difference, Differs};
use crate::Sure;

impl Difference {
    /// How sure it is, in words; nothing where it is nearly certain.
    pub fn doubt(&self) -> Option<&'static str> {
        match Sure::of(self.probability) {
            Sure::NearlyCertain => None,
            Sure::Likely => Some("likely"),
            Sure::Perhaps => Some("perhaps; it may be a neighbour"),
            Sure::CannotTell => Some("it cannot be told from its neighbours"),
        }
    }
}

impl Differs {
    /// `Place 12: MB-34 is not there.`
    pub fn sentence(&self, plot: &Plot) -> String {
        let name = |tree: TreeIx| plot.tree(tree).name();
        let at = |tree: TreeIx| match plot.tree(tree).place() {
            Some(place) => format!("Place {place}: "),
            None => String::new(),
        };
        let says = |tag: &Option<String>| match tag {
            Some(tag) => format!("its tag says {tag}"),
            None => "it has no tag".to_owned(),
        };
        match self {
            Self::Missing(tree) => format!("{}{} is not there.", at(*tree), name(*tree)),
            Self::NoTag(tree) => format!("{}{} shows no tag.", at(*tree), name(*tree)),
            Self::OtherTag(tree, tag) => {
                format!("{}the tag says {tag}, the list {}.", at(*tree), name(*tree))
            }
            Self::NewTag(tree, tag) => {
                format!("{}the tag says {tag}, the list has none.", at(*tree))
            }
            Self::Stands(tree, tag) => {
                let written = match plot.tree(*tree).status() {
                    Status::Empty => "the place is written as empty".to_owned(),
                    status => format!("{} is written as {}", name(*tree), status.as_str()),
                };
                format!("{}{written}, yet a tree stands there; {}.", at(*tree), says(tag))
            }
            Self::NotListed { after, before, tag } => {
                let place = match (after, before) {
                    (Some(after), Some(before)) => {
                        format!("Between {} and {}", name(*after), name(*before))
                    }
                    (Some(after), None) => format!("Behind {}, at the row's end", name(*after)),
                    (None, Some(before)) => format!("Before {}, at the row's end", name(*before)),
                    (None, None) => "In the row".to_owned(),
                };
                format!("{place}: a tree that is not on the list; {}.", says(tag))
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
            (format!("Its tag is {tag}"), Act::Relabel { tree: id(tree), cells, truly: true })
        };
        let enter = |stand, tag| ("Enter it".to_owned(), Act::Enter(stand, tagged(tag)));
        match self {
            Self::Missing(tree) => vec![
                ("It died".to_owned(), Act::Gone(id(*tree), Status::Dead)),
                ("Taken out".to_owned(), Act::Gone(id(*tree), Status::Removed)),
            ],
            Self::NoTag(tree) => {
                vec![("Note it".to_owned(), Act::Note(id(*tree), "no tag".to_owned()))]
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
                vec![("It lives".to_owned(), alive), ("Another tree".to_owned(), another.1)]
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
