//! How wide words are: no font is at hand, so widths are those of Helvetica, which the common sans
//! serif faces of print share or stay near to.

/// Widths of the characters from space to tilde in thousandths of the type size (Adobe's font
/// metrics of Helvetica, 1997).
const WIDTHS: [u16; 95] = [
    278, 278, 355, 556, 556, 889, 667, 191, 333, 333, 389, 584, 278, 333, 278, 278, 556, 556, 556,
    556, 556, 556, 556, 556, 556, 556, 278, 278, 584, 584, 584, 556, 1015, 667, 667, 722, 722, 667,
    611, 778, 722, 278, 500, 667, 556, 833, 722, 778, 667, 778, 722, 667, 611, 722, 667, 944, 667,
    667, 611, 278, 278, 278, 469, 556, 333, 556, 556, 500, 556, 556, 278, 556, 556, 222, 222, 500,
    222, 833, 556, 556, 556, 556, 333, 500, 278, 556, 500, 722, 500, 500, 500, 334, 260, 334, 584,
];
/// Bold letters are so much wider.
const BOLD: f64 = 1.08;
/// What stands for what had no room.
const CUT: char = '…';

/// Width of words, mm, set in `size_mm`.
pub(crate) fn width_mm(words: &str, size_mm: f64, bold: bool) -> f64 {
    let sum: f64 = words.chars().map(of_letter).sum();
    sum / 1000.0 * size_mm * if bold { BOLD } else { 1.0 }
}

/// The words as far as they fit, with an ellipsis where something is cut.
pub(crate) fn cut_to(words: &str, size_mm: f64, bold: bool, room_mm: f64) -> String {
    if width_mm(words, size_mm, bold) <= room_mm {
        return words.to_owned();
    }
    let mut kept = String::new();
    for letter in words.chars() {
        kept.push(letter);
        kept.push(CUT);
        let fits = width_mm(&kept, size_mm, bold) <= room_mm;
        kept.pop();
        if !fits {
            kept.pop();
            break;
        }
    }
    kept.truncate(kept.trim_end().len());
    kept.push(CUT);
    kept
}

/// The words in lines that fit, broken at blanks; a word that is too long is cut.
pub(crate) fn wrapped(words: &str, size_mm: f64, bold: bool, room_mm: f64) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in words.split_whitespace() {
        if let Some(line) = lines.last_mut() {
            let longer = format!("{line} {word}");
            if width_mm(&longer, size_mm, bold) <= room_mm {
                *line = longer;
                continue;
            }
        }
        lines.push(cut_to(word, size_mm, bold, room_mm));
    }
    lines
}

fn of_letter(letter: char) -> f64 {
    match letter {
        ' '..='~' => f64::from(WIDTHS[letter as usize - ' ' as usize]),
        '\u{a0}' | '·' => 278.0,
        '×' | '−' => 584.0,
        // Marks that stand over the letter before them.
        '\u{300}'..='\u{36f}' => 0.0,
        '\u{a1}'..='\u{24f}' => 600.0,
        '\u{250}'..='\u{10ff}' => 700.0,
        _ => 1000.0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn widths_are_those_of_the_metrics() {
        // By hand: R 722, o 556, w 722, blank 278, 7 556.
        assert!((width_mm("Row 7", 10.0, false) - 28.34).abs() < 1e-9);
        assert_eq!(width_mm("", 10.0, true), 0.0);
    }

    #[test]
    fn what_is_cut_fits_and_says_so() {
        let words = "Marl Beauty × TR-9, 2027, no. 14";
        for room_mm in [4.0, 12.0, 30.0, 44.9] {
            let cut = cut_to(words, 3.0, true, room_mm);
            assert!(cut.ends_with('…') && width_mm(&cut, 3.0, true) <= room_mm, "{cut}");
        }
        assert_eq!(cut_to(words, 3.0, false, 100.0), words);
        assert_eq!(cut_to("Marl Beauty", 3.0, false, 9.9), "Marl…", "no blank before it");
    }

    #[test]
    fn lines_fit_and_lose_no_word() {
        let words = "seen at once, clustered in few parts of the tree";
        let lines = wrapped(words, 3.0, false, 25.0);
        assert_eq!(lines.join(" "), words);
        assert!(lines.len() > 1 && lines.iter().all(|line| width_mm(line, 3.0, false) <= 25.0));
        assert!(wrapped(" ", 3.0, false, 25.0).is_empty());
    }
}
