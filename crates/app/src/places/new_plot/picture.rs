//! The picture of a plan: its places as they will lie on the map, and how many there are of each.

use language::say;
use leptos::prelude::*;
use plot::{Plot, Problem};
use scene::{
    Camera, Class, Facing, Ground, Insets, Layer, Moment, Page, Sheet, Sources, Theme, Viewport,
    svg_map,
};

use crate::parts::lean::{changing, element, said};
use crate::places::map::dark::theme;
use crate::places::map::legend::mark;
use crate::state::app;

/// Most places that are drawn while one types.
const MOST: usize = 8_000;
/// Room around the plot for numbers and names of rows, CSS pixels.
const ROOM: Insets = Insets { top: 48.0, right: 48.0, bottom: 48.0, left: 48.0 };

/// A sound plan, by day and in the evening.
#[derive(Clone)]
pub(super) struct Drawn {
    said: String,
    /// Addresses of the pictures; none where there are too many places.
    by_day_and_evening: Option<[String; 2]>,
    classes: Vec<Class>,
}

/// Draws a plan.
pub(super) fn draw(plot: &Plot, ends: [Option<&str>; 2]) -> Drawn {
    let ground = Ground::of(plot).with_ends(ends.into());
    let sources = Sources { plot, ground: &ground, record: None, report: None };
    let sheet = Sheet::of(sources, &Layer::Cross, &Moment::All);
    let viewport = viewport();
    let turn_deg = Facing::Upright.turn_deg(ground.bounds(), viewport, ground.origin());
    let camera = Camera::fit(ground.bounds(), viewport, ROOM, turn_deg);
    let address = |theme| {
        let page = Page::plain(plot, &ground, &sheet, &camera, theme);
        let text: String = js_sys::encode_uri_component(&svg_map(page)).into();
        format!("data:image/svg+xml,{text}")
    };
    let is_small = plot.trees().len() <= MOST;
    Drawn {
        said: say!(
            "{rows} rows, {places} places.",
            rows = ground.rows().len(),
            places = plot.trees().len()
        ),
        by_day_and_evening: is_small.then(|| [Theme::Day, Theme::Evening].map(address)),
        classes: sheet.legend().cloned().collect(),
    }
}

/// As wide as the form, about as high as a row of buttons is wide: the keyboard of a phone must
/// leave room for it.
fn viewport() -> Viewport {
    let width = window().inner_width().ok().and_then(|width| width.as_f64()).unwrap_or(390.0);
    Viewport { width: (width - 34.0).clamp(280.0, 544.0), height: 300.0 }
}

/// The picture and its legend.
#[component]
pub(super) fn Picture(
    drawn: RwSignal<Option<Drawn>>,
    faults: RwSignal<Vec<Problem>>,
) -> impl IntoView {
    let theme = theme(app());
    let is_partial =
        Memo::new(move |_| faults.with(|faults| faults.iter().any(|fault| fault.line.is_some())));
    let picture = move || {
        let Some(drawn) = drawn.get() else { return ().into_any() };
        let theme = theme.get();
        let nth = usize::from(theme == Theme::Evening);
        let picture = match drawn.by_day_and_evening {
            Some(pictures) => {
                view! { <img src=pictures[nth].clone() alt=say!("The plan as the map will show it") /> }
                    .into_any()
            }
            None => {
                said("p", "hint", say!("Too many places to draw while you type; the map shows them."))
            }
        };
        let entry = |class: &Class| {
            let mark = mark(class.kind.look(), theme);
            let words = say!("{what}: {number}", what = class.label, number = class.count);
            element("li", "", vec![mark, said("span", "", words)])
        };
        let legend: Vec<AnyView> = drawn.classes.iter().map(entry).collect();
        (picture, said("p", "plan-said", drawn.said), element("ul", "plan-legend", legend))
            .into_any()
    };
    let late = move || {
        is_partial
            .get()
            .then(|| said("p", "hint", say!("Without the lines that are wrong.")))
            .into_any()
    };
    view! { <figure class="field-wide plan">{changing(picture)}{changing(late)}</figure> }
}
