//! Where a tree stands, in the words of people: row, count from a named end, who stands beside it.

use std::sync::Arc;

use language::{count, say};
use plot::{Plot, Status, TreeIx};

use crate::{End, Row, Rows};

/// What the two ends of the rows are called on this plot; without a name they are called by their
/// numbers.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Ends {
    /// Where place numbers begin: `road end`.
    pub low: Option<Arc<str>>,
    /// Where they stop: `hedge end`.
    pub high: Option<Arc<str>>,
}

impl<T: Into<Arc<str>>> From<[Option<T>; 2]> for Ends {
    /// The low end first.
    fn from(names: [Option<T>; 2]) -> Self {
        let [low, high] = names.map(|name| name.map(Into::into));
        Self { low, high }
    }
}

impl Ends {
    /// The name of an end: its own, or `low-number end`, `high-number end`.
    pub fn name(&self, end: End) -> &str {
        match end {
            End::Low => self.low.as_deref().unwrap_or(say!("low-number end")),
            End::High => self.high.as_deref().unwrap_or(say!("high-number end")),
        }
    }

    fn named(&self, end: End) -> Option<&str> {
        match end {
            End::Low => self.low.as_deref(),
            End::High => self.high.as_deref(),
        }
    }
}

/// What is beside a tree in its row.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Beside {
    /// The row ends.
    RowEnds,
    /// Nothing was ever planted, or nothing is known of it.
    Empty,
    /// A tree stands.
    Stands(TreeIx),
    /// A tree stood; it died or was taken out.
    Gone(TreeIx),
}

/// Where in its row a tree stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct InRow {
    /// Row number.
    pub row: i32,
    /// Place number.
    pub place: i32,
    /// Its count from the low end, the row's first place being 1; missing trees are counted.
    pub from_low: i64,
    /// Its count from the high end.
    pub from_high: i64,
    /// The place with the next lower number.
    pub before: Beside,
    /// The place with the next higher number.
    pub after: Beside,
}

/// Where a tree stands and what confirms it.
#[derive(Clone, Debug, PartialEq)]
pub struct Whereabouts {
    /// Which tree.
    pub tree: TreeIx,
    /// Its row; none for a tree of which only metres are known.
    pub in_row: Option<InRow>,
    /// The tree that carries it, and how many grafts that tree carries in all.
    pub grafted: Option<(TreeIx, usize)>,
    /// How many grafts it carries itself.
    pub carries: usize,
    /// Who stands in its place now, when it is gone itself.
    pub instead: Option<TreeIx>,
    /// Up to two standing trees with a tag by which to confirm it, the nearest of either side of
    /// the row; by distance where there is no row.
    pub confirm: Vec<TreeIx>,
}

impl Whereabouts {
    /// Looks a tree up.
    pub fn of(plot: &Plot, rows: &Rows, tree: TreeIx) -> Self {
        let one = plot.tree(tree);
        let trunk = one.carrier().unwrap_or(tree);
        let grafts_of =
            |trunk| plot.trees().iter().filter(|other| other.carrier() == Some(trunk)).count();
        let row = one.row().and_then(|row| rows.row(row)).zip(one.place());
        let here = row.and_then(|(row, place)| row.place(place));
        let instead = here
            .map(crate::Place::occupant)
            .filter(|&now| now != trunk && stands(plot, now) && !stands(plot, trunk));
        Self {
            tree,
            in_row: row.map(|(row, place)| in_row(plot, row, place)),
            grafted: one.carrier().map(|carrier| (carrier, grafts_of(carrier))),
            carries: grafts_of(tree),
            instead,
            confirm: match row {
                Some((row, place)) => beside_in_row(plot, row, place),
                None => nearest_two(plot, trunk),
            },
        }
    }

    /// `Row 7, 12th from the road end, between Q-11 and an empty place.` and what else must be
    /// known to stand before the right tree.
    pub fn sentence(&self, plot: &Plot, ends: &Ends) -> String {
        let mut words = match &self.in_row {
            Some(place) => place.sentence(plot, ends),
            None => self.metres(plot),
        };
        let grafted = self.grafted.map(|(carrier, grafts)| {
            let carrier = plot.tree(carrier).name();
            count!(
                grafts,
                "A graft on the tree {carrier}.",
                "A graft on the tree {carrier}, one of {grafts}."
            )
        });
        let carries = (self.carries > 0).then(|| {
            count!(
                self.carries,
                "It carries a graft.",
                "It carries {grafts} grafts.",
                grafts = self.carries
            )
        });
        for more in [grafted, carries, self.gone(plot)].into_iter().flatten() {
            words += " ";
            words += &more;
        }
        words
    }

    fn metres(&self, plot: &Plot) -> String {
        let spot = plot.tree(self.tree).spot();
        let words = say!(
            "{along:.1} m along the rows and {across:.1} m across them from the plot's corner",
            along = spot.x_m,
            across = spot.y_m
        );
        let near: Vec<String> = self
            .confirm
            .iter()
            .map(|&other| {
                let distance_m = spot.distance_m(plot.tree(other).spot());
                say!("{tree} ({distance_m:.1} m)", tree = plot.tree(other).name())
            })
            .collect();
        match near.as_slice() {
            [] => words + ".",
            [one] => say!("{words}, nearest to {one}."),
            [one, other, ..] => say!("{words}, nearest to {one} and {other}."),
        }
    }

    fn gone(&self, plot: &Plot) -> Option<String> {
        let one = plot.tree(self.tree);
        let gone = match (one.status(), one.draft().removed_on) {
            (Status::Alive, _) => return None,
            (Status::Dead, None) => say!("It died").to_owned(),
            (Status::Dead, Some(day)) => say!("It died on {day}"),
            (Status::Removed, None) => say!("It was taken out").to_owned(),
            (Status::Removed, Some(day)) => say!("It was taken out on {day}"),
            (Status::Empty, _) => say!("Nothing is planted there").to_owned(),
        };
        Some(match self.instead {
            None => gone + ".",
            Some(now) => {
                say!("{gone}; {tree} stands there now.", tree = plot.tree(now).name())
            }
        })
    }
}

impl InRow {
    fn sentence(&self, plot: &Plot, ends: &Ends) -> String {
        let (end, count) = if self.from_low <= self.from_high {
            (End::Low, self.from_low)
        } else {
            (End::High, self.from_high)
        };
        let (row, place) = (self.row, self.place);
        let mut words = match (ends.named(end), count) {
            (Some(end), 1) => say!("Row {row}, the first at the {end}"),
            (Some(end), _) => say!("Row {row}, {nth} from the {end}", nth = ordinal(count)),
            (None, _) => say!("Row {row}, place {place}"),
        };
        // The count is the number only where numbers begin with 1 at that end.
        if ends.named(end).is_some() && i64::from(place) != count {
            words = say!("{words} (place {place})");
        }
        match (self.before, self.after) {
            (Beside::RowEnds, Beside::RowEnds) => say!("{words}, alone in its row."),
            (Beside::RowEnds, beside) | (beside, Beside::RowEnds) => {
                say!("{words}, at the row's end beside {beside}.", beside = beside.words(plot))
            }
            (before, after) => say!(
                "{words}, between {before} and {after}.",
                before = before.words(plot),
                after = after.words(plot)
            ),
        }
    }
}

impl Beside {
    fn words(self, plot: &Plot) -> String {
        match self {
            Self::RowEnds => say!("the row's end").to_owned(),
            Self::Empty => say!("an empty place").to_owned(),
            Self::Stands(tree) => plot.tree(tree).name_on_the_spot(),
            Self::Gone(tree) => match plot.tree(tree).status() {
                Status::Dead => say!("a dead tree ({tree})", tree = plot.tree(tree).name()),
                _ => say!("the gap that {tree} left", tree = plot.tree(tree).name()),
            },
        }
    }
}

/// The way from one tree to another: `3 rows on, 5 places back, 9.8 m`.
///
/// *On* is towards higher numbers. Trees of one place: `on the same tree` or `in the same place`.
pub fn way_between(plot: &Plot, from: TreeIx, to: TreeIx) -> String {
    let (from, to) = (plot.tree(from), plot.tree(to));
    let distance_m = from.spot().distance_m(to.spot());
    let steps = |from: Option<i32>, to: Option<i32>| {
        let step = i64::from(to?) - i64::from(from?);
        (step != 0).then_some((step > 0, step.unsigned_abs()))
    };
    let rows = steps(from.row(), to.row()).map(|(on, n)| match on {
        true => count!(n, "1 row on", "{n} rows on"),
        false => count!(n, "1 row back", "{n} rows back"),
    });
    let places = steps(from.place(), to.place()).map(|(on, n)| match on {
        true => count!(n, "1 place on", "{n} places on"),
        false => count!(n, "1 place back", "{n} places back"),
    });
    let mut parts: Vec<String> = [rows, places].into_iter().flatten().collect();
    if parts.is_empty() && distance_m == 0.0 {
        let grafted = from.carrier().is_some() || to.carrier().is_some();
        return if grafted { say!("on the same tree") } else { say!("in the same place") }
            .to_owned();
    }
    parts.push(say!("{distance_m:.1} m"));
    parts.join(", ")
}

/// Whether something alive stands there.
pub(crate) fn stands(plot: &Plot, tree: TreeIx) -> bool {
    plot.tree(tree).status() == Status::Alive
}

/// Whether its tag can be read by someone who looks for a neighbour.
fn is_sign(plot: &Plot, tree: TreeIx) -> bool {
    stands(plot, tree) && plot.tree(tree).tag_to_read().is_some()
}

fn in_row(plot: &Plot, row: &Row, place: i32) -> InRow {
    let beside = |number: Option<i32>| match number {
        Some(number) if (row.first()..=row.last()).contains(&number) => {
            row.place(number).map_or(Beside::Empty, |there| beside_of(plot, there.occupant()))
        }
        _ => Beside::RowEnds,
    };
    InRow {
        row: row.number,
        place,
        from_low: i64::from(place) - i64::from(row.first()) + 1,
        from_high: i64::from(row.last()) - i64::from(place) + 1,
        before: beside(place.checked_sub(1)),
        after: beside(place.checked_add(1)),
    }
}

fn beside_of(plot: &Plot, occupant: TreeIx) -> Beside {
    match plot.tree(occupant).status() {
        Status::Alive => Beside::Stands(occupant),
        Status::Empty => Beside::Empty,
        Status::Dead | Status::Removed => Beside::Gone(occupant),
    }
}

/// The nearest standing tree with a tag of either side of the row.
fn beside_in_row(plot: &Plot, row: &Row, place: i32) -> Vec<TreeIx> {
    let standing = |there: &crate::Place| Some(there.occupant()).filter(|&it| is_sign(plot, it));
    let before = row.places.iter().rev().filter(|there| there.number < place).find_map(standing);
    let after = row.places.iter().filter(|there| there.number > place).find_map(standing);
    before.into_iter().chain(after).collect()
}

fn nearest_two(plot: &Plot, trunk: TreeIx) -> Vec<TreeIx> {
    let here = plot.tree(trunk).spot();
    let mut nearest: Vec<(f64, TreeIx)> = Vec::new();
    for (ix, other) in plot.trees_ix() {
        let is_other = ix != trunk && other.carrier().is_none() && is_sign(plot, ix);
        if is_other {
            nearest.push((here.distance_m(other.spot()), ix));
            nearest.sort_by(|a, b| {
                a.0.total_cmp(&b.0).then_with(|| plot.tree(a.1).id().cmp(plot.tree(b.1).id()))
            });
            nearest.truncate(2);
        }
    }
    nearest.into_iter().map(|(_, ix)| ix).collect()
}

/// `1st`, `2nd`, `3rd`, `4th` … `11th` … `21st`.
fn ordinal(number: i64) -> String {
    match (number.rem_euclid(10), number.rem_euclid(100)) {
        (_, 11..=13) => say!("{number}th"),
        (1, _) => say!("{number}st"),
        (2, _) => say!("{number}nd"),
        (3, _) => say!("{number}rd"),
        _ => say!("{number}th"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample::{ix, orchard, plot, tree};

    fn check(id: &str, ends: &Ends, expect: &str) {
        let plot = orchard();
        let place = Whereabouts::of(&plot, &Rows::of(&plot), ix(&plot, id));
        assert_eq!(place.sentence(&plot, ends), expect);
    }

    fn road_and_hedge() -> Ends {
        Ends { low: Some("road end".into()), high: Some("hedge end".into()) }
    }

    #[test]
    fn a_place_is_counted_from_the_nearer_named_end() {
        let ends = road_and_hedge();
        check("t01003", &ends, "Row 1, 3rd from the road end, between Q-2 and Q-4.");
        check("t01008", &ends, "Row 1, 3rd from the hedge end (place 8), between Q-7 and Q-9.");
        check("t01001", &ends, "Row 1, the first at the road end, at the row's end beside Q-2.");
        check("t03005", &ends, "Row 3, 2nd from the road end (place 5), between E-01 and E-03.");
    }

    #[test]
    fn without_names_the_number_is_said() {
        let ends = Ends::default();
        check("t01008", &ends, "Row 1, place 8, between Q-7 and Q-9.");
        check("t01010", &ends, "Row 1, place 10, at the row's end beside Q-9.");
    }

    #[test]
    fn what_is_beside_it_is_said() {
        let ends = Ends::default();
        check(
            "g2",
            &ends,
            "Row 2, place 2, between Q-11 and an empty place. A graft on the tree Q-12, one of 2.",
        );
        check(
            "t02002",
            &ends,
            "Row 2, place 2, between Q-11 and an empty place. It carries 2 grafts.",
        );
        check("t02006", &ends, "Row 2, place 6, at the row's end beside an empty place.");
        check(
            "t02004",
            &ends,
            "Row 2, place 4, between an empty place and an empty place. It died; Q-14b stands \
             there now.",
        );
    }

    #[test]
    fn the_confirming_trees_are_the_nearest_that_stand() {
        let plot = orchard();
        let confirm = |id| Whereabouts::of(&plot, &Rows::of(&plot), ix(&plot, id)).confirm;
        assert_eq!(confirm("t02006"), [ix(&plot, "t02004b")]);
        assert_eq!(confirm("t02004b"), [ix(&plot, "t02002"), ix(&plot, "t02006")]);
        assert_eq!(confirm("g1"), [ix(&plot, "t02001"), ix(&plot, "t02004b")]);
    }

    #[test]
    fn a_neighbour_without_tag_is_said_so_and_not_asked_for() {
        let mut trees: Vec<_> = (1..=4).map(|place| tree(&format!("t{place}"), 1, place)).collect();
        trees[0].tag = Some("M-1".into());
        let plot = plot(trees);
        let place = Whereabouts::of(&plot, &Rows::of(&plot), ix(&plot, "t3"));
        assert_eq!(
            place.sentence(&plot, &Ends::default()),
            "Row 1, place 3, between t2 (no tag) and t4 (no tag)."
        );
        assert_eq!(place.confirm, [ix(&plot, "t1")]);
    }

    #[test]
    fn a_tree_without_row_is_said_in_metres() {
        let mut trees = [tree("a", 0, 0), tree("b", 0, 0), tree("c", 0, 0)];
        for (nth, draft) in trees.iter_mut().enumerate() {
            let x_m = [1.0, 2.5, 2.0][nth];
            draft.location =
                plot::WhereGiven { spot: Some(plot::Spot { x_m, y_m: 3.0 }), ..Default::default() };
            draft.tag = Some(draft.id.as_str().into());
        }
        let plot = plot(trees);
        let place = Whereabouts::of(&plot, &Rows::of(&plot), ix(&plot, "a"));
        assert_eq!(
            place.sentence(&plot, &Ends::default()),
            "1.0 m along the rows and 3.0 m across them from the plot's corner, nearest to c \
             (1.0 m) and b (1.5 m)."
        );
    }

    #[test]
    fn the_way_between_two_trees_is_counted() {
        let plot = orchard();
        let way = |a, b| way_between(&plot, ix(&plot, a), ix(&plot, b));
        assert_eq!(way("t01002", "t02006"), "1 row on, 4 places on, 5.0 m");
        assert_eq!(way("t03004", "t01004"), "2 rows back, 6.0 m");
        assert_eq!(way("g1", "g2"), "on the same tree");
        assert_eq!(way("t02004", "t02004b"), "in the same place");
    }

    #[test]
    fn counting_words_end_as_they_are_said() {
        let said = |numbers: &[i64]| numbers.iter().map(|&it| ordinal(it)).collect::<Vec<_>>();
        assert_eq!(
            said(&[1, 2, 3, 4, 11, 12, 13, 21, 102, 111]),
            ["1st", "2nd", "3rd", "4th", "11th", "12th", "13th", "21st", "102nd", "111th"]
        );
    }
}
