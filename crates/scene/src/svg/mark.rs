//! One mark as SVG elements.

use std::fmt::{Result, Write as _};

use crate::marks::line_width;
use crate::shape::{Body, Stroke};
use crate::{Ink, Look, Theme};

/// A mark to be used by its id, `radius` pixels large.
pub(super) fn define(out: &mut String, id: &str, look: Look, radius: f64, theme: Theme) -> Result {
    write!(out, "<g id=\"{id}\">")?;
    draw(out, look, radius, theme)?;
    out.push_str("</g>\n");
    Ok(())
}

/// A mark around (0, 0).
pub(super) fn draw(out: &mut String, look: Look, radius: f64, theme: Theme) -> Result {
    let radius = radius * f64::from(look.size);
    let line = format!(
        "stroke=\"{}\" stroke-width=\"{:.2}\"",
        theme.hex(look.line),
        line_width(radius, 1.0)
    );
    let (body, strokes) = look.shape.parts();
    let fill = theme.hex(look.fill);
    let ink = theme.hex(look.stroke_ink(theme));
    match body {
        Body::None => {}
        Body::Circle(r) => {
            write!(out, "<circle r=\"{:.2}\" fill=\"{fill}\" {line}/>", f64::from(r) * radius)?;
        }
        Body::HalfCircle(r) => {
            let r = f64::from(r) * radius;
            write!(
                out,
                "<circle r=\"{r:.2}\" fill=\"{}\" {line}/><path d=\"M0 {r:.2}A{r:.2} {r:.2} 0 0 1 \
                 0 {:.2}Z\" fill=\"{fill}\" {line}/>",
                theme.hex(Ink::Paper),
                -r
            )?;
        }
        Body::Polygon(corners) => {
            let corners: Vec<String> =
                corners.iter().map(|corner| point(*corner, radius)).collect();
            write!(out, "<path d=\"M{}Z\" fill=\"{fill}\" {line}/>", corners.join(" "))?;
        }
    }
    for one in strokes {
        match *one {
            Stroke::Line { from, to } => {
                write!(out, "<path d=\"M{} {}\" {line}/>", point(from, radius), point(to, radius))?;
            }
            Stroke::Point { at, r } => write!(
                out,
                "<circle cx=\"{:.2}\" cy=\"{:.2}\" r=\"{:.2}\" fill=\"{}\"/>",
                f64::from(at[0]) * radius,
                f64::from(at[1]) * radius,
                f64::from(r) * radius,
                ink
            )?,
            Stroke::Arc { r, sweep_deg, .. } if sweep_deg >= 360.0 => {
                write!(out, "<circle r=\"{:.2}\" fill=\"none\" {line}/>", f64::from(r) * radius)?;
            }
            Stroke::Arc { r, from_deg, sweep_deg } => {
                let end = |deg: f32| {
                    let angle = deg.to_radians();
                    point([r * libm::cosf(angle), r * libm::sinf(angle)], radius)
                };
                write!(
                    out,
                    "<path d=\"M{}A{r:.2} {r:.2} 0 {} 1 {}\" fill=\"none\" {line}/>",
                    end(from_deg),
                    u8::from(sweep_deg > 180.0),
                    end(from_deg + sweep_deg),
                    r = f64::from(r) * radius,
                )?;
            }
        }
    }
    Ok(())
}

fn point(at: [f32; 2], radius: f64) -> String {
    format!("{:.2} {:.2}", f64::from(at[0]) * radius, f64::from(at[1]) * radius)
}
