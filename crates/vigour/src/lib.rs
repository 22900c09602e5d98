//! How strongly trees grow: trunk area and growth of each tree, numbers adjusted for the trend of
//! the field by mixed models, and how vigour goes with disease.
//!
//! # Glossary
//! - **trunk area**: trunk cross-sectional area in cm², from a diameter or a girth.
//! - **trend**: what trees share because of where they stand: soil, water, shelter.
//! - **adjusted**: a number less what its place adds, against the average place.
//! - **term**: a random part of a model; **level**: one row, place, genotype or cross of it.
//! - **rest**: what the model does not explain, the tree's own part and its measurement.
//!
//! Caution: a trend takes away what neighbours share, also what they share by their genes. The raw
//! number, the trend and the adjusted number belong side by side.
//!
//! ```
//! use vigour::{Stand, Trend, adjust};
//!
//! // One sort in six rows of ten: the soil gets better from row to row, and one tree is strong.
//! let stand = |nth: i32| {
//!     let (row, place) = (nth / 10, nth % 10);
//!     let own = if nth == 25 { 9.0 } else { f64::from(place * 7 % 5) / 10.0 };
//!     Stand {
//!         number: 20.0 + 3.0 * f64::from(row) + own,
//!         x_m: f64::from(place),
//!         y_m: 3.0 * f64::from(row),
//!         cell: Some((row, place)),
//!         genotype: 0,
//!         cross: None,
//!     }
//! };
//! let stands: Vec<Stand> = (0..60).map(stand).collect();
//! let trees = adjust(&stands, Some(Trend::Rows)).trees;
//! // As measured, the strong tree is one of many; adjusted, it stands out.
//! assert!(stands[59].number > stands[25].number);
//! assert!(trees.iter().all(|tree| tree.adjusted <= trees[25].adjusted));
//! ```

mod adjust;
mod field;
mod growth;
mod link;
mod mixed;
mod order;
mod run;
mod search;
mod sparse;
mod spline;
mod structure;
#[cfg(test)]
mod testing;
mod trend;
mod undefined;

pub use adjust::{Adjusted, Likelihood, Ranked, TreeValue, Tried, Variances, adjust};
pub use field::{Line, SeasonFit, Vigour, vigour};
pub use growth::{Growth, Measured, measured};
pub use link::{Link, RankCorrelation, Third, link, within_groups};
pub use mixed::{Effect, Fit, Fixed, Mixed, Term};
pub use run::{Progress, Run};
pub use structure::{Relation, Structure};
pub use trend::{LeftOut, Part, Stand, Trend};
pub use undefined::Undefined;
