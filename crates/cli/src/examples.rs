//! The examples at the end of each command's help; docs/command-line.md has their answers, and a
//! test runs them there.

use clap::Command;

/// A call a line, without `leeward` in front.
const EXAMPLES: &str = include_str!("examples.txt");

/// How the program ends.
const ENDS: &str = "\
It ends with 0 when done, 1 when done but the answer is no or there are findings, and 2 when the
input or the call is unusable.";

/// The program with how it ends, and with each of its commands' examples.
pub(crate) fn with_examples(program: Command) -> Command {
    program.after_help(ENDS).mut_subcommands(|command| {
        let name = command.get_name();
        let is_own = |call: &&str| call.split(' ').next() == Some(name);
        let calls: Vec<&str> = EXAMPLES.lines().filter(is_own).collect();
        let word = if calls.len() == 1 { "Example" } else { "Examples" };
        let lines: String = calls.iter().map(|call| format!("\n  leeward {call}")).collect();
        command.after_help(format!("{word}:{lines}"))
    })
}
