//! What is written is read back by the same libraries; `tests/second-opinion` asks others.

use ::parquet::file::reader::{FileReader, SerializedFileReader};
use ::parquet::record::Field;
use files::{Book, FileSet};
use rusqlite::{Connection, MAIN_DB};

use super::*;

const TREES: &str = "tree_id,row,place,TAG,tag,fid,girth,grafted_on,planted_on\n\
    A,1,1,x,007,=1,12.5,,2029-03-01\nB,1,3,,\"say \"\"hi\"\"\",,3,,\nG,,,,,,,B,\n";
const SCORES: &str = "score_id,tree_id,trait,value,scored_on,replaces\n\
    s1,A,scab_leaf,1,2031-06-14T00:10:00.25+02:00,\ns2,B,scab_leaf,1,2031-06-14,\n\
    s3,B,scab_leaf,0,2031-06-13,\ns4,B,scab_leaf,,2031-06-15,s2\n";

fn book(origin: &str) -> Book {
    let head = format!(
        r#"{{"format": "leeward-plot", "version": 1, "name": "Withy's \"Corner\"", {origin}
  "layout": {{"row_spacing_m": 3.0, "place_spacing_m": 0.75}},
  "traits": [{{"id": "scab_leaf", "disease": "scab", "label": "Scab", "kind": "ordinal",
    "scale": [{{"value": 0, "label": "none", "severity": 0.0}},
              {{"value": 1, "label": "some", "severity": 0.1}}]}}]}}"#
    );
    let files = [("plot.json", head.as_str()), ("trees.csv", TREES), ("scores.csv", SCORES)];
    let files: FileSet = files.map(|(name, text)| (name.to_owned(), text.into())).into();
    let (book, problems) = files::open(files);
    assert!(problems.iter().all(|one| one.weight == plot::Weight::Notice), "{problems:?}");
    book.expect("a book")
}

const NORTH: &str = r#""origin": {"lon": 180.0, "lat": 46.0, "row_bearing_deg": 90.0},"#;

fn opened(bytes: &[u8]) -> Connection {
    let mut database = Connection::open_in_memory().expect("SQLite");
    database.deserialize_read_exact(MAIN_DB, bytes, bytes.len(), true).expect("a database");
    database
}

/// Each cell of an answer as text, parted by `|`; nothing for what is missing.
fn asked(database: &Connection, question: &str) -> Vec<String> {
    let mut question = database.prepare(question).expect("a question");
    let cells = question.column_count();
    let line = |row: &rusqlite::Row| {
        let cell = |nth| {
            row.get_ref(nth).map(|cell| match cell {
                rusqlite::types::ValueRef::Null => String::new(),
                rusqlite::types::ValueRef::Integer(whole) => whole.to_string(),
                rusqlite::types::ValueRef::Real(number) => format!("{number:?}"),
                rusqlite::types::ValueRef::Text(text) => String::from_utf8_lossy(text).into_owned(),
                rusqlite::types::ValueRef::Blob(bytes) => format!("{bytes:02x?}"),
            })
        };
        Ok((0..cells).map(cell).collect::<Result<Vec<_>, _>>()?.join("|"))
    };
    question.query_map([], line).expect("an answer").map(|line| line.expect("a line")).collect()
}

#[test]
fn a_geopackage_holds_points_and_scores_with_their_types() {
    let bytes = geopackage(&book(NORTH)).expect("it fits");
    assert_eq!(bytes, geopackage(&book(NORTH)).expect("it fits"), "same book, same bytes");
    assert_eq!(bytes[68..72], *b"GPKG", "the mark of the file");
    let database = opened(&bytes);
    let check = |question: &str, expected: &[&str]| {
        assert_eq!(asked(&database, question), expected, "{question}");
    };
    check("PRAGMA user_version", &["10300"]);
    check("PRAGMA integrity_check", &["ok"]);
    check("PRAGMA foreign_key_check", &[]);
    check(
        "SELECT fid, tree_id, row, place, TAG, \"tag 2\", \"fid 2\", girth, scab_leaf, \
         scab_leaf_on, planted_on FROM trees",
        &[
            "1|A|1|1|x|007|=1|12.5|1.0|2031-06-14|2029-03-01",
            "2|B|1|3||say \"hi\"||3.0|0.0|2031-06-13|",
            "3|G|||||||||",
        ],
    );
    check(
        "SELECT score_id, value, scored_on, scored_at, replaces, stands FROM scores",
        &[
            "s1|1.0|2031-06-14|2031-06-13T22:10:00.250Z||1",
            "s2|1.0|2031-06-14|||0",
            "s3|0.0|2031-06-13|||1",
            "s4||2031-06-15||s2|0",
        ],
    );
    check(
        "SELECT table_name, data_type, identifier, last_change, srs_id FROM gpkg_contents \
         ORDER BY table_name",
        &[
            "scores|attributes|Withy's \"Corner\": scores|2031-06-15T00:00:00.000Z|",
            "trees|features|Withy's \"Corner\": trees|2031-06-15T00:00:00.000Z|4326",
        ],
    );
    // Rows run east from the antimeridian: B lies 1.5 m on, at -180 and a little.
    check(
        "SELECT min_x, max_x > -180 and max_x < -179.9999 FROM gpkg_contents WHERE srs_id = 4326",
        &["-180.0|1"],
    );
}

#[test]
fn without_origin_points_are_metres() {
    let database = opened(&geopackage(&book("")).expect("it fits"));
    let points = asked(&database, "SELECT hex(geom) FROM trees");
    let at = |x: f64, y: f64| {
        let numbers = [x.to_le_bytes(), y.to_le_bytes()].concat();
        let hex: String = numbers.iter().map(|byte| format!("{byte:02X}")).collect();
        format!("47500001FFFFFFFF0101000000{hex}")
    };
    assert_eq!(points, [at(0.0, 0.0), at(1.5, 0.0), at(1.5, 0.0)], "a graft where its carrier is");
    assert_eq!(asked(&database, "SELECT srs_id FROM gpkg_geometry_columns"), ["-1"]);
}

#[test]
fn parquet_columns_have_types_and_what_is_missing_is_null() {
    let book = book("");
    let lines = |frame: &Frame| {
        let bytes = parquet(frame).expect("it fits");
        let reader = SerializedFileReader::new(bytes::Bytes::from(bytes)).expect("Parquet");
        let rows = reader.get_row_iter(None).expect("lines");
        rows.map(|row| row.expect("a line").into_columns()).collect::<Vec<_>>()
    };
    let trees = lines(&trees(&book).0);
    let names: Vec<&str> = trees[0].iter().map(|(name, _)| name.as_str()).collect();
    let columns =
        "tree_id row place TAG tag_2 fid girth grafted_on planted_on scab_leaf scab_leaf_on";
    assert_eq!(names.join(" ").replace("tag 2", "tag_2"), columns);
    let text = |text: &str| Field::Str(text.to_owned());
    let values =
        |line: &[(String, Field)]| line.iter().map(|(_, field)| field.clone()).collect::<Vec<_>>();
    // 21,609 days from 1970-01-01 to 2029-03-01, 22,444 to 2031-06-14.
    assert_eq!(
        values(&trees[0]),
        [
            text("A"),
            Field::Long(1),
            Field::Long(1),
            text("x"),
            text("007"),
            text("=1"),
            Field::Double(12.5),
            Field::Null,
            Field::Date(21_609),
            Field::Double(1.0),
            Field::Date(22_444),
        ]
    );
    assert_eq!(values(&trees[2])[1..7], vec![Field::Null; 6]);
    let scores = lines(&scores(&book));
    assert_eq!(
        values(&scores[0])[3..],
        [
            Field::Double(1.0),
            Field::Date(22_444),
            Field::TimestampMicros(1_939_155_000_250_000),
            Field::Null,
            Field::Bool(true),
        ]
    );
}

#[test]
fn a_long_table_is_cut_into_groups_and_keeps_its_lines() {
    let mut frame = Frame::default();
    let number = |line: i64| (line % 3 != 0).then_some(line);
    frame.push("n", Values::Whole((0..250_001).map(number).collect()));
    let reader = SerializedFileReader::new(bytes::Bytes::from(parquet(&frame).expect("it fits")));
    let reader = reader.expect("Parquet");
    assert_eq!(reader.num_row_groups(), 3);
    let mut read = reader.get_row_iter(None).expect("lines").map(|row| row.expect("a line"));
    assert!((0..250_001).all(|line| {
        let field = number(line).map_or(Field::Null, Field::Long);
        read.next().is_some_and(|row| row.into_columns()[0].1 == field)
    }));
    assert!(read.next().is_none());
}
