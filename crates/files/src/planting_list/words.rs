//! The words of a part of a line, each with the character at which it begins.

use language::say;

use super::Fault;
use crate::findings::quoted;

/// Words still to be read.
#[derive(Clone, Debug)]
pub(super) struct Words<'a> {
    rest: &'a str,
    /// Characters of the line before the rest.
    before: usize,
}

impl<'a> Words<'a> {
    /// The words of a text that has so many characters of its line before it.
    pub(super) fn of(rest: &'a str, before: usize) -> Self {
        Self { rest, before }
    }

    /// All that is left, without spaces around it.
    pub(super) fn rest(&self) -> &'a str {
        self.rest.trim()
    }

    /// The next word, which stays: a number, a dash, or letters up to the next space or comma;
    /// empty at the end.
    pub(super) fn peek(&self) -> &'a str {
        let rest = self.rest.trim_start_matches(is_gap);
        let is_digit = |letter: char| letter.is_ascii_digit();
        let end = match rest.chars().next() {
            Some(letter) if is_dash(letter) => letter.len_utf8(),
            Some(letter) if is_digit(letter) => {
                rest.find(|letter: char| is_gap(letter) || is_dash(letter)).unwrap_or(rest.len())
            }
            _ => rest.find(is_gap).unwrap_or(rest.len()),
        };
        &rest[..end]
    }

    /// Takes the next word.
    pub(super) fn take(&mut self) -> &'a str {
        let word = self.peek();
        self.skip_gaps();
        self.skip(word.len());
        word
    }

    /// Takes the next word if it is one of these, whatever the case.
    pub(super) fn take_if(&mut self, words: &[&str]) -> bool {
        let is_it = words.iter().any(|word| self.peek().eq_ignore_ascii_case(word));
        if is_it {
            self.take();
        }
        is_it
    }

    /// Takes a dash, or the word `to`.
    pub(super) fn take_to(&mut self) -> bool {
        let is_to = self.peek().chars().all(is_dash) && !self.peek().is_empty();
        if is_to {
            self.take();
        }
        is_to || self.take_if(&["to"])
    }

    /// Takes the text up to a letter, and the letter, if it is there: the part before it.
    pub(super) fn take_until(&mut self, letter: char) -> Option<Words<'a>> {
        let at = self.rest.find(letter)?;
        let part = Words { rest: &self.rest[..at], before: self.before };
        self.skip(at + letter.len_utf8());
        Some(part)
    }

    /// Takes a whole number from 1 to `most`.
    pub(super) fn number<N>(&mut self, part: &'static str, most: N) -> Result<N, Fault>
    where
        N: TryFrom<u32> + PartialOrd + std::fmt::Display + Copy,
    {
        let word = self.peek();
        let number = word.bytes().all(|byte| byte.is_ascii_digit()).then(|| word.parse().ok());
        let number: Option<u32> = number.flatten().filter(|number| *number > 0);
        match number.and_then(|number| N::try_from(number).ok()).filter(|number| *number <= most) {
            Some(number) => {
                self.take();
                Ok(number)
            }
            None => Err(self.fault(part, word, &say!("a whole number from 1 to {most}"))),
        }
    }

    /// A fault at the next word.
    pub(super) fn fault(&self, part: &'static str, found: &str, expected: &str) -> Fault {
        let gap = self.rest.len() - self.rest.trim_start_matches(is_gap).len();
        let character = self.before + self.rest[..gap].chars().count() + 1;
        Fault { part, character, found: quoted(found), expected: expected.to_owned() }
    }

    fn skip_gaps(&mut self) {
        let gap = self.rest.len() - self.rest.trim_start_matches(is_gap).len();
        self.skip(gap);
    }

    fn skip(&mut self, bytes: usize) {
        self.before += self.rest[..bytes].chars().count();
        self.rest = &self.rest[bytes..];
    }
}

fn is_gap(letter: char) -> bool {
    letter.is_whitespace() || letter == ','
}

/// A hyphen, an en dash, an em dash, a minus.
fn is_dash(letter: char) -> bool {
    matches!(letter, '-' | '–' | '—' | '−')
}
