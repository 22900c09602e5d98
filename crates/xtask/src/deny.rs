//! `cargo xtask deny`: the whole of cargo-deny on the list that `cargo xtask tidy` reads as well. It
//! takes long to install, so a person runs it, and it is no stage of the tests.

use std::process::Command;

use anyhow::Result;
use clap::Args;

use crate::shell::{run, tool, top};

/// The version that the list was written for.
const VERSION: &str = "0.20.2";

/// What to ask beyond licences, bans and sources.
#[derive(Args)]
pub(crate) struct Denying {
    /// Also whether a dependency has a fault that was told to the world; fetches the database of
    /// advisories.
    #[arg(long)]
    advisories: bool,
}

/// Installs it below the target folder where it is missing there, and asks it.
///
/// # Errors
/// It cannot be installed, or finds a fault.
pub(crate) fn deny(options: &Denying) -> Result<()> {
    let mut command = Command::new(tool("cargo-deny", VERSION)?);
    command.current_dir(top()).args(["--locked", "check"]);
    command.args(["licenses", "bans", "sources"]);
    if options.advisories {
        command.arg("advisories");
    }
    run(&mut command)
}
