//! How many tests passed and failed, read from what their runners print.

use std::fmt;
use std::io::{BufRead as _, BufReader};
use std::ops::Add;
use std::process::{Command, Stdio};

use anyhow::Result;

/// Tests by how they ended.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Count {
    pub passed: u64,
    pub failed: u64,
}

impl Add for Count {
    type Output = Self;
    fn add(self, other: Self) -> Self {
        Self { passed: self.passed + other.passed, failed: self.failed + other.failed }
    }
}

impl fmt::Display for Count {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} passed, {} failed", self.passed, self.failed)
    }
}

impl Count {
    /// One check that has no tests of its own.
    #[expect(clippy::print_stderr, reason = "a failure is told")]
    pub(super) fn of(outcome: &Result<()>) -> Self {
        match outcome {
            Ok(()) => Self { passed: 1, failed: 0 },
            Err(error) => {
                eprintln!("{error:#}");
                Self { passed: 0, failed: 1 }
            }
        }
    }
}

/// Runs a program, passes on what it prints, and counts. A program that counts nothing is one
/// check; one that fails without a failed test has failed once.
#[expect(clippy::print_stdout, reason = "what the program prints is passed on")]
pub(super) fn run(command: &mut Command) -> Count {
    let mut child = match command.stdout(Stdio::piped()).spawn() {
        Ok(child) => child,
        Err(error) => {
            return Count::of(&Err(anyhow::anyhow!("cannot start {command:?}: {error}")));
        }
    };
    let mut count = Count::default();
    if let Some(out) = child.stdout.take() {
        for line in BufReader::new(out).lines().map_while(Result::ok) {
            println!("{line}");
            count = count + counted(&line);
        }
    }
    let is_fine = child.wait().is_ok_and(|status| status.success());
    match (is_fine, count) {
        (true, Count { passed: 0, failed: 0 }) => Count { passed: 1, failed: 0 },
        (false, Count { failed: 0, passed }) => Count { passed, failed: 1 },
        (_, count) => count,
    }
}

/// What a line of a runner's output counts: cargo's `test result:` line, node's `ℹ pass 3`, or a
/// plain `N passed, N failed`.
fn counted(line: &str) -> Count {
    let number = |text: Option<&str>| text.and_then(|text| text.trim().parse().ok()).unwrap_or(0);
    if let Some(rest) = line.trim().strip_prefix("test result:") {
        let of =
            |word: &str| number(rest.split([';', '.']).find_map(|part| part.strip_suffix(word)));
        return Count { passed: of(" passed"), failed: of(" failed") };
    }
    if let Some(rest) = line.strip_prefix("ℹ ").or_else(|| line.strip_prefix("# ")) {
        return Count {
            passed: number(rest.strip_prefix("pass ")),
            failed: number(rest.strip_prefix("fail ")),
        };
    }
    let parts: Vec<&str> = line.trim().split(", ").collect();
    if let [passed, failed, ..] = parts[..]
        && let (Some(passed), Some(failed)) =
            (passed.strip_suffix(" passed"), failed.strip_suffix(" failed"))
        && let (Ok(passed), Ok(failed)) = (passed.parse(), failed.parse())
    {
        return Count { passed, failed };
    }
    Count::default()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_lines_of_each_runner_are_counted() {
        let check = |line: &str, passed, failed| {
            assert_eq!(counted(line), Count { passed, failed }, "{line}");
        };
        check("test result: ok. 12 passed; 0 failed; 1 ignored; 0 measured", 12, 0);
        check("test result: FAILED. 3 passed; 2 failed; 0 ignored", 3, 2);
        check("ℹ pass 7", 7, 0);
        check("# fail 1", 0, 1);
        check("41 passed, 1 failed", 41, 1);
        check("41 passed, 1 failed, 2 skipped", 41, 1);
        check("ℹ tests 8", 0, 0);
        check("it passed, nothing failed", 0, 0);
    }

    #[test]
    fn a_program_that_fails_without_a_test_has_failed_once() {
        assert_eq!(run(&mut Command::new("false")), Count { passed: 0, failed: 1 });
        assert_eq!(run(&mut Command::new("true")), Count { passed: 1, failed: 0 });
        assert_eq!(run(&mut Command::new("no such program")), Count { passed: 0, failed: 1 });
    }
}
