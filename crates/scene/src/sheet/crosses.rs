//! The sheet of crosses: which parents each tree has.

use std::collections::BTreeMap;

use language::say;
use plot::{CrossKey, Role, Status, Tree};

use super::{Draft, Found, Sources};
use crate::{Class, Kind};

/// Whose child a tree is.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Kin<'a> {
    Cross(&'a CrossKey),
    Sort,
    Unknown,
}

pub(super) fn draft(sources: Sources<'_>) -> Draft {
    let mut counts: BTreeMap<Kin<'_>, usize> = BTreeMap::new();
    for tree in sources.plot.trees().iter().filter(|tree| tree.status() != Status::Empty) {
        *counts.entry(kin(tree)).or_default() += 1;
    }
    // The most frequent have a look of their own, listed by name.
    let mut crosses: Vec<(&CrossKey, usize)> = counts
        .iter()
        .filter_map(|(kin, count)| match kin {
            Kin::Cross(key) => Some((*key, *count)),
            _ => None,
        })
        .collect();
    crosses.sort_by(|a, b| b.1.cmp(&a.1).then(a.0.cmp(b.0)));
    let more = crosses.len().saturating_sub(Kind::MEMBERS);
    crosses.truncate(Kind::MEMBERS);
    crosses.sort();

    let mut classes: Vec<Class> = crosses
        .iter()
        .enumerate()
        .map(|(nth, (key, _))| Class::new(Kind::Member(nth as u8), key.to_string()))
        .collect();
    let code: BTreeMap<&CrossKey, u8> = crosses.iter().map(|(key, _)| *key).zip(0..).collect();
    let mut add = |kind, label: String| {
        classes.push(Class::new(kind, label));
        (classes.len() - 1) as u8
    };
    let others = (more > 0).then(|| add(Kind::Other, say!("{more} other crosses")));
    let sorts = counts.contains_key(&Kin::Sort);
    let sorts = sorts.then(|| add(Kind::Sort, say!("named sort, check or guard").to_owned()));
    let unknown = counts.contains_key(&Kin::Unknown);
    let unknown = unknown.then(|| add(Kind::CannotTell, say!("parents unknown").to_owned()));
    let found = |tree: &Tree| {
        let class = match kin(tree) {
            Kin::Cross(key) => code.get(key).copied().or(others),
            Kin::Sort => sorts,
            Kin::Unknown => unknown,
        };
        class.map_or(Found::NotScored, Found::Class)
    };
    Draft {
        title: say!("Cross: seed parent × pollen parent").to_owned(),
        notes: Vec::new(),
        classes,
        class_of: sources.plot.trees().iter().map(found).collect(),
    }
}

fn kin(tree: &Tree) -> Kin<'_> {
    match tree.role() {
        _ if !tree.cross().is_unknown() => Kin::Cross(tree.cross()),
        Role::Seedling => Kin::Unknown,
        _ => Kin::Sort,
    }
}
