//! The pages of a map that is too large for one: evenly over the plot, each with what it shows.

use language::{count, say};
use plot::{Plot, Spot};
use scene::{Camera, Ground, Point};

use super::PX_PER_MM;
use crate::drawing::{Anchor, Drawing, Frame, Type};

/// One of the pages.
pub(super) struct Part {
    /// What it sees.
    pub(super) camera: Camera,
    /// Its corners without the margin, as spots of the plot.
    corners: [Spot; 4],
    /// `rows 1 to 20, places 31 to 60`.
    pub(super) words: String,
}

/// As many pages as it takes at a scale, line by line from the upper left; those without a tree are
/// left out. `whole` sees all of the plot on one page.
pub(super) fn of(
    plot: &Plot,
    ground: &Ground,
    whole: &Camera,
    px_per_m: f64,
    inset_px: f64,
) -> Vec<Part> {
    let near = Camera { px_per_m, centre: ground.bounds().middle(), ..*whole };
    let corners = ground.bounds().corners().map(|spot| near.screen_from_plot(spot));
    let span = |of: fn(&Point) -> f64| {
        let values = corners.iter().map(of);
        values.clone().fold(f64::MIN, f64::max) - values.fold(f64::MAX, f64::min)
    };
    let [width, height] =
        [near.viewport.width - 2.0 * inset_px, near.viewport.height - 2.0 * inset_px];
    let columns = (span(|at| at.x) / width).ceil().max(1.0) as usize;
    let rows = (span(|at| at.y) / height).ceil().max(1.0) as usize;
    // Every page is as full as the others.
    let (step_x, step_y) = (span(|at| at.x) / columns as f64, span(|at| at.y) / rows as f64);
    let middle = |nth: usize, of: usize| nth as f64 + 0.5 - of as f64 / 2.0;
    let mut parts = Vec::new();
    for line in 0..rows {
        for column in 0..columns {
            let right = middle(column, columns) * step_x;
            let down = middle(line, rows) * step_y;
            let camera = near.panned(-right, -down);
            parts.extend(part(plot, ground, camera, [step_x, step_y]));
        }
    }
    parts
}

/// What a camera sees within a box around the middle; none where no tree stands.
fn part(plot: &Plot, ground: &Ground, camera: Camera, [width, height]: [f64; 2]) -> Option<Part> {
    let middle = camera.viewport.middle();
    let corner = |x: f64, y: f64| {
        camera.plot_from_screen(Point {
            x: middle.x + x * width / 2.0,
            y: middle.y + y * height / 2.0,
        })
    };
    let is_in = |spot: Spot| {
        let at = camera.screen_from_plot(spot);
        2.0 * (at.x - middle.x).abs() <= width && 2.0 * (at.y - middle.y).abs() <= height
    };
    let inside = plot.trees_ix().filter(|&(ix, _)| is_in(ground.spot(ix)));
    let places: Vec<Option<(i32, i32)>> =
        inside.map(|(_, tree)| tree.row().zip(tree.place())).collect();
    let numbered = || places.iter().copied().flatten();
    let span =
        |of: fn((i32, i32)) -> i32| Some((numbered().map(of).min()?, numbered().map(of).max()?));
    let rows = span(|at| at.0).map(|(from, to)| match from == to {
        true => say!("row {row}", row = from),
        false => say!("rows {from} to {to}"),
    });
    let of_row = span(|at| at.1).map(|(from, to)| match from == to {
        true => say!("place {place}", place = from),
        false => say!("places {from} to {to}"),
    });
    let words = rows.into_iter().chain(of_row).collect::<Vec<_>>().join(", ");
    (!places.is_empty()).then(|| Part {
        camera,
        corners: [corner(-1.0, -1.0), corner(1.0, -1.0), corner(1.0, 1.0), corner(-1.0, 1.0)],
        words: match words.is_empty() {
            true => count!(places.len(), "1 tree", "{trees} trees", trees = places.len()),
            false => words,
        },
    })
}

impl Part {
    /// Its outline and number on the map of the whole plot.
    pub(super) fn outline(&self, drawing: &mut Drawing, whole: &Camera, frame: Frame, nth: usize) {
        let corners = self.corners.map(|spot| {
            let at = whole.screen_from_plot(spot);
            [frame.x + at.x / PX_PER_MM, frame.y + at.y / PX_PER_MM]
        });
        for nth in 0..4 {
            drawing.line(corners[nth], corners[(nth + 1) % 4], 0.4, "#111");
        }
        let middle = [0, 1].map(|axis| (corners[0][axis] + corners[2][axis]) / 2.0);
        let set = Type::points(20.0).bold().anchored(Anchor::Middle);
        // White around it, since it stands on marks.
        drawing.raw("<g stroke=\"#fff\" stroke-width=\"2\" paint-order=\"stroke\">");
        drawing.text([middle[0], middle[1] + 2.5], set, &nth.to_string());
        drawing.raw("</g>");
    }
}
