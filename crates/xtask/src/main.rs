//! The one tool of the workspace: builds, serves, tests and tidies it.
//!
//! Run it as `cargo xtask <command>`.

mod build;
mod bundle;
mod coverage;
mod deny;
mod dependencies;
mod fuzz;
mod guide;
mod headers;
mod help;
mod markdown;
mod mutants;
mod quality;
mod serve;
mod shell;
mod test;
mod tidy;
mod validate;
mod words;

use std::process::ExitCode;

use clap::{Parser, Subcommand};

/// Builds, serves, tests and tidies Leeward.
#[derive(Parser)]
#[command(name = "cargo xtask")]
struct Call {
    #[command(subcommand)]
    task: Task,
}

#[derive(Subcommand)]
enum Task {
    /// Builds the browser face into the target directory.
    Build(build::Building),
    /// Builds the browser face and serves it on this machine alone.
    Serve(serve::Serving),
    /// Runs everything that can be checked, installing what it needs.
    Test(test::Testing),
    /// Gives every reader inputs that nobody thought of, a minute each.
    Fuzz(fuzz::Fuzzing),
    /// Runs the tests of the library crates and tells which lines they run.
    Coverage(coverage::Covering),
    /// Changes the code in small ways and tells which changes no test notices.
    Mutants(mutants::Mutating),
    /// Checks the walls between crates, the heads of modules and the top level.
    Tidy,
    /// Makes the pictures of the guide anew, by the journey that follows it.
    Guide(build::Building),
    /// Holds dependencies to the list of .cargo/deny.toml by the pinned cargo-deny.
    Deny(deny::Denying),
    /// Measures how far the code can be trusted and writes docs/quality.md.
    Quality(quality::Measuring),
    /// Gathers the words of the screens, and has the translations hold these and no others.
    Words(words::Wording),
    /// Judges made-up plots and writes docs/validation.md with its figures.
    Validate(validate::Validating),
}

#[expect(clippy::print_stderr, reason = "an error is told without a backtrace")]
fn main() -> ExitCode {
    if let Some(code) = coverage::as_compiler() {
        return code;
    }
    let done = match Call::parse().task {
        Task::Build(options) => build::build(&options).map(|_| ()),
        Task::Serve(options) => serve::serve(&options),
        Task::Test(options) => test::test(&options),
        Task::Fuzz(options) => fuzz::fuzz(&options),
        Task::Coverage(options) => coverage::coverage(&options),
        Task::Mutants(options) => mutants::mutants(&options),
        Task::Tidy => tidy::tidy(),
        Task::Guide(options) => guide::guide(&options),
        Task::Deny(options) => deny::deny(&options),
        Task::Quality(options) => quality::quality(&options),
        Task::Words(options) => words::words(&options),
        Task::Validate(options) => validate::validate(&options),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error:#}");
            ExitCode::FAILURE
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use clap::CommandFactory as _;

    #[test]
    fn every_call_is_well_formed() {
        Call::command().debug_assert();
    }
}
