//! Counts what was asked for, so that what comes late does not undo something newer.

use std::time::Duration;

use leptos::prelude::*;

/// How long after the last key a look at what is written follows.
const AFTER: Duration = Duration::from_millis(250);

/// Whose turn it is: that of what was asked for last, or of nothing yet.
#[derive(Clone, Copy, Default)]
pub struct Turn(StoredValue<u64>);

impl Turn {
    /// Something newer is asked for; gives its number.
    pub fn next(self) -> u64 {
        self.0.update_value(|turn| *turn += 1);
        self.0.get_value()
    }

    /// Whether nothing newer was asked for; not once the screen is gone.
    pub fn is_of(self, nth: u64) -> bool {
        self.0.try_get_value() == Some(nth)
    }

    /// Whether the screen is still there.
    pub fn is_alive(self) -> bool {
        self.0.try_get_value().is_some()
    }

    /// Looks a moment after the last key, unless something newer was asked for by then.
    pub fn after_keys(self, look: impl Fn() + 'static) {
        let nth = self.next();
        let look = move || {
            if self.is_of(nth) {
                look();
            }
        };
        set_timeout(look, AFTER);
    }
}
