//! Ids of trees that Leeward gives itself: a number that only rises, with a check digit.

use crate::{Plot, TreeId};

/// Least digits of the number, so that ids of most plots sort as text.
const DIGITS: usize = 5;

impl TreeId {
    /// The id of the nth tree ever entered: `T00143-2`. The last digit is the check digit of
    /// ISO/IEC 7064, MOD 11,10, over the number, so that one mistyped digit is always noticed.
    ///
    /// The number says when a tree was entered and nothing else: neither row nor place, so it
    /// stays true when trees are moved, replanted or put in between.
    pub fn of_serial(number: u32) -> Self {
        let digits = format!("{number:0DIGITS$}");
        Self::new(format!("T{digits}-{}", check_digit(&digits)))
    }

    /// The number of an id of that form; none of any other id, or when the check digit is wrong.
    pub fn serial(&self) -> Option<u32> {
        let (digits, check) = self.as_str().strip_prefix('T')?.split_once('-')?;
        let is_sound = digits.len() >= DIGITS && digits.bytes().all(|byte| byte.is_ascii_digit());
        (is_sound && check == check_digit(digits).to_string()).then(|| digits.parse().ok())?
    }
}

impl Plot {
    /// The id for the next tree: a number above all that the plot has or ever had, also of trees
    /// that are gone and of lines that were taken out again, so that none is ever given twice.
    pub fn next_tree_id(&self) -> TreeId {
        self.nth_next_tree_id(0)
    }

    /// The id for a further one: 0 is [`next_tree_id`](Self::next_tree_id).
    pub fn nth_next_tree_id(&self, nth: u32) -> TreeId {
        TreeId::of_serial(self.greatest_serial() + 1 + nth)
    }
}

/// ISO/IEC 7064, MOD 11,10.
fn check_digit(digits: &str) -> u32 {
    let product =
        digits.chars().filter_map(|digit| digit.to_digit(10)).fold(10, |product, digit| {
            let sum = (product + digit) % 10;
            (if sum == 0 { 10 } else { sum }) * 2 % 11
        });
    (11 - product) % 10
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_check_digit_is_that_of_the_standard() {
        // The example of ISO/IEC 7064, section 10.1.2, and one that npm's stdnum 1.11.7 tests.
        assert_eq!(check_digit("0794"), 5);
        assert_eq!(check_digit("79462"), 3);
        assert_eq!(TreeId::of_serial(143).as_str(), "T00143-2");
    }

    #[test]
    fn an_id_gives_its_number_back_and_one_wrong_digit_none() {
        for number in [1, 7, 143, 2031, 99_999, 100_000] {
            let id = TreeId::of_serial(number);
            assert_eq!(id.serial(), Some(number), "{id}");
            for (at, digit) in id.as_str().char_indices().filter(|(_, it)| it.is_ascii_digit()) {
                for other in ('0'..='9').filter(|other| *other != digit) {
                    let mut wrong = id.as_str().to_owned();
                    wrong.replace_range(at..=at, &other.to_string());
                    assert_eq!(TreeId::new(wrong.as_str()).serial(), None, "{wrong} for {id}");
                }
            }
        }
        for other in ["", "T", "7-12", "T143-2", "T00143", "t00143-2", "T+0143-2"] {
            assert_eq!(TreeId::new(other).serial(), None, "{other}");
        }
    }
}
