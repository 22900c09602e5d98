//! The neighbour view on a page: rings and lines on the map, its words and key beside it.

use std::fmt::Write as _;

use language::say;

use super::{LINE_PX, Page, SETTING, escaped, text, wrapped};
use crate::marks::mark_radius_px;
use crate::neighbours::{NeighbourPicture, NeighbourView, Stroke, Tells, Way, neighbour_picture};
use crate::{Clear, Ink, Point, words};

/// The picture of the page's neighbour view.
pub(super) fn picture(page: Page<'_>) -> Option<NeighbourPicture> {
    let view = page.neighbours?;
    Some(neighbour_picture(view, page.ground, page.camera, &Clear::default(), SETTING))
}

/// Rings and lines.
pub(super) fn draw(
    out: &mut String,
    page: Page<'_>,
    picture: &NeighbourPicture,
) -> std::fmt::Result {
    let Point { x, y } = picture.middle;
    let faint = page.theme.hex(Ink::Faint);
    for ring in &picture.rings {
        writeln!(
            out,
            "<circle cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"{:.1}\" fill=\"none\" stroke=\"{faint}\"/>",
            ring.radius_px
        )?;
    }
    for way in &picture.ways {
        let Way { start, bow, end, stroke, .. } = way;
        let path = format!(
            "M{:.1} {:.1}Q{:.1} {:.1} {:.1} {:.1}",
            start.x, start.y, bow.x, bow.y, end.x, end.y
        );
        line(out, page, &path, *stroke)?;
    }
    Ok(())
}

/// What stands over the marks: the ring around the chosen tree, distances.
pub(super) fn draw_over(
    out: &mut String,
    page: Page<'_>,
    picture: &NeighbourPicture,
) -> std::fmt::Result {
    let Point { x, y } = picture.middle;
    let ink = page.theme.hex(Ink::Line);
    let radius = mark_radius_px(page.ground, page.camera) * 1.5 + 3.0;
    writeln!(
        out,
        "<circle cx=\"{x:.1}\" cy=\"{y:.1}\" r=\"{radius:.1}\" fill=\"none\" stroke=\"{ink}\" \
         stroke-width=\"2.5\"/>",
    )?;
    writeln!(
        out,
        "<g font-size=\"12\" stroke=\"{}\" stroke-width=\"3.5\" paint-order=\"stroke\">",
        page.theme.hex(Ink::Paper)
    )?;
    for ring in &picture.rings {
        if let Some(at) = ring.label_at {
            text(out, at, "middle", ink.clone(), &ring.label)?;
        }
    }
    for (distance, at) in &picture.distances {
        text(out, *at, "middle", ink.clone(), distance)?;
    }
    out.push_str("</g>\n");
    Ok(())
}

/// Sentences and key, from `y` downwards; gives where they end.
pub(super) fn legend(
    out: &mut String,
    page: Page<'_>,
    view: &NeighbourView,
    left: f64,
    mut y: f64,
) -> Result<f64, std::fmt::Error> {
    let ink = page.theme.hex(Ink::Line);
    let mut lines = |out: &mut String, words: &str, gap: f64| {
        for line in wrapped(words, 38) {
            text(out, Point { x: left, y }, "start", ink.clone(), &line)?;
            y += 18.0;
        }
        y += gap;
        Ok::<f64, std::fmt::Error>(y)
    };
    lines(out, &say!("Around {tree}", tree = words::tree(page.plot, view.of)), 4.0)?;
    lines(out, &view.itself, 4.0)?;
    let mut y = lines(out, &view.summary, 8.0)?;
    for tells in Tells::ALL {
        if view.links.iter().any(|link| link.tells == tells) {
            let path = format!("M{left:.1} {y:.1}h28");
            line(out, page, &path, tells.stroke(None))?;
            text(out, Point { x: left + 38.0, y }, "start", ink.clone(), tells.meaning())?;
            y += LINE_PX;
        }
    }
    Ok(y + 8.0)
}

/// A path drawn as a line to a neighbour.
fn line(out: &mut String, page: Page<'_>, path: &str, stroke: Stroke) -> std::fmt::Result {
    let dash = match stroke.dash {
        [] => String::new(),
        dash => {
            let lengths: Vec<String> = dash.iter().map(f64::to_string).collect();
            format!(" stroke-linecap=\"round\" stroke-dasharray=\"{}\"", lengths.join(" "))
        }
    };
    for (ink, width) in [(Ink::Line, stroke.width_px), (Ink::Paper, stroke.core_px)] {
        if width > 0.0 {
            writeln!(
                out,
                "<path d=\"{}\" fill=\"none\" stroke=\"{}\" stroke-width=\"{width:.1}\"{dash}/>",
                escaped(path),
                page.theme.hex(ink)
            )?;
        }
    }
    Ok(())
}
