//! The short code of a tree, made to be typed from its tag: its id with a check character.

use crate::TreeId;

/// Letters and digits by value, as ISO/IEC 7064 counts them.
const ALPHABET: &[u8; 36] = b"0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ";

/// A code as it is compared: capitals and digits alone.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Code(String);

impl Code {
    /// The code of a tree. An id that Leeward gave, `T00143-2`, ends in a check digit and is its
    /// own code; any other gets the check character of ISO/IEC 7064, MOD 37,36, over its letters
    /// and digits. One wrong character is always noticed.
    ///
    /// None: the id has letters or digits that are not A to Z and 0 to 9, or nothing else.
    pub fn of(id: &TreeId) -> Option<Self> {
        let mut letters = letters(id.as_str())?;
        if id.serial().is_none() {
            letters.push(check_character(&letters));
        }
        Some(Self(letters))
    }

    /// A code as a person types it: case, spaces, hyphens and other marks do not matter. None:
    /// too short, or with letters that no code has.
    pub fn read(typed: &str) -> Option<Self> {
        letters(typed).filter(|letters| letters.len() > 1).map(Self)
    }

    /// The code of the tree whose id is all of it but the last character.
    pub fn of_its_body(&self) -> Option<Self> {
        Self::of(&TreeId::new(&self.0[..self.0.len() - 1]))
    }

    /// The code that Leeward gave with the same number, whatever the last character is.
    pub fn of_its_number(&self) -> Option<Self> {
        let body = &self.0[..self.0.len() - 1];
        let number = body.strip_prefix('T')?.parse().ok()?;
        Self::of(&TreeId::of_serial(number)).filter(|code| code.0.starts_with(body))
    }

    /// Its characters, without the mark before the last one.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

/// As it is written on a tag: `T00143-2`, `W54-K`.
impl std::fmt::Display for Code {
    fn fmt(&self, out: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        let (body, check) = self.0.split_at(self.0.len() - 1);
        write!(out, "{body}-{check}")
    }
}

fn letters(text: &str) -> Option<String> {
    let alphanumeric = text.chars().filter(|letter| letter.is_alphanumeric());
    let letters: String = alphanumeric.map(|letter| letter.to_ascii_uppercase()).collect();
    (!letters.is_empty() && letters.is_ascii()).then_some(letters)
}

/// ISO/IEC 7064, MOD 37,36.
fn check_character(letters: &str) -> char {
    let value = |letter: u8| ALPHABET.iter().position(|&one| one == letter).unwrap_or(0);
    let product = letters.bytes().fold(36, |product, letter| {
        let sum = (product + value(letter)) % 36;
        (if sum == 0 { 36 } else { sum }) * 2 % 37
    });
    char::from(ALPHABET[(37 - product) % 36])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn code(id: &str) -> String {
        Code::of(&TreeId::new(id)).map_or_else(String::new, |code| code.to_string())
    }

    /// `A12425GABC1234002` with the check character M is the worked example of the Global Release
    /// Identifier standard (ISO/IEC 7064, MOD 37,36), and a test of python-stdnum 1.20.
    #[test]
    fn the_check_character_is_that_of_the_standard() {
        assert_eq!(check_character("A12425GABC1234002"), 'M');
        assert_eq!(code("A1-2425G-ABC1234002"), "A12425GABC1234002-M");
    }

    #[test]
    fn an_id_that_has_a_check_digit_is_its_own_code() {
        assert_eq!(code("T00143-2"), "T00143-2");
        assert_ne!(code("T00143-3"), "T00143-3", "its digit is no check digit");
        assert_eq!(code("Ü-7"), "");
        assert_eq!(code("--"), "");
    }

    #[test]
    fn a_code_is_read_however_it_is_typed() {
        for typed in ["T00143-2", "t001432", " t 00143 2 ", "T00143.2"] {
            assert_eq!(Code::read(typed), Code::of(&TreeId::new("T00143-2")), "{typed}");
        }
        for typed in ["", "7", "ä12", "- -"] {
            assert_eq!(Code::read(typed), None, "{typed}");
        }
    }

    #[test]
    fn one_wrong_character_never_passes() {
        for id in ["T00143-2", "W-54", "q7", "LB/2031/114", "T29999"] {
            let right = Code::of(&TreeId::new(id)).expect("a code");
            let scheme = match right.of_its_body() == Some(right.clone()) {
                true => Code::of_its_body,
                false => Code::of_its_number,
            };
            assert_eq!(scheme(&right), Some(right.clone()));
            for at in 0..right.as_str().len() {
                for other in ALPHABET.iter().map(|&other| char::from(other).to_string()) {
                    let mut wrong = right.as_str().to_owned();
                    wrong.replace_range(at..=at, &other);
                    let wrong = Code(wrong);
                    let passes = scheme(&wrong) == Some(wrong.clone());
                    assert!(wrong == right || !passes, "{wrong} for {right}");
                }
            }
        }
    }
}
