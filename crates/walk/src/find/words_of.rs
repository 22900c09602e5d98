//! The words by which one tree can be asked for.

use plot::Tree;

use super::fold;

/// What of a tree was matched.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Field {
    /// What its tag says.
    Tag,
    /// The genotype it is a copy of.
    Genotype,
    /// Its number within cross and year.
    SeedlingNo,
    /// Its id.
    Id,
    /// One of its parents.
    Parent,
    /// The year of the cross.
    CrossYear,
    /// A word of its note.
    Note,
    /// Its row and place.
    Place,
    /// Its short code.
    Code,
}

/// One folded word of a tree.
pub(super) struct Word<'a> {
    pub(super) folded: String,
    pub(super) field: Field,
    /// All of the field, not one piece of it.
    pub(super) whole: bool,
    /// The field as the plot writes it.
    pub(super) written: std::borrow::Cow<'a, str>,
}

/// All words of a tree, in the order of the fields, each whole before its pieces.
pub(super) fn words_of(tree: &Tree) -> Vec<Word<'_>> {
    let draft = tree.draft();
    let year = draft.cross_year.map(|year| year.to_string());
    let fields = [
        (Field::Tag, tree.tag().map(Into::into)),
        (Field::Genotype, draft.genotype.as_ref().map(|it| it.as_str().into())),
        (Field::SeedlingNo, draft.seedling_no.as_deref().map(Into::into)),
        (Field::Id, Some(tree.id().as_str().into())),
        (Field::Parent, tree.cross().seed_parent.as_deref().map(Into::into)),
        (Field::Parent, tree.cross().pollen_parent.as_deref().map(Into::into)),
        (Field::CrossYear, year.map(Into::into)),
        (Field::Note, draft.note.as_deref().map(Into::into)),
    ];
    let mut words: Vec<Word<'_>> = Vec::new();
    for (field, written) in fields {
        let Some(written): Option<std::borrow::Cow<'_, str>> = written else { continue };
        let pieces = fold::words(&written);
        let whole = pieces.concat();
        let mut add = |folded: String, whole: bool| {
            // The id is often the tag once more: the first field keeps the word, but all of a
            // field says more than a piece of one.
            let says_as_much = |word: &Word| word.folded == folded && (word.whole || !whole);
            if !folded.is_empty() && !words.iter().any(says_as_much) {
                words.push(Word { folded, field, whole, written: written.clone() });
            }
        };
        if field != Field::Note {
            add(whole, true);
        }
        if pieces.len() > 1 || field == Field::Note {
            pieces.into_iter().for_each(|piece| add(piece, false));
        }
    }
    words
}
