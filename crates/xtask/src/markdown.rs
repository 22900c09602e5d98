//! Markdown as the docs are written in it: the anchors of its headings, and what it links to.

use std::collections::BTreeMap;
use std::ops::Range;

use pulldown_cmark::{Event, Options, Parser, Tag, TagEnd};

/// The events of a text, each with where it stands.
pub(crate) fn events(text: &str) -> impl Iterator<Item = (Event<'_>, Range<usize>)> {
    Parser::new_ext(text, Options::ENABLE_TABLES).into_offset_iter()
}

/// A heading: 1 is the title of the page.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Heading {
    pub level: u8,
    pub anchor: String,
    pub words: String,
}

/// The headings in order, with the anchors that hosts of repositories give them.
pub(crate) fn headings(text: &str) -> Vec<Heading> {
    let (mut all, mut open, mut met) = (Vec::new(), None, BTreeMap::<String, usize>::new());
    for (event, _) in events(text) {
        match event {
            Event::Start(Tag::Heading { level, .. }) => open = Some((level as u8, String::new())),
            Event::Text(words) | Event::Code(words) => {
                if let Some((_, said)) = &mut open {
                    said.push_str(&words);
                }
            }
            Event::End(TagEnd::Heading(_)) => {
                let Some((level, words)) = open.take() else { continue };
                let plain = anchor(&words);
                let nth = met.entry(plain.clone()).or_default();
                let anchor = if *nth == 0 { plain } else { format!("{plain}-{nth}") };
                *nth += 1;
                all.push(Heading { level, anchor, words });
            }
            _ => {}
        }
    }
    all
}

/// What a text links to and the pictures it shows, each with the number of its line.
pub(crate) fn targets(text: &str) -> Vec<(usize, String)> {
    events(text)
        .filter_map(|(event, at)| match event {
            Event::Start(Tag::Link { dest_url, .. } | Tag::Image { dest_url, .. }) => {
                let line = text.get(..at.start).unwrap_or_default().matches('\n').count() + 1;
                Some((line, dest_url.into_string()))
            }
            _ => None,
        })
        .collect()
}

/// Whether an address leaves the repository.
pub(crate) fn is_outside(address: &str) -> bool {
    address.contains("://") || address.starts_with("mailto:")
}

/// Small letters, digits, dashes and underscores; a space is a dash, all else goes.
fn anchor(words: &str) -> String {
    words
        .to_lowercase()
        .chars()
        .filter_map(|letter| match letter {
            ' ' => Some('-'),
            '-' | '_' => Some(letter),
            _ => letter.is_alphanumeric().then_some(letter),
        })
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_heading_has_the_anchor_that_a_host_gives_it() {
        let check = |text: &str, anchors: &[&str]| {
            let found: Vec<String> = headings(text).into_iter().map(|it| it.anchor).collect();
            assert_eq!(found, anchors, "{text}");
        };
        check("# A `plot.json`, and more!", &["a-plotjson-and-more"]);
        check("## `leeward print PLOT --out PATH`", &["leeward-print-plot---out-path"]);
        check("## Two\n\ntext\n\n## Two\n", &["two", "two-1"]);
        check("```\n# no heading\n```\n", &[]);
    }

    #[test]
    fn links_and_pictures_are_found_with_their_lines() {
        let text = "One [a](a.md#b)\nand\n![c](d/c.webp)\n\n`[no](link.md)`\n";
        let found = [(1, "a.md#b".to_owned()), (3, "d/c.webp".to_owned())];
        assert_eq!(targets(text), found);
    }
}
