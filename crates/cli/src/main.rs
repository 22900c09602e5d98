//! The `leeward` program: paths in, tables to standard output, messages to standard error.
#![allow(clippy::print_stdout, clippy::print_stderr, reason = "the command line's own voice")]

mod simulate;
mod spatial;

use std::process::ExitCode;

use clap::{Parser, Subcommand};

/// Plot map and proof of resistance for close-set rows of apple seedlings.
#[derive(Parser)]
#[command(name = "leeward", version)]
struct Cli {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    /// A made-up plot folder with its truth beside it.
    Simulate(simulate::Call),
    /// General spatial statistics of any table of points, as JSON.
    Spatial(spatial::Call),
}

/// How a call that worked ends.
enum Answer {
    /// Exit code 0.
    Done,
    /// Exit code 1: done, but the answer is 'no' or there are findings.
    No,
}

fn main() -> ExitCode {
    let answer = match Cli::parse().command {
        Command::Simulate(call) => simulate::run(&call),
        Command::Spatial(call) => spatial::run(&call),
    };
    match answer {
        Ok(Answer::Done) => ExitCode::SUCCESS,
        Ok(Answer::No) => ExitCode::from(1),
        Err(error) => {
            eprintln!("{error:#}");
            ExitCode::from(2)
        }
    }
}
