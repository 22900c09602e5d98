//! Where one stands, by a receiver: which trees may be the nearest, given its honest error.

use std::collections::BTreeMap;

use language::say;
use plot::{Globe, Plot, Spot, TreeIx};

use crate::place_words::stands;

/// A position in the plot's plane.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fix {
    /// Where the receiver says one stands.
    pub spot: Spot,
    /// One stands within so many metres of it, as the receiver says.
    pub accuracy_m: f64,
}

/// What a position tells of the trees.
#[derive(Clone, Debug, PartialEq)]
pub enum Here {
    /// Not in the plot: the nearest tree is farther than the error and a row's width.
    Away {
        /// The nearest standing tree.
        nearest: TreeIx,
        /// Metres to it.
        distance_m: f64,
    },
    /// Wherever within the error one stands, this tree is the nearest.
    At(TreeIx),
    /// Any of several trees may be the nearest.
    Among {
        /// Where they stand, the row nearest to the position first.
        stretches: Vec<Stretch>,
        /// How many they are, with those that have no row.
        trees: usize,
    },
}

/// Trees of one row that may be the nearest.
#[derive(Clone, Debug, PartialEq)]
pub struct Stretch {
    /// The row.
    pub row: i32,
    /// They, by rising place.
    pub trees: Vec<TreeIx>,
}

impl Fix {
    /// A position on the globe, in the plane of a plot; none where the plot does not say where on
    /// earth it lies, or the numbers are no position.
    pub fn of(plot: &Plot, globe: Globe, accuracy_m: f64) -> Option<Self> {
        let is_position = globe.lon.abs() <= 180.0 && globe.lat.abs() <= 90.0 && accuracy_m >= 0.0;
        let origin = plot.head().origin.filter(|_| is_position)?;
        Some(Self { spot: origin.plot_from_globe(globe), accuracy_m })
    }

    /// Which standing trees may be the nearest; none on a plot where nothing stands.
    ///
    /// With d the distance to the nearest and e the error, a tree may be the nearest when it is
    /// within d + 2 e: one may stand e nearer to it, and e farther from the other. A tree is told
    /// as *the* nearest only where it is alone in that, and never when the error exceeds the
    /// distance between places.
    pub fn trees(&self, plot: &Plot) -> Option<Here> {
        let distance_m = |ix: TreeIx| self.spot.distance_m(plot.tree(ix).spot());
        let in_the_ground = |ix: &TreeIx| stands(plot, *ix) && plot.tree(*ix).carrier().is_none();
        let by_id = |a: &TreeIx, b: &TreeIx| plot.tree(*a).id().cmp(plot.tree(*b).id());
        let standing = || plot.trees_ix().map(|(ix, _)| ix).filter(in_the_ground);
        let nearest = standing()
            .min_by(|a, b| distance_m(*a).total_cmp(&distance_m(*b)).then_with(|| by_id(a, b)))?;
        let least_m = distance_m(nearest);
        let layout = &plot.head().layout;
        if least_m > self.accuracy_m + layout.row_spacing_m.max(layout.place_spacing_m) {
            return Some(Here::Away { nearest, distance_m: least_m });
        }
        let may_be: Vec<TreeIx> =
            standing().filter(|ix| distance_m(*ix) <= least_m + 2.0 * self.accuracy_m).collect();
        if may_be.len() == 1 && self.accuracy_m <= layout.place_spacing_m {
            return Some(Here::At(nearest));
        }
        Some(Here::Among { stretches: self.stretches(plot, &may_be), trees: may_be.len() })
    }

    fn stretches(&self, plot: &Plot, trees: &[TreeIx]) -> Vec<Stretch> {
        let mut rows: BTreeMap<i32, Vec<TreeIx>> = BTreeMap::new();
        for &ix in trees {
            if let Some(row) = plot.tree(ix).row() {
                rows.entry(row).or_default().push(ix);
            }
        }
        let mut stretches: Vec<(f64, Stretch)> = Vec::new();
        for (row, mut trees) in rows {
            trees.sort_by_key(|&ix| (plot.tree(ix).place(), plot.tree(ix).id().clone()));
            let distances = trees.iter().map(|&ix| self.spot.distance_m(plot.tree(ix).spot()));
            let least_m = distances.fold(f64::INFINITY, f64::min);
            stretches.push((least_m, Stretch { row, trees }));
        }
        stretches.sort_by(|(a, _), (b, _)| a.total_cmp(b));
        stretches.into_iter().map(|(_, stretch)| stretch).collect()
    }

    /// Metres to a tree, and the true bearing there in degrees.
    pub fn way_to(&self, plot: &Plot, tree: TreeIx) -> (f64, f64) {
        let spot = plot.tree(tree).spot();
        let bearing = plot.head().origin.map_or(0.0, |origin| origin.bearing_deg(self.spot, spot));
        (self.spot.distance_m(spot), bearing)
    }
}

/// A bearing as one says it: `north-east`.
pub fn compass_point(bearing_deg: f64) -> &'static str {
    match (bearing_deg / 45.0).round().rem_euclid(8.0) as usize % 8 {
        0 => say!("north"),
        1 => say!("north-east"),
        2 => say!("east"),
        3 => say!("south-east"),
        4 => say!("south"),
        5 => say!("south-west"),
        6 => say!("west"),
        _ => say!("north-west"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sample;
    use plot::{Origin, Status};

    /// Ten rows of forty, 3 m by 1 m; row 5, place 20 is dead and carries a graft.
    fn plot() -> Plot {
        let mut head = sample::head();
        head.origin = Some(Origin { lon: -30.0, lat: 45.0, row_bearing_deg: 90.0 });
        let mut plot = Plot::new(head).expect("a head");
        for row in 1..=10 {
            for place in 1..=40 {
                let mut tree = sample::tree(&format!("t{row:02}{place:02}"), row, place);
                if (row, place) == (5, 20) {
                    tree = sample::gone(tree, Status::Dead);
                }
                plot.add_tree(tree).expect("a tree");
            }
        }
        plot.add_tree(sample::graft("g1", "t0520", "Sixpence")).expect("a graft");
        plot
    }

    fn at(x_m: f64, y_m: f64, accuracy_m: f64) -> Here {
        Fix { spot: Spot { x_m, y_m }, accuracy_m }.trees(&plot()).expect("trees")
    }

    #[test]
    fn a_tree_is_told_only_where_no_other_can_be_nearer() {
        let plot = plot();
        let t0305 = plot.tree_ix("t0305").expect("a tree");
        // Place 5 stands at 4 m: with an error of 0.4 m place 4 and 6 are ruled out, with 0.6 m not.
        assert_eq!(at(4.0, 6.0, 0.4), Here::At(t0305));
        assert!(matches!(at(4.0, 6.0, 0.6), Here::Among { trees: 3, .. }));
        assert!(matches!(at(4.5, 6.0, 0.1), Here::Among { trees: 2, .. }), "half way");
    }

    #[test]
    fn the_error_of_a_phone_spans_many_trees_and_rows() {
        let Here::Among { stretches, trees } = at(20.0, 13.0, 5.0) else { panic!("one tree") };
        assert!(trees > 60, "{trees}");
        assert_eq!(stretches[0].row, 5, "the nearest row first");
        let count: usize = stretches.iter().map(|stretch| stretch.trees.len()).sum();
        assert_eq!(count, trees);
    }

    #[test]
    fn the_dead_and_grafts_are_not_where_one_stands() {
        let Here::Among { stretches, .. } = at(19.0, 12.0, 0.3) else { panic!("one tree") };
        let plot = plot();
        let ids: Vec<&str> =
            stretches[0].trees.iter().map(|&ix| plot.tree(ix).id().as_str()).collect();
        assert_eq!(ids, ["t0519", "t0521"]);
    }

    #[test]
    fn far_away_no_tree_is_near() {
        let Here::Away { distance_m, .. } = at(-100.0, 0.0, 20.0) else { panic!("near") };
        assert!((distance_m - 100.0).abs() < 1e-9);
    }

    #[test]
    fn the_way_is_said_by_the_compass() {
        let plot = plot();
        // Rows run east and rise to the north.
        let fix = Fix { spot: Spot { x_m: 0.0, y_m: 0.0 }, accuracy_m: 3.0 };
        let check = |id: &str, expected_m: f64, expected: &str| {
            let (distance_m, bearing) = fix.way_to(&plot, plot.tree_ix(id).expect("a tree"));
            assert!((distance_m - expected_m).abs() < 1e-9, "{id}: {distance_m}");
            assert_eq!(compass_point(bearing), expected, "{id}: {bearing}");
        };
        check("t0111", 10.0, "east");
        check("t0601", 15.0, "north");
        check("t0204", 18_f64.sqrt(), "north-east");
        for (bearing, expected) in
            [(359.0, "north"), (22.4, "north"), (22.6, "north-east"), (225.0, "south-west")]
        {
            assert_eq!(compass_point(bearing), expected, "{bearing}");
        }
    }

    #[test]
    fn a_position_needs_a_plot_that_lies_somewhere() {
        let globe = Globe { lon: -30.0, lat: 45.0 };
        let fix = Fix::of(&plot(), globe, 4.0).expect("a position");
        assert!(fix.spot.distance_m(Spot { x_m: 0.0, y_m: 0.0 }) < 1e-6);
        assert_eq!(Fix::of(&plot(), Globe { lat: f64::NAN, ..globe }, 4.0), None);
        assert_eq!(Fix::of(&plot(), globe, f64::NAN), None);
        assert_eq!(Fix::of(&sample::orchard(), globe, 4.0), None);
    }

    proptest::proptest! {
        /// Wherever within the error one really stands, the tree that is nearest there is among
        /// those told.
        #[test]
        fn the_tree_that_is_nearest_in_truth_is_always_told(
            x_m in -3.0..45.0_f64, y_m in -3.0..30.0_f64,
            off in 0.0..1.0_f64, way in 0.0..std::f64::consts::TAU, accuracy_m in 0.0..8.0_f64,
        ) {
            let plot = plot();
            let truth = Spot { x_m, y_m };
            let (sin, cos) = way.sin_cos();
            let spot = Spot { x_m: x_m + off * accuracy_m * cos, y_m: y_m + off * accuracy_m * sin };
            let nearest = plot.trees_ix()
                .filter(|(_, tree)| tree.status() == Status::Alive && tree.carrier().is_none())
                .map(|(ix, tree)| (truth.distance_m(tree.spot()), ix))
                .min_by(|a, b| a.0.total_cmp(&b.0)).map(|(_, ix)| ix).expect("a tree");
            match (Fix { spot, accuracy_m }).trees(&plot).expect("trees") {
                Here::At(tree) => {
                    proptest::prop_assert_eq!(tree, nearest);
                    proptest::prop_assert!(accuracy_m <= 1.0);
                }
                Here::Among { stretches, .. } => {
                    proptest::prop_assert!(stretches.iter().any(|it| it.trees.contains(&nearest)));
                }
                Here::Away { distance_m, .. } => {
                    proptest::prop_assert!(distance_m > accuracy_m + 3.0);
                }
            }
        }
    }
}
