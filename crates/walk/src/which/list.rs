//! The planting list: what is written of each place, made ready to be compared with what one sees.

use plot::{Plot, Status, TreeIx};

use crate::find::{How, Shape, Typed, folded_tag};
use crate::place_words::stands;
use crate::{Place, Rows};

/// The rows of a plot with their tags, built once and asked often.
#[derive(Clone, Debug)]
pub struct PlantingList {
    pub(super) rows: Vec<ListedRow>,
    /// Every folded tag once, in order.
    tags: Vec<String>,
}

#[derive(Clone, Debug)]
pub(super) struct ListedRow {
    pub(super) number: i32,
    pub(super) places: Vec<Stand>,
}

/// One place of the list, or one of several trees in it.
#[derive(Clone, Debug)]
pub(super) struct Stand {
    pub(super) tree: TreeIx,
    /// How probable it is that one meets a tree or stump there.
    pub(super) stands: f64,
    /// What may be read there; none: it is listed without a tag.
    pub(super) tags: Vec<TagOf>,
}

/// A tag that may hang at a place.
#[derive(Clone, Debug)]
pub(super) struct TagOf {
    pub(super) folded: String,
    written: std::sync::Arc<str>,
    /// How probable it is that of all tags of the place this one is read.
    pub(super) share: f64,
    /// Whether it is of the tree that stands there, not of one before it.
    is_now: bool,
}

impl Stand {
    /// Whether a folded tag is of the tree that stands there, or of one that it carries.
    pub(super) fn has_now(&self, folded: &str) -> bool {
        self.tags.iter().any(|tag| tag.is_now && tag.folded == folded)
    }

    /// Its tag as it is written.
    pub(super) fn tag_now(&self) -> Option<&str> {
        self.tags.iter().find(|tag| tag.is_now).map(|tag| &*tag.written)
    }
}

/// Of a suggestion, the best first: how alike, not of the asked row, places away, row.
type Rank = (How, bool, usize, usize);

/// The tag of a tree that stood there before still hangs there.
const OLD_TAG: f64 = 0.02;

impl PlantingList {
    /// Takes the rows of a plot in. Trees without row and place are not in it.
    pub fn of(plot: &Plot, rows: &Rows) -> Self {
        let row = |row: &crate::Row| ListedRow {
            number: row.number,
            places: row.places.iter().flat_map(|place| stands_at(plot, place)).collect(),
        };
        let rows: Vec<ListedRow> = rows.all().iter().map(row).collect();
        let mut tags: Vec<String> = every_tag(&rows).map(|tag| tag.folded.clone()).collect();
        tags.sort_unstable();
        tags.dedup();
        Self { rows, tags }
    }

    /// Whether a tag is on the list, but for case, accents, spacing and leading zeros.
    pub fn has(&self, tag: &str) -> bool {
        self.has_folded(&folded_tag(tag))
    }

    pub(super) fn has_folded(&self, folded: &str) -> bool {
        self.tags.binary_search_by(|tag| tag.as_str().cmp(folded)).is_ok()
    }

    pub(super) fn tags(&self) -> &[String] {
        &self.tags
    }

    /// Up to `limit` tags that one may be about to type: those that it begins so, then those that
    /// are alike; the nearest to the tag read last first, or of the row, if one is given.
    /// Nothing typed, read or given: none.
    pub fn suggest(
        &self,
        typed: &str,
        last: Option<&str>,
        row: Option<i32>,
        limit: usize,
    ) -> Vec<String> {
        let folded = folded_tag(typed);
        let typed = (!folded.is_empty()).then(|| Typed::new(&folded));
        let near = last.and_then(|last| self.where_is(&folded_tag(last), row));
        let mut found: Vec<(Rank, &str)> = Vec::new();
        for (row_at, listed) in self.rows.iter().enumerate() {
            let is_asked = row.is_none_or(|row| row == listed.number);
            for (at, tag) in listed.places.iter().enumerate().flat_map(tags_at) {
                let how = match (&typed, near) {
                    (_, Some(near)) if near == (row_at, at) => None,
                    (Some(typed), _) => {
                        typed.compare(&tag.folded, Shape::of(&tag.folded)).map(|it| it.how)
                    }
                    // Nothing typed yet: who stands around the last one, or in the row.
                    (None, Some((row, _))) => (row == row_at).then_some(How::Begins),
                    (None, None) => (row.is_some() && is_asked).then_some(How::Begins),
                };
                let Some(how) = how else { continue };
                let away =
                    near.map_or(
                        0,
                        |(row, place)| {
                            if row == row_at { place.abs_diff(at) } else { usize::MAX }
                        },
                    );
                found.push(((how, !is_asked, away, row_at), &tag.written));
            }
        }
        found.sort_by_key(|&(key, _)| key);
        let mut tags: Vec<String> = Vec::new();
        for (_, tag) in found {
            if tags.len() == limit {
                break;
            }
            if !tags.iter().any(|known| known == tag) {
                tags.push(tag.to_owned());
            }
        }
        tags
    }

    /// Where a folded tag hangs: the first place, of the asked row if it is there.
    fn where_is(&self, folded: &str, row: Option<i32>) -> Option<(usize, usize)> {
        let hangs = |place: &Stand| place.tags.iter().any(|tag| tag.folded == folded);
        let mut found = self.rows.iter().enumerate().filter_map(|(at, listed)| {
            listed.places.iter().position(hangs).map(|place| (listed.number, (at, place)))
        });
        let first = found.next()?;
        let asked = Some(first).into_iter().chain(found).find(|&(number, _)| Some(number) == row);
        Some(asked.unwrap_or(first).1)
    }
}

fn every_tag(rows: &[ListedRow]) -> impl Iterator<Item = &TagOf> {
    rows.iter().flat_map(|row| &row.places).flat_map(|place| &place.tags)
}

fn tags_at((at, place): (usize, &Stand)) -> impl Iterator<Item = (usize, &TagOf)> {
    place.tags.iter().map(move |tag| (at, tag))
}

/// What one meets at a place, in the order along the row: each tree that stands there, of two in
/// one hole and of one put in between as well; else what stood there last.
fn stands_at<'a>(plot: &'a Plot, place: &'a Place) -> impl Iterator<Item = Stand> + 'a {
    let of_place = place.trees.iter().copied();
    let mut trunks: Vec<TreeIx> =
        of_place.filter(|&ix| plot.tree(ix).carrier().is_none() && stands(plot, ix)).collect();
    trunks.sort_by(|&a, &b| {
        let (a, b) = (plot.tree(a), plot.tree(b));
        a.spot().x_m.total_cmp(&b.spot().x_m).then_with(|| a.id().cmp(b.id()))
    });
    if trunks.is_empty() {
        trunks.push(place.occupant());
    }
    let occupant = place.occupant();
    trunks.into_iter().map(move |tree| stand(plot, place, tree, tree == occupant))
}

/// Grafts belong to their carrier: whoever stands before it may read any of their tags. Tags of
/// trees that are gone may still hang on the place's `first` tree.
fn stand(plot: &Plot, place: &Place, tree: TreeIx, first: bool) -> Stand {
    let trunk = |ix: TreeIx| plot.tree(ix).carrier().unwrap_or(ix);
    let (mut now, mut before) = (Vec::new(), Vec::new());
    for &ix in &place.trees {
        let is_now = trunk(ix) == trunk(tree);
        let is_gone = !stands(plot, trunk(ix));
        if !(is_now || first && is_gone) {
            continue;
        }
        let Some(tag) = plot.tree(ix).draft().tag.clone() else { continue };
        let folded = folded_tag(&tag);
        if !folded.is_empty() {
            let of = if is_now { &mut now } else { &mut before };
            of.push(TagOf { folded, written: tag, share: 0.0, is_now });
        }
    }
    let old = if before.is_empty() || now.is_empty() { 0.0 } else { OLD_TAG };
    share_out(&mut now, 1.0 - old);
    share_out(&mut before, old);
    if !now.is_empty() {
        now.append(&mut before);
    }
    Stand { tree, stands: probably_stands(plot.tree(tree).status()), tags: now }
}

fn share_out(tags: &mut [TagOf], share: f64) {
    let each = share / tags.len().max(1) as f64;
    tags.iter_mut().for_each(|tag| tag.share = each);
}

/// *Common practice, no source:* one tree of a hundred went without a note; a dead one may still
/// stand; what was written down as gone is gone.
fn probably_stands(status: Status) -> f64 {
    match status {
        Status::Alive => 0.99,
        Status::Dead => 0.2,
        Status::Removed => 0.03,
        Status::Empty => 0.02,
    }
}
