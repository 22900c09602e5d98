//! Draws all marks into pixels, near or far: each class is drawn once into small sprites, and
//! these are laid over the ground at a fraction of a pixel.

mod sprite;
mod wash;

use sprite::Sprite;

use crate::marks::{GRAFT_SIZE, mark_radius_px};
use crate::{Camera, Ground, HIDDEN, Ink, Kind, Sheet, Theme, Wash};

/// A picture of pixels, kept from frame to frame so that nothing is allocated while the map moves.
#[derive(Clone, Debug, Default)]
pub struct Raster {
    width: usize,
    height: usize,
    pixels: Vec<[u8; 4]>,
    sprites: Sprites,
    /// What was drawn last.
    drawn: Option<(Camera, f64, Theme)>,
}

/// A part of the picture: pixels from the first of each pair up to the second.
#[derive(Clone, Copy, Debug)]
struct Part {
    x: (i32, i32),
    y: (i32, i32),
}

impl Part {
    /// Whether a point lies in it or within `reach` of it.
    fn is_within(self, reach: f64, x: f64, y: f64) -> bool {
        let near = |(from, to): (i32, i32), at: f64| {
            at >= f64::from(from) - reach && at <= f64::from(to) + reach
        };
        near(self.x, x) && near(self.y, y)
    }
}

impl Raster {
    /// An empty picture.
    pub fn new() -> Self {
        Self::default()
    }

    /// Draws the marks of a sheet as a camera sees them, over the tint of the ground; `ratio` is
    /// device pixels for a CSS pixel.
    pub fn draw(
        &mut self,
        ground: &Ground,
        sheet: &Sheet,
        wash: Option<&Wash>,
        camera: &Camera,
        ratio: f64,
        theme: Theme,
    ) {
        let device = |px: f64| (px * ratio).round().max(1.0) as usize;
        self.width = device(camera.viewport.width);
        self.height = device(camera.viewport.height);
        self.pixels.resize(self.width * self.height, [0; 4]);
        self.sprites.make_ready(ground, sheet, camera, ratio, theme);
        self.drawn = Some((*camera, ratio, theme));
        let whole = Part { x: (0, self.width as i32), y: (0, self.height as i32) };
        self.fill(ground, sheet, wash, &[whole]);
    }

    /// Moves the picture under a camera that has only been panned since: what stays on the screen
    /// is moved by whole device pixels, and marks are drawn only where the move uncovered the
    /// ground. Gives the camera of which the picture is true now, less than a device pixel from
    /// the one asked for; none where the whole must be drawn.
    ///
    /// Ground, sheet and tint must be those drawn last.
    pub fn pan(
        &mut self,
        ground: &Ground,
        sheet: &Sheet,
        wash: Option<&Wash>,
        camera: &Camera,
    ) -> Option<Camera> {
        let (before, ratio, theme) = self.drawn?;
        if *camera != (Camera { centre: camera.centre, ..before }) {
            return None;
        }
        let (from, to) = (before.affine(), camera.affine());
        let moved = |nth: usize| ((to[nth] - from[nth]) * ratio).round();
        let (right, down) = (moved(2), moved(5));
        let (width, height) = (self.width as i32, self.height as i32);
        if libm::fabs(right) >= f64::from(width) || libm::fabs(down) >= f64::from(height) {
            return None;
        }
        let panned = before.panned(right / ratio, down / ratio);
        self.drawn = Some((panned, ratio, theme));
        let (right, down) = (right as i32, down as i32);
        self.shift(right, down);
        let uncovered =
            |moved: i32, size: i32| if moved > 0 { (0, moved) } else { (size + moved, size) };
        let (x, y) = (uncovered(right, width), uncovered(down, height));
        let beside = if down > 0 { (y.1, height) } else { (0, y.0) };
        self.fill(ground, sheet, wash, &[Part { x: (0, width), y }, Part { x, y: beside }]);
        Some(panned)
    }

    /// Moves all pixels; those uncovered keep what they had.
    fn shift(&mut self, right: i32, down: i32) {
        let by = down as isize * self.width as isize + right as isize;
        let len = self.pixels.len();
        let (from, to) = ((-by).max(0) as usize, by.max(0) as usize);
        // Pixels that run over an edge land in what is drawn anew.
        self.pixels.copy_within(from..len - to, to);
    }

    /// Draws parts anew, paper and all.
    fn fill(&mut self, ground: &Ground, sheet: &Sheet, wash: Option<&Wash>, parts: &[Part]) {
        let Some((camera, ratio, theme)) = self.drawn else { return };
        let affine = camera.affine().map(|factor| factor * ratio);
        for part in parts {
            self.lay_paper(*part, theme);
            if let Some(wash) = wash {
                wash::lay(&mut self.pixels, self.width, *part, wash, affine, theme);
            }
        }
        let [xx, xy, x0, yx, yy, y0] = affine;
        let reach = f64::from(self.sprites.reach);
        let (codes, spots) = (sheet.codes(), ground.spots());
        for &tree in sheet.order() {
            let spot = spots[tree.get()];
            let x = xx * spot.x_m + xy * spot.y_m + x0;
            let y = yx * spot.x_m + yy * spot.y_m + y0;
            let code = codes[tree.get()];
            if code == HIDDEN {
                continue;
            }
            for part in parts.iter().filter(|part| part.is_within(reach, x, y)) {
                let (sprite, left, top) = self.sprites.at(code, ground.is_graft(tree), x, y);
                sprite.lay(&mut self.pixels, self.width, *part, left, top);
            }
        }
    }

    fn lay_paper(&mut self, part: Part, theme: Theme) {
        let [r, g, b] = theme.rgb(Ink::Paper);
        for y in part.y.0..part.y.1 {
            let row = &mut self.pixels[y as usize * self.width..][..self.width];
            row[part.x.0 as usize..part.x.1 as usize].fill([r, g, b, 255]);
        }
    }

    /// Width in device pixels.
    pub fn width(&self) -> usize {
        self.width
    }

    /// Height in device pixels.
    pub fn height(&self) -> usize {
        self.height
    }

    /// Row by row from the top, four bytes for a pixel: red, green, blue and 255.
    pub fn bytes(&self) -> &[u8] {
        self.pixels.as_flattened()
    }
}

/// The sprites of all classes of a sheet at one size.
#[derive(Clone, Debug, Default)]
struct Sprites {
    made_for: Option<Recipe>,
    /// By class, graft or not, and fraction of a pixel in y and x.
    sprites: Vec<Sprite>,
    /// Fractions of a pixel told apart in each direction.
    phases: usize,
    /// Farthest that a sprite reaches from its middle, device pixels.
    reach: f32,
}

/// What sprites were made for.
#[derive(Clone, Debug, PartialEq)]
struct Recipe {
    radius: f32,
    ratio: f64,
    theme: Theme,
    kinds: Vec<(Kind, bool)>,
}

impl Sprites {
    fn make_ready(
        &mut self,
        ground: &Ground,
        sheet: &Sheet,
        camera: &Camera,
        ratio: f64,
        theme: Theme,
    ) {
        // In eighths of a pixel: finer steps cannot be seen, and a pinch makes few of these.
        let radius =
            ((mark_radius_px(ground, camera) * ratio * 8.0).round() / 8.0).max(0.125) as f32;
        let kinds = sheet.classes().iter().map(|class| (class.kind, class.count > 0)).collect();
        let recipe = Recipe { radius, ratio, theme, kinds };
        if self.made_for.as_ref() == Some(&recipe) {
            return;
        }
        self.phases = match radius {
            small if small < 5.0 => 4,
            middling if middling < 10.0 => 2,
            _ => 1,
        };
        self.sprites.clear();
        self.reach = 0.0;
        for class in sheet.classes() {
            for graft in [false, true] {
                let own = radius * if graft { GRAFT_SIZE } else { 1.0 } * class.kind.look().size;
                for phase in 0..self.phases * self.phases {
                    let offset = |nth: usize| (nth as f32 + 0.5) / self.phases as f32 - 0.5;
                    let (dx, dy) = (offset(phase % self.phases), offset(phase / self.phases));
                    let sprite = if class.count == 0 {
                        Sprite::default()
                    } else {
                        Sprite::draw(class.kind.look(), own, ratio as f32, theme, (dx, dy))
                    };
                    self.reach = self.reach.max(sprite.reach());
                    self.sprites.push(sprite);
                }
            }
        }
        self.made_for = Some(recipe);
    }

    /// The sprite for a mark at a device pixel, and where its upper left corner goes.
    fn at(&self, code: u8, graft: bool, x: f64, y: f64) -> (&Sprite, i32, i32) {
        let phases = self.phases as f64;
        // The pixel whose middle is nearest, and which part of it.
        let (px, py) = (libm::floor(x), libm::floor(y));
        let part = |fraction: f64| ((fraction * phases) as usize).min(self.phases - 1);
        let phase = part(y - py) * self.phases + part(x - px);
        let per_class = self.phases * self.phases * 2;
        let nth =
            usize::from(code) * per_class + usize::from(graft) * self.phases * self.phases + phase;
        let sprite = &self.sprites[nth];
        (sprite, px as i32 - sprite.middle(), py as i32 - sprite.middle())
    }
}
