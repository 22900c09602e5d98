//! `cargo xtask fuzz`: builds the targets of tests/fuzz with the compiler that builds everything
//! else, and gives each inputs that nobody thought of.

mod run;

use std::path::PathBuf;

use anyhow::{Context, Result, ensure};

use crate::shell::{cargo, host, run, target_dir, top};
pub(crate) use run::Ran;

/// What `cargo xtask test` gives each target: as many inputs each time, and the same ones.
pub(crate) const ROUTINE: Inputs = Inputs::Number(800);

/// What to run, and for how long.
#[derive(clap::Args)]
pub(crate) struct Fuzzing {
    /// Only these targets; none: all.
    targets: Vec<String>,
    /// Seconds for each target.
    #[arg(long, conflicts_with = "runs")]
    seconds: Option<u32>,
    /// Inputs for each target.
    #[arg(long)]
    runs: Option<u32>,
}

/// How many inputs a target gets.
#[derive(Clone, Copy)]
pub(crate) enum Inputs {
    /// So many, from the seeds alone and by the same chance each time; what earlier runs found is
    /// forgotten.
    Number(u32),
    /// As many as so many seconds allow, going on from what earlier runs found.
    Seconds(u32),
}

/// Runs targets and tells what each saw.
///
/// # Errors
/// A target that is not there, or breaks: its input is kept and named.
pub(crate) fn fuzz(options: &Fuzzing) -> Result<()> {
    let inputs = match (options.runs, options.seconds) {
        (Some(runs), _) => Inputs::Number(runs),
        (None, seconds) => Inputs::Seconds(seconds.unwrap_or(60)),
    };
    all(&options.targets, inputs).map(|_| ())
}

/// Builds the targets and runs them, two at a time; all of them where none is named.
///
/// # Errors
/// As [`fuzz`].
pub(crate) fn all(wanted: &[String], inputs: Inputs) -> Result<Vec<Ran>> {
    let known = targets()?;
    for name in wanted {
        ensure!(known.contains(name), "no target {name}: there are {}", known.join(", "));
    }
    let programs = built()?;
    let chosen: Vec<&String> =
        known.iter().filter(|name| wanted.is_empty() || wanted.contains(name)).collect();
    let mut ran: Vec<Ran> = Vec::new();
    for pair in chosen.chunks(2) {
        let both = std::thread::scope(|scope| {
            let one = |name| {
                let programs = &programs;
                scope.spawn(move || run::run(programs, name, inputs))
            };
            let running: Vec<_> = pair.iter().map(|name| one(name)).collect();
            let ended = running.into_iter().map(|one| one.join().expect("a run tells its faults"));
            ended.collect::<Result<Vec<Ran>>>()
        })?;
        ran.extend(both);
    }
    let broken: Vec<&str> =
        ran.iter().filter(|one| one.broke).map(|one| one.target.as_str()).collect();
    ensure!(
        broken.is_empty(),
        "{} broke: mend it, with a test beside the code, and put the input among its seeds",
        broken.join(", ")
    );
    Ok(ran)
}

/// The names of the targets.
fn targets() -> Result<Vec<String>> {
    let folder = top().join("tests/fuzz/fuzz_targets");
    let mut names = Vec::new();
    for entry in std::fs::read_dir(&folder).with_context(|| folder.display().to_string())? {
        names.extend(entry?.path().file_stem().map(|name| name.to_string_lossy().into_owned()));
    }
    names.sort();
    Ok(names)
}

/// Builds the targets; gives the folder of their programs.
///
/// The flags are those of `cargo fuzz --sanitizer none`, which a stable compiler knows; what has no
/// unsafe code of its own needs no sanitizer. With a `--target` they are not for build scripts,
/// which are therefore shared with the other builds.
fn built() -> Result<PathBuf> {
    const FLAGS: &str = "-Cpasses=sancov-module \
        -Cllvm-args=-sanitizer-coverage-level=4 \
        -Cllvm-args=-sanitizer-coverage-inline-8bit-counters \
        -Cllvm-args=-sanitizer-coverage-pc-table \
        -Cllvm-args=-sanitizer-coverage-trace-compares \
        -Cllvm-args=-simplifycfg-branch-fold-threshold=0 \
        -Cllvm-args=-sanitizer-coverage-stack-depth \
        -Cdebug-assertions -Cdebuginfo=0 --cfg fuzzing";
    let host = host()?;
    run(cargo()
        .args(["build", "-q", "-p", "fuzz", "--bins", "--target", &host])
        .env("CARGO_INCREMENTAL", "0")
        .env("RUSTFLAGS", FLAGS))?;
    Ok(target_dir().join(host).join("debug"))
}
