//! What of the stage is clear for row numbers and other words: not under buttons, scale, north or
//! the card.

use leptos::prelude::document;
use scene::{Clear, Insets, ScreenBox, Viewport};
use web_sys::Element;

use super::stage::{Covered, covered};

/// Room at the edges, CSS pixels.
const EDGE_PX: f64 = 3.0;
/// Gap around what lies over the map, CSS pixels.
const GAP_PX: f64 = 4.0;
/// Width of north and the longest scale bar, CSS pixels.
const MEASURE_PX: f64 = 176.0;

/// What is clear, measured anew only when the stage or what lies over it has changed.
#[derive(Debug, Default)]
pub struct Measured {
    of: Option<(Viewport, bool)>,
    clear: Clear,
}

impl Measured {
    /// What is clear of a stage, beside the card when it is shown.
    pub fn clear(&mut self, stage: Option<&Element>, viewport: Viewport, has_card: bool) -> &Clear {
        if self.of != Some((viewport, has_card)) {
            self.of = Some((viewport, has_card));
            self.clear = measure(stage, has_card);
        }
        &self.clear
    }
}

fn measure(stage: Option<&Element>, has_card: bool) -> Clear {
    let Covered { right, below } = if has_card { covered() } else { Covered::default() };
    let margins =
        Insets { top: EDGE_PX, right: EDGE_PX + right, bottom: EDGE_PX + below, left: EDGE_PX };
    let found = |selector: &str| {
        let found = document().query_selector(selector).ok().flatten();
        found.map(|element| element.get_bounding_client_rect())
    };
    let Some(stage) = stage.map(Element::get_bounding_client_rect) else {
        return Clear { margins, taken: Vec::new() };
    };
    let taken = [(".map-tools", 0.0), (".stage-measure", MEASURE_PX)].into_iter();
    let taken = taken.filter_map(|(selector, width)| {
        let one = found(selector)?;
        Some(ScreenBox {
            left: one.left() - stage.left() - GAP_PX,
            right: one.right().max(one.left() + width) - stage.left() + GAP_PX,
            top: one.top() - stage.top() - GAP_PX,
            bottom: one.bottom() - stage.top() + GAP_PX,
        })
    });
    Clear { margins, taken: taken.collect() }
}
