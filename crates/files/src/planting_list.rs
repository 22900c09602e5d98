//! The planting list: a plan in plain lines, such as `row 3 places 1 to 40: Marl × TR-9, 2029`.
//!
//! A line says where, then a colon, then what stands there.
//!
//! | where | means |
//! | --- | --- |
//! | `row 3`, `rows 3 to 5`, `rows 3-5`, `all rows` | these rows; left out: all |
//! | `place 7`, `places 1 to 40` | these places of them; left out: all |
//! | `every 10th place`, `every 10th place from 5` | of these only the 10th, 20th …, or 5, 15 … |
//!
//! | what | means |
//! | --- | --- |
//! | `33 places` or `33` | how many places the rows have |
//! | `Marl × TR-9, 2029, from no. 41` | seedlings of a cross; year and number may be left out; `?` is an unknown parent; ` x ` is read as `×` |
//! | `susceptible check Withy`, `resistant check …`, `sort …`, `guard` | trees that are no seedlings |
//! | `empty` | nothing |
//!
//! Empty lines, and lines that begin with `#`, are passed over.

mod places;
mod print;
#[cfg(test)]
mod tests;
mod what;

mod words;

use language::say;
use plot::{PLANTING_LIST, Problem, Run, Weight};

pub use print::print;
use words::Words;

/// Reads a planting list: every sound line, and a fault for every other.
///
/// Only the line itself is looked at; whether the plot has such rows and places is for
/// [`plot::Planting::plant`].
pub fn read(text: &str) -> (Vec<Run>, Vec<Problem>) {
    let (mut runs, mut faults) = (Vec::new(), Vec::new());
    for (line, text) in (1..).zip(text.lines()) {
        let said = text.trim();
        if said.is_empty() || said.starts_with('#') {
            continue;
        }
        match run(line, text) {
            Ok(run) => runs.push(run),
            Err(fault) => faults.push(fault.at(line)),
        }
    }
    (runs, faults)
}

fn run(line: u64, text: &str) -> Result<Run, Fault> {
    let Some(colon) = text.find(':') else {
        let expected = say!(
            "where, a colon, and what stands there, such as row 3 places 1 to 40: Marl × TR-9, 2029"
        );
        return Err(Words::of(text, 0).fault(say!("line"), text.trim(), expected));
    };
    let mut run = places::read(Words::of(&text[..colon], 0))?;
    run.line = line;
    let before = text[..=colon].chars().count();
    run.what = what::read(Words::of(&text[colon + 1..], before))?;
    Ok(run)
}

/// What is wrong with a line, and at which of its characters, from 1.
#[derive(Debug)]
struct Fault {
    part: &'static str,
    character: usize,
    found: String,
    expected: String,
}

impl Fault {
    fn at(self, line: u64) -> Problem {
        Problem {
            weight: Weight::Fault,
            file: PLANTING_LIST.to_owned(),
            line: Some(line),
            column: Some(say!(
                "{part}, character {character}",
                part = self.part,
                character = self.character
            )),
            found: self.found,
            expected: self.expected,
        }
    }
}
