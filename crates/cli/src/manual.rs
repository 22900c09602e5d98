//! `leeward man` and `leeward completions`: the program's own description, for pagers and shells.

use std::path::PathBuf;

use clap::{Args, Command};
use clap_complete::Shell;
use clap_mangen::Man;
use files::FileSet;

use crate::Answer;
use crate::folder::counted;
use crate::out::{must_be_free, write_folder};
use crate::table::say;

/// Heading of what the end of the program's own help tells.
const ENDS: &str = "EXIT STATUS";

/// The manual: one page of all commands, or with --out a page for each.
#[derive(Args)]
pub(crate) struct Manual {
    /// The folder to write `leeward.1` and a page for each command into; it must not be there yet.
    /// Without it, the page of all commands goes to standard output.
    #[arg(long, value_name = "DIR")]
    out: Option<PathBuf>,
}

/// What a shell must know to complete words of a call.
#[derive(Args)]
pub(crate) struct Completions {
    /// The shell.
    #[arg(value_enum)]
    shell: Shell,
}

/// Writes the pages, in the language of `man`.
///
/// # Errors
/// A folder that is there already or cannot be written.
pub(crate) fn man(call: &Manual, mut program: Command) -> anyhow::Result<Answer> {
    // Gives each command its full name.
    program.build();
    let Some(out) = &call.out else {
        say(&page(program, ENDS)?)?;
        return Ok(Answer::Done);
    };
    must_be_free(out)?;
    let mut pages = FileSet::new();
    for command in program.get_subcommands().filter(|command| command.get_name() != "help") {
        let name = format!("leeward-{}", command.get_name());
        pages.insert(format!("{name}.1"), page(command.clone(), "EXAMPLES")?);
    }
    pages.insert("leeward.1".to_owned(), page(program, ENDS)?);
    write_folder(out, &pages)?;
    eprintln!("{}: {}", out.display(), counted(pages.len(), "page"));
    Ok(Answer::Done)
}

/// A page; what stands at the end of a command's help goes under the heading.
fn page(command: Command, heading: &str) -> anyhow::Result<Vec<u8>> {
    let mut page = Vec::new();
    let program = format!("leeward {}", env!("CARGO_PKG_VERSION"));
    Man::new(command).source(program).render(&mut page)?;
    let page = String::from_utf8(page)?;
    Ok(page.replace("\n.SH EXTRA\n", &format!("\n.SH {heading}\n")).into_bytes())
}

/// Writes a script that the shell reads at its start.
///
/// # Errors
/// Standard output cannot be written.
pub(crate) fn completions(call: &Completions, mut program: Command) -> anyhow::Result<Answer> {
    let mut script = Vec::new();
    clap_complete::generate(call.shell, &mut program, "leeward", &mut script);
    say(&script)?;
    Ok(Answer::Done)
}
