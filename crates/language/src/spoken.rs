//! A language as it is spoken: its locale, and its texts by the English ones.

use std::fmt::Arguments;

use crate::fill::fill;
use crate::locale::Locale;
use crate::{FIELD, RECORD};

/// What parts a context from its text in a key, as in gettext's files.
const CONTEXT: char = '\u{4}';

/// English, as long as no texts were read.
#[derive(Default)]
pub(crate) struct Spoken {
    pub(crate) locale: Locale,
    texts: Vec<Text>,
}

/// A text and its translation; one that counts goes by the English for many.
struct Text {
    english: &'static str,
    one: &'static str,
    many: &'static str,
}

impl Spoken {
    /// Reads what [`crate::speak`] is given; none where the locale is not whole.
    pub(crate) fn read(words: &'static str) -> Option<Self> {
        let (locale, texts) = words.split_once(RECORD).unwrap_or((words, ""));
        let text = |record: &'static str| {
            let mut fields = record.split(FIELD);
            let (english, one) = (fields.next()?, fields.next()?);
            Some(Text { english, one, many: fields.next().unwrap_or_default() })
        };
        let mut texts: Vec<Text> = texts.split(RECORD).filter_map(text).collect();
        texts.sort_unstable_by_key(|text| text.english);
        Some(Self { locale: Locale::read(locale)?, texts })
    }

    fn text(&self, english: &str) -> Option<&Text> {
        let found = self.texts.binary_search_by(|text| text.english.cmp(english));
        found.ok().map(|nth| &self.texts[nth])
    }

    pub(crate) fn said(&self, english: &'static str) -> &'static str {
        match self.text(english) {
            Some(text) => text.one,
            None => english.split_once(CONTEXT).map_or(english, |(_, text)| text),
        }
    }

    pub(crate) fn said_of<'a>(&self, text: &'a str) -> &'a str {
        self.text(text).map_or(text, |text| text.one)
    }

    pub(crate) fn filled(&self, english: &'static str, values: &[(&str, Arguments)]) -> String {
        fill(self.said(english), values)
    }

    /// The languages there are call exactly 1 one, and all else many; the build refuses a
    /// translation of another rule.
    pub(crate) fn counted(
        &self,
        number: u64,
        [one, many]: [&'static str; 2],
        values: &[(&str, Arguments)],
    ) -> String {
        let text = match (self.text(many), number) {
            (Some(text), 1) => text.one,
            (Some(text), _) => text.many,
            (None, 1) => one,
            (None, _) => many,
        };
        fill(text, values)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// An invented language in which every vowel of English is an `o`.
    fn spoken() -> Spoken {
        let locale = "comma\u{1f}{year}, {month} {day}\u{1f}1\u{1f}2\u{1f}3\u{1f}4\u{1f}5\u{1f}6\
            \u{1f}7\u{1f}8\u{1f}9\u{1f}10\u{1f}11\u{1f}twolfth";
        let texts = [
            "Row {row}\u{1f}{row}. Row",
            "of a list\u{4}Print\u{1f}Pront",
            "{trees} trees\u{1f}1 troo\u{1f}{trees} troos",
        ];
        let words = [&[locale], &texts[..]].concat().join("\u{1e}");
        Spoken::read(words.leak()).expect("a whole locale")
    }

    #[test]
    fn a_text_is_said_in_the_language_or_else_in_english() {
        let (spoken, english) = (spoken(), Spoken::default());
        for (text, translated, plain) in [
            ("of a list\u{4}Print", "Pront", "Print"),
            ("of a button\u{4}Print", "Print", "Print"),
            ("Print", "Print", "Print"),
        ] {
            assert_eq!((spoken.said(text), english.said(text)), (translated, plain));
        }
        let values = [("row", format_args!("{}", 7))];
        assert_eq!(spoken.filled("Row {row}", &values), "7. Row");
        assert_eq!(english.filled("Row {row}", &values), "Row 7");
        assert_eq!(["Row {row}", "rust"].map(|text| spoken.said_of(text)), ["{row}. Row", "rust"]);
    }

    #[test]
    fn one_is_one_and_none_is_many() {
        let (spoken, english) = (spoken(), Spoken::default());
        for (trees, translated, plain) in
            [(0, "0 troos", "0 trees"), (1, "1 troo", "1 tree"), (2, "2 troos", "2 trees")]
        {
            let said = |one: &Spoken| {
                let values = [("trees", format_args!("{trees}"))];
                one.counted(trees, ["1 tree", "{trees} trees"], &values)
            };
            assert_eq!((said(&spoken), said(&english)), (translated.into(), plain.into()));
        }
    }

    #[test]
    fn numbers_and_days_are_those_of_the_locale() {
        let (locale, english) = (spoken().locale, Locale::default());
        assert_eq!(locale.decimal("1.5".into()), "1comma5");
        assert_eq!(locale.day(2031, 12, 4), "2031, twolfth 4");
        assert_eq!(english.decimal("1.5".into()), "1.5");
        assert_eq!(english.day(987, 6, 4), "4 June 0987");
    }

    #[test]
    fn a_locale_that_is_not_whole_is_refused() {
        for words in ["", ",\u{1f}{day}", "Row\u{1e}Roo"] {
            assert!(Spoken::read(words).is_none(), "{words:?}");
        }
        assert!(Locale::read(&[","; 14].join("\u{1f}").leak()[..]).is_some());
    }
}
