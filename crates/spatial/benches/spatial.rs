//! The heavy pieces on 10,000 points: for watching a change, not for comparing machines.

#![allow(missing_docs, reason = "the function that criterion's macro writes has none")]

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use spatial::{
    Neighbours, PointIndex, Weights, geary_permutation, gi_star, local_moran,
    local_moran_permutation, moran, moran_permutation,
};

/// A planted grid of 100 rows of 100 places at 0.75 × 3 m, with a value that clumps.
fn plot() -> (Vec<(f64, f64)>, Vec<f64>) {
    let points: Vec<(f64, f64)> =
        (0..10_000u32).map(|at| (f64::from(at % 100) * 0.75, f64::from(at / 100) * 3.0)).collect();
    let values = points.iter().map(|&(x, y)| libm::sin(x / 9.0) * libm::cos(y / 40.0)).collect();
    (points, values)
}

fn neighbours(criterion: &mut Criterion) {
    let (points, _) = plot();
    let mut group = criterion.benchmark_group("neighbours");
    group.bench_function("8 nearest of all, grid", |bench| {
        bench.iter(|| Neighbours::nearest(black_box(&points), 8));
    });
    group.bench_function("8 nearest of all, tree", |bench| {
        bench.iter(|| {
            let index = PointIndex::new(black_box(&points));
            (0..points.len()).map(|i| index.nearest(i, 8).len()).sum::<usize>()
        });
    });
    group.bench_function("within 5 m of all, grid", |bench| {
        bench.iter(|| Neighbours::within(black_box(&points), 5.0));
    });
    group.bench_function("within 5 m of all, tree", |bench| {
        bench.iter(|| {
            let index = PointIndex::new(black_box(&points));
            (0..points.len()).map(|i| index.within(i, 5.0).len()).sum::<usize>()
        });
    });
}

fn statistics(criterion: &mut Criterion) {
    let (points, values) = plot();
    let weights = Weights::nearest(&points, 8).row_standardised();
    let uneven = Weights::from_neighbours(&Neighbours::nearest(&points, 8), |_, near| {
        libm::exp2(-near.distance_m)
    });
    let mut group = criterion.benchmark_group("statistics");
    group.sample_size(20);
    group.bench_function("Moran, moments", |bench| bench.iter(|| moran(&weights, &values)));
    group.bench_function("Moran, 999 permutations", |bench| {
        bench.iter(|| moran_permutation(&weights, &values, 999, 1));
    });
    group.bench_function("Geary, 999 permutations", |bench| {
        bench.iter(|| geary_permutation(&weights, &values, 999, 1));
    });
    group.bench_function("local Moran, moments", |bench| {
        bench.iter(|| local_moran(&weights, &values));
    });
    group.bench_function("local Moran, 999 permutations", |bench| {
        bench.iter(|| local_moran_permutation(&weights, &values, 999, 1));
    });
    group.bench_function("local Moran, 999 permutations, uneven weights", |bench| {
        bench.iter(|| local_moran_permutation(&uneven, &values, 999, 1));
    });
    group.bench_function("Gi*", |bench| bench.iter(|| gi_star(&weights, &values)));
}

criterion_group!(benches, neighbours, statistics);
criterion_main!(benches);
