use std::collections::BTreeMap;

use proptest::prelude::*;

use super::*;

const HEAD: &str = r#"{"format": "leeward-plot", "version": 1, "name": "Withy Corner",
 "layout": {"row_spacing_m": 3.0, "place_spacing_m": 0.75, "first_row": 1, "first_place": 1},
 "season_starts_month": 1,
 "traits": [{"id": "girth", "label": "Trunk girth", "kind": "number", "unit": "mm"}]}"#;

fn folder(trees: &str, scores: &str) -> FileSet {
    let files = [("plot.json", HEAD), ("trees.csv", trees), ("scores.csv", scores)];
    files.map(|(name, text)| (name.to_owned(), text.as_bytes().to_vec())).into()
}

fn text<'a>(files: &'a FileSet, name: &str) -> &'a str {
    std::str::from_utf8(&files[name]).expect("UTF-8")
}

const TREES: &str = "tree_id,row,place,tag,colour\r\nA-1,1,1,Q-1,red\r\nA-2,1,2,,\r\n";
const SCORES: &str = "score_id,tree_id,trait,value,scored_on\ns1,A-1,girth,40,2031-03-01\n";

#[test]
fn scores_of_two_phones_stand_below_each_other_and_our_lines_stay_byte_for_byte() {
    let ours = folder(TREES, SCORES);
    let theirs = folder(
        TREES,
        "value,score_id,tree_id,trait,scored_on\n40,s1,A-1,girth,2031-03-01\n\
         41.5,s2,A-2,girth,2031-03-02\n",
    );
    let merged = merge(&ours, &theirs).expect("one plot");
    assert_eq!(merged.conflicts, []);
    assert_eq!(merged.added, BTreeMap::from([("scores.csv".to_owned(), 1)]));
    assert_eq!(
        text(&merged.files, "scores.csv"),
        format!("{SCORES}s2,A-2,girth,41.5,2031-03-02\n")
    );
    assert_eq!(text(&merged.files, "trees.csv"), TREES);
    assert_eq!(text(&merged.files, "plot.json"), HEAD);
    let (book, problems) = crate::open(merged.files);
    assert_eq!(problems, []);
    assert_eq!(book.expect("a book").plot().scores().len(), 2);
}

#[test]
fn of_two_versions_the_fuller_is_kept_and_the_other_waits_for_a_person() {
    let ours = folder(TREES, SCORES);
    let theirs = folder(&TREES.replace("A-2,1,2,,", "A-2,1,2,Q-2,"), SCORES);
    for (ours, theirs) in [(&ours, &theirs), (&theirs, &ours)] {
        let merged = merge(ours, theirs).expect("one plot");
        assert!(text(&merged.files, "trees.csv").contains("A-2,1,2,Q-2,\r\n"));
        let [conflict] = &merged.conflicts[..] else { panic!("{:?}", merged.conflicts) };
        assert_eq!((conflict.file.as_str(), conflict.id.as_str()), ("trees.csv", "A-2"));
        assert_eq!(conflict.kept.get("tag").map(String::as_str), Some("Q-2"));
        assert_eq!(conflict.other.get("tag"), None);
        assert_eq!(
            text(&merged.files, CONFLICTS),
            "file,id,line\ntrees.csv,A-2,\"{\"\"place\"\":\"\"2\"\",\"\"row\"\":\"\"1\"\",\
             \"\"tree_id\"\":\"\"A-2\"\"}\"\n"
        );
        // Meeting either side again changes nothing, and what is open stays open.
        for again in [ours, theirs] {
            let twice = merge(&merged.files, again).expect("one plot");
            assert_eq!(
                (twice.files, twice.conflicts),
                (merged.files.clone(), merged.conflicts.clone())
            );
        }
    }
}

#[test]
fn a_person_decides_and_what_is_not_decided_stays_open() {
    let ours = folder(&TREES.replace("A-2,1,2,,", "A-2,1,2,Q-2,"), SCORES);
    let theirs = folder(&TREES.replace("Q-1,red", "Q-7,red"), SCORES);
    let merged = merge(&ours, &theirs).expect("one plot");
    assert_eq!(undecided(&merged.files), merged.conflicts);
    let [first, second] = &merged.conflicts[..] else { panic!("{:?}", merged.conflicts) };
    assert_eq!((first.id.as_str(), second.id.as_str()), ("A-1", "A-2"));
    assert_eq!((&first.kept["tag"], &first.other["tag"]), (&"Q-7".into(), &"Q-1".into()));

    let decided = decide(merged.files.clone(), &[(first.clone(), Choice::Other)]);
    assert!(text(&decided, "trees.csv").contains("A-1,1,1,Q-1,red\r\nA-2,1,2,Q-2,\r\n"));
    assert_eq!(undecided(&decided), std::slice::from_ref(second));
    let decided = decide(decided, &[(second.clone(), Choice::Kept)]);
    assert!(text(&decided, "trees.csv").contains("A-1,1,1,Q-1,red\r\nA-2,1,2,Q-2,\r\n"));
    assert!(!decided.contains_key(CONFLICTS));
    assert_eq!(undecided(&decided), []);
}

/// Faulty lines, which no reader takes, are not versions of one line because none has an id.
#[test]
fn lines_without_an_id_are_told_apart_by_what_they_say() {
    let ours = folder("tree_id,row,place,note\n,1,1,one\n,1,2,two\nA-1,1,3,\n", SCORES);
    let theirs = folder("tree_id,row,place,note\n,1,2,two\n,1,4,four\nA-1,1,3,x\n", SCORES);
    let merged = merge(&ours, &theirs).expect("one plot");
    assert_eq!(merged.conflicts.len(), 1, "A-1 alone");
    let expected = "tree_id,row,place,note\n,1,1,one\n,1,2,two\nA-1,1,3,x\n,1,4,four\n";
    assert_eq!(text(&merged.files, "trees.csv"), expected);
    let decided = decide(merged.files, &[(merged.conflicts[0].clone(), Choice::Kept)]);
    assert_eq!(text(&decided, "trees.csv"), expected);
    // Nor where the column is missing altogether.
    let lost = folder("id,row\nA-1,1\nA-2,2\n", SCORES);
    assert_eq!(merge(&lost, &lost).expect("one plot").files, lost);
}

#[test]
fn columns_of_their_own_and_traits_of_their_own_come_along() {
    let ours = folder(TREES, SCORES);
    let mut theirs = folder("tree_id,row,place,vigour\nA-3,1,3,strong\n", SCORES);
    let bloom = r#"{"id": "bloom", "label": "Bloom", "kind": "number"}"#;
    let head = HEAD.replace("\"mm\"}]", &format!("\"mm\"}}, {bloom}]"));
    theirs.insert("plot.json".to_owned(), head.into_bytes());
    let merged = merge(&ours, &theirs).expect("one plot");
    assert_eq!(
        text(&merged.files, "trees.csv"),
        "tree_id,row,place,tag,colour,vigour\r\nA-1,1,1,Q-1,red,\r\nA-2,1,2,,,\r\nA-3,1,3,,,strong\r\n"
    );
    let (book, problems) = crate::open(merged.files);
    assert_eq!(problems, []);
    assert!(book.expect("a book").plot().trait_ix("bloom").is_some());
}

#[test]
fn what_cannot_be_united_says_where_and_why() {
    let check = |theirs: FileSet, expected: &[&str]| {
        let problems = merge(&folder(TREES, SCORES), &theirs).expect_err("not to be united");
        let said: Vec<String> = problems.iter().map(ToString::to_string).collect();
        assert_eq!(said, expected);
    };
    let with_head = |head: String| {
        let mut files = folder(TREES, SCORES);
        files.insert("plot.json".to_owned(), head.into_bytes());
        files
    };
    check(
        with_head(HEAD.replace("Withy Corner", "Hollow Bank")),
        &["plot.json, column name: found \"Hollow Bank\", expected the same in both folders: \
           \"Withy Corner\""],
    );
    check(
        with_head(HEAD.replace("\"mm\"", "\"cm\"")),
        &["plot.json, column traits (girth): found \
           {\"id\":\"girth\",\"kind\":\"number\",\"label\":\"Trunk girth\",\"unit\":\"cm\"}, expected \
           the same in both folders: \
           {\"id\":\"girth\",\"kind\":\"number\",\"label\":\"Trunk girth\",\"unit\":\"mm\"}"],
    );
    check(
        folder("tree_id,row,place\nA-1,1\n", SCORES),
        &["trees.csv, line 2: found 2 cells under 3 columns, expected lines with a cell for each \
           column, in UTF-8"],
    );
}

#[test]
fn of_two_pictures_of_one_name_both_are_kept() {
    let with = |picture: &str| {
        let mut files = folder(TREES, SCORES);
        files.insert("photos/a.jpg".to_owned(), picture.as_bytes().to_vec());
        files
    };
    let merged = merge(&with("one"), &with("two")).expect("one plot").files;
    let photos: Vec<(&str, &str)> = merged
        .keys()
        .filter(|name| name.starts_with("photos/"))
        .map(|name| (name.as_str(), text(&merged, name)))
        .collect();
    // CRC-32 of "one": `python3 -c 'import zlib; print(hex(zlib.crc32(b"one")))'`.
    assert_eq!(photos, [("photos/a-7a6c86f1.jpg", "one"), ("photos/a.jpg", "two")]);
}

/// A folder of up to four trees and four scores, whose cells differ or not, with more columns or
/// fewer.
fn made_up() -> impl Strategy<Value = FileSet> {
    let cell = || proptest::sample::select(vec!["", "x", "y, z", "\"q\""]);
    let tree = (proptest::sample::select(vec!["A", "B", "C", "D"]), cell(), cell());
    let score = (proptest::sample::select(vec!["s1", "s2", "s3", "s4"]), 0_u8..3, cell());
    let trees = proptest::collection::vec(tree, 0..4);
    let scores = proptest::collection::vec(score, 0..4);
    (trees, scores, any::<bool>(), any::<bool>()).prop_map(|(trees, scores, wide, turned)| {
        let mut ids = BTreeSet::new();
        let mut lines = crate::written::Lines::new(turned);
        let width = if wide { 4 } else { 3 };
        lines.push(["tree_id", "row", "tag", "note"].into_iter().take(width));
        for (id, tag, note) in &trees {
            if ids.insert(*id) {
                lines.push([*id, "1", *tag, *note].into_iter().take(width));
            }
        }
        let mut files = folder("", "");
        files.insert("trees.csv".to_owned(), lines.into_bytes());
        let mut lines = crate::written::Lines::new(false);
        let order = |mut cells: Vec<String>| {
            if turned {
                cells.reverse();
            }
            cells
        };
        let words = |cells: [&str; 3]| order(cells.map(str::to_owned).to_vec());
        lines.push(words(["score_id", "value", "note"]).iter().map(String::as_str));
        for (id, value, note) in &scores {
            if ids.insert(*id) {
                lines.push(words([id, &value.to_string(), note]).iter().map(String::as_str));
            }
        }
        files.insert("scores.csv".to_owned(), lines.into_bytes());
        files.insert("photos/a".to_owned(), vec![u8::from(wide)]);
        files
    })
}

/// What a folder says, whatever the order of its lines and columns.
fn said(files: &FileSet) -> BTreeMap<String, BTreeSet<Row>> {
    let mut said = BTreeMap::new();
    for (name, bytes) in files {
        let rows = if name.ends_with(".csv") {
            Rows::read(name, bytes).expect("a table").rows().collect()
        } else {
            BTreeSet::from([Row::from([("bytes".to_owned(), format!("{bytes:?}"))])])
        };
        said.insert(name.clone(), rows);
    }
    said
}

fn of(a: &FileSet, b: &FileSet) -> FileSet {
    merge(a, b).expect("one plot").files
}

proptest! {
    #[test]
    fn merging_is_commutative(a in made_up(), b in made_up()) {
        prop_assert_eq!(said(&of(&a, &b)), said(&of(&b, &a)));
    }

    #[test]
    fn merging_is_associative(a in made_up(), b in made_up(), c in made_up()) {
        prop_assert_eq!(said(&of(&of(&a, &b), &c)), said(&of(&a, &of(&b, &c))));
    }

    #[test]
    fn merging_is_idempotent(a in made_up(), b in made_up()) {
        prop_assert_eq!(&of(&a, &a), &a);
        let both = of(&a, &b);
        prop_assert_eq!(&of(&both, &a), &both);
        prop_assert_eq!(&of(&both, &b), &both);
    }

    #[test]
    fn merging_drops_nothing(a in made_up(), b in made_up()) {
        let both = of(&a, &b);
        let kept = said(&both);
        let open: BTreeSet<Row> = kept.get(CONFLICTS).into_iter().flatten()
            .map(|row| serde_json::from_str(&row["line"]).expect("a line")).collect();
        for files in [&a, &b] {
            for name in ["trees.csv", "scores.csv"] {
                for row in &said(files)[name] {
                    prop_assert!(kept[name].contains(row) || open.contains(row), "{name}: {row:?}");
                }
            }
        }
    }
}

#[test]
fn two_places_on_earth_wait_for_a_person_and_one_is_taken() {
    let lies = |origin: &str| {
        let mut files = folder(TREES, SCORES);
        let head = HEAD.replacen(" \"season", &format!("{origin} \"season"), 1);
        files.insert("plot.json".to_owned(), head.into_bytes());
        files
    };
    let nowhere = folder(TREES, SCORES);
    let east = lies("\"origin\": {\"lon\": 5.1200, \"lat\": 52.04},\n");
    let west = lies("\"origin\": {\"lon\": 4.12, \"lat\": 52.04, \"row_bearing_deg\": 12},\n");
    // One that lies somewhere and one that does not are the one, ours byte for byte.
    let merged = merge(&east, &nowhere).expect("one plot");
    assert_eq!((merged.files, merged.conflicts), (east.clone(), Vec::new()));
    let gained = merge(&nowhere, &east).expect("one plot").files;
    assert_eq!(head::origin(&gained["plot.json"]), head::origin(&east["plot.json"]));

    // Both ways round the fuller is kept, and what is not decided yet is united further.
    let one = merge(&east, &west).expect("one plot");
    let other = merge(&west, &east).expect("one plot");
    assert_eq!(other.files["plot.json"], west["plot.json"], "ours byte for byte");
    assert_eq!(one.conflicts, other.conflicts);
    assert_eq!(one.files[CONFLICTS], other.files[CONFLICTS]);
    let third = merge(&one.files, &east).expect("one plot");
    assert_eq!(third.conflicts, one.conflicts, "again and again the same");
    let open = undecided(&one.files);
    assert_eq!((open.len(), &*open[0].id), (1, "origin"));
    for (choice, lon) in [(Choice::Kept, 4.12), (Choice::Other, 5.12)] {
        let files = decide(one.files.clone(), &[(open[0].clone(), choice)]);
        assert!(!files.contains_key(CONFLICTS));
        let (book, problems) = crate::open(files);
        assert_eq!(problems, []);
        let origin = book.expect("a book").plot().head().origin.expect("an origin");
        assert!((origin.lon - lon).abs() < 1e-12, "{origin:?}");
    }

    // A version that would say more than where the plot lies is told, and never written.
    let mut forged = open[0].clone();
    forged.other.insert("lat".to_owned(), "1}, \"layout\": {\"a\": 1".to_owned());
    let said = serde_json::to_string(&forged.other).expect("words");
    let line = format!("file,id,line\nplot.json,origin,\"{}\"\n", said.replace('"', "\"\""));
    let mut files = one.files.clone();
    files.insert(CONFLICTS.to_owned(), line.into_bytes());
    assert_eq!(undecided(&files), []);
    let told = merge(&files, &one.files).expect_err("told");
    assert_eq!((told.len(), told[0].line), (1, Some(2)));
    assert!(told[0].expected.contains("each as JSON"), "{}", told[0]);
    let decided = decide(one.files.clone(), &[(forged, Choice::Other)]);
    assert_eq!(decided["plot.json"], one.files["plot.json"]);
}
