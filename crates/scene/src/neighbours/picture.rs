//! The neighbour view as it is drawn: rings, lines and distances on the screen.

use plot::TreeIx;

use super::rings::{Ring, rings};
use super::{NeighbourView, Stroke};
use crate::clear::ScreenBox;
use crate::labels::Setting;
use crate::marks::mark_radius_px;
use crate::{Camera, Clear, Ground, Point, words};

/// The neighbour view on the screen.
#[derive(Clone, Debug, PartialEq)]
pub struct NeighbourPicture {
    /// The middle of the chosen tree's mark.
    pub middle: Point,
    /// Rings of round distance, the innermost first.
    pub rings: Vec<Ring>,
    /// Lines to the neighbours; none to one whose mark touches the chosen tree's.
    pub ways: Vec<Way>,
    /// Distances beside the lines, by the middle of their words, where there is room.
    pub distances: Vec<(String, Point)>,
}

impl NeighbourPicture {
    /// Points along all its words and lines, for names to keep clear of.
    pub fn keep_clear(&self) -> Vec<Point> {
        let rings = self.rings.iter().filter_map(|ring| ring.label_at);
        let distances = self.distances.iter().map(|(_, at)| *at);
        let along = |at: Point| [-12.0, 0.0, 12.0].map(|by| Point { x: at.x + by, y: at.y });
        let mut points: Vec<Point> = rings.chain(distances).flat_map(along).collect();
        for way in &self.ways {
            let steps = (way.start.distance(way.end) / APART_PX).ceil().max(1.0);
            points.extend(
                (0..=steps as u32)
                    .map(|nth| on_curve(way.start, way.bow, way.end, f64::from(nth) / steps)),
            );
        }
        points
    }
}

/// The way from the chosen tree to a neighbour: straight, or bowed about a point.
#[derive(Clone, Debug, PartialEq)]
pub struct Way {
    /// Whose.
    pub tree: TreeIx,
    /// At the edge of the chosen tree's mark.
    pub start: Point,
    /// About what it bows; on the straight line for a straight way.
    pub bow: Point,
    /// At the edge of the neighbour's mark.
    pub end: Point,
    /// The middle of the neighbour's mark.
    pub mark: Point,
    /// How it is drawn.
    pub stroke: Stroke,
}

/// Length below which a way has no distance beside it, CSS pixels.
const ROOM_PX: f64 = 56.0;

/// Distance between points of a line that names keep clear of, CSS pixels.
const APART_PX: f64 = 16.0;

/// Sets the neighbour view for a camera.
pub fn neighbour_picture(
    view: &NeighbourView,
    ground: &Ground,
    camera: &Camera,
    clear: &Clear,
    setting: Setting<'_>,
) -> NeighbourPicture {
    let radius = mark_radius_px(ground, camera);
    let on_screen = |tree| camera.screen_from_plot(ground.spot(tree));
    let middle = on_screen(view.of);
    let marks: Vec<Point> = view.links.iter().map(|link| on_screen(link.tree)).collect();
    let mut ways = Vec::new();
    let mut distances: Vec<(String, Point)> = Vec::new();
    let mut obstacles = Obstacles { ground, camera, radius, ways: Vec::new(), words: Vec::new() };
    // The chosen tree's name stands above it.
    let name = Point { x: middle.x, y: middle.y - radius * 1.25 - 17.0 };
    obstacles.words.push(ScreenBox::of_size(name, 70.0, 22.0));
    for (nth, (link, &mark)) in view.links.iter().zip(&marks).enumerate() {
        let length = middle.distance(mark);
        if length < radius * 2.0 {
            continue;
        }
        let others = marks.iter().enumerate().filter(|(other, _)| *other != nth);
        let blocked = others.filter(|(_, other)| lies_on(middle, mark, **other, radius)).count();
        let way = Way::between(link.tree, middle, mark, radius, blocked, link.stroke());
        let at = way.halfway();
        let words = words::metres(link.distance_m);
        let room = ScreenBox::of_size(at, (setting.width_px)(&words) + 6.0, setting.line_px);
        let is_free = || obstacles.words.iter().all(|taken| !taken.meets(room));
        if length > ROOM_PX && is_free() {
            obstacles.words.push(room);
            distances.push((words, at));
        }
        obstacles.ways.push((way.start, way.bow, way.end));
        ways.push(way);
    }
    let farthest_m = view.links.iter().map(|link| link.distance_m).fold(0.0, f64::max);
    let rings = rings(camera, middle, farthest_m, clear, setting, &mut obstacles);
    NeighbourPicture { middle, rings, ways, distances }
}

/// What words on a ring should not lie on.
pub(super) struct Obstacles<'a> {
    ground: &'a Ground,
    camera: &'a Camera,
    radius: f64,
    ways: Vec<(Point, Point, Point)>,
    pub(super) words: Vec<ScreenBox>,
}

impl Obstacles<'_> {
    /// How much a box of words would hide: other words more than lines, lines more than marks.
    pub(super) fn cost(&self, room: ScreenBox) -> usize {
        let words = self.words.iter().filter(|taken| taken.meets(room)).count();
        let on_way = |&&(start, bow, end): &&(Point, Point, Point)| {
            let curve = (0..=12).map(|nth| on_curve(start, bow, end, f64::from(nth) / 12.0));
            curve.into_iter().any(|at| room.grown(4.0).meets(ScreenBox::around(at, 0.5)))
        };
        let ways = self.ways.iter().filter(on_way).count();
        let middle = Point { x: (room.left + room.right) / 2.0, y: (room.top + room.bottom) / 2.0 };
        let spot = self.camera.plot_from_screen(middle);
        let around_m = (room.right - room.left + self.radius) / self.camera.px_per_m;
        // Far out, where marks are small and many, none of them is worth a look.
        let marks = if self.radius < 3.0 { 0 } else { self.marks(spot, around_m, room) };
        words * 100 + ways * 12 + marks
    }

    fn marks(&self, spot: plot::Spot, around_m: f64, room: ScreenBox) -> usize {
        let hidden = |(tree, _): &(TreeIx, f64)| {
            let at = self.camera.screen_from_plot(self.ground.spot(*tree));
            room.meets(ScreenBox::around(at, self.radius))
        };
        self.ground.within(spot, around_m).filter(hidden).count()
    }
}

/// Whether a point between two others lies so near to the line that a mark there would be hidden.
fn lies_on(from: Point, to: Point, other: Point, radius: f64) -> bool {
    let length = from.distance(to);
    let (right, down) = ((to.x - from.x) / length, (to.y - from.y) / length);
    let (dx, dy) = (other.x - from.x, other.y - from.y);
    let (along, aside) = (dx * right + dy * down, libm::fabs(dx * down - dy * right));
    along > radius && along < length - radius && aside < radius
}

/// A point of the quadratic curve from `start` to `end` about `bow`.
fn on_curve(start: Point, bow: Point, end: Point, way: f64) -> Point {
    let mix = |a: f64, b: f64, c: f64| {
        let (rest, way) = (1.0 - way, way);
        rest * rest * a + 2.0 * rest * way * b + way * way * c
    };
    Point { x: mix(start.x, bow.x, end.x), y: mix(start.y, bow.y, end.y) }
}

impl Way {
    /// Between the edges of two marks, bowed the more, the more marks lie on the straight line.
    fn between(
        tree: TreeIx,
        from: Point,
        mark: Point,
        radius: f64,
        blocked: usize,
        stroke: Stroke,
    ) -> Self {
        let length = from.distance(mark);
        let (right, down) = ((mark.x - from.x) / length, (mark.y - from.y) / length);
        let aside = if blocked == 0 { 0.0 } else { radius * (3.2 + 1.6 * blocked as f64) };
        let middle = from.midway(mark);
        let bow = Point { x: middle.x + down * aside, y: middle.y - right * aside };
        let towards = |at: Point, px: f64| {
            let away = at.distance(bow).max(1.0);
            Point { x: at.x + (bow.x - at.x) * px / away, y: at.y + (bow.y - at.y) * px / away }
        };
        let (start, end) = (towards(from, radius * 1.25 + 5.0), towards(mark, radius + 3.0));
        Self { tree, start, bow, end, mark, stroke }
    }

    fn halfway(&self) -> Point {
        on_curve(self.start, self.bow, self.end, 0.5)
    }
}
