//! Help inside the page: the docs that a user needs, each as a page of the site with its pictures.
//!
//! A page keeps its name, `guide.html`, so that it can be linked to and kept as a bookmark.

mod page;

use std::fs;
use std::path::Path;

use anyhow::{Context as _, Result, bail};

use crate::bundle::{Bundle, PAGE};
use page::{Picture, Shelf, Text, escaped};

/// Pages of the docs that the site carries, in the order in which they are listed.
const PAGES: [&str; 14] = [
    "guide",
    "planting-list",
    "bringing-in-a-list",
    "plot-folder",
    "which-tree",
    "editing",
    "diseases",
    "season",
    "vigour",
    "method",
    "validation",
    "printing",
    "out-of-the-browser",
    "cautions",
];

/// What to do about a picture that a page shows and that is not there.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Lacking {
    /// A fault.
    #[default]
    Refused,
    /// Its words stand in its place: it is about to be made.
    LeftOut,
}

/// Adds the pages and their pictures.
///
/// # Errors
/// A page or picture that cannot be read.
pub(crate) fn add_to(bundle: &mut Bundle, docs: &Path, lacking: Lacking) -> Result<()> {
    for Made { name, html, pictures } in made(docs, lacking)? {
        bundle.add(&format!("{name}.html"), html.into_bytes());
        for (name, bytes) in pictures {
            bundle.add(&name, bytes);
        }
    }
    Ok(())
}

/// Whether a file of the site belongs to help alone: a first visit does not wait for it.
pub(crate) fn is_of_help(name: &str) -> bool {
    name.ends_with(".html") && name != PAGE
        || name == "style/guide.css"
        || ["guide/", "validation/"].iter().any(|folder| name.starts_with(folder))
}

/// A page of the site.
struct Made {
    name: &'static str,
    html: String,
    pictures: Vec<(String, Vec<u8>)>,
}

fn made(docs: &Path, lacking: Lacking) -> Result<Vec<Made>> {
    let mut texts = Vec::new();
    for name in PAGES {
        let file = docs.join(format!("{name}.md"));
        let markdown =
            fs::read_to_string(&file).with_context(|| format!("cannot read {}", file.display()))?;
        let pictures = std::cell::RefCell::new(Vec::new());
        let picture = |address: &str| {
            let bytes = match fs::read(docs.join(address)) {
                Ok(bytes) => bytes,
                Err(_) if lacking == Lacking::LeftOut => return Ok(Picture::Lacking),
                Err(error) => bail!("the picture {address}: {error}"),
            };
            let size = imagesize::blob_size(&bytes);
            pictures.borrow_mut().push((address.to_owned(), bytes));
            Ok(size.map_or(Picture::Lines, |size| Picture::Pixels(size.width, size.height)))
        };
        let shelf = Shelf { has: &|name| PAGES.contains(&name), picture: &picture };
        let text = page::text(&markdown, &shelf).with_context(|| format!("docs/{name}.md"))?;
        texts.push((name, text, pictures.into_inner()));
    }
    let list: Vec<(&str, String)> =
        texts.iter().map(|(name, text, _)| (*name, text.title.clone())).collect();
    let framed = |(name, text, pictures)| Made { name, html: framed(name, &text, &list), pictures };
    Ok(texts.into_iter().map(framed).collect())
}

/// The whole page: in its frame, with links to all others.
fn framed(name: &str, text: &Text, list: &[(&str, String)]) -> String {
    let links: Vec<String> = list
        .iter()
        .map(|(other, title)| {
            let here = if *other == name { " aria-current=\"page\"" } else { "" };
            format!("<li><a href=\"{other}.html\"{here}>{}</a></li>", escaped(title))
        })
        .collect();
    include_str!("help/page.html")
        .replace("[policy]", crate::headers::POLICY)
        .replace("[title]", &escaped(&text.title))
        .replace("[pages]", &links.join("\n"))
        .replace("[text]", &text.html)
}

#[cfg(test)]
mod tests {
    use std::collections::{BTreeMap, BTreeSet};

    use super::*;
    use crate::shell::top;

    /// The values of an attribute.
    fn values<'a>(html: &'a str, attribute: &str) -> Vec<&'a str> {
        let begin = format!(" {attribute}=\"");
        let ends = html.split(begin.as_str()).skip(1);
        ends.filter_map(|rest| rest.split_once('"')).map(|(value, _)| value).collect()
    }

    #[test]
    fn each_link_of_the_built_pages_leads_somewhere() {
        let made = made(&top().join("docs"), Lacking::Refused).unwrap();
        let anchors: BTreeMap<String, BTreeSet<&str>> = made
            .iter()
            .map(|page| {
                (format!("{}.html", page.name), values(&page.html, "id").into_iter().collect())
            })
            .collect();
        let mut links = 0;
        for Made { name, html, pictures } in &made {
            let own = format!("{name}.html");
            for link in values(html, "href") {
                links += 1;
                let (file, anchor) = link.split_once('#').unwrap_or((link, ""));
                let leads = match file {
                    "./" => anchor.starts_with('/'),
                    _ if file.starts_with("{{") => {
                        top().join("www").join(file.trim_matches(['{', '}'])).is_file()
                    }
                    _ => {
                        let page = if file.is_empty() { &own } else { file };
                        let found = anchors.get(page);
                        found.is_some_and(|ids| anchor.is_empty() || ids.contains(anchor))
                    }
                };
                assert!(leads, "{own}: {link}");
            }
            let shown = values(html, "src").into_iter().map(|it| it.trim_matches(['{', '}']));
            let kept: Vec<&str> = pictures.iter().map(|(name, _)| name.as_str()).collect();
            assert_eq!(shown.collect::<Vec<_>>(), kept, "{own}");
        }
        assert!(links > 200, "{links} links alone");
    }

    #[test]
    fn nothing_in_a_page_is_forbidden_by_the_policy_or_leaves_the_machine() {
        for Made { name, html, .. } in made(&top().join("docs"), Lacking::Refused).unwrap() {
            let tags = html.split('<').filter_map(|rest| rest.split_once('>')).map(|(tag, _)| tag);
            for tag in tags {
                let is_forbidden = tag.starts_with("script") || tag.starts_with("style");
                let has = |what: &str| tag.contains(what);
                let forbidden = [" style=", " onclick=", " onload=", " onerror=", "://"];
                assert!(!is_forbidden && !forbidden.into_iter().any(has), "{name}: <{tag}>");
            }
        }
    }
}
