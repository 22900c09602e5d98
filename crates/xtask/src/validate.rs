//! `cargo xtask validate`: runs the validation of `tests/` in release and writes its page.

use anyhow::Result;
use clap::Args;

use crate::shell;

/// What is handed on to the validation.
#[derive(Args)]
pub(crate) struct Validating {
    /// Validating of the validation itself; `-- --help` lists them.
    #[arg(last = true)]
    rest: Vec<String>,
}

/// Runs it from the top folder.
///
/// # Errors
/// It cannot be built, or a plot cannot be judged.
pub(crate) fn validate(options: &Validating) -> Result<()> {
    let program = ["run", "--release", "-p", "crossing", "--bin", "validate", "--"];
    shell::run(shell::cargo().args(program).args(&options.rest))
}
