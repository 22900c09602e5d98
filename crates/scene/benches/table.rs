//! How long the table of a hundred thousand trees takes to be ordered.
#![allow(missing_docs, reason = "the macro makes an undocumented function")]

use criterion::{Criterion, criterion_group, criterion_main};
use plot::{CrossKey, Head, Layout, Plot, TreeDraft, TreeId};
use scene::{Column, Ground, Layer, Moment, Sheet, Sources, lines};

const ROWS: i32 = 250;
const PLACES: i32 = 400;

fn plot() -> Plot {
    let layout = Layout { row_spacing_m: 3.0, place_spacing_m: 0.75, first_row: 1, first_place: 1 };
    let mut plot = Plot::new(Head {
        name: "Wide Acre".into(),
        layout,
        origin: None,
        season_starts_month: 1,
        traits: Vec::new(),
        diseases: Default::default(),
        crosses: Vec::new(),
    })
    .expect("a head");
    for row in 1..=ROWS {
        for place in 1..=PLACES {
            // Tags in another order than places.
            let nth = (row * PLACES + place) * 7_919 % (ROWS * PLACES);
            let mut tree = TreeDraft::new(TreeId::new(format!("T{row:03}-{place:03}")));
            tree.location.row = Some(row);
            tree.location.place = Some(place);
            tree.tag = Some(format!("Q-{nth}").into());
            tree.cross = CrossKey {
                seed_parent: Some(format!("Mother {}", nth % 40).into()),
                pollen_parent: Some(format!("TR-{}", nth % 11).into()),
            };
            tree.cross_year = Some(2020 + nth % 9);
            plot.add_tree(tree).expect("a tree");
        }
    }
    plot
}

fn order(bench: &mut Criterion) {
    let plot = plot();
    let ground = Ground::of(&plot);
    let sources = Sources { plot: &plot, ground: &ground, record: None, report: None };
    let sheet = Sheet::of(sources, &Layer::Cross, &Moment::All);
    for column in Column::ALL {
        let name = format!("order 100,000 lines by {column:?}");
        bench.bench_function(&name, |bench| {
            bench.iter(|| lines(&plot, &sheet, column.first_sorting()));
        });
    }
}

criterion_group! {
    name = benches;
    config = Criterion::default().sample_size(10);
    targets = order
}
criterion_main!(benches);
