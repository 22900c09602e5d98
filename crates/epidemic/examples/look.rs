//! Prints what made-up plots of each kind look like: `cargo run --release -p epidemic --example
//! look [SEEDS]`.
#![allow(clippy::print_stdout, reason = "an example speaks to the console")]

use epidemic::{Kind, make, measure, oracle};

fn main() -> Result<(), plot::Refusal> {
    let seeds: u64 = std::env::args().nth(1).and_then(|n| n.parse().ok()).unwrap_or(3);
    println!(
        "kind seed trees scores clean inf_sus inf_all dose10 dose50 dose90 auc naive err oraclep wrongp"
    );
    for &kind in Kind::ALL {
        for seed in 1..=seeds {
            let made = make(&kind.recipe(seed), seed)?;
            let truth = &made.truth[0];
            let clean = oracle::clean_trees(&made.plot, truth);
            let luck = oracle::luck(&made.plot, truth);
            let cases: Vec<(f64, bool)> =
                clean.iter().map(|t| (1.0 - luck[t], truth.tree(*t).resistant)).collect();
            let naive = measure::naive(&made.plot, truth, &clean, 8);
            let naive: Vec<(f64, bool)> =
                naive.into_iter().zip(&cases).map(|(n, c)| (n, c.1)).collect();
            let judged: Vec<_> = made
                .plot
                .trees_ix()
                .map(|t| t.0)
                .filter(|t| made.plot.is_judged(*t) && !truth.tree(*t).strands.is_empty())
                .collect();
            let share = |sus: bool| {
                let of: Vec<_> =
                    judged.iter().filter(|t| !sus || !truth.tree(**t).resistant).collect();
                of.iter().filter(|t| !clean.contains(t)).count() as f64 / of.len() as f64
            };
            let mut doses: Vec<f64> = judged.iter().map(|t| truth.tree(*t).dose).collect();
            doses.sort_by(f64::total_cmp);
            let q = |q: f64| doses[(q * (doses.len() - 1) as f64) as usize];
            let bins = measure::calibration(
                &cases.iter().map(|c| (1.0 - c.0, !c.1)).collect::<Vec<_>>(),
                10,
            );
            let proven: Vec<_> = cases.iter().filter(|c| c.0 >= 0.95).collect();
            println!(
                "{} {seed} {} {} {} {:.2} {:.2} {:.2} {:.2} {:.2} {} {} {:.3} {} {}",
                kind.as_str(),
                judged.len(),
                made.plot.scores().len(),
                clean.len(),
                share(true),
                share(false),
                q(0.1),
                q(0.5),
                q(0.9),
                measure::auc(&cases).map_or("-".into(), |a| format!("{a:.3}")),
                measure::auc(&naive).map_or("-".into(), |a| format!("{a:.3}")),
                measure::calibration_error(&bins),
                proven.len(),
                proven.iter().filter(|c| !c.1).count(),
            );
        }
    }
    Ok(())
}
