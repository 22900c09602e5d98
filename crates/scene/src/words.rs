//! The sentences that browser and command line share, in plain words of the trade.
//!
//! Numbers are written here once: a share as `62 %` (with a no-break space), a distance in metres,
//! a day as `14 June 2031`, all as the reader's locale has it. Where a judgement is `proven`,
//! [`proof_is_local`] belongs beside it.

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

pub use decision::{decision, decision_is_yours, fate};
pub use events::{event, events};
pub use gap::gap;
pub use judgement::{
    field_scores_cannot, judgement, luck, luck_meaning, proof_is_local, unscored, verdict,
    verdict_meaning,
};
pub use leftover::{dose_meaning, leftover};
pub use limits::limit;
pub use names::{disease, parentage, role, roles, standing, tree};
pub(crate) use neighbour::COULD_HAVE;
pub use neighbour::{compass, farther, itself, nearby, neighbour, weighing, weight};
pub use numbers::{day, estimate, metres, number, percent, season_name, share_of, when};
pub(crate) use numbers::{days, from_to};
pub use plan::{check_place, promising, wanted_score, way};
pub use progress::{area_unit, progress, worst_progress};
pub use reasons::reasons;
pub use rounds::usual_rounds;
pub use scores::{left_out_of_table, score, severity};
pub use season::{SeasonTest, season, season_test, strength};
pub use segregation::segregation;
pub use settle::settle;
pub use vigour::{
    correlations, trend, trend_caution, trend_does, trends, variances, vigour_effect, vigour_link,
};
