//! The tinted ground as SVG: one path for each class, a stroke of cells at a time.

use std::fmt::{Result, Write as _};

use crate::{Camera, Ink, Theme, Wash};

/// All cells that are tinted, in the place of the paper.
pub(super) fn cells(out: &mut String, wash: &Wash, camera: &Camera, theme: Theme) -> Result {
    let Some((lattice, codes)) = wash.cells() else { return Ok(()) };
    let corner = camera.screen_from_plot(lattice.corner);
    let [xx, xy, _, yx, yy, _] = camera.affine().map(|factor| factor * lattice.side_m);
    writeln!(
        out,
        "<g shape-rendering=\"crispEdges\" \
         transform=\"matrix({xx:.4} {yx:.4} {xy:.4} {yy:.4} {:.2} {:.2})\">",
        corner.x, corner.y
    )?;
    for (code, _) in (0_u8..).zip(wash.shades()) {
        let ink = wash.ink(code);
        if ink == Ink::Paper || !codes.contains(&code) {
            continue;
        }
        write!(out, "<path fill=\"{}\" d=\"", theme.hex(ink))?;
        for (row, line) in codes.chunks_exact(lattice.columns).enumerate() {
            let mut column = 0;
            for run in line.chunk_by(|a, b| a == b) {
                let long = run.len();
                if run[0] == code {
                    write!(out, "M{column} {row}h{long}v1h-{long}z")?;
                }
                column += long;
            }
        }
        out.push_str("\"/>\n");
    }
    out.push_str("</g>\n");
    Ok(())
}
