//! Standalone HTML without a script: pages that print one to a sheet, and a document.

use language::say;
use scene::escaped;

use crate::drawing::mm;
use crate::{Block, Document, Format, Page, Table};

/// What a file opened from disk may do: nothing but show itself.
const POLICY: &str = "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; \
                      style-src 'unsafe-inline'; img-src data:\">";

/// The head of a standalone file, and the beginning of its body.
pub(crate) fn head(title: &str, style: &str) -> String {
    format!(
        "<!doctype html>\n<html lang=\"{}\">\n<head>\n<meta charset=\"utf-8\">\n{POLICY}\n\
         <meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n\
         <title>{}</title>\n<style>\n{style}</style>\n</head>\n<body>\n",
        say!("en"; "the tag of the language itself (BCP 47)"),
        escaped(title)
    )
}

/// Pages of one size in one file, each on a sheet of its own. It prints without margins of the
/// printer's, at 100 %.
pub fn pages_html(title: &str, pages: &[Page]) -> String {
    let [width, height] = pages.first().map_or([210.0, 297.0], |page| page.size_mm).map(mm);
    let style = format!(
        "@page {{ size: {width}mm {height}mm; margin: 0 }}\n\
         html, body {{ margin: 0; padding: 0; background: #fff }}\n\
         svg.page {{ display: block; width: {width}mm; height: {height}mm; overflow: hidden; \
         break-inside: avoid; break-after: page }}\n\
         svg.page:last-of-type {{ break-after: auto }}\n\
         @media screen {{ html {{ background: #ddd }} body {{ background: none }}\n\
         svg.page {{ margin: 4mm auto; background: #fff }} }}\n"
    );
    let mut out = head(title, &style);
    for page in pages {
        // The page's own measures stand in the style as well, since a class is needed there.
        out.push_str(&page.svg.replacen("<svg ", "<svg class=\"page\" ", 1));
    }
    out + "</body>\n</html>\n"
}

/// A document as one file: for the screen, and for paper of this format.
pub fn document_html(document: &Document, format: Format) -> String {
    let [width, height] = format.size_mm().map(mm);
    let page = format!("@page {{ size: {width}mm {height}mm; margin: 15mm 14mm }}\n");
    let mut out = head(&document.title, &(page + include_str!("document.css")));
    out.push_str(&format!("<main>\n<h1>{}</h1>\n", escaped(&document.title)));
    document.blocks.iter().for_each(|block| write(&mut out, block));
    out + "</main>\n</body>\n</html>\n"
}

fn write(out: &mut String, block: &Block) {
    match block {
        Block::Heading(level, words) => {
            let level = (*level).clamp(2, 3);
            out.push_str(&format!("<h{level}>{}</h{level}>\n", escaped(words)));
        }
        Block::Paragraph(words) => out.push_str(&format!("<p>{}</p>\n", escaped(words))),
        Block::Note(words) => {
            out.push_str(&format!("<p class=\"note\">{}</p>\n", escaped(words)));
        }
        Block::List(lines) => {
            out.push_str("<ul>\n");
            for line in lines {
                out.push_str(&format!("<li>{}</li>\n", escaped(line)));
            }
            out.push_str("</ul>\n");
        }
        Block::Table(table) => out.push_str(&self::table(table)),
        Block::Figure { svg, caption } => {
            out.push_str(&format!(
                "<figure>\n{svg}<figcaption>{}</figcaption>\n</figure>\n",
                escaped(caption)
            ));
        }
    }
}

/// A table that scrolls where it is wider than the screen.
pub(crate) fn table(table: &Table) -> String {
    let class = |nth: usize| {
        let is_number = table.columns.get(nth).is_some_and(|column| column.is_number);
        if is_number { " class=\"n\"" } else { "" }
    };
    let mut out = format!(
        "<div class=\"table\" tabindex=\"0\" role=\"group\" aria-label=\"{0}\"><table>\n\
         <caption>{0}</caption>\n<thead><tr>",
        escaped(&table.caption)
    );
    for (nth, column) in table.columns.iter().enumerate() {
        out.push_str(&format!("<th scope=\"col\"{}>{}</th>", class(nth), escaped(&column.head)));
    }
    out.push_str("</tr></thead>\n<tbody>\n");
    for row in &table.rows {
        out.push_str("<tr>");
        for (nth, cell) in row.iter().enumerate() {
            out.push_str(&format!("<td{}>{}</td>", class(nth), escaped(cell)));
        }
        out.push_str("</tr>\n");
    }
    out + "</tbody>\n</table></div>\n"
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::Column;

    const HOSTILE: &str = "<script>alert(\"x\")</script>&";

    #[test]
    fn no_word_of_a_document_becomes_markup() {
        let blocks = vec![
            Block::Heading(1, HOSTILE.to_owned()),
            Block::Paragraph(HOSTILE.to_owned()),
            Block::Note(HOSTILE.to_owned()),
            Block::List(vec![HOSTILE.to_owned()]),
            Block::Table(Table {
                caption: HOSTILE.to_owned(),
                columns: vec![Column::numbers(HOSTILE)],
                rows: vec![vec![HOSTILE.to_owned()]],
            }),
            Block::Figure { svg: "<svg></svg>".to_owned(), caption: HOSTILE.to_owned() },
        ];
        let document = Document { title: HOSTILE.to_owned(), blocks };
        let html = document_html(&document, Format::default());
        assert!(!html.contains("<script"), "{html}");
        // Title and heading, six blocks, and the caption, head and label of the table.
        assert_eq!(
            html.matches("&lt;script&gt;alert(&quot;x&quot;)&lt;/script&gt;&amp;").count(),
            11
        );
        assert!(html.contains("size: 210mm 297mm") && html.contains("default-src 'none'"));
    }

    #[test]
    fn pages_keep_their_size() {
        let page =
            Page { svg: "<svg x=\"1\"><svg y=\"2\"/></svg>".to_owned(), size_mm: [215.9, 279.4] };
        let html = pages_html("two", &[page.clone(), page]);
        assert!(html.contains("@page { size: 215.9mm 279.4mm; margin: 0 }"));
        assert_eq!(html.matches("<svg class=\"page\" x=\"1\"><svg y=\"2\"/>").count(), 2);
    }
}
