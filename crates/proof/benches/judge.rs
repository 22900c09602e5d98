//! A whole judgement of made-up plots of four seasons with three rounds each: cost should grow
//! with the number of trees, no faster.
#![allow(missing_docs, reason = "the macro makes an undocumented function")]

use std::hint::black_box;

use criterion::{BenchmarkId, Criterion, Throughput, criterion_group, criterion_main};
use epidemic::{Kind, make};
use proof::{Options, Run};

/// Rows of a hundred places.
const ROWS: [u16; 3] = [12, 48, 192];

fn judge(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("judge");
    group.sample_size(10);
    for rows in ROWS {
        let mut recipe = Kind::FourSeasons.recipe(1);
        (recipe.planting.rows, recipe.planting.places) = (rows.into(), 100);
        let made = make(&recipe, 1).expect("a plot");
        let trees = made.plot.trees().len();
        group.throughput(Throughput::Elements(trees as u64));
        group.bench_function(BenchmarkId::from_parameter(trees), |bencher| {
            bencher.iter(|| {
                let disease = &made.truth[0].disease;
                black_box(Run::to_the_end(&made.plot, disease, &Options::default()))
            });
        });
    }
    group.finish();
}

criterion_group!(benches, judge);
criterion_main!(benches);
