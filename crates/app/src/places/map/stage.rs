//! The stage: two canvases one over the other — the marks below, lines and words above — and what
//! fingers, mouse and keys do on them.

use std::cell::RefCell;
use std::rc::Rc;
use std::time::Duration;

use language::{count, say};
use leptos::html;
use leptos::prelude::*;
use scene::{ScaleBar, Viewport, words};
use wasm_bindgen::prelude::*;

use super::camera_moves::whole;
use super::clear::Measured;
use super::gestures::Gestures;
use super::keys;
use super::painter::{Painter, Picture};
use super::pane::Pane;
use super::shown::{Shown, shown};
use crate::parts::lean::{changing, changing_words, said, when};
use crate::state::{App, app};

/// Part of the map's height that the card takes on a phone; the style sheet has the same.
const CARD_HEIGHT: f64 = 0.55;
/// Width of the card on a laptop, CSS pixels; the style sheet has the same.
const CARD_WIDTH_PX: f64 = 352.0;

/// How long the camera stands still before the map is at rest.
const REST: Duration = Duration::from_millis(140);

/// What of the stage the card covers, CSS pixels.
#[derive(Clone, Copy, Debug, Default)]
pub struct Covered {
    /// From its right edge.
    pub right: f64,
    /// From its lower edge.
    pub below: f64,
}

/// The map's picture, or two side by side.
#[component]
pub fn Stages() -> impl IntoView {
    let shown = shown();
    let has_two = Memo::new(move |_| shown.season_beside.get().is_some());
    set_names_at_rest(shown);
    view! {
        <div class="stages" class:stages-two=move || has_two.get()>
            <p id="map-keys" class="hidden-words">
                {say!("Arrow keys move from tree to tree, or move the map while no tree is chosen. Plus \
                 and minus zoom, 0 shows the whole plot, Enter chooses the tree in the middle and \
                 then goes to its card, Escape puts the card away. Everything on the map is also in the table.")}
            </p>
            {stage(shown, shown.pane, has_two)}
            {when(move || has_two.get(), move || stage(shown, shown.beside, has_two))}
        </div>
    }
}

/// One picture; where there are two, with its moment as its title.
fn stage(shown: Shown, pane: Pane, has_two: Memo<bool>) -> AnyView {
    let app = app();
    let frame = NodeRef::<html::Div>::new();
    let marks = NodeRef::<html::Canvas>::new();
    let over = NodeRef::<html::Canvas>::new();
    let gestures = StoredValue::new_local(Gestures::new(app, shown));
    measure(frame, shown);
    paint(app, shown, pane, (marks, over));
    let when_shown = move || shown.words_of(app, &pane.moment.get()).unwrap_or_default();
    let label = move || {
        let trees = pane.sheet.get().map_or(0, |sheet| sheet.order().len());
        let marks = count!(trees, "Map of 1 mark", "Map of {trees} marks");
        if has_two.get() { format!("{marks}, {}", when_shown()) } else { marks }
    };
    let at = move |f: fn(&mut Gestures, &web_sys::PointerEvent)| {
        move |event: web_sys::PointerEvent| gestures.update_value(|it| f(it, &event))
    };
    let title = move || said("p", "stage-moment", when_shown());
    view! {
        <div class="pane">
        {when(move || has_two.get(), move || changing(title))}
        <div
            node_ref=frame
            class="stage"
            class:stage-over-tree=move || shown.hovered.get().is_some()
            role="application"
            tabindex="0"
            aria-label=label
            aria-describedby="map-keys"
            on:pointerdown=at(Gestures::down)
            on:pointermove=at(Gestures::moved)
            on:pointerup=at(Gestures::up)
            on:pointercancel=at(Gestures::cancelled)
            on:pointerleave=at(Gestures::left)
            on:wheel=move |event| gestures.update_value(|it| it.wheel(&event))
            on:keydown=move |event| keys::pressed(app, shown, &event)
        >
            <canvas node_ref=marks class="stage-marks" aria-hidden="true"></canvas>
            <canvas node_ref=over class="stage-over" aria-hidden="true"></canvas>
            <p class="hidden-words" role="status">{changing_words(move || heard(app, pane))}</p>
            <div class="stage-measure" aria-hidden="true">
                {north(shown)}
                {scale(shown)}
            </div>
        </div>
        </div>
    }
    .into_any()
}

/// What a screen reader hears when another tree is chosen.
fn heard(app: App, pane: Pane) -> Option<String> {
    let tree = app.chosen.get()?;
    let class = pane.sheet.get().and_then(|sheet| Some(sheet.class(tree)?.label.clone()));
    app.plot(|plot| {
        let place = plot.tree(tree).row().zip(plot.tree(tree).place());
        let name = words::tree(plot, tree);
        let name = match place {
            Some((row, place)) => say!("{name}, row {row} place {place}"),
            None => name,
        };
        class.map_or(name.clone(), |class| format!("{name}: {class}"))
    })
}

/// Made anew only when the plot is turned: the camera moves in every frame.
fn north(shown: Shown) -> AnyView {
    let deg = Memo::new(move |_| {
        let (camera, ground) = (shown.camera.get()?, shown.ground.get()?);
        Some(camera.north_deg(ground.origin()?.row_bearing_deg))
    });
    changing(move || deg.get().map_or_else(|| ().into_any(), arrow))
}

fn arrow(deg: f64) -> AnyView {
    let (right, up) = (deg.to_radians().sin() * 17.0, deg.to_radians().cos() * 17.0);
    view! {
        <svg class="stage-north" viewBox="-22 -22 44 44" width="44" height="44">
            <path d="M0 -11 5 9 0 5.5 -5 9Z" transform=format!("rotate({deg:.1})")></path>
            <text x=format!("{right:.1}") y=format!("{:.1}", -up) text-anchor="middle" dominant-baseline="central">{say!("N"; "north")}</text>
        </svg>
    }
    .into_any()
}

/// Made anew only when the map is zoomed.
fn scale(shown: Shown) -> AnyView {
    let bar = Memo::new(move |_| Some(ScaleBar::of(&shown.camera.get()?, 110.0)));
    changing(move || bar.get().map_or_else(|| ().into_any(), scale_bar))
}

fn scale_bar(bar: ScaleBar) -> AnyView {
    let length = bar.length_px;
    view! {
        <svg class="stage-scale" width=format!("{:.0}", length + 4.0) height="26">
            <text x=format!("{:.1}", length / 2.0 + 2.0) y="12" text-anchor="middle">{bar.label}</text>
            <path d=format!("M2 17v6H{:.1}v-6", length + 2.0)></path>
        </svg>
    }
    .into_any()
}

/// Keeps the camera's screen as large as the stage.
fn measure(frame: NodeRef<html::Div>, shown: Shown) {
    Effect::new(move || {
        let Some(frame) = frame.get() else { return };
        let seen = Closure::<dyn Fn(js_sys::Array)>::new(move |entries: js_sys::Array| {
            let entry: web_sys::ResizeObserverEntry = entries.get(0).unchecked_into();
            let size = entry.content_rect();
            let viewport = Viewport { width: size.width(), height: size.height() };
            resized(shown, viewport);
        });
        let Ok(observer) = web_sys::ResizeObserver::new(seen.as_ref().unchecked_ref()) else {
            return;
        };
        observer.observe(&frame);
        let kept = StoredValue::new_local((observer, seen));
        on_cleanup(move || kept.with_value(|(observer, _)| observer.disconnect()));
    });
}

fn resized(shown: Shown, viewport: Viewport) {
    if viewport.width < 1.0 || viewport.height < 1.0 {
        return;
    }
    let Some(Some(ground)) = shown.ground.try_get_untracked() else { return };
    let facing = shown.facing.get_untracked();
    shown.camera.update(|camera| {
        *camera = Some(match camera {
            None => whole(&ground, viewport, facing),
            Some(before) if before.viewport == viewport => return,
            Some(before) => {
                let was_whole = *before == whole(&ground, before.viewport, facing);
                if was_whole {
                    whole(&ground, viewport, facing)
                } else {
                    scene::Camera { viewport, ..*before }
                }
            }
        });
    });
}

/// Flies where other parts of the page want the camera to be.
pub fn follow_wishes(shown: Shown) {
    Effect::new(move || {
        let measured = shown.camera.with(Option::is_some);
        if let (true, Some(tree)) = (measured, shown.go_to.get()) {
            shown.go_to.set(None);
            shown.fly_to(tree, covered());
        }
    });
    // A turned plot is seen whole again: where the eye was has no meaning any more.
    Effect::new(move |before: Option<scene::Facing>| {
        let facing = shown.facing.get();
        if before.is_some_and(|before| before != facing)
            && let (Some(ground), Some(camera)) =
                (shown.ground.get_untracked(), shown.camera.get_untracked())
        {
            shown.camera.set(Some(whole(&ground, camera.viewport, facing)));
        }
        facing
    });
}

/// How much of each picture the card covers: at its foot on a phone, at its right side on a laptop
/// unless two pictures make room for it.
pub fn covered() -> Covered {
    let found = |selector: &str| document().query_selector(selector).ok().flatten();
    let narrow = window().match_media("(max-width: 59.99rem)").ok().flatten();
    if !narrow.is_some_and(|query| query.matches()) {
        let makes_room = found(".stages-two").is_some();
        let right = if makes_room { 0.0 } else { CARD_WIDTH_PX };
        return Covered { right, ..Covered::default() };
    }
    let rect = |selector: &str| found(selector).map(|it| it.get_bounding_client_rect());
    let below = rect(".map").zip(rect(".stage")).map_or(0.0, |(map, stage)| {
        (stage.bottom() - (map.bottom() - CARD_HEIGHT * map.height())).max(0.0)
    });
    Covered { below, ..Covered::default() }
}

/// Paints a new picture in the next frame after anything has changed.
fn paint(
    app: App,
    shown: Shown,
    pane: Pane,
    (marks, over): (NodeRef<html::Canvas>, NodeRef<html::Canvas>),
) {
    let painter: Rc<RefCell<Option<Painter>>> = Rc::default();
    let measured: Rc<RefCell<Measured>> = Rc::default();
    let waits = Rc::new(RefCell::new(false));
    Effect::new(move || {
        let (Some(marks), Some(over)) = (marks.get(), over.get()) else { return };
        let (Some(_), Some(_), Some(_)) =
            (shown.camera.get(), shown.ground.get(), pane.sheet.get())
        else {
            return;
        };
        shown.theme.track();
        pane.wash.track();
        shown.hovered.track();
        pane.neighbours.track();
        app.chosen.track();
        if waits.replace(true) {
            return;
        }
        let (painter, waits, measured) = (painter.clone(), waits.clone(), measured.clone());
        request_animation_frame(move || {
            waits.replace(false);
            let mut painter = painter.borrow_mut();
            if painter.is_none() {
                *painter = Painter::new(&marks, &over);
            }
            if let Some(painter) = painter.as_mut() {
                let stage = marks.parent_element();
                let on = (stage.as_ref(), &mut *measured.borrow_mut());
                paint_now(app, shown, pane, painter, on);
            }
        });
    });
}

/// Names are set anew when the map has come to rest.
fn set_names_at_rest(shown: Shown) {
    Effect::new(move || {
        let camera = shown.camera.get();
        set_timeout(
            move || {
                if shown.camera.try_get_untracked() == Some(camera) {
                    // Whoever follows what is hovered paints.
                    let _ = shown.hovered.try_update(|_| {});
                }
            },
            REST,
        );
    });
}

fn paint_now(
    app: App,
    shown: Shown,
    pane: Pane,
    painter: &mut Painter,
    (stage, measured): (Option<&web_sys::Element>, &mut Measured),
) {
    let (Some(Some(camera)), Some(Some(ground)), Some(Some(sheet))) = (
        shown.camera.try_get_untracked(),
        shown.ground.try_get_untracked(),
        pane.sheet.try_get_untracked(),
    ) else {
        return;
    };
    if ground.len() != sheet.codes().len() {
        return;
    }
    let neighbours = pane.neighbours.get_untracked();
    let chosen = app.chosen.get_untracked();
    let clear = measured.clear(stage, camera.viewport, chosen.is_some());
    let (wash, hovered) = (pane.wash.get_untracked(), shown.hovered.get_untracked());
    app.plot_now(|plot| {
        painter.paint(&Picture {
            plot,
            ground: &ground,
            sheet: &sheet,
            wash: wash.as_ref(),
            camera,
            theme: shown.theme.get_untracked(),
            chosen,
            // A tree that was taken out may still be under the mouse.
            hovered: hovered.filter(|tree| tree.get() < plot.trees().len()),
            neighbours: neighbours.as_deref(),
            clear,
        });
    });
}
