//! One mark as SVG elements.

use std::fmt::{Result, Write as _};

use crate::piece::pieces;
use crate::{Look, Theme};

/// A mark to be used by its id, `radius` pixels large.
pub(super) fn define(out: &mut String, id: &str, look: Look, radius: f64, theme: Theme) -> Result {
    write!(out, "<g id=\"{id}\">")?;
    draw(out, look, radius, theme)?;
    out.push_str("</g>\n");
    Ok(())
}

/// A mark around (0, 0).
pub(super) fn draw(out: &mut String, look: Look, radius: f64, theme: Theme) -> Result {
    for piece in pieces(look, radius, theme) {
        write!(out, "<path d=\"{}\" fill=\"{}\"", piece.path, piece.fill)?;
        if let Some((ink, width)) = &piece.line {
            write!(out, " stroke=\"{ink}\" stroke-width=\"{width:.2}\"")?;
        }
        out.push_str("/>");
    }
    Ok(())
}
