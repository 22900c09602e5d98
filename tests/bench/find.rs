//! How long a question takes among 100,000 trees, and a tree without a tag among as many.
#![allow(missing_docs, reason = "the macro makes an undocumented function")]

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use epidemic::{Kind, make};
use plot::{Code, TreeIx};
use walk::{Finder, PlantingList, Rows, Seen};

fn find(criterion: &mut Criterion) {
    let mut recipe = Kind::FourSeasons.recipe(11);
    (recipe.planting.rows, recipe.planting.places, recipe.seasons) = (400, 250, 1);
    let plot = make(&recipe, 11).expect("a plot").plot;
    let (rows, finder) = (Rows::of(&plot), Finder::new(&plot));
    let some = plot.tree(TreeIx::new(43_210));
    let tag = some.tag().expect("a tag").to_owned();
    let parent = |one: &Option<std::sync::Arc<str>>| one.as_deref().unwrap_or_default().to_owned();
    let (seed, pollen) = (parent(&some.cross().seed_parent), parent(&some.cross().pollen_parent));
    let number = some.draft().seedling_no.as_deref().unwrap_or_default();
    let half: String = tag.chars().take(3).collect();
    let questions = [
        ("a letter", "c".to_owned()),
        ("a tag", tag.clone()),
        ("half a tag", half),
        ("a tag with a slip", tag.replace('-', "") + "9"),
        ("a cross and a number", format!("{pollen} x {seed} {number}")),
        ("a place", "row 173 place 200".to_owned()),
        ("two numbers", "17 20".to_owned()),
        ("a code", Code::of(some.id()).expect("a code").to_string()),
        ("eight words", format!("row 7 {seed} {pollen} {number} 2024 b c")),
    ];
    let mut group = criterion.benchmark_group("100,000 trees");
    group.sample_size(20);
    group.bench_function("index", |bencher| bencher.iter(|| black_box(Finder::new(&plot))));
    for (name, typed) in &questions {
        assert!(!finder.find(&plot, &rows, typed, 30).hits.is_empty(), "{name}: {typed}");
        group.bench_function(format!("find {name}"), |bencher| {
            bencher.iter(|| black_box(finder.find(&plot, &rows, typed, 30)));
        });
    }

    let list = PlantingList::of(&plot, &rows);
    let row = &rows.row(173).expect("a row").places;
    let mut steps: Vec<Seen> = row[40..49]
        .iter()
        .map(|place| Seen::Tag(plot.tree(place.occupant()).tag().unwrap_or_default().to_owned()))
        .collect();
    steps[4] = Seen::This;
    group.bench_function("which tree, any row", |bencher| {
        bencher.iter(|| black_box(list.which(&steps, None)));
    });
    group.bench_function("which tree, a row", |bencher| {
        bencher.iter(|| black_box(list.which(&steps, Some(173))));
    });
    group.finish();
}

criterion_group!(benches, find);
criterion_main!(benches);
