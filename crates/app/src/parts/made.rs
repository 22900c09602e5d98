//! Something large that is made once and lent to all who read it.

use std::sync::Arc;

use leptos::prelude::*;

/// A memo of something large: whoever makes it anew has made something else.
pub fn made_once<T: Send + Sync + 'static>(
    make: impl Fn() -> Option<Arc<T>> + Send + Sync + 'static,
) -> Signal<Option<Arc<T>>> {
    Memo::new_with_compare(move |_| make(), is_another::<T>).into()
}

fn is_another<T>(before: Option<&Option<Arc<T>>>, now: Option<&Option<Arc<T>>>) -> bool {
    match (before, now) {
        (Some(Some(before)), Some(Some(now))) => !Arc::ptr_eq(before, now),
        (Some(None), Some(None)) => false,
        _ => true,
    }
}
