//! A long list of which only the lines in view are made; it scrolls with the page.

use leptos::html;
use leptos::prelude::*;
use web_sys::KeyboardEvent;

/// Height of a line, CSS pixels; the style sheet says the same.
const LINE_PX: f64 = 72.0;
/// Lines made above and below the view.
const SPARE: usize = 8;

/// The list: one line is chosen by tap or arrow keys. What `row` reads is followed.
#[component]
pub fn Windowed(
    count: Signal<usize>,
    chosen: Signal<Option<usize>>,
    choose: Callback<usize>,
    row: Callback<usize, AnyView>,
) -> impl IntoView {
    let list = NodeRef::<html::Div>::new();
    let seen = RwSignal::new((0_usize, 30_usize));
    let look = move || {
        let Some(list) = list.get_untracked() else { return };
        let above_px = -list.get_bounding_client_rect().top();
        let height_px = window().inner_height().ok().and_then(|it| it.as_f64()).unwrap_or(900.0);
        let first = (above_px.max(0.0) / LINE_PX) as usize;
        let lines = (height_px / LINE_PX) as usize + 1;
        seen.set((first.saturating_sub(SPARE), first + lines + SPARE));
    };
    let on_scroll = window_event_listener_untyped("scroll", move |_| look());
    let on_resize = window_event_listener_untyped("resize", move |_| look());
    on_cleanup(move || {
        on_scroll.remove();
        on_resize.remove();
    });
    Effect::new(move || {
        count.track();
        request_animation_frame(look);
    });
    let shown = Memo::new(move |_| {
        let (from, to) = seen.get();
        let count = count.get();
        (from.min(count), to.min(count))
    });
    let line = move |nth: usize| {
        view! {
            <div
                class="rank-line"
                id=format!("rank-{nth}")
                role="option"
                aria-selected=move || (chosen.get() == Some(nth)).to_string()
                aria-setsize=move || count.get()
                aria-posinset=nth + 1
                on:click=move |_| choose.run(nth)
            >
                {row.run(nth)}
            </div>
        }
        .into_any()
    };
    view! {
        <div
            class="ranking"
            node_ref=list
            role="listbox"
            tabindex="0"
            aria-label="Trees in order"
            aria-activedescendant=move || chosen.get().map(|nth| format!("rank-{nth}"))
            style:height=move || format!("{}px", count.get() as f64 * LINE_PX)
            on:keydown=move |event| {
                if let Some(next) = stepped(&event, chosen.get_untracked(), count.get_untracked()) {
                    event.prevent_default();
                    choose.run(next);
                    bring_into_view(list, next);
                }
            }
        >
            <div class="ranking-seen" style:transform=move || format!("translateY({}px)", shown.get().0 as f64 * LINE_PX)>
                {move || {
                    let (from, to) = shown.get();
                    (from..to).map(line).collect_view()
                }}
            </div>
        </div>
    }
}

fn stepped(event: &KeyboardEvent, chosen: Option<usize>, count: usize) -> Option<usize> {
    let last = count.checked_sub(1)?;
    let at = match (event.key().as_str(), chosen) {
        ("ArrowDown", None) | ("Home", _) => 0,
        ("ArrowDown", Some(at)) => at + 1,
        ("ArrowUp", at) => at?.saturating_sub(1),
        ("PageDown", at) => at.unwrap_or(0) + 10,
        ("PageUp", at) => at.unwrap_or(0).saturating_sub(10),
        ("End", _) => last,
        _ => return None,
    };
    Some(at.min(last))
}

fn bring_into_view(list: NodeRef<html::Div>, nth: usize) {
    let Some(list) = list.get_untracked() else { return };
    let top_px = list.get_bounding_client_rect().top() + nth as f64 * LINE_PX;
    let height_px = window().inner_height().ok().and_then(|it| it.as_f64()).unwrap_or(900.0);
    let margin_px = LINE_PX * 2.0;
    let by_px = if top_px < margin_px {
        top_px - margin_px
    } else if top_px + LINE_PX > height_px - margin_px {
        top_px + LINE_PX - height_px + margin_px
    } else {
        return;
    };
    window().scroll_by_with_x_and_y(0.0, by_px);
}
