//! Judges made-up plots and writes `docs/validation.md` with its figures: `cargo xtask validate`.
#![allow(clippy::print_stdout, reason = "the program's own voice")]

use std::path::PathBuf;
use std::process::ExitCode;

use clap::Parser;
use crossing::validation::page::{self, Ablation};
use crossing::validation::planning::{self, KINDS};
use crossing::validation::trial::{self, Trial};
use epidemic::Kind;
use proof::{Options, Part};

/// The first seed of a validation; seeds below 1000 are for tuning.
const FIRST_SEED: u64 = 100_000;

/// The parts of the model that are left out in turn.
const PARTS: [(&str, Part); 3] = [
    ("frailty", Part::Frailty),
    ("witness weighting", Part::WitnessWeighting),
    ("cross shares", Part::CrossShares),
];

/// Judges made-up plots and writes the validation page.
#[derive(Parser)]
struct Call {
    /// Plots of each kind.
    #[arg(long, default_value_t = 10)]
    plots: u64,
    /// Seed of the first plot; the others follow.
    #[arg(long, default_value_t = FIRST_SEED)]
    first_seed: u64,
    /// Only these kinds.
    #[arg(long, value_delimiter = ',')]
    kinds: Vec<String>,
    /// Threads.
    #[arg(long, default_value_t = 2)]
    threads: usize,
    /// Spare the runs that leave parts of the model out.
    #[arg(long)]
    whole_only: bool,
    /// Plots of each kind that are planned.
    #[arg(long, default_value_t = 6)]
    planned: u64,
    /// Only follow the plan, and write this section of the page anew.
    #[arg(long)]
    plans_only: bool,
    /// Where `validation.md` and its figures go.
    #[arg(long, default_value = "docs")]
    out: PathBuf,
}

fn main() -> ExitCode {
    match run(&Call::parse()) {
        Ok(()) => ExitCode::SUCCESS,
        Err(words) => {
            println!("{words}");
            ExitCode::from(2)
        }
    }
}

fn run(call: &Call) -> Result<(), String> {
    // Seeds of their own, so that the judgement was not tried on these plots before.
    let first = call.first_seed + FIRST_SEED;
    let plans: Vec<(Kind, u64)> =
        KINDS.iter().flat_map(|&kind| (0..call.planned).map(move |_| kind)).zip(first..).collect();
    let plans = planning::run_all(&plans, call.threads)?;
    if call.plans_only {
        let path = call.out.join("validation.md");
        let said = |error: std::io::Error| format!("{}: {error}", path.display());
        let page = std::fs::read_to_string(&path).map_err(said)?;
        return std::fs::write(&path, page::with_plans(&page, &plans)?).map_err(said);
    }
    let kinds = kinds(&call.kinds)?;
    // Each plot has a seed of its own: the loose ends of no two kinds are drawn alike.
    let of_kind = |&kind: &Kind| (0..call.plots).map(move |_| kind);
    let jobs: Vec<(Kind, u64)> = kinds.iter().flat_map(of_kind).zip(call.first_seed..).collect();
    let judge = |without: Vec<Part>| -> Result<Vec<Trial>, String> {
        let options = Options { without, ..Options::default() };
        trial::run_all(&jobs, &options, call.threads)
    };
    let trials = judge(Vec::new())?;
    let parts: &[(&str, Part)] = if call.whole_only { &[] } else { &PARTS };
    let ablation = |&(without, part)| Ok(Ablation { without, trials: judge(vec![part])? });
    let ablations: Vec<Ablation> = parts.iter().map(ablation).collect::<Result<_, String>>()?;
    for (name, text) in page::write(&trials, &ablations, &plans) {
        let path = call.out.join(name);
        let said = |error: std::io::Error| format!("{}: {error}", path.display());
        if let Some(folder) = path.parent() {
            std::fs::create_dir_all(folder).map_err(said)?;
        }
        std::fs::write(&path, text).map_err(said)?;
        println!("{}", path.display());
    }
    Ok(())
}

fn kinds(names: &[String]) -> Result<Vec<Kind>, String> {
    if names.is_empty() {
        return Ok(Kind::ALL.to_vec());
    }
    let kind = |name: &String| Kind::parse(name).ok_or_else(|| format!("no kind \"{name}\""));
    names.iter().map(kind).collect()
}
