//! Text made comparable: lower case, no accents, no separators, no leading zeros.

/// Words of a question; nobody types on beyond.
pub(super) const WORDS_AT_MOST: usize = 8;

/// The words of a text: runs of letters and digits, each folded.
pub(super) fn words(text: &str) -> Vec<String> {
    plot::without_accents(text)
        .split(|letter: char| !letter.is_alphanumeric())
        .map(without_leading_zeros)
        .filter(|word| !word.is_empty())
        .collect()
}

/// The words of a question, without those that only stand between the others.
pub(super) fn question(typed: &str) -> Vec<String> {
    let mut words = words(typed);
    words.truncate(WORDS_AT_MOST);
    let last = words.len().saturating_sub(1);
    let is_digits = |word: &String| word.bytes().all(|byte| byte.is_ascii_digit());
    let keep: Vec<bool> = (0..words.len())
        .map(|at| match words[at].as_str() {
            // `Marl × TR-9` as it is typed on a phone.
            "x" => at == 0 || at == last,
            "no" | "nr" | "number" | "seedling" | "tree" => {
                at == last || !is_digits(&words[at + 1])
            }
            _ => true,
        })
        .collect();
    let mut keep = keep.into_iter();
    words.retain(|_| keep.next().unwrap_or(true));
    words
}

/// `q011` → `q11`, `0` → `0`.
fn without_leading_zeros(word: &str) -> String {
    let mut out = String::with_capacity(word.len());
    let mut letters = word.chars().peekable();
    let mut in_number = false;
    while let Some(letter) = letters.next() {
        let more_digits = letters.peek().is_some_and(char::is_ascii_digit);
        if letter != '0' || in_number || !more_digits {
            out.push(letter);
        }
        in_number = letter.is_ascii_digit() && (in_number || letter != '0');
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(text: &str, expect: &[&str]) {
        assert_eq!(words(text), expect, "{text}");
    }

    #[test]
    fn words_are_folded() {
        check("Q-011", &["q", "11"]);
        check("q011", &["q11"]);
        check("Père  d'Été", &["pere", "d", "ete"]);
        check("Pe\u{300}re", &["pere"]);
        check("0", &["0"]);
        check("100 007 2031", &["100", "7", "2031"]);
        check("a0b00c", &["a0b0c"]);
        check("  -- ", &[]);
        check("Яблоня 7", &["яблоня", "7"]);
    }

    #[test]
    fn words_between_are_left_out() {
        assert_eq!(question("Marl x TR-9 no. 14"), ["marl", "tr", "9", "14"]);
        assert_eq!(question("x 5"), ["x", "5"]);
        assert_eq!(question("tree"), ["tree"]);
        assert_eq!(question("seedling 14"), ["14"]);
    }
}
