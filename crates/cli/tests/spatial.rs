//! `leeward spatial` as a person calls it: the examples of the documentation, and bad input.

use std::path::{Path, PathBuf};
use std::process::Command;

/// Runs a call from the root of the workspace; standard output, then standard error, then the exit
/// code where it is not 0.
fn leeward(arguments: &[&str]) -> String {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let done = Command::new(env!("CARGO_BIN_EXE_leeward"))
        .args(arguments)
        .current_dir(root)
        .output()
        .expect("the program runs");
    let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("UTF-8");
    let code = done.status.code().expect("an exit code");
    let end = if code == 0 { String::new() } else { format!("[exit code {code}]\n") };
    text(done.stdout) + &text(done.stderr) + &end
}

/// A file of this test's own.
fn file(name: &str, content: impl AsRef<[u8]>) -> PathBuf {
    let path = Path::new(env!("CARGO_TARGET_TMPDIR")).join(name);
    std::fs::write(&path, content).expect("a file can be written");
    path
}

/// What the program says of a table, its path cut to the name.
fn said(table: &Path, options: &str) -> String {
    let mut arguments = vec!["spatial", table.to_str().expect("UTF-8")];
    arguments.extend(options.split(' '));
    leeward(&arguments).replace(&format!("{}/", env!("CARGO_TARGET_TMPDIR")), "")
}

#[test]
fn every_fault_of_a_table_at_once() {
    let content = "id,x,y,v\na,0,0,1\nb,1,,2\na,2,zero,3\nd,3,0\ne,4,0,1e999\n,5,0,6\n";
    let table = file("faults.csv", content);
    assert_eq!(
        said(&table, "--id id --x x --y y --value v --weights knn:1"),
        "faults.csv, line 5: found 3 cells, expected 4 cells, as in the header\n\
         faults.csv, line 3, column y: found nothing, expected a number with a dot for decimals\n\
         faults.csv, line 4, column id: found \"a\", which line 2 has too, expected an id that no \
         other line has\n\
         faults.csv, line 4, column y: found \"zero\", expected a number with a dot for decimals\n\
         faults.csv, line 6, column v: found \"1e999\", expected a number with a dot for decimals, \
         or nothing\n\
         faults.csv, line 7, column id: found nothing, expected an id\n\
         [exit code 2]\n"
    );
}

#[test]
fn tables_that_cannot_be_read() {
    let check = |name: &str, content: &[u8], expected: &str| {
        let table = file(name, content);
        let found = said(&table, "--x x --y y --value v --weights knn:1");
        assert_eq!(found, format!("{expected}\n[exit code 2]\n"));
    };
    check("nothing.csv", b"", "nothing.csv: found an empty file, expected a header line");
    check(
        "picture.csv",
        b"x,y,v\n\x89PNG\r\n\x1a\n",
        "picture.csv, line 2: found bytes that are not UTF-8, expected text",
    );
    check(
        "twice.csv",
        b"x,y,v,v\n1,2,3,4\n",
        "twice.csv, line 1, column v: found it twice, expected it once",
    );
    let absent = said(Path::new("absent.csv"), "--x x --y y --value v --weights knn:1");
    assert!(absent.starts_with("absent.csv") && absent.ends_with("[exit code 2]\n"), "{absent}");
}

#[test]
fn calls_that_lack_something() {
    let table = file("small.csv", "x,y,row,place,v\n0,0,1,1,0\n1,0,1,2,1\n0,1,2,1,1\n1,1,2,2,0\n");
    let check = |options: &str, expected: &str| {
        let found = said(&table, options);
        assert!(found.contains(expected) && found.ends_with("[exit code 2]\n"), "{found}");
    };
    check("--x x --y y --value v", "--weights is missing");
    check("--x x --y y --weights knn:1", "--value is missing");
    check("--value v --weights rook", "--weights rook needs --row and --place");
    check("--value v --weights knn:1", "--weights knn:1 needs --x and --y");
    check("--x x --value v --weights knn:1", "--y");
    check("--x x --y y --value v --weights band:-1", "metres above 0 after band:");
    check("--x x --y y --value v --weights ring:1", "knn:K, band:METRES, rook, queen or file:");
    check("--value v --stat variogram", "--x and --y are missing");
    check("--value v --stat runs", "--stat runs needs --row and --place");
    check("--x x --y y --stat clark-evans --window 0,0,0,1", "LEFT,BOTTOM,RIGHT,TOP");
    check("--x x --y y --value x --weights knn:1 --permutations 2000000", "0 to 1000000");
}

#[test]
fn two_points_in_one_place() {
    let table = file("shared.csv", "row,place,v\n1,1,0\n1,2,1\n1,1,1\n");
    assert_eq!(
        said(&table, "--row row --place place --value v --weights rook"),
        "shared.csv, line 4: found the row and place of line 2, expected one point in a place\n\
         [exit code 2]\n"
    );
}

#[test]
fn listed_pairs() {
    let table = file("points.csv", "id,v\na,1\nb,2\nc,4\nd,\ne,9\n");
    let check = |pairs: &str, expected: &str| {
        let path = file("pairs.csv", pairs);
        let options =
            format!("--id id --value v --permutations 0 --weights file:{}", path.display());
        let found = said(&table, &options);
        assert!(found.contains(expected), "{found}");
    };
    // d has no value: its pairs are left out with it.
    check("from,to,weight\na,b,1\nb,c,0.5\nc,e,2\nd,a,1\n", "\"links\": 3");
    check("from,to,weight\na,z,1\n", "pairs.csv, line 2, column to: found \"z\"");
    check("from,to,weight\na,b,1\na,b,2\n", "line 3: found a to b with weight 2, expected each");
    check("from,to,weight\na,a,1\n", "expected two different points");
    check("from,to,weight\na,b,-1\n", "expected a weight of at least 0");
    check("from,to\na,b\n", "pairs.csv, line 1, column weight: found the columns from, to");
}

/// The order of lines does not matter where points have ids, and answers keep that of the file.
#[test]
fn lines_in_any_order() {
    let lines = ["a,0,0,5", "b,1,0,3", "c,0,1,8", "d,1,1,1", "e,0,2,2", "f,1,2,9"];
    let options = "--id id --x x --y y --value v --weights knn:2 --stat moran,local-moran";
    let answer = |name: &str, lines: &[&str]| -> serde_json::Value {
        let table = file(name, format!("id,x,y,v\n{}\n", lines.join("\n")));
        serde_json::from_str(&said(&table, options)).expect("JSON")
    };
    let forward = answer("forward.csv", &lines);
    let mut turned = lines;
    turned.reverse();
    let backward = answer("backward.csv", &turned);
    assert_eq!(forward["moran"], backward["moran"]);
    for at in 0..6 {
        let (here, there) = (&forward["local_moran"][at], &backward["local_moran"][5 - at]);
        assert_eq!(here["id"], there["id"]);
        assert_eq!(here["p_permutation"], there["p_permutation"]);
        assert_eq!(here["line"], at + 2);
    }
}

/// Byte order mark, CRLF and quotes are taken; empty values are left out, not read as 0.
#[test]
fn a_table_from_a_spreadsheet() {
    let content = "\u{feff}\"x\",y,\"v, scored\"\r\n0,0,1\r\n1,0,\r\n2,0,3\r\n3,0,4\r\n\"4\",0,9\r\n5,0,2\r\n";
    let table = file("sheet.csv", content);
    let mut arguments = vec!["spatial", table.to_str().expect("UTF-8"), "--value", "v, scored"];
    arguments.extend("--x x --y y --weights knn:1".split(' '));
    let found: serde_json::Value = serde_json::from_str(&leeward(&arguments)).expect("JSON");
    assert_eq!((&found["points"], &found["left_out"]), (&5.into(), &1.into()));
    assert!(found["moran"]["p_permutation"].is_number());
}
