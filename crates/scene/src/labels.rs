//! Names beside marks: as many as stand clear of each other, the same ones from picture to
//! picture.

use std::collections::HashSet;

use plot::{Plot, Status, TreeIx};

use crate::clear::ScreenBox;
use crate::marks::mark_radius_px;
use crate::{Camera, Clear, Ground, Point, Sheet};

/// A name on the screen; `at` is the middle of its left edge.
#[derive(Clone, Debug, PartialEq)]
pub struct Label {
    /// Whose.
    pub tree: TreeIx,
    /// The words.
    pub text: String,
    /// Where it begins.
    pub at: Point,
}

/// How labels are set.
#[derive(Clone, Copy)]
pub struct Setting<'a> {
    /// Height of a line, CSS pixels.
    pub line_px: f64,
    /// Width of a text, CSS pixels.
    pub width_px: &'a dyn Fn(&str) -> f64,
}

/// Trees on the screen above which none is named: their names would hide the map.
const TOO_MANY: usize = 900;

/// Names of the trees on the screen. Trees named before keep their name where it still fits, so
/// that names do not flicker while the map moves. Nothing is set over `keep_clear`: the middles of
/// row numbers.
pub fn labels(
    plot: &Plot,
    ground: &Ground,
    sheet: &Sheet,
    camera: &Camera,
    setting: Setting<'_>,
    keep_clear: &[Point],
    before: &[Label],
) -> Vec<Label> {
    let radius_px = mark_radius_px(ground, camera);
    if ground.cell_m() * camera.px_per_m < setting.line_px * 1.5 {
        return Vec::new();
    }
    let on_screen = on_screen(ground, sheet, camera);
    if on_screen.len() > TOO_MANY {
        return Vec::new();
    }
    let named: HashSet<TreeIx> = before.iter().map(|label| label.tree).collect();
    let mut taken = Taken::with_cells(setting.line_px * 4.0);
    for &(_, at) in &on_screen {
        taken.add(ScreenBox::around(at, radius_px));
    }
    for &at in keep_clear {
        taken.add(ScreenBox::around(at, setting.line_px / 2.0));
    }
    let (again, new): (Vec<_>, Vec<_>) =
        on_screen.into_iter().partition(|(tree, _)| named.contains(tree));
    let screen = Clear::default().frame(camera.viewport);
    let mut labels = Vec::new();
    for (tree, at) in again.into_iter().chain(new) {
        let one = plot.tree(tree);
        if one.status() == Status::Empty {
            continue;
        }
        let text = one.tag().unwrap_or(one.id().as_str());
        let width = (setting.width_px)(text);
        let gap = radius_px + 3.0;
        let line = setting.line_px;
        let places = [
            Point { x: at.x + gap, y: at.y },
            Point { x: at.x - width / 2.0, y: at.y + gap + line / 2.0 },
            Point { x: at.x - gap - width, y: at.y },
            Point { x: at.x - width / 2.0, y: at.y - gap - line / 2.0 },
        ];
        let free = places.into_iter().find_map(|at| {
            let text_box = ScreenBox {
                left: at.x - 2.0,
                right: at.x + width + 2.0,
                top: at.y - line / 2.0,
                bottom: at.y + line / 2.0,
            };
            (screen.holds(text_box) && taken.is_free(text_box)).then_some((at, text_box))
        });
        if let Some((at, text_box)) = free {
            taken.add(text_box);
            labels.push(Label { tree, text: text.to_owned(), at });
        }
    }
    labels
}

/// The shown marks on the screen, by tree index.
pub fn on_screen(ground: &Ground, sheet: &Sheet, camera: &Camera) -> Vec<(TreeIx, Point)> {
    let viewport = camera.viewport;
    let on = |point: &Point| {
        (0.0..=viewport.width).contains(&point.x) && (0.0..=viewport.height).contains(&point.y)
    };
    let [xx, xy, x0, yx, yy, y0] = camera.affine();
    let marks = ground.spots().iter().enumerate().map(|(nth, spot)| {
        let (x, y) = (spot.x_m, spot.y_m);
        (TreeIx::new(nth), Point { x: xx * x + xy * y + x0, y: yx * x + yy * y + y0 })
    });
    marks.filter(|(tree, point)| on(point) && sheet.shows(*tree)).collect()
}

/// What is taken already, in square cells so that a look-up stays short.
struct Taken {
    cell: f64,
    boxes: std::collections::HashMap<(i32, i32), Vec<ScreenBox>>,
}

impl Taken {
    fn with_cells(cell: f64) -> Self {
        Self { cell, boxes: std::collections::HashMap::new() }
    }

    fn cells(&self, one: ScreenBox) -> impl Iterator<Item = (i32, i32)> + use<> {
        let nth = |px: f64| libm::floor(px / self.cell) as i32;
        let (left, right) = (nth(one.left), nth(one.right));
        let (top, bottom) = (nth(one.top), nth(one.bottom));
        (left..=right).flat_map(move |x| (top..=bottom).map(move |y| (x, y)))
    }

    fn is_free(&self, one: ScreenBox) -> bool {
        self.cells(one).all(|cell| {
            self.boxes.get(&cell).is_none_or(|boxes| boxes.iter().all(|taken| !taken.meets(one)))
        })
    }

    fn add(&mut self, one: ScreenBox) {
        for cell in self.cells(one) {
            self.boxes.entry(cell).or_default().push(one);
        }
    }
}
