//! The sentences that browser and command line share, in plain words of the trade.
//!
//! Numbers are written here once: a share as `62 %` (with a no-break space), a distance in metres
//! with a dot, a day as `14 June 2031`. Where a judgement is `proven`, [`PROOF_IS_LOCAL`] belongs
//! beside it.

pub mod cautions;
mod decision;
mod events;
mod gap;
mod judgement;
mod leftover;
mod limits;
mod names;
mod neighbour;
mod numbers;
mod plan;
mod progress;
mod reasons;
mod rounds;
mod scores;
mod season;
mod segregation;
mod settle;
mod vigour;

pub use decision::{DECISION_IS_YOURS, decision, fate};
pub use events::{event, events};
pub use gap::gap;
pub use judgement::{
    FIELD_SCORES_CANNOT, PROOF_IS_LOCAL, UNSCORED, judgement, luck, luck_meaning, verdict_meaning,
};
pub use leftover::{dose_meaning, leftover};
pub use limits::limit;
pub use names::{disease, parentage, role, standing, tree};
pub(crate) use neighbour::COULD_HAVE;
pub use neighbour::{compass, farther, itself, nearby, neighbour, weighing, weight};
pub use numbers::{count, day, estimate, metres, number, percent, season_name, share_of, when};
pub(crate) use numbers::{days, from_to};
pub use plan::{check_place, promising, wanted_score, way};
pub use progress::{AREA_UNIT, progress, worst_progress};
pub use reasons::reasons;
pub use rounds::usual_rounds;
pub use scores::{left_out_of_table, score, severity};
pub use season::{SeasonTest, season, season_test, strength};
pub use segregation::segregation;
pub use settle::settle;
pub use vigour::{
    TREND_CAUTION, correlations, trend, trend_does, trends, variances, vigour_effect, vigour_link,
};
