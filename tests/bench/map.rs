//! What the map does with 100,000 trees: laid out, classed by a layer, drawn into pixels, moved
//! under a finger, asked what lies under it.
#![allow(missing_docs, reason = "the macro makes an undocumented function")]

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use epidemic::{Kind, make};
use scene::{
    Camera, Ground, Insets, Layer, Moment, Point, Pointer, Raster, Record, Sheet, Sources, Theme,
    Viewport, hit,
};

const LAPTOP: Viewport = Viewport { width: 1440.0, height: 760.0 };

fn map(criterion: &mut Criterion) {
    let mut recipe = Kind::FourSeasons.recipe(11);
    (recipe.planting.rows, recipe.planting.places) = (400, 250);
    recipe.seasons = 1;
    let plot = make(&recipe, 11).expect("a plot").plot;
    let ground = Ground::of(&plot);
    let layer = Layer::all(&plot).remove(0);
    let trait_ix = layer.trait_ix(&plot).expect("a trait");
    let record = Record::of(&plot, trait_ix);
    let sources = Sources { plot: &plot, ground: &ground, record: Some(&record), report: None };
    let sheet = Sheet::of(sources, &layer, &Moment::All);
    let whole = Camera::fit(ground.bounds(), LAPTOP, Insets::default(), 0.0);

    let mut group = criterion.benchmark_group("100,000 trees");
    group.sample_size(20);
    group.bench_function("ground", |bencher| bencher.iter(|| black_box(Ground::of(&plot))));
    group.bench_function("record", |bencher| bencher.iter(|| Record::of(&plot, trait_ix)));
    group.bench_function("layer", |bencher| {
        bencher.iter(|| Sheet::of(sources, &layer, &Moment::All));
    });
    let mut raster = Raster::new();
    for (name, factor) in [("whole", 1.0), ("nearer", 4.0), ("close up", 30.0)] {
        let camera = Camera { px_per_m: whole.px_per_m * factor, ..whole };
        group.bench_function(format!("draw {name}"), |bencher| {
            // Another theme each time: nothing can be kept.
            let mut theme = Theme::Day;
            bencher.iter(|| {
                theme = if theme == Theme::Day { Theme::Evening } else { Theme::Day };
                raster.draw(&ground, &sheet, None, &camera, 1.0, theme);
            });
        });
        group.bench_function(format!("pan {name}"), |bencher| {
            raster.draw(&ground, &sheet, None, &camera, 1.0, Theme::Day);
            let mut camera = camera;
            let mut way = 3.0;
            bencher.iter(|| {
                way = -way;
                camera = camera.panned(way, 2.0);
                raster.pan(&ground, &sheet, None, &camera).expect("a short way")
            });
        });
    }
    group.bench_function("hit test", |bencher| {
        let at = Point { x: 700.0, y: 300.0 };
        bencher.iter(|| black_box(hit(&ground, &sheet, &whole, at, Pointer::Finger)));
    });
    group.finish();
}

criterion_group!(benches, map);
criterion_main!(benches);
