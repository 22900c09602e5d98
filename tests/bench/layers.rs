//! From a choice to what is drawn, on a made-up plot of 100,000 trees: a layer, and the tint of the
//! ground.
#![allow(missing_docs, reason = "the macro makes an undocumented function")]

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use epidemic::{Kind, make};
use proof::{Options, Report, Run};
use scene::{Field, Ground, Layer, Moment, Record, Sheet, Sources, Underlay, Wash, WashSources};

/// A plot of so many rows of a hundred, and a report on it whose lines are those of a judged plot
/// of 2,000 trees again and again.
fn judged(rows: u16) -> (plot::Plot, String, Report) {
    let mut recipe = Kind::FourSeasons.recipe(1);
    (recipe.planting.rows, recipe.planting.places) = (rows.into(), 100);
    let large = make(&recipe, 1).expect("a plot");
    (recipe.planting.rows, recipe.planting.places) = (20, 100);
    let small = make(&recipe, 1).expect("a plot");
    let disease = small.truth[0].disease.clone();
    let mut report = Run::to_the_end(&small.plot, &disease, &Options::default()).expect("a report");
    let lines = report.trees.clone();
    report.trees = large
        .plot
        .trees_ix()
        .zip(lines.iter().cycle())
        .map(|((tree, _), line)| proof::TreeReport { tree, ..line.clone() })
        .collect();
    (large.plot, disease, report)
}

fn layers(criterion: &mut Criterion) {
    for rows in [200_u16, 1000] {
        let (plot, disease, report) = judged(rows);
        let trees = plot.trees().len();
        let ground = Ground::of(&plot);
        let mut group = criterion.benchmark_group(format!("{trees} trees"));
        group.sample_size(10);
        for layer in Layer::all(&plot) {
            let record = layer.trait_ix(&plot).map(|ix| Record::of(&plot, ix));
            group.bench_function(layer.key(&plot), |bencher| {
                bencher.iter(|| {
                    let sources = Sources {
                        plot: &plot,
                        ground: &ground,
                        record: record.as_ref(),
                        report: layer.needs_report().then_some(&report),
                    };
                    black_box(Sheet::of(sources, &layer, &Moment::All))
                });
            });
        }
        group.bench_function("ground, the first time", |bencher| {
            bencher.iter(|| black_box(Field::of(&plot, &ground, &report)));
        });
        let field = Field::of(&plot, &ground, &report);
        let layer = Layer::Verdict(disease.clone());
        let rounds = layer.rounds(&plot, Some(&disease));
        for (name, moment) in [("a round", Moment::from(&rounds[1])), ("all", Moment::All)] {
            group.bench_function(format!("ground, {name}"), |bencher| {
                let sources = WashSources {
                    plot: &plot,
                    disease: &disease,
                    report: Some(&report),
                    field: field.as_ref(),
                };
                bencher.iter(|| black_box(Wash::of(sources, Underlay::Tissue, &moment, &rounds)));
            });
        }
        group.finish();
    }
}

criterion_group!(benches, layers);
criterion_main!(benches);
