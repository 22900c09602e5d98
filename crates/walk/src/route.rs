//! Routes: in which order a walk comes by the trees.

use std::collections::BTreeSet;

use language::say;
use plot::{Plot, Refusal, Status, TreeId, TreeIx};
use serde::{Deserialize, Serialize};

use crate::Rows;

/// One of the two ends of a sequence of numbers: of a row's places, or of the rows.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum End {
    /// Where the numbers begin.
    #[default]
    Low,
    /// Where the numbers stop.
    High,
}

impl End {
    /// The opposite end.
    pub fn other(self) -> Self {
        match self {
            Self::Low => Self::High,
            Self::High => Self::Low,
        }
    }
}

/// How one gets from a row to the next.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Way {
    /// Up one row and down the next.
    #[default]
    Serpentine,
    /// Each row from the same end.
    OneWay,
}

/// What the walker asks of a route.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Wish {
    /// Begin with the lowest or the highest row.
    pub first_row: End,
    /// Begin at the low or the high end of that row.
    pub first_place: End,
    /// From a row to the next.
    pub way: Way,
    /// Only these rows; none: all of them.
    pub rows: Option<BTreeSet<i32>>,
    /// Trees seen with symptoms come last, so that hands and tools go from clean to sick.
    pub sick_last: bool,
    /// Only these trees; none: all of the rows.
    #[serde(default)]
    pub only: Option<BTreeSet<TreeId>>,
}

/// The trees of a walk in walking order: only those that stand.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Route {
    /// The trees; the grafts of a tree follow it.
    pub stops: Vec<TreeIx>,
    /// The stops row by row; they follow each other and cover all stops.
    pub legs: Vec<Leg>,
}

/// The stops of one row, or of what of it is left for the end.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Leg {
    /// Row number; none for trees without one.
    pub row: Option<i32>,
    /// Whether these are the sick trees left for the end.
    pub sick: bool,
    /// First stop.
    pub from: usize,
    /// One past the last stop.
    pub to: usize,
}

impl Route {
    /// Plans a route; `is_sick` is asked only when sick trees are to come last, `stood` only of
    /// trees that do not stand: those that do so no longer but belong to the walk.
    ///
    /// Trees without row and place come after the rows, in strips as wide as the rows are apart.
    /// The sick ones are walked back to from where the clean ones end.
    pub fn plan(
        plot: &Plot,
        rows: &Rows,
        wish: &Wish,
        is_sick: impl Fn(TreeIx) -> bool,
        stood: impl Fn(TreeIx) -> bool,
    ) -> Self {
        let is_wanted = |tree: TreeIx| {
            let one = plot.tree(tree);
            (one.status() == Status::Alive || stood(tree))
                && wish.only.as_ref().is_none_or(|only| only.contains(one.id()))
        };
        let mut lanes: Vec<(Option<i32>, Vec<TreeIx>)> = rows
            .all()
            .iter()
            .filter(|row| wish.rows.as_ref().is_none_or(|only| only.contains(&row.number)))
            .map(|row| {
                let mut groups: Vec<&[TreeIx]> =
                    row.places.iter().map(|place| place.trees.as_slice()).collect();
                // Reversing whole places keeps a tree before its grafts.
                if wish.first_place == End::High {
                    groups.reverse();
                }
                (Some(row.number), groups.concat())
            })
            .collect();
        if wish.rows.is_none() {
            lanes.extend(strips(plot, rows.loose(), wish).into_iter().map(|lane| (None, lane)));
        }
        let numbered = lanes.iter().take_while(|(row, _)| row.is_some()).count();
        if wish.first_row == End::High {
            lanes[..numbered].reverse();
        }
        let mut route = Self::default();
        let mut back: Vec<(Option<i32>, Vec<TreeIx>)> = Vec::new();
        let mut turned = false;
        for (row, mut trees) in lanes {
            trees.retain(|&tree| is_wanted(tree));
            if trees.is_empty() {
                continue;
            }
            if turned {
                reverse_by_place(plot, &mut trees);
            }
            turned = wish.way == Way::Serpentine && !turned;
            let (mut sick, clean): (Vec<TreeIx>, Vec<TreeIx>) =
                trees.into_iter().partition(|&tree| wish.sick_last && is_sick(tree));
            route.add(row, false, clean);
            reverse_by_place(plot, &mut sick);
            back.push((row, sick));
        }
        for (row, trees) in back.into_iter().rev() {
            route.add(row, true, trees);
        }
        route
    }

    fn add(&mut self, row: Option<i32>, sick: bool, trees: Vec<TreeIx>) {
        if !trees.is_empty() {
            let from = self.stops.len();
            self.stops.extend(trees);
            self.legs.push(Leg { row, sick, from, to: self.stops.len() });
        }
    }
}

/// The other way round, but each tree still before its grafts.
fn reverse_by_place(plot: &Plot, trees: &mut Vec<TreeIx>) {
    let trunk = |&tree: &TreeIx| plot.tree(tree).carrier().unwrap_or(tree);
    let groups: Vec<Vec<TreeIx>> =
        trees.chunk_by(|a, b| trunk(a) == trunk(b)).map(<[TreeIx]>::to_vec).collect();
    *trees = groups.into_iter().rev().flatten().collect();
}

/// Trees without numbers, in strips along the rows' direction.
fn strips(plot: &Plot, loose: &[TreeIx], wish: &Wish) -> Vec<Vec<TreeIx>> {
    let width_m = plot.head().layout.row_spacing_m;
    let key = |&tree: &TreeIx| {
        let trunk = plot.tree(tree).carrier().unwrap_or(tree);
        let spot = plot.tree(trunk).spot();
        // A position is at most 100 km away: the strip's number fits.
        let strip = (spot.y_m / width_m).round() as i64;
        (strip, spot.x_m, trunk)
    };
    let mut trees: Vec<TreeIx> = loose.to_vec();
    trees.sort_by(|a, b| {
        let ((strip_a, x_a, trunk_a), (strip_b, x_b, trunk_b)) = (key(a), key(b));
        let id = |tree: TreeIx| plot.tree(tree).id();
        strip_a
            .cmp(&strip_b)
            .then(x_a.total_cmp(&x_b))
            .then_with(|| id(trunk_a).cmp(id(trunk_b)))
            .then_with(|| (*a != trunk_a).cmp(&(*b != trunk_b)))
            .then_with(|| id(*a).cmp(id(*b)))
    });
    let mut lanes: Vec<Vec<TreeIx>> =
        trees.chunk_by(|a, b| key(a).0 == key(b).0).map(<[TreeIx]>::to_vec).collect();
    if wish.first_place == End::High {
        for lane in &mut lanes {
            reverse_by_place(plot, lane);
        }
    }
    if wish.first_row == End::High {
        lanes.reverse();
    }
    lanes
}

/// Reads rows as people write them: `3-7, 9`; empty text is no wish at all.
///
/// # Errors
/// A piece that is neither a number nor a range of at most 10,000 rows.
pub fn rows_from_text(text: &str) -> Result<Option<BTreeSet<i32>>, Refusal> {
    let mut rows = BTreeSet::new();
    for piece in text.split([',', ';']).map(str::trim).filter(|piece| !piece.is_empty()) {
        let expected = say!("numbers and ranges as 3-7");
        let refuse = || Refusal::new("rows", format!("\"{piece}\""), expected);
        let number = |text: &str| text.trim().parse::<i32>().map_err(|_| refuse());
        // A dash at the very front is a sign.
        let dash = piece.char_indices().skip(1).find(|&(_, letter)| matches!(letter, '-' | '–'));
        match dash {
            None => {
                rows.insert(number(piece)?);
            }
            Some((at, letter)) => {
                let (low, high) =
                    (number(&piece[..at])?, number(&piece[at + letter.len_utf8()..])?);
                if low > high || high.saturating_sub(low) > 10_000 {
                    return Err(refuse());
                }
                rows.extend(low..=high);
            }
        }
    }
    Ok((!rows.is_empty()).then_some(rows))
}

/// The rows as people write them: `3-7, 9`.
pub fn rows_in_text(rows: &BTreeSet<i32>) -> String {
    let numbers: Vec<i32> = rows.iter().copied().collect();
    let runs = numbers.chunk_by(|a, b| a.checked_add(1) == Some(*b));
    let words: Vec<String> = runs
        .map(|run| match run {
            [one] => one.to_string(),
            [first, .., last] => format!("{first}-{last}"),
            [] => String::new(),
        })
        .collect();
    words.join(", ")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample::{gone, graft, ix, orchard, plot, tree};

    /// Stops by id, a bar between legs, a star before sick legs.
    fn walked(plot: &Plot, wish: &Wish, sick: &[&str]) -> String {
        let is_sick = |tree| sick.iter().any(|&id| ix(plot, id) == tree);
        let route = Route::plan(plot, &Rows::of(plot), wish, is_sick, |_| false);
        assert!(route.legs.windows(2).all(|pair| pair[0].to == pair[1].from));
        let leg = |leg: &Leg| {
            let ids: Vec<&str> = route.stops[leg.from..leg.to]
                .iter()
                .map(|&it| plot.tree(it).id().as_str())
                .collect();
            format!("{}{}", if leg.sick { "*" } else { "" }, ids.join(" "))
        };
        route.legs.iter().map(leg).collect::<Vec<_>>().join(" | ")
    }

    /// Rows 1 to 3 with places 1 to 3; a graft on b2; c2 is dead.
    fn square() -> Plot {
        let mut trees = Vec::new();
        for (row, letter) in (1..).zip(["a", "b", "c"]) {
            trees.extend((1..=3).map(|place| tree(&format!("{letter}{place}"), row, place)));
        }
        trees[7] = gone(trees[7].clone(), Status::Dead);
        trees.push(graft("b2-x", "b2", "X"));
        trees.push(graft("b2-w", "b2", "W"));
        plot(trees)
    }

    fn wish(first_row: End, first_place: End, way: Way) -> Wish {
        Wish { first_row, first_place, way, ..Wish::default() }
    }

    #[test]
    fn rows_are_walked_from_any_corner() {
        let plot = square();
        let check = |wish: &Wish, expect: &str| assert_eq!(walked(&plot, wish, &[]), expect);
        use {End::*, Way::*};
        check(&wish(Low, Low, Serpentine), "a1 a2 a3 | b3 b2 b2-w b2-x b1 | c1 c3");
        check(&wish(Low, High, Serpentine), "a3 a2 a1 | b1 b2 b2-w b2-x b3 | c3 c1");
        check(&wish(High, Low, Serpentine), "c1 c3 | b3 b2 b2-w b2-x b1 | a1 a2 a3");
        check(&wish(High, High, Serpentine), "c3 c1 | b1 b2 b2-w b2-x b3 | a3 a2 a1");
        check(&wish(Low, Low, OneWay), "a1 a2 a3 | b1 b2 b2-w b2-x b3 | c1 c3");
        check(&wish(High, High, OneWay), "c3 c1 | b3 b2 b2-w b2-x b1 | a3 a2 a1");
    }

    #[test]
    fn only_chosen_rows_are_walked_and_an_empty_row_does_not_turn_the_walker() {
        let plot = square();
        let rows = Some(BTreeSet::from([1, 3, 9]));
        assert_eq!(walked(&plot, &Wish { rows, ..Wish::default() }, &[]), "a1 a2 a3 | c3 c1");
    }

    #[test]
    fn only_chosen_trees_are_walked_and_an_empty_row_does_not_turn_the_walker_either() {
        let only = ["a2", "a3", "c1", "c3", "b2-x"].map(TreeId::new);
        let mut wish = Wish { only: Some(only.into()), ..Wish::default() };
        assert_eq!(walked(&square(), &wish, &[]), "a2 a3 | b2-x | c1 c3");
        wish.rows = Some([1, 3].into());
        assert_eq!(walked(&square(), &wish, &[]), "a2 a3 | c3 c1");
    }

    #[test]
    fn sick_trees_come_last_on_the_way_back() {
        let plot = square();
        let wish = Wish { sick_last: true, ..Wish::default() };
        assert_eq!(
            walked(&plot, &wish, &["a1", "a3", "b2-x", "c3"]),
            "a2 | b3 b2 b2-w b1 | c1 | *c3 | *b2-x | *a3 a1"
        );
        let in_order = Wish::default();
        assert_eq!(walked(&plot, &in_order, &["a1"]), walked(&plot, &in_order, &[]));
    }

    #[test]
    fn a_present_tree_is_walked_and_those_gone_are_not() {
        assert_eq!(
            walked(&orchard(), &Wish { rows: Some([2].into()), ..Wish::default() }, &[]),
            "t02001 t02002 g1 g2 t02004b t02006"
        );
    }

    #[test]
    fn trees_without_rows_are_walked_in_strips() {
        let at = |id: &str, x_m: f64, y_m: f64| {
            let mut draft = tree(id, 0, 0);
            draft.location =
                plot::WhereGiven { spot: Some(plot::Spot { x_m, y_m }), ..Default::default() };
            draft
        };
        let plot =
            plot([at("d", 0.0, 3.4), at("a", 0.0, 0.2), at("b", 2.0, -0.2), at("c", 1.0, 2.9)]);
        assert_eq!(walked(&plot, &Wish::default(), &[]), "a b | c d");
    }

    proptest::proptest! {
        /// Each standing tree of the chosen rows is walked once, whatever the wish.
        #[test]
        fn each_standing_tree_is_walked_once(
            flips in proptest::array::uniform4(proptest::bool::ANY),
            sick in proptest::collection::vec(0usize..11, 0..5),
        ) {
            let plot = square();
            let end = |high: bool| if high { End::High } else { End::Low };
            let wish = Wish {
                first_row: end(flips[0]),
                first_place: end(flips[1]),
                way: if flips[2] { Way::OneWay } else { Way::Serpentine },
                rows: None,
                sick_last: flips[3],
                only: None,
            };
            let is_sick = |tree: TreeIx| sick.contains(&tree.get());
            let mut stops = Route::plan(&plot, &Rows::of(&plot), &wish, is_sick, |_| false).stops;
            stops.sort_unstable();
            let standing: Vec<TreeIx> = plot
                .trees_ix()
                .filter(|(_, tree)| tree.status() == Status::Alive)
                .map(|(ix, _)| ix)
                .collect();
            proptest::prop_assert_eq!(stops, standing);
        }
    }

    #[test]
    fn rows_are_read_as_people_write_them() {
        let read = |text: &str| rows_from_text(text).map(|rows| rows.map(|it| rows_in_text(&it)));
        assert_eq!(read("3-5, 9; 4 - 6"), Ok(Some("3-6, 9".to_owned())));
        assert_eq!(read("-2--1, 1"), Ok(Some("-2--1, 1".to_owned())));
        assert_eq!(read(" , "), Ok(None));
        for text in ["3-", "seven", "7-3", "1-99999999", "1.5"] {
            assert!(read(text).is_err(), "{text}");
        }
    }
}
