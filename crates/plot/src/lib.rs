//! A trial plot of apple seedlings, valid by construction: trees, places, genotypes, crosses,
//! traits with their scales, scores, rounds and seasons, and its weather.
//!
//! # Glossary
//! - **row, place**: whole numbers naming a hole in the ground; a missing tree keeps its number.
//! - **tree**: a plant or a graft standing (or once standing) somewhere. Place, plant and genotype
//!   are three things: a replanted place is a second tree, and several trees may be copies of one
//!   genotype.
//! - **cross**: seed parent × pollen parent.
//! - **trait**: what is scored; its scale says which value is clean, which direction is worse and
//!   which value only means *not observed*.
//! - **score**: one line of a walk-through. Scores are only ever added: a later line may replace
//!   an earlier one.
//! - **change**: one cell of a tree's line that a walk made say something else: it died, it has no
//!   tag. Changes are kept with what the cell said before.
//! - **disease**: what is known of one, as data: scales, weather, distances, cautions. A plot
//!   carries those that it knows.
//! - **round**: one walk-through of one season. **season**: named by the year it starts in.
//! - **edit**: what a person changed of the trees in one go: lines added, cells that say something
//!   else. An undo is an edit, too.
//! - **decision**: what the breeder wants to become of a tree: keep, watch or cull it. Only ever
//!   added; the latest stands.
//! - **planting**: the plan of a plot that is yet to be planted. **run**: one line of it, such as
//!   forty places of a row for one cross.
//! - **weather**: what was measured hour by hour, in local standard time; each hour is named by its
//!   beginning. **gap**: hours of which nothing is known.
//! - **problem**: what a file said that breaks a rule: where, what was found, what was expected.
//!
//! Positions are metres in the plot's own plane: `x_m` runs along the row in the direction in
//! which places rise, `y_m` lies 90° to the left of it (a right-handed plane, seen from above).
//!
//! This crate neither reads nor writes, has no clock and draws no random number.
//!
//! ```
//! use plot::{Head, Layout, Plot, TreeDraft, TreeId};
//!
//! let layout = Layout { row_spacing_m: 3.0, place_spacing_m: 0.75, first_row: 1, first_place: 1 };
//! let mut plot = Plot::new(Head {
//!     name: "Withy Corner".into(),
//!     layout,
//!     origin: None,
//!     season_starts_month: 1,
//!     traits: Vec::new(),
//!     crosses: Vec::new(),
//!     diseases: Default::default(),
//! })?;
//! let mut tree = TreeDraft::new(TreeId::new("T0001"));
//! (tree.location.row, tree.location.place) = (Some(2), Some(5));
//! plot.add_tree(tree.clone())?;
//! let spot = plot.trees()[0].spot();
//! assert_eq!((spot.x_m, spot.y_m), (3.0, 3.0));
//! // An id names one tree for ever.
//! assert_eq!(plot.add_tree(tree).expect_err("taken").column, "tree_id");
//! # Ok::<(), plot::Refusal>(())
//! ```

mod acts;
mod build;
mod calendar;
mod change;
mod code;
mod cross;
mod decision;
pub mod disease;
mod edit;
mod event;
mod geodesy;
mod hour;
mod ids;
mod latest;
mod layout;
mod letters;
mod planting;
mod problem;
mod rounds;
mod score;
mod serial;
mod traits;
mod tree;
mod trunk;
mod weather;
mod words;

pub use acts::{Act, Plan, Scion, Stand, day_of, whole_number};
pub use build::{Head, Plot};
pub use calendar::{Season, When};
pub use change::{TreeCell, TreeChange};
pub use code::Code;
pub use cross::{Cross, CrossKey};
pub use decision::{Decision, Decisions, Fate};
pub use disease::{Disease, Diseases};
pub use edit::{Edit, EditPart, Edits, Later, TreeField, TreeLine};
pub use event::Event;
pub use geodesy::{Globe, NoFit, Origin, OriginFit, fit_origin};
pub use hour::{HourStamp, LocalHour};
pub use ids::{DecisionId, EditId, GenotypeId, ScoreId, ScoreIx, TraitId, TraitIx, TreeId, TreeIx};
pub use layout::{Layout, Spot};
pub use letters::without_accents;
pub use planting::{Every, MOST_PLACES, PLANTING_LIST, Planted, Planting, Run};
pub use problem::{Problem, Refusal, Weight};
pub use rounds::{Round, RoundKey};
pub use score::{Reading, Score, ScoreDraft};
pub use traits::{Kind, Needs, Scale, Step, Trait};
pub use tree::{Role, Status, Tree, TreeDraft, WhereGiven};
pub use weather::{Weather, WeatherHour};
pub use words::capital;
