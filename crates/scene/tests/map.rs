//! What lies where, what is shown when, and which tree is meant.

mod sample;

use plot::{Plot, RoundKey, Season, TreeIx};
use scene::{
    Camera, Clear, Field, Ground, Hit, Ink, Kind, Layer, Moment, Point, Pointer, Raster, Record,
    Setting, Sheet, Sources, State, Theme, Underlay, Viewport, Wash, WashSources, hit, labels,
    next_in_direction, row_numbers,
};

const SCREEN: Viewport = Viewport { width: 800.0, height: 600.0 };

fn ix(plot: &Plot, id: &str) -> TreeIx {
    plot.tree_ix(id).unwrap_or_else(|| panic!("no tree {id}"))
}

fn scab(plot: &Plot, ground: &Ground, moment: &Moment) -> Sheet {
    let layer = Layer::from_key(plot, "trait/scab_leaf").expect("a layer");
    let record = Record::of(plot, layer.trait_ix(plot).expect("a trait"));
    let sources = Sources { plot, ground, record: Some(&record), report: None };
    Sheet::of(sources, &layer, moment)
}

fn camera(plot: &Plot, id: &str, px_per_m: f64) -> Camera {
    let centre = plot.tree(ix(plot, id)).spot();
    Camera { centre, px_per_m, turn_deg: 0.0, viewport: SCREEN }
}

fn round(season: i32, name: &str) -> Moment {
    Moment::Round(Season(season), RoundKey::Named(name.into()))
}

#[test]
fn an_infected_tree_stays_so_to_the_seasons_end_and_a_clean_one_is_forgotten() {
    let plot = sample::plot();
    let record = Record::of(&plot, plot.trait_ix("scab_leaf").unwrap());
    // The last row was not walked in round 2: its clean trees are not scored then.
    let second = record.states(&round(2031, "2"));
    assert_eq!(second[ix(&plot, "5-4").get()], State::NotScored);
    assert_eq!(record.states(&round(2031, "1"))[ix(&plot, "5-4").get()], State::Scored(1.0));
    // Seen infected in round 1, not scorable in round 2: still infected.
    assert_eq!(second[ix(&plot, "1-5").get()], State::Scored(9.0));
    assert_eq!(second[ix(&plot, "3-9").get()], State::CouldNotScore);
    assert_eq!(record.states(&Moment::All)[ix(&plot, "4-9").get()], State::NotScored);
}

#[test]
fn a_dead_tree_and_its_replant_are_never_shown_together() {
    let plot = sample::plot();
    let ground = Ground::of(&plot);
    let (old, new) = (ix(&plot, "3-8"), ix(&plot, "3-8-new"));
    let kind = |moment: &Moment, tree| scab(&plot, &ground, moment).class(tree).map(|one| one.kind);
    // In 2031 the old one stood and the new one was not planted yet.
    assert!(kind(&round(2031, "2"), old).is_some_and(Kind::is_result));
    assert_eq!(kind(&round(2031, "2"), new), None);
    assert_eq!(kind(&Moment::All, old), None);
    assert_eq!(kind(&Moment::All, new), Some(Kind::NotScored));
}

#[test]
fn counts_of_a_legend_add_up_to_the_marks() {
    let plot = sample::plot();
    let (ground, report) = (Ground::of(&plot), sample::report(&plot));
    for layer in Layer::all(&plot) {
        let sources = Sources { plot: &plot, ground: &ground, record: None, report: Some(&report) };
        let sheet = Sheet::of(sources, &layer, &Moment::All);
        let counted: usize = sheet.classes().iter().map(|class| class.count).sum();
        assert_eq!(counted, sheet.order().len(), "{layer:?}");
        assert_eq!(
            counted,
            plot.trees().len() - 1,
            "{layer:?}: all but the dead under its replant"
        );
    }
}

#[test]
fn without_a_report_nothing_is_shown_as_a_result() {
    let plot = sample::plot();
    let ground = Ground::of(&plot);
    for layer in Layer::all(&plot).into_iter().filter(Layer::needs_report) {
        let sources = Sources { plot: &plot, ground: &ground, record: None, report: None };
        let sheet = Sheet::of(sources, &layer, &Moment::All);
        let results = sheet.classes().iter().filter(|class| class.kind.is_result());
        assert_eq!(results.map(|class| class.count).sum::<usize>(), 0, "{layer:?}");
    }
}

#[test]
fn every_tree_is_hit_at_its_own_mark() {
    let plot = sample::plot();
    let ground = Ground::of(&plot);
    let sheet = scab(&plot, &ground, &Moment::All);
    let camera = camera(&plot, "3-5", 400.0);
    for &tree in sheet.order() {
        let at = camera.screen_from_plot(ground.spot(tree));
        assert_eq!(hit(&ground, &sheet, &camera, at, Pointer::Mouse), Hit::Tree(tree));
    }
}

#[test]
fn a_finger_reaches_farther_than_a_mouse_and_neither_for_ever() {
    let plot = sample::plot();
    let ground = Ground::of(&plot);
    let sheet = scab(&plot, &ground, &Moment::All);
    let camera = camera(&plot, "3-5", 100.0);
    let beside = |px: f64, pointer| {
        let at = camera.screen_from_plot(ground.spot(ix(&plot, "3-5")));
        hit(&ground, &sheet, &camera, Point { x: at.x, y: at.y + px }, pointer).first()
    };
    assert_eq!(beside(9.0, Pointer::Mouse), Some(ix(&plot, "3-5")));
    assert_eq!(beside(20.0, Pointer::Mouse), None);
    assert_eq!(beside(20.0, Pointer::Finger), Some(ix(&plot, "3-5")));
    assert_eq!(beside(120.0, Pointer::Finger), None);
}

#[test]
fn grafts_and_twins_are_offered_where_a_finger_cannot_tell_them_apart() {
    let plot = sample::plot();
    let ground = Ground::of(&plot);
    let sheet = scab(&plot, &ground, &Moment::All);
    let tapped = |id: &str, px_per_m: f64| {
        let camera = camera(&plot, id, px_per_m);
        let at = camera.screen_from_plot(ground.spot(ix(&plot, id)));
        match hit(&ground, &sheet, &camera, at, Pointer::Finger) {
            Hit::OneOf(trees) => {
                trees.iter().map(|tree| plot.tree(*tree).id().to_string()).collect()
            }
            Hit::Tree(tree) => vec![plot.tree(tree).id().to_string()],
            Hit::Nothing => Vec::new(),
        }
    };
    assert_eq!(tapped("2-3", 20.0), ["2-3", "2-3-a", "2-3-b"]);
    assert_eq!(tapped("4-6", 20.0), ["4-6", "4-6-twin"]);
    assert_eq!(tapped("2-3", 400.0), ["2-3"]);
    // The dead tree lies hidden under its replant.
    assert_eq!(tapped("3-8", 20.0), ["3-8-new"]);
}

#[test]
fn arrows_walk_from_tree_to_tree_whichever_way_the_plot_is_turned() {
    let plot = sample::plot();
    let ground = Ground::of(&plot);
    let sheet = scab(&plot, &ground, &Moment::All);
    let walk = |turn_deg: f64, way: (f64, f64)| {
        let camera = Camera { turn_deg, ..camera(&plot, "3-5", 40.0) };
        next_in_direction(&ground, &sheet, &camera, ix(&plot, "3-5"), way)
            .map(|tree| plot.tree(tree).id().to_string())
    };
    assert_eq!(walk(0.0, (1.0, 0.0)).as_deref(), Some("3-6"));
    assert_eq!(walk(0.0, (0.0, -1.0)).as_deref(), Some("4-5"));
    assert_eq!(walk(-90.0, (0.0, 1.0)).as_deref(), Some("3-6"));
    assert_eq!(walk(-90.0, (-1.0, 0.0)).as_deref(), Some("2-5"));
    let end = camera(&plot, "5-9", 40.0);
    let beyond = next_in_direction(&ground, &sheet, &end, ix(&plot, "5-9"), (1.0, 0.0));
    assert_eq!(beyond, None);
}

#[test]
fn row_numbers_stand_at_both_ends_and_thin_out() {
    let plot = sample::plot();
    let ground = Ground::of(&plot);
    let near = row_numbers(ground.rows(), &camera(&plot, "3-5", 40.0), &Clear::default());
    assert_eq!(near.len(), 10);
    let ends: Vec<&scene::RowNumber> = near.iter().filter(|one| one.row == 3).collect();
    assert!(ends[0].at.x < 400.0 - 3.0 * 40.0 && ends[1].at.x > 400.0 + 3.0 * 40.0);
    assert_eq!(ends[0].at.y, 300.0);
    let far = row_numbers(ground.rows(), &camera(&plot, "3-5", 2.0), &Clear::default());
    assert!(far.iter().all(|one| one.row == 5), "{far:?}");
}

#[test]
fn the_same_scene_gives_the_same_pixels_and_marks_are_where_they_should_be() {
    let plot = sample::plot();
    let ground = Ground::of(&plot);
    let sheet = scab(&plot, &ground, &Moment::All);
    let camera = camera(&plot, "1-5", 60.0);
    let mut raster = Raster::new();
    raster.draw(&ground, &sheet, None, &camera, 2.0, Theme::Day);
    assert_eq!((raster.width(), raster.height()), (1600, 1200));
    let first = raster.bytes().to_vec();
    let pixel = |x: usize, y: usize| &first[(y * 1600 + x) * 4..][..4];
    // The middle of a star of the worst class, and the open ground beside the row.
    let [r, g, b] = Theme::Day.rgb(scene::Ink::Severity(4));
    assert_eq!(pixel(800, 600), [r, g, b, 255]);
    let [r, g, b] = Theme::Day.rgb(scene::Ink::Paper);
    assert_eq!(pixel(800, 510), [r, g, b, 255]);
    raster.draw(&ground, &sheet, None, &camera, 2.0, Theme::Evening);
    raster.draw(&ground, &sheet, None, &camera, 2.0, Theme::Day);
    assert!(raster.bytes() == first);
}

#[test]
fn a_panned_picture_is_the_one_that_would_be_drawn_anew() {
    let plot = sample::plot();
    let ground = Ground::of(&plot);
    let sheet = scab(&plot, &ground, &Moment::All);
    let wash = wash(&plot, &ground, &Moment::All);
    let tints: Vec<[u8; 3]> =
        (0..4).map(Ink::Tint).chain([Ink::Paper]).map(|ink| Theme::Day.rgb(ink)).collect();
    let is_ground = |pixel: &[u8]| tints.iter().any(|tint| pixel[..3] == tint[..]);
    let viewport = Viewport { width: 300.0, height: 200.0 };
    for (px_per_m, ratio, turn_deg) in [(6.0, 1.0, 0.0), (40.0, 2.0, -90.0), (160.0, 1.5, 30.0)] {
        let mut raster = Raster::new();
        let from = Camera { px_per_m, turn_deg, viewport, ..camera(&plot, "2-4", 1.0) };
        raster.draw(&ground, &sheet, Some(&wash), &from, ratio, Theme::Day);
        let mut asked = from;
        for (right, down) in [(7.3, 0.0), (0.0, -11.6), (-31.2, 18.9), (120.0, 77.7), (-0.2, 0.1)] {
            asked = asked.panned(right, down);
            let true_of = raster.pan(&ground, &sheet, Some(&wash), &asked).expect("a short way");
            let apart = true_of
                .screen_from_plot(ground.spots()[0])
                .distance(asked.screen_from_plot(ground.spots()[0]));
            assert!(apart * ratio < 0.75, "{apart}");
            let mut anew = Raster::new();
            anew.draw(&ground, &sheet, Some(&wash), &true_of, ratio, Theme::Day);
            // A mark between two fractions of a pixel may fall to either.
            let pairs = raster.bytes().iter().zip(anew.bytes());
            let differ = pairs.filter(|(a, b)| a.abs_diff(**b) > 70).count();
            assert!(differ * 500 < anew.bytes().len(), "{differ} of {}", anew.bytes().len());
            // The ground is the same but for pixels just on the border of two cells.
            let pixels = raster.bytes().chunks_exact(4).zip(anew.bytes().chunks_exact(4));
            let differ = pixels.filter(|(a, b)| a != b && is_ground(a) && is_ground(b)).count();
            assert!(differ * 2000 < anew.bytes().len(), "ground: {differ}");
        }
    }
}

#[test]
fn only_a_short_pan_of_what_was_drawn_keeps_the_picture() {
    let plot = sample::plot();
    let ground = Ground::of(&plot);
    let sheet = scab(&plot, &ground, &Moment::All);
    let drawn = camera(&plot, "2-4", 20.0);
    let mut raster = Raster::new();
    assert_eq!(raster.pan(&ground, &sheet, None, &drawn), None);
    raster.draw(&ground, &sheet, None, &drawn, 1.0, Theme::Day);
    assert_eq!(raster.pan(&ground, &sheet, None, &Camera { px_per_m: 20.1, ..drawn }), None);
    assert_eq!(raster.pan(&ground, &sheet, None, &Camera { turn_deg: 90.0, ..drawn }), None);
    assert_eq!(raster.pan(&ground, &sheet, None, &drawn.panned(SCREEN.width, 0.0)), None);
    assert!(raster.pan(&ground, &sheet, None, &drawn.panned(3.0, 0.0)).is_some());
}

#[test]
fn marks_at_the_edge_are_cut_not_wrapped() {
    let plot = sample::plot();
    let ground = Ground::of(&plot);
    let sheet = scab(&plot, &ground, &Moment::All);
    for px_per_m in [0.2, 3.0, 60.0, 900.0] {
        let mut raster = Raster::new();
        for (x_m, y_m) in [(0.0, 0.0), (6.0, 12.0), (-0.4, 12.3)] {
            let centre = plot::Spot { x_m, y_m };
            let viewport = Viewport { width: 41.0, height: 31.0 };
            let camera = Camera { centre, px_per_m, turn_deg: 30.0, viewport };
            raster.draw(&ground, &sheet, None, &camera, 1.5, Theme::Day);
            assert_eq!(raster.bytes().len(), 62 * 47 * 4);
        }
    }
}

#[test]
fn a_plot_without_trees_is_no_trouble() {
    let plot = Plot::new(sample::plot().head().clone()).unwrap();
    let ground = Ground::of(&plot);
    assert!(ground.is_empty());
    for layer in Layer::all(&plot) {
        let sources = Sources { plot: &plot, ground: &ground, record: None, report: None };
        let sheet = Sheet::of(sources, &layer, &Moment::All);
        assert!(sheet.order().is_empty());
    }
    let camera = Camera::fit(ground.bounds(), SCREEN, Default::default(), 0.0);
    assert!(camera.px_per_m.is_finite());
    let sheet = scab(&plot, &ground, &Moment::All);
    assert_eq!(hit(&ground, &sheet, &camera, Point::default(), Pointer::Finger), Hit::Nothing);
}

fn wash(plot: &Plot, ground: &Ground, moment: &Moment) -> Wash {
    let report = sample::report(plot);
    let field = Field::of(plot, ground, &report);
    let sources =
        WashSources { plot, disease: "scab", report: Some(&report), field: field.as_ref() };
    let layer = Layer::from_key(plot, "verdict/scab").expect("a layer");
    let rounds = layer.rounds(plot, Some("scab"));
    Wash::of(sources, Underlay::Tissue, moment, &rounds).expect("no plain ground")
}

/// Every pixel that no mark covers has the tint of the cell under its middle, however the plot is
/// turned, and paper beyond the cells.
#[test]
fn the_ground_is_tinted_as_its_cells_are_under_every_turn() {
    let plot = sample::plot();
    let ground = Ground::of(&plot);
    let wash = wash(&plot, &ground, &Moment::All);
    let (lattice, codes) = wash.cells().expect("cells");
    let nobody = scab(&plot, &ground, &round(1999, "none"));
    let bare: Vec<TreeIx> = nobody.order().to_vec();
    for (turn_deg, px_per_m) in
        [(0.0, 31.0), (-90.0, 7.0), (90.0, 12.5), (180.0, 9.0), (33.0, 19.0)]
    {
        let camera = Camera { turn_deg, ..camera(&plot, "3-5", px_per_m) };
        let mut raster = Raster::new();
        raster.draw(&ground, &nobody, Some(&wash), &camera, 1.0, Theme::Day);
        let (mut tinted, mut seen) = (0, std::collections::BTreeSet::new());
        for (nth, pixel) in raster.bytes().chunks_exact(4).enumerate() {
            let (x, y) = (nth % raster.width(), nth / raster.width());
            let at = Point { x: x as f64 + 0.5, y: y as f64 + 0.5 };
            let under_a_mark = |tree: &TreeIx| {
                camera.screen_from_plot(ground.spot(*tree)).distance(at) < 0.5 * px_per_m + 4.0
            };
            if (x + y * 7) % 11 != 0 || bare.iter().any(under_a_mark) {
                continue;
            }
            let cell = lattice.cell(camera.plot_from_screen(at));
            let ink = cell.map_or(Ink::Paper, |cell| wash.ink(codes[cell]));
            let near_border =
                [(-0.02, 0.0), (0.02, 0.0), (0.0, -0.02), (0.0, 0.02)].iter().any(|(dx, dy)| {
                    let near = Point { x: at.x + dx, y: at.y + dy };
                    lattice.cell(camera.plot_from_screen(near)) != cell
                });
            if near_border {
                continue;
            }
            assert_eq!(pixel[..3], Theme::Day.rgb(ink), "{turn_deg}: {x} {y}");
            tinted += usize::from(ink != Ink::Paper);
            seen.insert(format!("{ink:?}"));
        }
        assert!(tinted > 300 && seen.len() > 2, "{turn_deg}: {tinted} {seen:?}");
    }
}

#[test]
fn the_tint_walks_with_the_moment_and_says_so() {
    let plot = sample::plot();
    let ground = Ground::of(&plot);
    let at = |moment: &Moment| wash(&plot, &ground, moment);
    let (first, second) = (at(&round(2031, "1")), at(&round(2031, "2")));
    let heavy = |wash: &Wash| wash.shades()[2].area_m2 + wash.shades()[3].area_m2;
    assert!(heavy(&second) > heavy(&first) + 20.0, "{:?}", second.shades());
    assert!(first.title().ends_with("season 2031 up to 3 June 2031"), "{}", first.title());
    // No scab was scored in the rounds of a season that the report does not know.
    let unknown = at(&Moment::Season(Season(1999)));
    let told = unknown.shades().iter().filter(|shade| shade.step.is_some());
    assert_eq!(told.map(|shade| shade.area_m2).sum::<f64>(), 0.0);
}

#[test]
fn without_a_fit_the_ground_stays_paper_and_says_that_nobody_can_tell() {
    let plot = sample::plot();
    for (report, label) in [(None, "not judged yet"), (Some(sample::report(&plot)), "cannot tell")]
    {
        let sources =
            WashSources { plot: &plot, disease: "scab", report: report.as_ref(), field: None };
        let wash = Wash::of(sources, Underlay::Witnesses, &Moment::All, &[]).expect("a legend");
        assert!(wash.cells().is_none());
        assert_eq!(wash.shades().last().map(|shade| shade.label.as_str()), Some(label));
        assert!(Wash::of(sources, Underlay::Plain, &Moment::All, &[]).is_none());
    }
}

#[test]
fn the_slider_stops_at_each_round_each_season_and_all() {
    let plot = sample::plot();
    let verdict = Layer::from_key(&plot, "verdict/scab").expect("a layer");
    let rounds = verdict.rounds(&plot, Some("scab"));
    let stops = Moment::stops(&rounds);
    // Season 2032 has one round: that is the season.
    let expected = [
        round(2031, "1"),
        round(2031, "2"),
        Moment::Season(Season(2031)),
        round(2032, "1"),
        Moment::All,
    ];
    assert_eq!(stops, expected);
    assert_eq!(Moment::stops(&rounds[..2]), [round(2031, "1"), round(2031, "2"), Moment::All]);
    assert_eq!(Moment::stops(&[]), [Moment::All]);
}

#[test]
fn names_stand_on_the_screen_and_clear_of_each_other() {
    let plot = sample::plot();
    let ground = Ground::of(&plot);
    let sheet = scab(&plot, &ground, &Moment::All);
    let viewport = Viewport { width: 220.0, height: 300.0 };
    let width_px = |text: &str| 7.0 * text.len() as f64;
    let setting = Setting { line_px: 14.0, width_px: &width_px };
    for tree in ["1-1", "3-5", "5-9"] {
        let camera = Camera { viewport, ..camera(&plot, tree, 60.0) };
        let names = labels(&plot, &ground, &sheet, &camera, setting, &[], &[]);
        assert!(names.len() > 1, "{tree}: {}", names.len());
        let edges = |name: &scene::Label| {
            let right = name.at.x + width_px(&name.text);
            [name.at.x, right, name.at.y - 7.0, name.at.y + 7.0]
        };
        for (nth, name) in names.iter().enumerate() {
            let [left, right, top, bottom] = edges(name);
            assert!(left >= 0.0 && right <= 220.0 && top >= 0.0 && bottom <= 300.0, "{name:?}");
            for other in &names[..nth] {
                let [l, r, t, b] = edges(other);
                assert!(right <= l || r <= left || bottom <= t || b <= top, "{name:?} {other:?}");
            }
        }
    }
}
