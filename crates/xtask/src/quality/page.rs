//! The page of figures as text: an opening and sections under their headings.

use std::collections::BTreeMap;

const OPENING: &str = "# Quality\n\nHow far the code can be trusted, in figures. Each section is \
     written by `cargo xtask quality WORD`, with a word of its heading, all of them by \
     `cargo xtask quality`; no number here is typed by hand.\n";

/// Sections by their headings.
pub(super) struct Page(BTreeMap<String, String>);

impl Page {
    /// The sections of a page that was written before; an empty text has none.
    pub(super) fn read(text: &str) -> Self {
        let sections = text.split("\n## ").skip(1).filter_map(|section| {
            let (heading, text) = section.split_once('\n')?;
            Some((heading.to_owned(), text.trim().to_owned()))
        });
        Self(sections.collect())
    }

    /// Puts a section in place of the one with its heading.
    pub(super) fn put(&mut self, heading: &str, text: &str) {
        self.0.insert(heading.to_owned(), text.trim().to_owned());
    }

    /// The page with those of its sections that are in this order; others are gone.
    pub(super) fn written<'a>(&self, order: impl Iterator<Item = &'a str>) -> String {
        let sections = order.filter_map(|heading| {
            self.0.get(heading).map(|text| format!("\n## {heading}\n\n{text}\n"))
        });
        OPENING.to_owned() + &sections.collect::<String>()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_section_takes_the_place_of_the_one_before_and_the_others_stay() {
        let mut page = Page::read("");
        page.put("Second", "2");
        page.put("First", "1\n\n### Below\n");
        let written = page.written(["First", "Second", "Never measured"].into_iter());
        assert!(written.ends_with("\n## First\n\n1\n\n### Below\n\n## Second\n\n2\n"), "{written}");
        let mut page = Page::read(&written);
        page.put("Second", "two\n");
        let again = page.written(["First", "Second"].into_iter());
        assert_eq!(again, written.replace("\n2\n", "\ntwo\n"));
    }
}
