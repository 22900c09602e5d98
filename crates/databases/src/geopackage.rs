//! A GeoPackage (OGC 12-128r17, version 1.3): trees as points, scores as a table of attributes.

use files::Book;
use plot::{Plot, Spot, When};
use rusqlite::types::{ToSql, Value};
use rusqlite::{Connection, MAIN_DB, params_from_iter};
use time::{Date, OffsetDateTime, UtcOffset};

use crate::Unwritten;
use crate::frame::{Frame, Values};
use crate::frames;

/// `GPKG`, which marks the file.
const APPLICATION_ID: i64 = 0x4750_4b47;
/// Version 1.3.0.
const VERSION: i64 = 10300;
/// Longitude and latitude, WGS 84.
const WGS_84: i32 = 4326;
/// Undefined Cartesian coordinates.
const CARTESIAN: i32 = -1;
/// Columns that every table has beside those of the plot.
const OWN: &[&str] = &["fid", "geom"];

/// The bytes of a GeoPackage with the tables `trees`, a point for each tree or graft in the order
/// of trees.csv, and `scores`.
///
/// Points are degrees of longitude and latitude (WGS 84) where the plot has an origin, else metres
/// along and across the rows in an undefined Cartesian system (−1).
///
/// # Errors
/// A table of more columns than SQLite can hold.
pub fn geopackage(book: &Book) -> Result<Vec<u8>, Unwritten> {
    let mut database = Connection::open_in_memory()?;
    let all = database.transaction()?;
    all.pragma_update(None, "application_id", APPLICATION_ID)?;
    all.pragma_update(None, "user_version", VERSION)?;
    all.execute_batch(include_str!("geopackage.sql"))?;
    let plot = book.plot();
    let (trees, order) = frames::trees(book);
    let srs = if plot.head().origin.is_some() { WGS_84 } else { CARTESIAN };
    let points: Vec<[f64; 2]> =
        order.into_iter().map(|tree| point(plot, plot.tree(tree).spot())).collect();
    fill(&all, "trees", &trees, Some((srs, &points)))?;
    fill(&all, "scores", &frames::scores(book), None)?;
    let changed = last_change(plot);
    let bounds = bounds(&points).map(Value::from);
    let [left, bottom, right, top] = &bounds;
    let contents = "INSERT INTO gpkg_contents VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)";
    let name = &plot.head().name;
    all.execute(
        contents,
        (
            "trees",
            "features",
            format!("{name}: trees"),
            "trees and grafts with the latest score of each trait",
            &changed,
            left,
            bottom,
            right,
            top,
            srs,
        ),
    )?;
    let none = || Value::Null;
    all.execute(
        contents,
        (
            "scores",
            "attributes",
            format!("{name}: scores"),
            "every score ever taken",
            &changed,
            none(),
            none(),
            none(),
            none(),
            none(),
        ),
    )?;
    all.execute(
        "INSERT INTO gpkg_geometry_columns VALUES ('trees', 'geom', 'POINT', ?, 0, 0)",
        [srs],
    )?;
    all.commit()?;
    Ok(database.serialize(MAIN_DB)?.to_vec())
}

/// A table with a line for each of the frame, numbered from 1 by `fid`.
fn fill(
    database: &Connection,
    table: &str,
    frame: &Frame,
    points: Option<(i32, &[[f64; 2]])>,
) -> rusqlite::Result<()> {
    let columns = frame.columns(OWN);
    let geometry = if points.is_some() { ", geom POINT" } else { "" };
    let own: Vec<String> =
        columns.iter().map(|(name, of)| format!(", {} {}", quoted(name), declared(of))).collect();
    let key = "fid INTEGER PRIMARY KEY AUTOINCREMENT NOT NULL";
    database.execute(&format!("CREATE TABLE {table} ({key}{geometry}{})", own.concat()), [])?;
    let cells = 1 + usize::from(points.is_some()) + columns.len();
    let marks = vec!["?"; cells].join(", ");
    let mut insert = database.prepare(&format!("INSERT INTO {table} VALUES ({marks})"))?;
    for line in 0..frame.len() {
        let fid = Value::Integer(i64::try_from(line).unwrap_or(i64::MAX).saturating_add(1));
        let point = points.map(|(srs, points)| Value::Blob(blob(srs, points[line])));
        let own = columns.iter().map(|(_, values)| cell(values, line));
        let cells: Vec<Value> = [fid].into_iter().chain(point).chain(own).collect();
        insert.execute(params_from_iter(cells.iter().map(|cell| cell as &dyn ToSql)))?;
    }
    Ok(())
}

fn quoted(name: &str) -> String {
    format!("\"{}\"", name.replace('"', "\"\""))
}

/// The type as GeoPackages name it (table 1 of the standard).
fn declared(values: &Values) -> &'static str {
    match values {
        Values::Text(_) => "TEXT",
        Values::Whole(_) => "INTEGER",
        Values::Number(_) => "REAL",
        Values::Truth(_) => "BOOLEAN",
        Values::Day(_) => "DATE",
        Values::Moment(_) => "DATETIME",
    }
}

fn cell(values: &Values, line: usize) -> Value {
    match values {
        Values::Text(all) => all[line].clone().into(),
        Values::Whole(all) => all[line].into(),
        Values::Number(all) => all[line].into(),
        Values::Truth(all) => all[line].map(i64::from).into(),
        Values::Day(all) => all[line].map(date).into(),
        Values::Moment(all) => all[line].map(moment).into(),
    }
}

fn date(day: Date) -> String {
    When::on(day).to_string()
}

/// In UTC, with milliseconds, as the standard wants it.
fn moment(at: OffsetDateTime) -> String {
    let utc = at.to_offset(UtcOffset::UTC);
    let (hour, minute, second, milli) = utc.time().as_hms_milli();
    format!("{}T{hour:02}:{minute:02}:{second:02}.{milli:03}Z", date(utc.date()))
}

fn point(plot: &Plot, spot: Spot) -> [f64; 2] {
    match &plot.head().origin {
        Some(origin) => export::lon_lat(origin, spot),
        None => [spot.x_m, spot.y_m],
    }
}

/// A header without envelope, then the point as well-known binary, little-endian.
fn blob(srs: i32, [x, y]: [f64; 2]) -> Vec<u8> {
    let mut bytes = b"GP\x00\x01".to_vec();
    bytes.extend(srs.to_le_bytes());
    bytes.extend([1, 1, 0, 0, 0]);
    bytes.extend(x.to_le_bytes());
    bytes.extend(y.to_le_bytes());
    bytes
}

/// Least x and y, greatest x and y; none without points.
fn bounds(points: &[[f64; 2]]) -> [Option<f64>; 4] {
    let all = |nth: usize, of: fn(f64, f64) -> f64| points.iter().map(|it| it[nth]).reduce(of);
    [all(0, f64::min), all(1, f64::min), all(0, f64::max), all(1, f64::max)]
}

/// When the plot last changed, as far as its scores tell: no clock is read.
fn last_change(plot: &Plot) -> String {
    let last = plot.scores().iter().map(|score| score.scored_on).max_by(When::cmp_in_time);
    let day = last.map_or_else(|| "1970-01-01".to_owned(), |last| date(last.date()));
    last.and_then(When::moment).map_or_else(|| format!("{day}T00:00:00.000Z"), moment)
}
