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
