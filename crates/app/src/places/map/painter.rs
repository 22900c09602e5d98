//! Puts the scene onto the canvases: marks as pixels in one call, lines and words over them.

use std::sync::Arc;

use leptos::prelude::window;
use plot::{Plot, TreeIx};
use scene::{Camera, Clear, Ground, Label, NeighbourView, Raster, Sheet, Theme, Wash};
use wasm_bindgen::{Clamped, JsCast, JsValue};
use web_sys::{CanvasRenderingContext2d, HtmlCanvasElement, ImageData};

use super::overlay::{self, Plan};
use crate::work::clock::since_opened_ms as now_ms;

/// Device pixels for a CSS pixel at most: more cost time and are not seen.
const MOST_RATIO: f64 = 2.0;
/// Marks that take longer than this are drawn coarser while the map is zoomed, milliseconds.
const SLOW_MS: f64 = 12.0;

/// Everything that one picture shows.
pub struct Picture<'a> {
    pub plot: &'a Plot,
    pub ground: &'a Ground,
    pub sheet: &'a Arc<Sheet>,
    pub wash: Option<&'a Arc<Wash>>,
    pub camera: Camera,
    pub theme: Theme,
    pub chosen: Option<TreeIx>,
    pub hovered: Option<TreeIx>,
    pub neighbours: Option<&'a NeighbourView>,
    pub clear: &'a Clear,
}

/// The two canvases, and what is kept from picture to picture.
pub struct Painter {
    marks: Canvas,
    over: Canvas,
    raster: Raster,
    labels: Vec<Label>,
    /// What the labels were set for.
    labelled: Option<Camera>,
    /// What the marks were last drawn for.
    drawn: Option<Drawn>,
    last_camera: Option<Camera>,
    moved_at_ms: f64,
    /// How long a whole drawing at full sharpness takes.
    draw_ms: f64,
}

/// What lies on the lower canvas.
struct Drawn {
    camera: Camera,
    theme: Theme,
    ratio: f64,
    sheet: Arc<Sheet>,
    wash: Option<Arc<Wash>>,
}

impl Drawn {
    /// Whether it is of these marks and this ground.
    fn is_of(&self, picture: &Picture<'_>) -> bool {
        let same_ground = match (&self.wash, picture.wash) {
            (Some(one), Some(other)) => Arc::ptr_eq(one, other),
            (one, other) => one.is_none() && other.is_none(),
        };
        same_ground && Arc::ptr_eq(&self.sheet, picture.sheet) && self.theme == picture.theme
    }
}

impl Painter {
    /// On two canvases that lie one over the other.
    pub fn new(marks: &HtmlCanvasElement, over: &HtmlCanvasElement) -> Option<Self> {
        Some(Self {
            marks: Canvas::new(marks, true)?,
            over: Canvas::new(over, false)?,
            raster: Raster::new(),
            labels: Vec::new(),
            labelled: None,
            drawn: None,
            last_camera: None,
            moved_at_ms: 0.0,
            draw_ms: 0.0,
        })
    }

    /// Paints a picture. Marks are drawn only when they changed; names stay with their trees while
    /// the map moves and are set anew when it rests.
    pub fn paint(&mut self, picture: &Picture<'_>) {
        let begun = now_ms();
        let full = window().device_pixel_ratio().clamp(1.0, MOST_RATIO);
        if self.last_camera.is_some_and(|last| last != picture.camera) {
            self.moved_at_ms = begun;
        }
        self.last_camera = Some(picture.camera);
        let moves = begun - self.moved_at_ms < 100.0;
        self.paint_marks(picture, full, moves);
        let plan = Plan::of(&self.over.pen, picture);
        if !moves || self.labelled.is_none() {
            self.labels = overlay::labels(&self.over.pen, picture, &plan, &self.labels);
            self.labelled = Some(picture.camera);
        }
        self.over.clear(picture.camera.viewport, full);
        let labelled = self.labelled.unwrap_or(picture.camera);
        overlay::draw(&self.over.pen, picture, &plan, &self.labels, &labelled);
    }

    /// Draws the marks, unless they are there. While the map is panned, what stays on the screen is
    /// moved; at rest every mark lies where it should to a fraction of a pixel.
    fn paint_marks(&mut self, picture: &Picture<'_>, full: f64, moves: bool) {
        let Picture { ground, sheet, camera, theme, .. } = picture;
        let wash = picture.wash.map(AsRef::as_ref);
        let alike = self.drawn.as_mut();
        let alike = alike.filter(|drawn| drawn.is_of(picture) && (moves || drawn.ratio == full));
        if let Some(drawn) = alike {
            if drawn.camera == *camera {
                return;
            }
            if moves && let Some(camera) = self.raster.pan(ground, sheet, wash, camera) {
                drawn.camera = camera;
                self.marks.put(&self.raster);
                return;
            }
        }
        let ratio = if moves && self.draw_ms > SLOW_MS { 1.0 } else { full };
        let begun = now_ms();
        self.raster.draw(ground, sheet, wash, camera, ratio, *theme);
        self.marks.put(&self.raster);
        if ratio == full {
            self.draw_ms = now_ms() - begun;
        }
        let (sheet, wash) = (Arc::clone(sheet), picture.wash.cloned());
        self.drawn = Some(Drawn { camera: *camera, theme: *theme, ratio, sheet, wash });
    }
}

/// A canvas and its pen.
struct Canvas {
    element: HtmlCanvasElement,
    pen: CanvasRenderingContext2d,
}

impl Drop for Canvas {
    /// A canvas that nobody sees any more gives its pixels back at once, not when the browser next
    /// tidies up.
    fn drop(&mut self) {
        self.element.set_width(0);
        self.element.set_height(0);
    }
}

impl Canvas {
    fn new(element: &HtmlCanvasElement, solid: bool) -> Option<Self> {
        let options = js_sys::Object::new();
        let _ = js_sys::Reflect::set(&options, &"alpha".into(), &JsValue::from_bool(!solid));
        let pen = element.get_context_with_context_options("2d", &options).ok()??;
        Some(Self { element: element.clone(), pen: pen.dyn_into().ok()? })
    }

    fn size(&self, width: usize, height: usize) {
        let (width, height) = (width as u32, height as u32);
        if self.element.width() != width {
            self.element.set_width(width);
        }
        if self.element.height() != height {
            self.element.set_height(height);
        }
    }

    fn put(&self, raster: &Raster) {
        self.size(raster.width(), raster.height());
        let pixels = Clamped(raster.bytes());
        let (width, height) = (raster.width() as u32, raster.height() as u32);
        if let Ok(image) = ImageData::new_with_u8_clamped_array_and_sh(pixels, width, height) {
            let _ = self.pen.put_image_data(&image, 0.0, 0.0);
        }
    }

    /// Empties it and sets its pen to CSS pixels.
    fn clear(&self, viewport: scene::Viewport, ratio: f64) {
        let device = |px: f64| (px * ratio).round().max(1.0) as usize;
        self.size(device(viewport.width), device(viewport.height));
        let _ = self.pen.set_transform(1.0, 0.0, 0.0, 1.0, 0.0, 0.0);
        let (width, height) = (self.element.width(), self.element.height());
        self.pen.clear_rect(0.0, 0.0, f64::from(width), f64::from(height));
        let _ = self.pen.set_transform(ratio, 0.0, 0.0, ratio, 0.0, 0.0);
    }
}
