//! A long list of which only the lines in view are made; it scrolls with the page.

use language::say;
use leptos::html;
use leptos::prelude::*;
use web_sys::KeyboardEvent;

use super::rem_px;

/// Height of a line, rem; the style sheet says the same.
const LINE_REM: f64 = 4.5;
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
        let line_px = LINE_REM * rem_px();
        let first = (above_px.max(0.0) / line_px) as usize;
        let lines = (height_px / line_px) as usize + 1;
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
    // A line that is not made cannot be named.
    let active = move || {
        let (from, to) = shown.get();
        chosen.get().filter(|nth| (from..to).contains(nth)).map(|nth| format!("rank-{nth}"))
    };
    view! {
        <div
            class="ranking"
            node_ref=list
            role="listbox"
            tabindex="0"
            aria-label=say!("Trees in order")
            aria-activedescendant=active
            style:height=move || format!("{}rem", count.get() as f64 * LINE_REM)
            on:keydown=move |event| {
                if let Some(next) = stepped(&event, chosen.get_untracked(), count.get_untracked()) {
                    event.prevent_default();
                    choose.run(next);
                    // By then what is said of it may lie over the list.
                    request_animation_frame(move || bring_into_view(list, next));
                }
            }
        >
            <div class="ranking-seen" style:transform=move || format!("translateY({}rem)", shown.get().0 as f64 * LINE_REM)>
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
    let (at, line_px) = (list.get_bounding_client_rect(), LINE_REM * rem_px());
    let top_px = at.top() + nth as f64 * line_px;
    let height_px = window().inner_height().ok().and_then(|it| it.as_f64()).unwrap_or(900.0);
    // On a narrow screen what follows the list lies over its lower part.
    let over = list.next_element_sibling().map(|next| next.get_bounding_client_rect());
    let bottom_px = match over.filter(|over| over.left() < at.right()) {
        Some(over) => over.top().min(height_px),
        None => height_px - line_px,
    };
    let by_px = if top_px < line_px {
        top_px - line_px
    } else if top_px + line_px > bottom_px - line_px {
        top_px + line_px - bottom_px + line_px
    } else {
        return;
    };
    window().scroll_by_with_x_and_y(0.0, by_px);
}
