//! The rankings: clean trees by luck, infected ones by how much less they carry than their dose
//! explains, copies pooled.

use std::sync::Arc;

use language::{count, say};
use leptos::prelude::*;
use plot::{Plot, TreeIx};
use proof::{Judgement, Report, Verdict};
use scene::words;

use super::detail::Detail;
use super::luck_bar::LuckBar;
use crate::parts::{Windowed, keys_to};
use crate::state::app;

/// Which list is shown.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum List {
    /// Clean trees, the least luck first.
    #[default]
    Clean,
    /// Infected trees, the largest gap first.
    Infected,
    /// Genotypes with several copies, the least luck first.
    Copies,
}

/// What the lists are narrowed to.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Picked {
    /// Which list.
    pub list: List,
    /// Only this verdict.
    pub verdict: Option<Verdict>,
    /// Only this cross; the inner none: parents unknown.
    pub cross: Option<Option<String>>,
}

impl Picked {
    /// Picks a verdict, or lets go of it.
    pub fn toggle(&mut self, verdict: Verdict) {
        self.verdict = (self.verdict != Some(verdict)).then_some(verdict);
        self.list = if verdict == Verdict::Infected { List::Infected } else { List::Clean };
    }

    /// Picks a cross, or lets go of it.
    pub fn toggle_cross(&mut self, cross: Option<String>) {
        self.cross = (self.cross.as_ref() != Some(&cross)).then_some(cross);
    }

    fn show(&mut self, list: List) {
        self.list = list;
        self.verdict = None;
    }
}

/// One who is ranked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Who {
    /// A tree or graft.
    Tree(TreeIx),
    /// The nth genotype of the report.
    Genotype(usize),
}

impl Who {
    /// Its judgement.
    pub fn judgement(self, report: &Report) -> Option<&Judgement> {
        match self {
            Self::Tree(tree) => report.tree(tree).map(|line| &line.judgement),
            Self::Genotype(nth) => report.genotypes.get(nth).map(|line| &line.judgement),
        }
    }
}

/// The lists, and the chosen one beside them.
#[component]
pub fn Rankings(report: Arc<Report>, picked: RwSignal<Picked>) -> impl IntoView {
    let app = app();
    let chosen = RwSignal::new(None::<Who>);
    let ranked = {
        let report = report.clone();
        Memo::new(move |_| {
            app.plot_now(|plot| picked.with(|picked| ranked(plot, &report, picked)))
                .unwrap_or_default()
        })
    };
    let tab = move |list: List, words: &'static str| {
        view! {
            <button
                class="button"
                aria-pressed=move || picked.with(|picked| picked.list == list).to_string()
                on:click=move |_| picked.update(|picked| picked.show(list))
            >
                {words}
            </button>
        }
    };
    let for_rows = report.clone();
    let row = move |nth: usize| {
        let who = ranked.with(|ranked| ranked.get(nth).copied());
        let line = app.plot_now(|plot| Line::of(plot, &for_rows, who?)).flatten();
        line.map(|line| view! { <LineView line /> }.into_any()).unwrap_or_else(|| ().into_any())
    };
    let at = Memo::new(move |_| {
        let chosen = chosen.get()?;
        ranked.with(|ranked| ranked.iter().position(|&who| who == chosen))
    });
    let choose = move |nth: usize| {
        chosen.set(ranked.with_untracked(|ranked| ranked.get(nth).copied()));
    };
    let has_copies = !report.genotypes.iter().all(|it| it.trees.len() < 2);
    let close = move || {
        keys_to(".ranking");
        chosen.set(None);
    };
    view! {
        <section class="rankings" aria-labelledby="proof-ranking">
            <h2 id="proof-ranking">{say!("Tree by tree")}</h2>
            <div class="row" role="group" aria-label=say!("Which list")>
                {tab(List::Clean, say!("Clean, by luck"))}
                {tab(List::Infected, say!("Infected, by gap"))}
                {has_copies.then(|| tab(List::Copies, say!("Copies together")))}
            </div>
            <p class="hint">{move || picked.with(|picked| meaning(picked, ranked.with(Vec::len)))}</p>
            <div class="ranking-beside" on:keydown=move |event| {
                if event.key() == "Escape" {
                    close();
                }
            }>
                <Windowed count=Signal::derive(move || ranked.with(Vec::len)) chosen=at.into() choose=Callback::new(choose) row=Callback::new(row) />
                {move || chosen.get().map(|who| view! {
                    <Detail report=report.clone() who close />
                })}
            </div>
        </section>
    }
}

#[component]
fn LineView(line: Line) -> impl IntoView {
    let Line { name, about, verdict, number, luck, rest } = line;
    view! {
        <span class="rank-name">{name}</span>
        <span class="rank-number">{number}</span>
        <span class="rank-about">{about}</span>
        <span class="rank-word" data-verdict=verdict.as_str()>{words::verdict(verdict)}</span>
        {match luck {
            Some(luck) => view! { <LuckBar luck /> }.into_any(),
            None => view! { <span class="rank-rest">{rest.clone()}</span> }.into_any(),
        }}
    }
}

struct Line {
    name: String,
    about: String,
    verdict: Verdict,
    number: String,
    luck: Option<proof::Estimate>,
    rest: String,
}

impl Line {
    fn of(plot: &Plot, report: &Report, who: Who) -> Option<Self> {
        let judgement = who.judgement(report)?;
        let (name, about) = match who {
            Who::Tree(tree) => {
                let one = plot.tree(tree);
                let cross = (!one.cross().is_unknown()).then(|| one.cross().to_string());
                let place = one.row().zip(one.place());
                let place = place.map(|(row, place)| say!("row {row}, {place}"));
                let about: Vec<String> = [cross, place].into_iter().flatten().collect();
                (plot.tree(tree).name(), about.join(" · "))
            }
            Who::Genotype(nth) => {
                let pooled = report.genotypes.get(nth)?;
                let trees = pooled.trees.len();
                (pooled.genotype.to_string(), count!(trees, "1 tree", "{trees} trees"))
            }
        };
        let number = match judgement.luck {
            Some(luck) => say!("luck {luck}", luck = words::percent(luck.value)),
            None => gap(judgement).map_or_else(String::new, |gap| {
                let sign = if gap >= 0.0 { "" } else { "−" };
                say!("gap {sign}{abs}", abs = words::percent(gap.abs()))
            }),
        };
        // It stands where there is no luck to draw.
        let area = match (judgement.luck, who) {
            (None, Who::Tree(tree)) => words::worst_progress(plot, &report.disease, tree),
            _ => None,
        };
        let worst = words::percent(judgement.worst_severity);
        let rest = match judgement.expected_severity.map(words::percent) {
            Some(expected) => say!("worst {worst} of the tissue, expected {expected}"),
            None => say!("worst {worst} of the tissue"),
        };
        let rest = area.map_or(rest.clone(), |area| format!("{rest}, {area}"));
        Some(Self { name, about, verdict: judgement.verdict, number, luck: judgement.luck, rest })
    }
}

/// The gap shrunk over seasons where there is one, else the plain one.
fn gap(judgement: &Judgement) -> Option<f64> {
    judgement.shrunk_gap.map(|gap| gap.value).or(judgement.severity_gap)
}

/// Who is on the list, in order; ties go by id.
fn ranked(plot: &Plot, report: &Report, picked: &Picked) -> Vec<Who> {
    let wanted = |judgement: &Judgement| {
        let is_clean = judgement.verdict != Verdict::Infected;
        let on_list = match picked.list {
            List::Clean => is_clean,
            List::Infected => !is_clean,
            List::Copies => true,
        };
        on_list && picked.verdict.is_none_or(|verdict| judgement.verdict == verdict)
    };
    let of_cross = |tree: TreeIx| {
        picked.cross.as_ref().is_none_or(|wanted| {
            let cross = plot.tree(tree).cross();
            (!cross.is_unknown()).then(|| cross.to_string()) == *wanted
        })
    };
    // Luck rises, a gap falls; what has neither comes last.
    let key = |judgement: &Judgement| match judgement.luck {
        Some(luck) => luck.value,
        None => gap(judgement).map_or(f64::INFINITY, |gap| -gap),
    };
    let mut keyed: Vec<(f64, String, Who)> = match picked.list {
        List::Copies => report
            .genotypes
            .iter()
            .enumerate()
            .filter(|(_, it)| it.trees.len() > 1 && wanted(&it.judgement))
            .map(|(nth, it)| (key(&it.judgement), it.genotype.to_string(), Who::Genotype(nth)))
            .collect(),
        _ => report
            .trees
            .iter()
            .filter(|it| plot.is_judged(it.tree) && wanted(&it.judgement) && of_cross(it.tree))
            .map(|it| (key(&it.judgement), plot.tree(it.tree).id().to_string(), Who::Tree(it.tree)))
            .collect(),
    };
    keyed.sort_by(|a, b| a.0.total_cmp(&b.0).then_with(|| a.1.cmp(&b.1)));
    keyed.into_iter().map(|(.., who)| who).collect()
}

fn meaning(picked: &Picked, count: usize) -> String {
    let trees = match picked.list {
        List::Copies => {
            count!(count, "1 genotype", "{genotypes} genotypes", genotypes = count)
        }
        _ => count!(count, "1 tree", "{trees} trees", trees = count),
    };
    let trees = match &picked.cross {
        None => trees,
        Some(None) => say!("{trees} of unknown parents"),
        Some(Some(cross)) => say!("{trees} of {cross}"),
    };
    let trees = match picked.verdict {
        None => trees,
        Some(verdict) => say!("{trees}, only {verdict}", verdict = words::verdict(verdict)),
    };
    match picked.list {
        List::Clean => {
            say!("{trees}; the least luck first. {meaning}", meaning = words::luck_meaning())
        }
        List::Infected => say!(
            "{trees}; those first that carry less than their dose explains: the disease came \
             slowly to them. A gap from few scores is drawn towards its cross. AUDPS is the area \
             under the disease progress stairs in the worst season, in share-days: all of the \
             tissue diseased for one day is 1."
        ),
        List::Copies => {
            say!("{trees}; copies of one genotype share one hidden state, so their doses add up.")
        }
    }
}
