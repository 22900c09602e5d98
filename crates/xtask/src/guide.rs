//! `cargo xtask guide`: makes the pictures that docs/guide.md shows, by the journey that follows it.

use std::process::Command;

use anyhow::Result;

use crate::build::{self, Building};
use crate::help::Lacking;
use crate::shell::run;
use crate::test::journeys_ready;

/// Builds the page, goes through the guide in it and writes docs/guide.
///
/// # Errors
/// The build fails, or the guide does not say what is on the screen.
pub(crate) fn guide(options: &Building) -> Result<()> {
    build::build(&Building { lacking: Lacking::LeftOut, ..options.clone() })?;
    let mut node = Command::new("node");
    node.args(["--test", "journeys/guide.test.js"]).env("LEEWARD_GUIDE_PICTURES", "keep");
    run(journeys_ready(&mut node)?)
}
