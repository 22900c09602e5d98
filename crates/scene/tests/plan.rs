//! The map of a plan alone, for a screen with a legend of its own.

use plot::{Head, Layout, Origin, Planted, Planting, Run};
use scene::{
    Camera, Ground, Insets, Layer, Moment, Page, Sheet, Sources, Theme, Viewport, svg, svg_map,
};
use walk::Ends;

#[test]
fn a_map_alone_has_every_place_the_ends_and_no_names() {
    let plan = Planting {
        head: Head {
            name: "Reed Corner".to_owned(),
            layout: Layout {
                row_spacing_m: 3.0,
                place_spacing_m: 0.75,
                first_row: 1,
                first_place: 1,
            },
            origin: Some(Origin { lon: -30.0, lat: 45.0, row_bearing_deg: 12.0 }),
            season_starts_month: 1,
            traits: files::usual_traits(),
            diseases: files::built_in_diseases(),
            crosses: Vec::new(),
        },
        rows: 3,
        places: 12,
        runs: vec![Run {
            line: 1,
            rows: Some(3..=3),
            places: None,
            every: None,
            what: Planted::Places(7),
        }],
        planted_on: None,
    };
    let plot = plan.plant().expect("a sound plan");
    let ends = Ends { low: Some("road end".into()), high: None };
    let ground = Ground::of(&plot).with_ends(ends);
    let sources = Sources { plot: &plot, ground: &ground, record: None, report: None };
    let sheet = Sheet::of(sources, &Layer::Cross, &Moment::All);
    let viewport = Viewport { width: 360.0, height: 300.0 };
    let room = Insets { top: 48.0, right: 48.0, bottom: 48.0, left: 48.0 };
    let camera = Camera::fit(ground.bounds(), viewport, room, 0.0);
    let page = Page {
        plot: &plot,
        ground: &ground,
        sheet: &sheet,
        wash: None,
        camera: &camera,
        theme: Theme::Day,
        neighbours: None,
    };
    let (map, whole) = (svg_map(page), svg(page));
    assert!(map.contains("viewBox=\"0 0 360 300\""), "{map}");
    assert!(map.trim_end().ends_with("</svg>"), "{map}");
    let count = |text: &str, part: &str| text.matches(part).count();
    assert_eq!(count(&map, "<use "), 31);
    for said in [">road end</text>", ">N</text>", "m</text>", ">3</text>"] {
        assert!(map.contains(said), "{said} in {map}");
    }
    assert_eq!(count(&map, ">T0"), 0, "names of trees");
    assert!(count(&whole, ">T0") > 0, "the whole page has them");
    assert_eq!(count(&map, "parents unknown"), 0, "a legend");
}
