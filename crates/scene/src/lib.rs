//! From plot, report and view to what is shown: marks, labels, legend, hit test, pixels and SVG,
//! and the sentences that browser and command line share.
//!
//! # Glossary
//! - **ground**: where each tree's mark lies, whatever is shown. Made once for each state of the
//!   trees.
//! - **layer**: what the map shows: a trait, a verdict, luck, dose, pressure, what is left over,
//!   vigour, the cross.
//! - **underlay**: what tints the ground under the marks; a **wash** is that tint at a moment.
//! - **moment**: which part of the record: all rounds, a season, one round.
//! - **happening**: an event of the plot on the walk through its rounds.
//! - **sheet**: a layer at a moment, laid over the ground: the class of every mark, the legend.
//! - **class**: one line of a legend; its **kind** says what it stands for and how it looks,
//!   whatever the theme.
//! - **camera**: where the eye stands, how near, which way the plot is turned.
//!
//! Lengths on the screen are CSS pixels unless a name says *device*; angles are degrees.
//!
//! ```
//! use scene::{Ground, Layer, Moment, Record, Sheet, Sources};
//!
//! let mut folder = files::FileSet::new();
//! let head = r#"{"format": "leeward-plot", "version": 1, "name": "Withy Corner",
//!     "layout": {"row_spacing_m": 3, "place_spacing_m": 0.75}, "traits": [{"id": "scab_leaf", "disease": "scab",
//!     "label": "Scab on leaves", "kind": "ordinal", "scale": [
//!         {"value": 0, "label": "none seen", "severity": 0},
//!         {"value": 1, "label": "some", "severity": 0.1}]}]}"#;
//! folder.insert("plot.json".into(), head.into());
//! let trees = "tree_id,row,place\nA,3,1\nB,3,2\nC,3,3\n";
//! let scores = "score_id,tree_id,trait,value,scored_on\n\
//!     s1,A,scab_leaf,0,2031-06-14\ns2,B,scab_leaf,1,2031-06-14\n";
//! folder.insert("trees.csv".into(), trees.into());
//! folder.insert("scores.csv".into(), scores.into());
//! let (book, _) = files::open(folder);
//! let book = book.expect("a sound folder");
//! let plot = book.plot();
//!
//! let scab = plot.traits_of_disease("scab")[0];
//! let (ground, record) = (Ground::of(plot), Record::of(plot, scab));
//! let sources = Sources { plot, ground: &ground, record: Some(&record), report: None };
//! let sheet = Sheet::of(sources, &Layer::Trait(scab), &Moment::All);
//! let legend: Vec<_> = sheet.legend().map(|class| (class.label.as_str(), class.count)).collect();
//! assert_eq!(legend, [("clean", 1), ("1", 1), ("not scored", 1)]);
//! ```

mod bounds;
mod breaks;
mod camera;
mod class;
mod clear;
mod facing;
mod field;
mod ground;
mod hit;
mod labels;
mod lattice;
mod layer;
mod marks;
mod moment;
mod neighbours;
mod only;
mod palette;
mod piece;
mod raster;
mod record;
mod rows;
mod scale_bar;
mod shape;
mod sharing;
mod sheet;
mod svg;
mod table;
mod timeline;
mod wash;
pub mod words;

pub use bounds::Bounds;
pub use camera::{Camera, Insets, Point, Viewport, Zoom};
pub use class::{Class, Kind, Look};
pub use clear::{Clear, ScreenBox};
pub use facing::Facing;
pub use field::Field;
pub use ground::Ground;
pub use hit::{Hit, Pointer, hit, next_in_direction};
pub use labels::{Label, Setting, labels, on_screen};
pub use lattice::Lattice;
pub use layer::Layer;
pub use marks::mark_radius_px;
pub use moment::Moment;
pub use neighbours::{
    Link, NeighbourPicture, NeighbourView, Ring, Stroke, Tells, Way, neighbour_picture,
};
pub use only::Only;
pub use palette::{Ink, Rgb, Theme};
pub use piece::{Piece, pieces};
pub use raster::Raster;
pub use record::{Record, State};
pub use rows::{EndName, RowEnds, RowNumber, end_names, numbers as row_numbers};
pub use scale_bar::ScaleBar;
pub use shape::Shape;
pub use sheet::{HIDDEN, Sheet, Sources};
pub use svg::{
    Inset, Link as MarkLink, MeasuredPicture, MeasuredPlace, Page, escaped, svg, svg_apart,
    svg_inset, svg_map, svg_measured,
};
pub use table::{Column, Sorting, lines};
pub use timeline::Happening;
pub use wash::{Shade, Underlay, Wash, WashSources};
