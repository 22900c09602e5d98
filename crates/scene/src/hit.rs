//! Which tree a finger, pen or mouse means.

use plot::{Spot, TreeIx};

use crate::{Camera, Ground, Point, Sheet};

/// What points; the blunter it is, the farther it reaches.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Pointer {
    /// A mouse or trackpad.
    Mouse,
    /// A pen.
    Pen,
    /// A finger, perhaps in a glove.
    Finger,
}

impl Pointer {
    /// How far it reaches, CSS pixels.
    pub fn reach_px(self) -> f64 {
        match self {
            Self::Mouse => 10.0,
            Self::Pen => 14.0,
            Self::Finger => 28.0,
        }
    }
}

/// What was meant.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Hit {
    /// Nothing near enough.
    Nothing,
    /// One tree.
    Tree(TreeIx),
    /// One of several at the same place, too close to tell apart: let the person choose. Nearest
    /// first.
    OneOf(Vec<TreeIx>),
}

impl Hit {
    /// The likeliest tree.
    pub fn first(&self) -> Option<TreeIx> {
        match self {
            Self::Nothing => None,
            Self::Tree(tree) => Some(*tree),
            Self::OneOf(trees) => trees.first().copied(),
        }
    }
}

/// Marks of one place that lie closer than this part of the pointer's reach cannot be told apart.
const TOO_CLOSE: f64 = 0.75;

/// The tree whose mark is nearest to a point of the screen, within the pointer's reach.
pub fn hit(ground: &Ground, sheet: &Sheet, camera: &Camera, at: Point, pointer: Pointer) -> Hit {
    let spot = camera.plot_from_screen(at);
    let reach_m = pointer.reach_px() / camera.px_per_m;
    let Some(tree) = nearest_shown(ground, sheet, spot, reach_m) else { return Hit::Nothing };
    let too_close_m = reach_m * TOO_CLOSE;
    let mark = ground.spot(tree);
    let mut others: Vec<TreeIx> = ground
        .sharing(tree)
        .iter()
        .copied()
        .filter(|other| *other != tree && sheet.shows(*other))
        .filter(|other| ground.spot(*other).distance_m(mark) < too_close_m)
        .collect();
    if others.is_empty() {
        return Hit::Tree(tree);
    }
    others.sort_by(|a, b| {
        let away = |tree: &TreeIx| ground.spot(*tree).distance_m(spot);
        away(a).total_cmp(&away(b))
    });
    others.insert(0, tree);
    Hit::OneOf(others)
}

/// Looks at a few nearest marks first; far out, where the reach holds thousands, that is enough.
fn nearest_shown(ground: &Ground, sheet: &Sheet, spot: Spot, reach_m: f64) -> Option<TreeIx> {
    ground
        .nearest(spot, 16)
        .take_while(|tree| ground.spot(*tree).distance_m(spot) <= reach_m)
        .find(|tree| sheet.shows(*tree))
}

/// The shown tree that lies next in a direction on the screen, for walking over the map by the
/// arrow keys: within 45° of the direction, the one that is nearest, a step aside counting double.
pub fn next_in_direction(
    ground: &Ground,
    sheet: &Sheet,
    camera: &Camera,
    from: TreeIx,
    (right, down): (f64, f64),
) -> Option<TreeIx> {
    const LOOK_AT: usize = 160;
    let spot = ground.spot(from);
    let here = camera.screen_from_plot(spot);
    let length = (right * right + down * down).sqrt();
    let cost = |tree: TreeIx| {
        let there = camera.screen_from_plot(ground.spot(tree));
        let (dx, dy) = (there.x - here.x, there.y - here.y);
        let along = (dx * right + dy * down) / length;
        let aside = libm::fabs(dx * down - dy * right) / length;
        (along > 1e-9 && along >= aside).then_some(along + 2.0 * aside)
    };
    ground
        .nearest(spot, LOOK_AT)
        .filter(|tree| *tree != from && sheet.shows(*tree))
        .filter_map(|tree| Some((tree, cost(tree)?)))
        .min_by(|a, b| a.1.total_cmp(&b.1))
        .map(|(tree, _)| tree)
}
