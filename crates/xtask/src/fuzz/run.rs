//! One run of one target: what it was given, what it reached, and the input that broke it.

use std::path::Path;
use std::process::Command;

use anyhow::{Context, Result};

use super::Inputs;
use crate::shell::{fresh, target_dir, top};

/// What a run saw.
pub(crate) struct Ran {
    /// The target.
    pub(crate) target: String,
    /// Inputs that it was given.
    pub(crate) inputs: u64,
    /// Edges of the code that they went over.
    pub(crate) edges: u64,
    /// Whether one of them broke it.
    pub(crate) broke: bool,
}

/// Seconds after which an input counts as one that never ends.
const MOST_SECONDS: u32 = 20;

/// Runs a target from its seeds on.
///
/// # Errors
/// It cannot be started, or its folders cannot be made.
#[expect(clippy::print_stdout, reason = "what a run saw is the answer")]
pub(super) fn run(programs: &Path, target: &str, inputs: Inputs) -> Result<Ran> {
    let fuzz = top().join("tests/fuzz");
    let [found, broken] = ["found", "broken"].map(|what| target_dir().join("fuzz").join(what));
    let (found, broken) = (found.join(target), broken.join(target));
    let mut program = Command::new(programs.join(target));
    match inputs {
        Inputs::Number(number) => {
            program.args([format!("-runs={number}"), "-seed=1".to_owned()]);
            fresh(&found)?;
        }
        Inputs::Seconds(seconds) => _ = program.arg(format!("-max_total_time={seconds}")),
    }
    std::fs::create_dir_all(&found)?;
    // Into the folder that is named first goes what is new.
    program.arg(&found);
    std::fs::create_dir_all(&broken)?;
    let output = program
        .arg(fuzz.join("seeds").join(target))
        .arg(format!("-dict={}", fuzz.join("words.dict").display()))
        .arg(format!("-timeout={MOST_SECONDS}"))
        .arg(format!("-artifact_prefix={}/", broken.display()))
        .output()
        .with_context(|| format!("cannot start the target {target}"))?;
    let said = String::from_utf8_lossy(&output.stderr);
    let ran = Ran { broke: !output.status.success(), ..seen(target, &said) };
    println!("{target:<16}{:>9} inputs{:>8} edges", ran.inputs, ran.edges);
    if ran.broke {
        println!("{target} broke:\n{}", why(&said));
    }
    Ok(ran)
}

/// What a run says of itself: the last line that counts.
fn seen(target: &str, said: &str) -> Ran {
    let counts = |line: &str| {
        let (inputs, rest) = line.strip_prefix('#')?.split_once('\t')?;
        let edges = rest.split_once("cov: ")?.1.split(' ').next()?;
        Some((inputs.parse().ok()?, edges.parse().ok()?))
    };
    let (inputs, edges) = said.lines().rev().find_map(counts).unwrap_or((0, 0));
    Ran { target: target.to_owned(), inputs, edges, broke: false }
}

/// What it says of an input that broke it: the panic, and where the input lies.
fn why(said: &str) -> String {
    let begins = |line: &&str| line.contains("panicked at") || line.starts_with("==");
    let told = said.lines().skip_while(|line| !begins(line)).take(6);
    let input = said.lines().filter(|line| line.contains("Test unit written"));
    told.chain(input).collect::<Vec<_>>().join("\n")
}

#[cfg(test)]
mod tests {
    use super::*;

    const SAID: &str = "INFO: seed corpus: files: 6\n\
        #7\tINITED cov: 3600 ft: 5141 corp: 6/2919b exec/s: 0 rss: 31Mb\n\
        #800\tDONE   cov: 4036 ft: 5556 corp: 249/30Kb lim: 175 exec/s: 105 rss: 31Mb\n\
        ###### Recommended dictionary. ######\n";

    #[test]
    fn the_last_count_is_what_a_run_saw() {
        let ran = seen("trees", SAID);
        assert_eq!((ran.target.as_str(), ran.inputs, ran.edges), ("trees", 800, 4036));
        let ran = seen("trees", "no count at all");
        assert_eq!((ran.inputs, ran.edges), (0, 0));
    }

    #[test]
    fn what_broke_it_is_told_with_its_input() {
        let said = "#7\tINITED cov: 1\nthread '<unnamed>' (1) panicked at a.rs:1:2:\nwhy\n\
            more\nmore\nmore\nmore\nmore\nartifact_prefix='x'; Test unit written to x/crash-1\n";
        let told = why(said);
        assert!(told.starts_with("thread '<unnamed>' (1) panicked at a.rs:1:2:\nwhy\n"), "{told}");
        assert!(told.ends_with("Test unit written to x/crash-1"), "{told}");
    }
}
