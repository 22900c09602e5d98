//! What a season could do to a plot: wetness spells, infection periods, open flowers and months that
//! favour a disease by the numbers of its profile ([`plot::Disease`]), how disease progressed on each tree, and how hard the season tested.
//!
//! # Glossary
//! - **wet hour**: an hour in which leaves were wet, measured or told by rain and humidity; *dry*
//!   and *not known* are two other things.
//! - **spell**: wet hours that belong together, since the dry hours between them are too few to
//!   stop an infection.
//! - **infection period**: a spell long and warm enough for an infection. It says that the
//!   weather allowed one, not that there was any inoculum.
//! - **degree-hours, degree-days** above a base: how far hours stood above it, summed; divided by
//!   24.
//! - **AUDPC, AUDPS**: area under the disease progress curve, and under its stairs.
//!
//! Times are hours of local standard time, temperatures °C, rain mm. Each rule names its source, as
//! does each number in a profile; what is from memory or common practice says so, and docs/season.md lists it. What the weather
//! does not tell is a result of its own, never *no*.
//!
//! Sums of measured values reach a limit when they come within one part in 10⁹ of it, so that
//! rounding decides nothing.
//!
//! ```
//! use plot::disease::{Wetness, WetnessLine};
//! use plot::{HourStamp, Weather, WeatherHour};
//! use season::{Grade, Outcome, wetness_spells};
//!
//! // Wet from 09:00 for twelve hours at 10 °C, where eleven are enough.
//! let line = WetnessLine {
//!     from_c: 10.0,
//!     to_c: 10.0,
//!     hours: 11.0,
//!     moderate_hours: Some(16.0),
//!     severe_hours: Some(26.0),
//!     conidia_hours: None,
//!     lesion_days: None,
//! };
//! let rule = Wetness { break_hours: 8, night: None, table: vec![line] };
//! let midnight = HourStamp::parse("2031-05-02T00:00").expect("an hour").hour;
//! let hours = (0..48).map(|nth| WeatherHour {
//!     temp_c: Some(10.0),
//!     leaf_wetness: Some(if (9..21).contains(&nth) { 1.0 } else { 0.0 }),
//!     ..WeatherHour::unknown(midnight.plus(nth).expect("an hour"))
//! });
//! let weather = Weather::new(hours.collect()).expect("each hour once");
//! let spells = wetness_spells(&weather, &rule);
//! assert_eq!(spells.len(), 1);
//! assert_eq!(spells[0].spell.first.to_string(), "2031-05-02T09:00");
//! assert_eq!(spells[0].ascospores, Outcome::Reached(Grade::Light));
//! ```

mod allowed;
mod flowers;
mod infection;
mod months;
mod needed;
mod progress;
mod spells;
mod strength;
#[cfg(test)]
mod testing;
mod tree_progress;
mod wetness;

pub use allowed::{Allowed, Rule, allowed};
pub use flowers::{BlossomDay, blossom_days};
pub use infection::{
    Exposure, Grade, Outcome, Sureness, WetnessSpell, counts_from, wetness_spells,
};
pub use months::{
    LEAF_SCAR_DAYS, LEAF_SCAR_HOURS, LeafFall, MonthOfWeather, favourable_months, leaf_fall_wetness,
};
pub use needed::{Needed, Span, needed, revised_minimum_hours};
pub use progress::{Undefined, audpc, audps};
pub use spells::{Spell, spells};
pub use strength::{Seen, Strength, Surprise, Tested, ToldBy, strength};
pub use tree_progress::{TreeProgress, progress_of, progress_of_tree};
pub use wetness::is_wet;

/// Whether a sum comes up to a limit, but for rounding.
fn reaches(sum: f64, limit: f64) -> bool {
    sum >= limit - 1e-9 * limit.abs().max(1.0)
}
