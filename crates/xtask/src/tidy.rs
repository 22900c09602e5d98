//! Tidiness that a compiler does not see: walls between crates, a sentence at the head of each
//! module, the top level as listed, diseases as data, links that lead somewhere, dependencies as
//! listed and pinned, no text without its translations. What cannot be told counts as a fault.

mod dependencies;
mod diseases;
mod heads;
mod links;
mod top_level;
mod walls;

use anyhow::{Result, ensure};

use crate::shell::top;

/// Checks everything and tells every fault at once.
///
/// # Errors
/// Any fault, or `cargo metadata` that cannot be had.
#[expect(clippy::print_stdout, clippy::print_stderr, reason = "the faults are the answer")]
pub(crate) fn tidy() -> Result<()> {
    let metadata = crate::dependencies::metadata()?;
    let mut faults = walls::faults(&metadata);
    faults.extend(dependencies::faults(&top(), &metadata)?);
    faults.extend(heads::faults(&top())?);
    faults.extend(diseases::faults(&top())?);
    faults.extend(links::faults(&top())?);
    faults.extend(top_level::faults(&top())?);
    faults.extend(crate::words::faults()?);
    for fault in &faults {
        eprintln!("tidy: {fault}");
    }
    ensure!(faults.is_empty(), "{} faults", faults.len());
    println!("tidy: nothing to mend");
    Ok(())
}
