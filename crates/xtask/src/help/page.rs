//! A page of the docs as a page of the site: no script, no style of its own, no link that leaves.

use std::fmt::Write as _;

use anyhow::{Context as _, Result, bail};
use pulldown_cmark::{Alignment, CowStr, Event, Tag, TagEnd, html};

use crate::markdown::{Heading, events, headings};

/// What may be linked to and shown.
pub(super) struct Shelf<'a> {
    /// Whether a page of this name, without its ending, is on the site.
    pub has: &'a dyn Fn(&str) -> bool,
    /// What is known of a picture, by its address.
    pub picture: &'a dyn Fn(&str) -> Result<Picture>,
}

/// A picture that a page shows.
pub(super) enum Picture {
    /// Width and height in pixels.
    Pixels(usize, usize),
    /// Lines, of any size.
    Lines,
    /// It is about to be made: its words stand in its place.
    Lacking,
}

/// A page without its frame.
pub(super) struct Text {
    /// Its first heading.
    pub title: String,
    /// HTML.
    pub html: String,
}

/// Below this many sections a page needs no list of them.
const FEW: usize = 3;

/// Turns a page into HTML.
///
/// # Errors
/// No title, or a picture that cannot be had.
pub(super) fn text(markdown: &str, shelf: &Shelf<'_>) -> Result<Text> {
    let headings = headings(markdown);
    let title = headings.first().context("a page without a heading")?.words.clone();
    let mut anchors = headings.iter();
    // Of each link that is open, whether it stays one.
    let mut links = Vec::new();
    let (mut columns, mut cell) = (Vec::new(), ("td", 0));
    let (mut out, mut alt, mut listed) = (Vec::new(), None::<(CowStr<'_>, String)>, false);
    for (event, _) in events(markdown) {
        match event {
            Event::Start(Tag::Image { dest_url, .. }) => alt = Some((dest_url, String::new())),
            Event::End(TagEnd::Image) => {
                let Some((address, words)) = alt.take() else { continue };
                out.push(raw(picture(&address, &words, shelf)?));
            }
            event if alt.is_some() => {
                if let (Some((_, words)), Event::Text(more) | Event::Code(more)) = (&mut alt, event)
                {
                    words.push_str(&more);
                }
            }
            Event::Start(Tag::Heading { level, classes, attrs, .. }) => {
                if level as u8 == 2 && !listed {
                    listed = true;
                    out.push(raw(contents(&headings)));
                }
                let id = anchors.next().map(|heading| heading.anchor.clone().into());
                out.push(Event::Start(Tag::Heading { level, id, classes, attrs }));
            }
            Event::Start(Tag::Link { link_type, dest_url, title, id }) => {
                let address = address(&dest_url, shelf);
                links.push(address.is_some());
                if let Some(address) = address {
                    let dest_url = address.into();
                    out.push(Event::Start(Tag::Link { link_type, dest_url, title, id }));
                }
            }
            Event::End(TagEnd::Link) => {
                if links.pop() == Some(true) {
                    out.push(Event::End(TagEnd::Link));
                }
            }
            Event::Start(Tag::Table(of)) => {
                out.push(raw("<div class=\"scroll\" tabindex=\"0\">\n".to_owned()));
                out.push(Event::Start(Tag::Table(vec![Alignment::None; of.len()])));
                columns = of;
            }
            Event::End(TagEnd::Table) => {
                out.push(Event::End(TagEnd::Table));
                out.push(raw("</div>\n".to_owned()));
            }
            Event::Start(Tag::TableHead | Tag::TableRow) => {
                cell = match event {
                    Event::Start(Tag::TableHead) => ("th", 0),
                    _ => ("td", 0),
                };
                out.push(event);
            }
            // Which way a column leans is said by a class: the policy forbids a style in an element.
            Event::Start(Tag::TableCell) => {
                let leans = columns.get(cell.1) == Some(&Alignment::Right);
                let class = if leans { " class=\"number\"" } else { "" };
                out.push(raw(format!("<{}{class}>", cell.0)));
                cell.1 += 1;
            }
            Event::End(TagEnd::TableCell) => out.push(raw(format!("</{}>", cell.0))),
            Event::Html(_) | Event::InlineHtml(_) => {
                bail!("HTML among Markdown: {event:?}");
            }
            other => out.push(other),
        }
    }
    let mut html = String::new();
    html::push_html(&mut html, out.into_iter());
    Ok(Text { title, html })
}

/// Where a link leads on the site; none where it would leave the site: its words then stand alone.
fn address(target: &str, shelf: &Shelf<'_>) -> Option<String> {
    let (file, anchor) = target.split_once('#').map_or((target, None), |(a, b)| (a, Some(b)));
    let name = match file.strip_suffix(".md") {
        Some(name) if (shelf.has)(name) => format!("{name}.html"),
        None if file.is_empty() => String::new(),
        _ => return None,
    };
    Some(anchor.map_or_else(|| name.clone(), |anchor| format!("{name}#{anchor}")))
}

fn picture(address: &str, words: &str, shelf: &Shelf<'_>) -> Result<String> {
    let words = escaped(words);
    let (class, size) = match (shelf.picture)(address)? {
        Picture::Lacking => return Ok(words),
        Picture::Lines => ("lines", String::new()),
        Picture::Pixels(width, height) => (
            if width > height { "wide" } else { "tall" },
            format!(" width=\"{width}\" height=\"{height}\""),
        ),
    };
    Ok(format!(
        "<img class=\"{class}\" src=\"{{{{{address}}}}}\" alt=\"{words}\"{size} loading=\"lazy\">"
    ))
}

/// The sections of a page, each a link; nothing where there are few.
fn contents(headings: &[Heading]) -> String {
    let sections: Vec<_> = headings.iter().filter(|heading| heading.level == 2).collect();
    let mut list = String::new();
    if sections.len() >= FEW {
        list.push_str("<nav class=\"guide-contents\" aria-label=\"On this page\">\n<ul>\n");
        for Heading { anchor, words, .. } in sections {
            let _ = writeln!(list, "<li><a href=\"#{anchor}\">{}</a></li>", escaped(words));
        }
        list.push_str("</ul>\n</nav>\n");
    }
    list
}

pub(super) fn escaped(words: &str) -> String {
    words.replace('&', "&amp;").replace('<', "&lt;").replace('"', "&quot;")
}

fn raw<'a>(html: String) -> Event<'a> {
    Event::Html(html.into())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(markdown: &str, html: &str) {
        let picture = |name: &str| match name {
            "guide/a.webp" => Ok(Picture::Pixels(585, 900)),
            "b.svg" => Ok(Picture::Lines),
            "later.webp" => Ok(Picture::Lacking),
            _ => Err(anyhow::anyhow!("no picture {name}")),
        };
        let shelf = Shelf { has: &|name| name == "method", picture: &picture };
        let text = text(&format!("# T\n\n{markdown}"), &shelf).unwrap();
        assert_eq!(text.title, "T");
        assert_eq!(
            text.html.trim_start_matches("<h1 id=\"t\">T</h1>\n").trim(),
            html,
            "{markdown}"
        );
    }

    #[test]
    fn a_link_stays_where_its_page_is_on_the_site() {
        check("[m](method.md#a-b)", "<p><a href=\"method.html#a-b\">m</a></p>");
        check("[m](method.md)", "<p><a href=\"method.html\">m</a></p>");
        check("[m](#a-b)", "<p><a href=\"#a-b\">m</a></p>");
        for elsewhere in ["decisions.md", "https://example.org/", "validation/plots.csv"] {
            check(&format!("[**m**]({elsewhere})"), "<p><strong>m</strong></p>");
        }
    }

    #[test]
    fn a_picture_has_its_words_and_its_size() {
        let tall = "<p><img class=\"tall\" src=\"{{guide/a.webp}}\" alt=\"A &quot;b&quot;\" \
                    width=\"585\" height=\"900\" loading=\"lazy\"></p>";
        check("![A \"b\"](guide/a.webp)", tall);
        check(
            "![c](b.svg)",
            "<p><img class=\"lines\" src=\"{{b.svg}}\" alt=\"c\" loading=\"lazy\"></p>",
        );
        check("![not yet](later.webp)", "<p>not yet</p>");
        let shelf = Shelf { has: &|_| true, picture: &|name| anyhow::bail!("no {name}") };
        assert!(text("# T\n\n![d](d.webp)", &shelf).is_err());
    }

    #[test]
    fn a_column_of_numbers_leans_by_a_class() {
        let table = "<div class=\"scroll\" tabindex=\"0\">\n<table><thead><tr><th>a</th>\
                     <th class=\"number\">b</th></tr></thead><tbody>\n<tr><td>c</td>\
                     <td class=\"number\">1</td></tr>\n</tbody></table>\n</div>";
        check("| a | b |\n|---|--:|\n| c | 1 |", table);
    }

    #[test]
    fn sections_are_listed_before_the_first_of_them() {
        let three = "in\n\n## A\n\n## B & C\n\n## D";
        let list = "<p>in</p>\n<nav class=\"guide-contents\" aria-label=\"On this page\">\n<ul>\n\
                    <li><a href=\"#a\">A</a></li>\n<li><a href=\"#b--c\">B &amp; C</a></li>\n\
                    <li><a href=\"#d\">D</a></li>\n</ul>\n</nav>\n<h2 id=\"a\">A</h2>\n\
                    <h2 id=\"b--c\">B &amp; C</h2>\n<h2 id=\"d\">D</h2>";
        check(three, list);
        check("## A", "<h2 id=\"a\">A</h2>");
    }
}
