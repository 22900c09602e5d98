//! Draws all marks into pixels, near or far: each class is drawn once into small sprites, and
//! these are laid over the ground at a fraction of a pixel.

mod sprite;

use sprite::Sprite;

use crate::marks::{GRAFT_SIZE, mark_radius_px};
use crate::{Camera, Ground, HIDDEN, Ink, Kind, Sheet, Theme};

/// A picture of pixels, kept from frame to frame so that nothing is allocated while the map moves.
#[derive(Clone, Debug, Default)]
pub struct Raster {
    width: usize,
    height: usize,
    pixels: Vec<[u8; 4]>,
    sprites: Sprites,
}

impl Raster {
    /// An empty picture.
    pub fn new() -> Self {
        Self::default()
    }

    /// Draws the marks of a sheet as a camera sees them; `ratio` is device pixels for a CSS pixel.
    pub fn draw(
        &mut self,
        ground: &Ground,
        sheet: &Sheet,
        camera: &Camera,
        ratio: f64,
        theme: Theme,
    ) {
        let device = |px: f64| (px * ratio).round().max(1.0) as usize;
        self.width = device(camera.viewport.width);
        self.height = device(camera.viewport.height);
        let [r, g, b] = theme.rgb(Ink::Paper);
        self.pixels.clear();
        self.pixels.resize(self.width * self.height, [r, g, b, 255]);
        self.sprites.make_ready(ground, sheet, camera, ratio, theme);

        let affine = camera.affine().map(|factor| factor * ratio);
        let [xx, xy, x0, yx, yy, y0] = affine;
        let margin = f64::from(self.sprites.reach);
        let (right, bottom) = (self.width as f64 + margin, self.height as f64 + margin);
        let (codes, spots) = (sheet.codes(), ground.spots());
        for &tree in sheet.order() {
            let spot = spots[tree.get()];
            let x = xx * spot.x_m + xy * spot.y_m + x0;
            let y = yx * spot.x_m + yy * spot.y_m + y0;
            if x < -margin || y < -margin || x > right || y > bottom {
                continue;
            }
            let code = codes[tree.get()];
            if code != HIDDEN {
                let (sprite, left, top) = self.sprites.at(code, ground.is_graft(tree), x, y);
                sprite.lay(&mut self.pixels, self.width, self.height, left, top);
            }
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
