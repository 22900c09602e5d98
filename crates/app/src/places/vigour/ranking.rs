//! Tree by tree: the number as measured, the trend and the adjusted number side by side.

use std::sync::Arc;

use judge::Grown;
use language::{count, say, text};
use leptos::prelude::*;
use plot::{Plot, Season, Status, TreeIx};
use scene::words;
use vigour::Line;

use super::detail::Detail;
use super::{signed, two};
use crate::parts::{Windowed, keys_to};
use crate::state::{App, app};

/// What the list is ordered by, the most first.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Order {
    Adjusted,
    Measured,
    Growth,
    Trend,
}

impl Order {
    const ALL: [(Self, &'static str); 4] = [
        (Self::Adjusted, text!("Adjusted")),
        (Self::Measured, text!("As measured")),
        (Self::Growth, text!("By growth")),
        (Self::Trend, text!("By what the place gives")),
    ];

    fn key(self, line: &Line) -> f64 {
        let adjusted = line.adjusted;
        let key = match self {
            Self::Adjusted => adjusted.map(|value| value.adjusted).or(line.measured.number()),
            Self::Measured => line.measured.number(),
            Self::Growth => line.measured.growth.map(|growth| growth.area_cm2),
            Self::Trend => adjusted.map(|value| value.trend),
        };
        key.unwrap_or(f64::NEG_INFINITY)
    }
}

/// What a person made of the list: its order, and who is chosen.
#[derive(Clone, Copy)]
pub struct List {
    order: RwSignal<Order>,
    chosen: RwSignal<Option<TreeIx>>,
}

impl List {
    /// The best first, the tree chosen that is chosen elsewhere.
    pub fn new(app: App) -> Self {
        let chosen = RwSignal::new(app.chosen.get_untracked());
        Self { order: RwSignal::new(Order::Adjusted), chosen }
    }
}

/// The list of one season, and the chosen tree beside it.
#[component]
pub fn Ranking(grown: Arc<Grown>, season: Season, unit: String, list: List) -> impl IntoView {
    let app = app();
    let List { order, chosen } = list;
    let ranked = {
        let grown = grown.clone();
        Memo::new(move |_| {
            let ranked = |plot: &Plot| ranked(plot, &grown, season, order.get());
            Arc::new(app.plot_now(ranked).unwrap_or_default())
        })
    };
    let row = {
        let (grown, unit) = (grown.clone(), unit.clone());
        move |nth: usize| {
            let at = ranked.with(|ranked| ranked.get(nth).copied());
            let line = at.and_then(|at| grown.vigour.lines.get(at));
            let made = line.and_then(|line| app.plot_now(|plot| row(plot, nth, line, &unit)));
            made.unwrap_or_else(|| ().into_any())
        }
    };
    let tree_at = {
        let grown = grown.clone();
        move |nth: usize| {
            let at = ranked.with_untracked(|ranked| ranked.get(nth).copied())?;
            Some(grown.vigour.lines[at].measured.tree)
        }
    };
    let at = {
        let grown = grown.clone();
        Memo::new(move |_| {
            let chosen = chosen.get()?;
            let is_it = |&at: &usize| grown.vigour.lines[at].measured.tree == chosen;
            ranked.with(|ranked| ranked.iter().position(is_it))
        })
    };
    let tab = move |(own, words): (Order, &'static str)| {
        let pressed = move || (order.get() == own).to_string();
        view! { <button class="button" aria-pressed=pressed on:click=move |_| order.set(own)>{language::said(words)}</button> }
            .into_any()
    };
    let count = Signal::derive(move || ranked.with(|ranked| ranked.len()));
    let about = move || {
        let trees = count.get();
        say!(
            "{trees}, the most first. Beside the name the adjusted number; below, what was \
             measured, what the place gives, and the 90\u{a0}% interval of the adjusted number as \
             far as the trend is known there: how well the tree was measured is not in it.",
            trees = count!(trees, "1 tree", "{trees} trees")
        )
    };
    let close = move || {
        keys_to(".ranking");
        chosen.set(None);
    };
    view! {
        <section class="rankings" aria-labelledby="vigour-ranking">
            <h2 id="vigour-ranking">{say!("Tree by tree")}</h2>
            <div class="row" role="group" aria-label=say!("In which order")>
                {Order::ALL.map(tab).into_iter().collect_view()}
            </div>
            <p class="hint">{about}</p>
            <div class="ranking-beside" on:keydown=move |event| {
                if event.key() == "Escape" {
                    close();
                }
            }>
                <Windowed
                    count
                    chosen=at.into()
                    choose=Callback::new(move |nth| chosen.set(tree_at(nth)))
                    row=Callback::new(row)
                />
                {move || chosen.get().map(|tree| view! {
                    <Detail grown=grown.clone() tree unit=unit.clone() close />
                })}
            </div>
        </section>
    }
}

/// Lines of a season with a number, in order; ties go by the tree's id.
fn ranked(plot: &Plot, grown: &Grown, season: Season, order: Order) -> Vec<usize> {
    let lines = grown.vigour.lines.iter().enumerate();
    let of_season = lines
        .filter(|(_, line)| line.measured.season == season && line.measured.number().is_some());
    let mut keyed: Vec<(f64, &str, usize)> = of_season
        .map(|(at, line)| (order.key(line), plot.tree(line.measured.tree).id().as_str(), at))
        .collect();
    keyed.sort_by(|a, b| b.0.total_cmp(&a.0).then_with(|| a.1.cmp(b.1)));
    keyed.into_iter().map(|(.., at)| at).collect()
}

fn row(plot: &Plot, nth: usize, line: &Line, unit: &str) -> AnyView {
    let one = plot.tree(line.measured.tree);
    let cross = (!one.cross().is_unknown()).then(|| one.cross().to_string());
    let place = one.row().zip(one.place()).map(|(row, place)| say!("row {row}, {place}"));
    let gone = (one.status() != Status::Alive).then(|| words::standing(one.status()).to_owned());
    let about: Vec<String> = [gone, cross, place].into_iter().flatten().collect();
    let measured = line.measured.number().map(two).unwrap_or_default();
    let (number, rest) = match line.adjusted {
        Some(value) => {
            let (low, high) = value.interval_90();
            let rest = say!(
                "measured {measured} · place {trend} · {low} to {high}",
                trend = signed(value.trend),
                low = two(low),
                high = two(high)
            );
            (two(value.adjusted), rest)
        }
        None => (measured.clone(), say!("measured {measured}, not adjusted")),
    };
    let growth = line.measured.growth.map(|growth| {
        let since = words::season_name(plot, growth.since);
        say!("{growth} since {since}", growth = signed(growth.area_cm2))
    });
    view! {
        <span class="rank-name">{nth + 1} ". " {one.name()}</span>
        <span class="rank-number">{number} {unit.to_owned()}</span>
        <span class="rank-about">{about.join(" · ")}</span>
        <span class="rank-word">{growth}</span>
        <span class="rank-rest">{rest}</span>
    }
    .into_any()
}
