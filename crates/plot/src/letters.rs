//! Letters as they are compared: small, and without what is written above, below or through them.

/// Small Latin letters by what they are without their marks: those that Unicode takes apart into a
/// plain letter and marks, and some that it does not.
const PLAIN: &[(&str, &str)] = &[
    ("a", "àáâãäåāăąǎǟǡǻȁȃȧḁạảấầẩẫậắằẳẵặ"),
    ("ae", "æǣǽ"),
    ("b", "ḃḅḇ"),
    ("c", "çćĉċčḉ"),
    ("d", "ďḋḍḏḑḓđð"),
    ("e", "èéêëēĕėęěȅȇȩḕḗḙḛḝẹẻẽếềểễệ"),
    ("f", "ḟ"),
    ("g", "ĝğġģǧǵḡ"),
    ("h", "ĥȟḣḥḧḩḫẖħ"),
    ("i", "ìíîïĩīĭįǐȉȋḭḯỉịı"),
    ("j", "ĵǰ"),
    ("k", "ķǩḱḳḵ"),
    ("l", "ĺļľḷḹḻḽł"),
    ("m", "ḿṁṃ"),
    ("n", "ñńņňǹṅṇṉṋ"),
    ("o", "òóôõöōŏőơǒǫǭȍȏȫȭȯȱṍṏṑṓọỏốồổỗộớờởỡợø"),
    ("oe", "œ"),
    ("p", "ṕṗ"),
    ("r", "ŕŗřȑȓṙṛṝṟ"),
    ("s", "śŝşšșṡṣṥṧṩ"),
    ("ss", "ß"),
    ("t", "ţťțṫṭṯṱẗŧ"),
    ("th", "þ"),
    ("u", "ùúûüũūŭůűųưǔǖǘǚǜȕȗṳṵṷṹṻụủứừửữự"),
    ("v", "ṽṿ"),
    ("w", "ŵẁẃẅẇẉẘ"),
    ("x", "ẋẍ"),
    ("y", "ýÿŷȳẏẙỳỵỷỹ"),
    ("z", "źżžẑẓẕ"),
];

/// A text in small letters without accents: `Père d'Été` → `pere d'ete`. Letters of other scripts
/// stay as they are, but for Latin marks behind them (U+0300 to U+036F).
pub fn without_accents(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for letter in text.chars().flat_map(char::to_lowercase) {
        if letter.is_ascii() {
            plain.push(letter);
        } else if !('\u{300}'..='\u{36f}').contains(&letter) {
            match PLAIN.iter().find(|(_, marked)| marked.contains(letter)) {
                Some((without, _)) => plain.push_str(without),
                None => plain.push(letter),
            }
        }
    }
    plain
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn accents_go_and_letters_stay() {
        let check = |text: &str, expect: &str| assert_eq!(without_accents(text), expect);
        check("Père d'Été", "pere d'ete");
        check("Pe\u{300}re", "pere");
        check("ŁÓDŹ Straße Ærø Ǻ İ", "lodz strasse aero a i");
        check("Яблоня 7 りんご", "яблоня 7 りんご");
    }

    /// What Unicode's own tables say of every letter of the blocks that have Latin letters.
    #[test]
    fn every_latin_letter_loses_its_marks_as_unicode_takes_it_apart() {
        let mut seen = 0;
        for letter in ('\u{c0}'..='\u{24f}').chain('\u{1e00}'..='\u{1eff}') {
            let mut parts = Vec::new();
            unicode_normalization::char::decompose_canonical(letter, |part| parts.push(part));
            let is_mark = |part: &char| ('\u{300}'..='\u{36f}').contains(part);
            if parts[0].is_ascii_alphabetic() && parts.len() > 1 && parts[1..].iter().all(is_mark) {
                let expect = parts[0].to_ascii_lowercase().to_string();
                assert_eq!(without_accents(&letter.to_string()), expect, "{letter}");
                seen += 1;
            }
        }
        assert!(seen > 450, "{seen} letters");
    }
}
