//! Lines, boxes and words in millimetres, as SVG.

use std::fmt::Write as _;

use scene::escaped;

use crate::letters::{cut_to, width_mm};
use crate::{Format, Page};

/// A point of type is 1/72 in.
pub(crate) const POINT_MM: f64 = 25.4 / 72.0;
/// The least size that is read in the rain.
pub(crate) const LEAST_TYPE_MM: f64 = 8.0 * POINT_MM;

/// A box on the page, mm from its left upper corner.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Frame {
    pub(crate) x: f64,
    pub(crate) y: f64,
    pub(crate) width: f64,
    pub(crate) height: f64,
}

/// How words are set.
#[derive(Clone, Copy, Debug, PartialEq)]
pub(crate) struct Type {
    pub(crate) size_mm: f64,
    pub(crate) bold: bool,
    pub(crate) faint: bool,
    pub(crate) anchor: Anchor,
}

/// Which end of the words stands at the point.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Anchor {
    Start,
    Middle,
    End,
}

impl Type {
    /// Of so many points.
    pub(crate) const fn points(points: f64) -> Self {
        Self { size_mm: points * POINT_MM, bold: false, faint: false, anchor: Anchor::Start }
    }

    pub(crate) const fn bold(self) -> Self {
        Self { bold: true, ..self }
    }

    pub(crate) const fn faint(self) -> Self {
        Self { faint: true, ..self }
    }

    pub(crate) const fn anchored(self, anchor: Anchor) -> Self {
        Self { anchor, ..self }
    }

    /// Width of words set in it.
    pub(crate) fn width_mm(self, words: &str) -> f64 {
        width_mm(words, self.size_mm, self.bold)
    }
}

/// A page in the making.
#[derive(Debug, Default)]
pub(crate) struct Drawing(String);

impl Drawing {
    /// An outline.
    pub(crate) fn outline(&mut self, frame: Frame, line_mm: f64, grey: &str) {
        let Frame { x, y, width, height } = frame;
        self.put(format_args!(
            "<rect x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\" fill=\"none\" stroke=\"{grey}\" \
             stroke-width=\"{line_mm}\"/>\n",
            mm(x),
            mm(y),
            mm(width),
            mm(height)
        ));
    }

    /// A straight line.
    pub(crate) fn line(&mut self, from: [f64; 2], to: [f64; 2], line_mm: f64, grey: &str) {
        let [[x1, y1], [x2, y2]] = [from, to].map(|point| point.map(mm));
        self.put(format_args!(
            "<path d=\"M{x1} {y1}L{x2} {y2}\" stroke=\"{grey}\" stroke-width=\"{line_mm}\"/>\n"
        ));
    }

    /// Words on a line whose baseline is at `y`; they are not looked at for their width.
    pub(crate) fn text(&mut self, at: [f64; 2], set: Type, words: &str) {
        self.set(at, set, words, None);
    }

    /// The same within so much room: what does not fit is cut, and what may be wider in another
    /// face is held to the room.
    pub(crate) fn text_within(&mut self, at: [f64; 2], set: Type, room_mm: f64, words: &str) {
        let words = cut_to(words, set.size_mm, set.bold, room_mm);
        self.held(at, set, room_mm, &words);
    }

    /// The same, pressed together instead of cut.
    pub(crate) fn held(&mut self, at: [f64; 2], set: Type, room_mm: f64, words: &str) {
        /// Faces that stand in for ours are at most so much wider.
        const WIDER: f64 = 1.15;
        let width = set.width_mm(words);
        self.set(at, set, words, (width * WIDER > room_mm).then(|| width.min(room_mm)));
    }

    /// SVG as it is.
    pub(crate) fn raw(&mut self, svg: &str) {
        self.0.push_str(svg);
    }

    /// The page.
    pub(crate) fn page(self, format: Format, title: &str) -> Page {
        let size_mm = format.size_mm();
        let [width, height] = size_mm.map(mm);
        let svg = format!(
            "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"{width}mm\" height=\"{height}mm\" \
             viewBox=\"0 0 {width} {height}\" font-family=\"Arial, Helvetica, sans-serif\" \
             fill=\"#111\">\n<title>{}</title>\n{}</svg>\n",
            escaped(title),
            self.0
        );
        Page { svg, size_mm }
    }

    fn set(&mut self, [x, y]: [f64; 2], set: Type, words: &str, width_mm: Option<f64>) {
        if words.is_empty() {
            return;
        }
        let bold = if set.bold { " font-weight=\"700\"" } else { "" };
        let faint = if set.faint { " fill=\"#555\"" } else { "" };
        let anchor = match set.anchor {
            Anchor::Start => "",
            Anchor::Middle => " text-anchor=\"middle\"",
            Anchor::End => " text-anchor=\"end\"",
        };
        let held = width_mm.map_or_else(String::new, |width| {
            format!(" textLength=\"{}\" lengthAdjust=\"spacingAndGlyphs\"", mm(width))
        });
        self.put(format_args!(
            "<text x=\"{}\" y=\"{}\" font-size=\"{}\"{bold}{faint}{anchor}{held}>{}</text>\n",
            mm(x),
            mm(y),
            mm(set.size_mm),
            escaped(words)
        ));
    }

    fn put(&mut self, what: std::fmt::Arguments<'_>) {
        // Writing to a string cannot fail.
        let _ = self.0.write_fmt(what);
    }
}

/// A length to the hundredth of a millimetre, without needless zeros.
pub(crate) fn mm(length: f64) -> String {
    let text = format!("{length:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" { "0".to_owned() } else { text.to_owned() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_short_and_exact_to_the_hundredth() {
        for (length, text) in [(100.0, "100"), (0.125, "0.12"), (-0.001, "0"), (7.5, "7.5")] {
            assert_eq!(mm(length), text);
        }
    }

    #[test]
    fn words_cannot_leave_their_room_or_become_markup() {
        let mut drawing = Drawing::default();
        let set = Type::points(10.0);
        drawing.text_within([1.0, 2.0], set, 30.0, "<script>alert(\"&\")</script>");
        drawing.text_within([1.0, 2.0], set, 100.0, "short");
        let page = drawing.page(Format::default(), "<b>");
        assert!(!page.svg.contains("<script") && !page.svg.contains("<b>"), "{}", page.svg);
        assert!(page.svg.contains("&lt;script&gt;ale"), "{}", page.svg);
        assert_eq!(page.svg.matches("textLength").count(), 1, "only what may not fit");
        assert!(page.svg.contains("width=\"210mm\" height=\"297mm\" viewBox=\"0 0 210 297\""));
    }
}
