//! Words and lines around the trees: row numbers at the edge, names of the ends, rings and ways,
//! none over another.

mod sample;

use plot::{Plot, Spot};
use proof::{Asked, Span, Surroundings};
use scene::{
    Camera, Clear, EndName, Facing, Ground, Insets, NeighbourPicture, NeighbourView, Point,
    ScreenBox, Setting, Tells, Viewport, end_names, neighbour_picture, row_numbers,
};
use walk::Ends;

const SCREEN: Viewport = Viewport { width: 390.0, height: 560.0 };
const SETTING: Setting<'static> =
    Setting { line_px: 14.0, width_px: &|text| text.chars().count() as f64 * 7.0 };

fn ground() -> (Plot, Ground) {
    let plot = sample::plot();
    let ground = Ground::of(&plot).with_ends(sample::ends());
    (plot, ground)
}

fn camera(plot: &Plot, id: &str, px_per_m: f64, turn_deg: f64) -> Camera {
    let centre = plot.tree(plot.tree_ix(id).expect("a tree")).spot();
    Camera { centre, px_per_m, turn_deg, viewport: SCREEN }
}

fn margins(px: f64) -> Clear {
    Clear {
        margins: Insets { top: px, right: px, bottom: px, left: px },
        taken: vec![ScreenBox { left: 180.0, right: 390.0, top: 500.0, bottom: 560.0 }],
    }
}

fn meet(a: (Point, f64, f64), b: (Point, f64, f64)) -> bool {
    (a.0.x - b.0.x).abs() < (a.1 + b.1) / 2.0 && (a.0.y - b.0.y).abs() < (a.2 + b.2) / 2.0
}

#[test]
fn close_up_the_numbers_stand_at_the_edges_clear_of_buttons() {
    let (plot, ground) = ground();
    // Rows run downwards and go on beyond both edges.
    let camera = camera(&plot, "3-5", 130.0, -90.0);
    let clear = margins(12.0);
    let numbers = row_numbers(ground.rows(), &camera, &clear);
    let third: Vec<_> = numbers.iter().filter(|one| one.row == 3).collect();
    assert_eq!(third.len(), 2, "{numbers:?}");
    let x = camera.screen_from_plot(Spot { x_m: 3.0, y_m: 6.0 }).x;
    for one in &third {
        assert!(one.at_edge && (one.at.x - x).abs() < 1e-6, "{one:?}");
    }
    assert!((third[0].at.y - 22.5).abs() < 1.0, "{third:?}");
    // The buttons lie over the lower edge there.
    assert!((484.0..=490.0).contains(&third[1].at.y), "{third:?}");
    // Rows 1 and 5 are 780 px apart: out of sight, and so are their numbers.
    assert!(numbers.iter().all(|one| one.row == 3), "{numbers:?}");
}

#[test]
fn a_number_at_its_rows_end_stays_there() {
    let (plot, ground) = ground();
    let camera = camera(&plot, "3-1", 60.0, 0.0);
    let numbers = row_numbers(ground.rows(), &camera, &margins(12.0));
    let third: Vec<_> = numbers.iter().filter(|one| one.row == 3).collect();
    let (low, high) = (third[0], third[1]);
    assert!(!low.at_edge && (low.at.x - (195.0 - 18.0)).abs() < 1e-6, "{low:?}");
    // 6 m of row are 360 px, more than what is right of the middle.
    assert!(high.at_edge && (high.at.x - (390.0 - 12.0 - 10.5)).abs() < 1e-6, "{high:?}");
}

#[test]
fn a_row_of_which_little_is_seen_has_its_number_once() {
    let (plot, ground) = ground();
    // Rows slant over a corner of the screen.
    let camera = Camera { turn_deg: 45.0, ..camera(&plot, "3-5", 130.0, 0.0) };
    let numbers = row_numbers(ground.rows(), &camera, &margins(12.0));
    for one in &numbers {
        let same = numbers.iter().filter(|other| other.row == one.row && *other != one);
        for other in same {
            assert!(one.at.distance(other.at) >= 60.0, "{one:?} {other:?}");
        }
    }
    assert!(numbers.iter().any(|one| one.row == 3));
}

/// The names of the ends, with the plot fitted into the screen.
fn names(turn_deg: f64, ends: &Ends) -> (Vec<EndName>, Camera, Ground) {
    let (_, ground) = ground();
    let insets = Insets { top: 60.0, right: 60.0, bottom: 60.0, left: 60.0 };
    let camera = Camera::fit(ground.bounds(), SCREEN, insets, turn_deg);
    let names = end_names(ground.rows(), ends, &camera, &margins(2.0), SETTING);
    (names, camera, ground)
}

#[test]
fn the_ends_are_named_once_each_whichever_way_the_plot_is_turned() {
    for (turn_deg, reads_deg) in
        [(0.0, 90.0), (-90.0, 0.0), (90.0, 0.0), (180.0, 90.0), (78.0, 12.0), (-30.0, -60.0)]
    {
        let (names, camera, ground) = names(turn_deg, &sample::ends());
        let texts: Vec<&str> = names.iter().map(|one| one.text.as_str()).collect();
        assert_eq!(texts, ["road end", "hedge end"], "{turn_deg}");
        for (one, spot) in names.iter().zip([-1.0, 7.0]) {
            assert!((one.turn_deg - reads_deg).abs() < 1e-9, "{turn_deg}: {one:?}");
            // Beyond its own end of the rows.
            let at = camera.plot_from_screen(one.at);
            assert!((at.x_m - spot).signum() == (spot - 3.0).signum(), "{turn_deg}: {at:?}");
        }
        // Over no number and no mark.
        let numbers = row_numbers(ground.rows(), &camera, &margins(2.0));
        let marks = ground.spots().iter().map(|spot| camera.screen_from_plot(*spot));
        let others = numbers.iter().map(|one| one.at).chain(marks).collect::<Vec<_>>();
        if reads_deg == 0.0 || reads_deg == 90.0 {
            for one in &names {
                let width = one.text.len() as f64 * 7.0;
                let size = if reads_deg == 0.0 { (width, 14.0) } else { (14.0, width) };
                let over =
                    others.iter().find(|at| meet((one.at, size.0, size.1), (**at, 16.0, 16.0)));
                assert_eq!(over, None, "{turn_deg}: {one:?}");
            }
        }
    }
}

#[test]
fn an_end_without_a_name_or_out_of_sight_has_none() {
    let one = Ends { low: None, high: Some("hedge end".into()) };
    assert_eq!(names(0.0, &one).0.len(), 1);
    let (plot, ground) = ground();
    let near = camera(&plot, "3-1", 60.0, 0.0);
    let seen = end_names(ground.rows(), ground.ends(), &near, &margins(2.0), SETTING);
    let texts: Vec<&str> = seen.iter().map(|one| one.text.as_str()).collect();
    assert_eq!(texts, ["road end"]);
    let alone = Plot::new(plot.head().clone()).unwrap();
    let ground = Ground::of(&alone).with_ends(sample::ends());
    assert_eq!(end_names(ground.rows(), ground.ends(), &near, &Clear::default(), SETTING), []);
}

#[test]
fn a_name_moves_along_its_end_to_get_clear() {
    let (plot, ground) = ground();
    let insets = Insets { top: 60.0, right: 60.0, bottom: 60.0, left: 60.0 };
    let camera = Camera::fit(ground.bounds(), SCREEN, insets, -90.0);
    let name = |clear: &Clear| end_names(ground.rows(), ground.ends(), &camera, clear, SETTING);
    let before = name(&Clear::default());
    let last = before.last().unwrap().at;
    let button = ScreenBox {
        left: last.x - 20.0,
        right: last.x + 20.0,
        top: last.y - 20.0,
        bottom: SCREEN.height,
    };
    let after = name(&Clear { taken: vec![button], ..Clear::default() });
    assert_eq!(after[0], before[0]);
    let moved = after[1].at;
    assert!(
        (moved.y - last.y).abs() < 1e-6 && (moved.x - last.x).abs() >= 20.0 + 31.0,
        "{moved:?}"
    );
    drop(plot);
}

fn picture(px_per_m: f64, clear: &Clear) -> NeighbourPicture {
    let (plot, ground) = ground();
    let report = sample::report(&plot);
    let tree = plot.tree_ix("3-5").expect("a tree");
    let asked = Asked { plot: &plot, report: Some(&report), disease: "scab", span: Span::All };
    let nearby = Surroundings::of(&plot).nearby(asked, tree, 8);
    let view = NeighbourView::of(&plot, "scab", Some(&report), &nearby);
    let turn_deg = Facing::Upright.turn_deg(ground.bounds(), SCREEN, ground.origin());
    let camera = camera(&plot, "3-5", px_per_m, turn_deg);
    neighbour_picture(&view, &ground, &camera, clear, SETTING)
}

#[test]
fn rings_are_two_to_four_fit_the_screen_and_their_metres_are_clear() {
    for px_per_m in [3.0, 8.0, 20.0, 45.0, 70.0, 110.0, 200.0] {
        for clear in [Clear::default(), margins(12.0)] {
            let picture = picture(px_per_m, &clear);
            assert!((2..=4).contains(&picture.rings.len()), "{px_per_m}");
            let mut words: Vec<(Point, f64, f64)> = Vec::new();
            for (text, at) in &picture.distances {
                words.push((*at, text.chars().count() as f64 * 7.0, 14.0));
            }
            for ring in &picture.rings {
                assert!((ring.radius_px - ring.radius_m * px_per_m).abs() < 1e-9);
                assert!(ring.radius_px <= 280.0, "{px_per_m}: {ring:?}");
                let at = ring.label_at.unwrap_or_else(|| panic!("{px_per_m}: {ring:?}"));
                assert!((at.distance(picture.middle) - ring.radius_px).abs() < 1e-6);
                words.push((at, ring.label.chars().count() as f64 * 7.0, 14.0));
            }
            for (nth, one) in words.iter().enumerate() {
                let over = words[..nth].iter().find(|other| meet(*one, **other));
                assert_eq!(over, None, "{px_per_m}: {one:?}");
            }
        }
    }
}

#[test]
fn a_line_is_the_wider_the_more_the_neighbour_counts() {
    for tells in [Tells::Infected, Tells::CouldHave, Tells::NoWitness] {
        let width = |weight| tells.stroke(Some(weight)).width_px;
        assert!(width(0.0) <= width(0.02) && width(0.04) < width(0.07) && width(0.07) < width(0.1));
        assert_eq!(width(0.4), width(0.9), "{tells:?}: nothing hides the map");
    }
    // Clean that could have is hollow, whatever its weight; others are told by their dashes.
    for weight in [None, Some(0.0), Some(0.05), Some(0.3)] {
        let hollow = Tells::CouldHave.stroke(weight);
        assert!(hollow.core_px >= 1.0 && hollow.width_px > hollow.core_px + 2.0, "{hollow:?}");
        assert_eq!(Tells::Infected.stroke(weight).core_px, 0.0);
        let dashes = [Tells::NoWitness, Tells::Unknown].map(|tells| tells.stroke(weight).dash);
        assert!(dashes[0] != dashes[1] && dashes.iter().all(|dash| !dash.is_empty()));
    }
}

#[test]
fn every_neighbour_apart_has_its_way_and_touching_ones_have_none() {
    assert_eq!(picture(70.0, &Clear::default()).ways.len(), 8);
    assert!(picture(3.0, &Clear::default()).ways.len() < 8);
}
