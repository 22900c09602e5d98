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
