//! The map as a part of a larger SVG or HTML document.

use std::fmt::Write as _;

use plot::TreeIx;

use super::{Page, escaped, map};
use crate::Ink;

/// How a map is set into a document.
#[derive(Clone, Copy)]
pub struct Inset<'a> {
    /// In front of every id, so that several maps can stand in one document.
    pub prefix: &'a str,
    /// Whether trees are named where there is room.
    pub names: bool,
    /// Where its left upper corner goes, and how large it is, in units of the document: x, y,
    /// width, height. The viewport of the camera is scaled to that.
    pub frame: [f64; 4],
    /// Where the mark of a tree leads, and what that is called; none: nowhere. Links are not
    /// reached by the keyboard: a list of them must stand beside the map.
    pub link: Option<&'a dyn Fn(TreeIx) -> Link>,
}

/// Where a mark leads.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Link {
    /// The address, such as `#t12`.
    pub href: String,
    /// What it is called.
    pub title: String,
}

impl<'a> Inset<'a> {
    /// Of a map that is a document of its own.
    pub(super) fn named(prefix: &'a str, names: bool) -> Self {
        Self { prefix, names, frame: [0.0; 4], link: None }
    }
}

/// The map without legend, north and scale as an `svg` element within another document; without a
/// ground of its own, so that the paper stays white.
pub fn svg_inset(page: Page<'_>, inset: Inset<'_>) -> String {
    let [x, y, width, height] = inset.frame;
    let view = page.camera.viewport;
    let line = page.theme.hex(Ink::Line);
    let mut out = format!(
        "<svg x=\"{x:.3}\" y=\"{y:.3}\" width=\"{width:.3}\" height=\"{height:.3}\" \
         viewBox=\"0 0 {:.3} {:.3}\" font-family=\"Arial, Helvetica, sans-serif\" \
         font-size=\"14\" fill=\"{line}\">\n",
        view.width, view.height,
    );
    // Writing to a string cannot fail.
    let _ = map(&mut out, page, &inset);
    out.push_str("</svg>\n");
    out
}

/// A mark that leads somewhere.
pub(super) fn linked(out: &mut String, link: Link, mark: &str) -> std::fmt::Result {
    let (href, title) = (escaped(&link.href), escaped(&link.title));
    writeln!(out, "<a href=\"{href}\" tabindex=\"-1\"><title>{title}</title>{mark}</a>")
}
