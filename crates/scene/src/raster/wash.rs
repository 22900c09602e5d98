//! The tinted ground as pixels, a run of one tint at a time.

use super::Part;
use crate::{Theme, Wash};

/// Where a row of pixels lies on the cells of a lattice: the cell coordinates of its first pixel's
/// middle, and how they change from pixel to pixel.
#[derive(Clone, Copy, Debug)]
struct Line {
    at: [f64; 2],
    step: [f64; 2],
}

/// Tints a part of the picture where cells are. `affine` takes metres to device pixels as
/// [`Camera::affine`](crate::Camera::affine) does.
pub(super) fn lay(
    pixels: &mut [[u8; 4]],
    width: usize,
    part: Part,
    wash: &Wash,
    affine: [f64; 6],
    theme: Theme,
) {
    let Some((lattice, codes)) = wash.cells() else { return };
    let [xx, xy, x0, yx, yy, y0] = affine;
    let per_cell = 1.0 / ((xx * yy - xy * yx) * lattice.side_m);
    // The way from pixels to cells, the inverse of the affine map.
    let across = [yy * per_cell, -yx * per_cell];
    let down = [-xy * per_cell, xx * per_cell];
    let corner = [
        xx * lattice.corner.x_m + xy * lattice.corner.y_m + x0,
        yx * lattice.corner.x_m + yy * lattice.corner.y_m + y0,
    ];
    let cells = [lattice.columns, lattice.rows];
    let colours: Vec<[u8; 4]> = (0_u8..)
        .zip(wash.shades())
        .map(|(code, _)| {
            let [r, g, b] = theme.rgb(wash.ink(code));
            [r, g, b, 255]
        })
        .collect();
    let mut before: Option<Line> = None;
    let (from, to) = (part.x.0 as usize, part.x.1 as usize);
    for y in part.y.0..part.y.1 {
        let (right, below) =
            (f64::from(part.x.0) + 0.5 - corner[0], f64::from(y) + 0.5 - corner[1]);
        let at = [0, 1].map(|axis| across[axis] * right + down[axis] * below);
        let line = Line { at, step: across };
        let (done, rest) = pixels.split_at_mut(y as usize * width);
        let row = &mut rest[from..to];
        if before.is_some_and(|before| line.is_as(before)) {
            row.copy_from_slice(&done[done.len() - width..][from..to]);
        } else {
            line.fill(row, cells, codes, &colours);
        }
        before = Some(line);
    }
}

impl Line {
    /// Whether it meets the same cells at the same pixels as the line above it: on a ground turned
    /// by quarters only one coordinate changes along a line, and the other may stay in its cell.
    fn is_as(self, above: Self) -> bool {
        let same = |axis: usize| {
            if self.step[axis] == 0.0 {
                libm::floor(self.at[axis]) == libm::floor(above.at[axis])
            } else {
                self.at[axis] == above.at[axis]
            }
        };
        same(0) && same(1)
    }

    fn fill(self, row: &mut [[u8; 4]], cells: [usize; 2], codes: &[u8], colours: &[[u8; 4]]) {
        let Some((mut x, end)) = self.inside(row.len(), cells) else { return };
        let (mut begun, mut shown) = (x, None);
        while x < end {
            let mut cell = [0; 2];
            let mut next = end;
            for axis in [0, 1] {
                let (at, step) = (self.at[axis] + x as f64 * self.step[axis], self.step[axis]);
                let own = libm::floor(at).clamp(0.0, (cells[axis] - 1) as f64);
                cell[axis] = own as usize;
                if step != 0.0 {
                    let border = if step > 0.0 { own + 1.0 } else { own };
                    let pixels = libm::ceil((border - at) / step).max(1.0);
                    next = next.min(x + pixels.min(row.len() as f64) as usize);
                }
            }
            let code = codes[cell[1] * cells[0] + cell[0]];
            if shown != Some(code) {
                paint(&mut row[begun..x], shown, colours);
                (begun, shown) = (x, Some(code));
            }
            x = next;
        }
        paint(&mut row[begun..end], shown, colours);
    }

    /// The pixels, first and end, whose middles lie on the lattice; none where no pixel does.
    fn inside(self, width: usize, cells: [usize; 2]) -> Option<(usize, usize)> {
        let (mut first, mut end) = (0.0, width as f64);
        for axis in [0, 1] {
            let (at, step, most) = (self.at[axis], self.step[axis], cells[axis] as f64);
            if step == 0.0 {
                if !(0.0..most).contains(&at) {
                    return None;
                }
                continue;
            }
            let (a, b) = (-at / step, (most - at) / step);
            first = f64::max(first, libm::ceil(a.min(b)));
            end = f64::min(end, libm::ceil(a.max(b)));
        }
        (first < end).then_some((first as usize, end as usize))
    }
}

fn paint(run: &mut [[u8; 4]], code: Option<u8>, colours: &[[u8; 4]]) {
    if let Some(code) = code {
        run.fill(colours[usize::from(code)]);
    }
}
