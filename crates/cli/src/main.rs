//! The `leeward` program: paths in, tables to standard output, messages to standard error.
#![allow(clippy::print_stdout, clippy::print_stderr, reason = "the command line's own voice")]

// First, for its macros.
#[macro_use]
mod voice;

mod asked;
mod disease_progress;
mod examples;
mod export;
mod folder;
mod inspect;
mod judge;
mod manual;
mod many;
mod merge;
mod near;
mod out;
mod plan;
mod print;
mod progress;
mod proof;
mod season;
mod simulate;
mod spatial;
mod table;
mod vigour;
mod whole;

use std::process::ExitCode;

use clap::{CommandFactory as _, FromArgMatches as _, Parser, Subcommand};

/// Plot map and proof of resistance for close-set rows of apple seedlings.
#[derive(Parser)]
#[command(name = "leeward", version)]
struct Cli {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    /// What a plot folder holds, and every fault found in it.
    Inspect(inspect::Call),
    /// Who is proven, who was merely missed: one line for each tree or graft that was scored.
    Proof(proof::Call),
    /// How hard each season tested, and what the weather allowed in it.
    Season(season::Call),
    /// What to do next: trees worth another season, scores that are missing, places for checks.
    Plan(plan::Call),
    /// How a disease went on on each tree: areas under its progress curve and stairs.
    Progress(disease_progress::Call),
    /// A tree's nearest neighbours with distance, bearing, worst score and its date.
    Near(near::Call),
    /// How strongly trees grow: trunk area, growth, and numbers adjusted for the trend of the field.
    Vigour(vigour::Call),
    /// Two folders of one plot made one: lines united by their ids, nothing dropped.
    Merge(merge::Call),
    /// A plot in the formats of other tools.
    Export(export::Call),
    /// A plot on paper: field sheets, tags, map, report; or a copy of it to read.
    Print(Box<print::Call>),
    /// A made-up plot folder with its truth beside it.
    Simulate(simulate::Call),
    /// General spatial statistics of any table of points, as JSON.
    Spatial(Box<spatial::Call>),
    /// What a shell must know to complete words of a call.
    Completions(manual::Completions),
    /// The manual, as pages for `man`.
    Man(manual::Manual),
}

/// How a call that worked ends.
enum Answer {
    /// Exit code 0.
    Done,
    /// Exit code 1: done, but the answer is 'no' or there are findings.
    No,
    /// Exit code 2: the input has faults, and the answer says which.
    Unusable,
}

fn main() -> ExitCode {
    let program = examples::with_examples(Cli::command());
    let matches = program.clone().get_matches();
    let call = Cli::from_arg_matches(&matches).unwrap_or_else(|error| error.exit());
    let answer = match call.command {
        Command::Inspect(call) => inspect::run(&call),
        Command::Proof(call) => proof::run(&call),
        Command::Season(call) => season::run(&call),
        Command::Plan(call) => plan::run(&call),
        Command::Progress(call) => disease_progress::run(&call),
        Command::Near(call) => near::run(&call),
        Command::Vigour(call) => vigour::run(&call),
        Command::Merge(call) => merge::run(&call),
        Command::Export(call) => export::run(&call),
        Command::Print(call) => print::run(&call),
        Command::Simulate(call) => simulate::run(&call),
        Command::Spatial(call) => spatial::run(&call),
        Command::Completions(call) => manual::completions(&call, program),
        Command::Man(call) => manual::man(&call, program),
    };
    match answer {
        Ok(Answer::Done) => ExitCode::SUCCESS,
        Ok(Answer::No) => ExitCode::from(1),
        Ok(Answer::Unusable) => ExitCode::from(2),
        Err(error) => {
            eprintln!("{error:#}");
            ExitCode::from(2)
        }
    }
}
