//! Whether this machine's clock went back: it is told, and every score is kept all the same, in
//! the order it was taken.

use language::say;
use leptos::prelude::*;
use time::Date;

use super::App;
use crate::work::clock;

/// What the clock was seen to say.
#[derive(Clone, Copy, Debug, Default)]
pub(super) struct ClockSeen {
    /// The last day on which a score was taken here.
    last: Option<Date>,
    is_told: bool,
}

impl App {
    /// For a plot that was just opened: the last day on which a score was taken here.
    pub(super) fn follow_clock(self, last: Option<Date>) {
        self.clock_seen.set_value(ClockSeen { last, is_told: false });
        self.score_is_dated(clock::now().date());
    }

    /// Tells once when a score's day lies before those of scores that were taken earlier. A day
    /// is let pass: one may travel.
    pub(super) fn score_is_dated(self, day: Date) {
        let mut seen = self.clock_seen.get_value();
        if let Some(last) = seen.last
            && day.next_day().is_some_and(|next| next < last)
            && !seen.is_told
        {
            seen.is_told = true;
            self.trouble.set(Some(say!(
                "This device's clock says {day}, but scores were taken here on {last}. Set the \
                 clock right: scores taken now carry the wrong date. Every score is kept, in the \
                 order it was taken."
            )));
        }
        seen.last = seen.last.max(Some(day));
        self.clock_seen.set_value(seen);
    }
}
