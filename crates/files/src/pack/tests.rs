//! There and back, and archives that mean harm.

use super::*;

fn folder() -> FileSet {
    let lines = "s1,A,trunk,20,2031-06-14\n".repeat(1000);
    FileSet::from([
        ("photos/a.jpg".to_owned(), b"\xff\xd8\xff\0".to_vec()),
        ("plot.json".to_owned(), b"{}".to_vec()),
        ("scores.csv".to_owned(), lines.into_bytes()),
    ])
}

/// An archive with one file.
fn archive(path: &str, content: &[u8]) -> Vec<u8> {
    pack(&FileSet::from([(path.to_owned(), content.to_vec())]), "")
}

fn check(bytes: &[u8], expected: &str) {
    let problem = unpack("copy.zip", bytes).expect_err(expected);
    assert_eq!(problem.to_string(), expected);
}

#[test]
fn what_is_packed_unpacks_to_the_same() {
    assert_eq!(unpack("copy.zip", &pack(&folder(), "")).expect("an archive"), folder());
    let below = unpack("copy.zip", &pack(&folder(), "hollow-bank")).expect("an archive");
    let names: Vec<&String> = below.keys().collect();
    assert_eq!(
        names,
        ["hollow-bank/photos/a.jpg", "hollow-bank/plot.json", "hollow-bank/scores.csv"]
    );
    assert!(pack(&folder(), "").len() < 2000, "text is deflated");
    assert_eq!(pack(&folder(), ""), pack(&folder(), ""), "no clock");
}

#[test]
fn paths_that_lead_out_of_the_folder_are_refused() {
    for path in ["../plot.json", "a/../../plot.json", "/etc/plot.json", "c:/plot.json", "a\\..\\b"]
    {
        let bytes = archive(path, b"{}");
        let problem = unpack("copy.zip", &bytes).expect_err(path);
        assert_eq!(problem.expected, "paths that stay within the folder, parted by /");
    }
}

#[test]
fn an_archive_of_another_program_with_stored_files_and_folders_unpacks() {
    // Written by Python's zipfile: a folder entry, a stored file, a deflated one.
    let bytes = include_bytes!("tests/other.zip");
    let files = unpack("other.zip", bytes).expect("an archive");
    assert_eq!(files["hollow-bank/plot.json"], b"{}");
    assert_eq!(files["hollow-bank/trees.csv"], b"tree_id,row,place\n".repeat(40));
    assert_eq!(files.len(), 2);
}

#[test]
fn what_is_no_archive_or_a_damaged_one_is_told() {
    check(
        b"tree_id\n",
        "copy.zip: found no sound archive (Missing end of central directory), expected a ZIP archive of a plot folder",
    );
    let mut bytes = pack(&folder(), "");
    let at = bytes.windows(10).position(|window| window == b"scores.csv").expect("the name") + 20;
    bytes[at] ^= 0xff;
    assert!(unpack("copy.zip", &bytes).is_err(), "a flipped byte does not pass");
}

#[test]
fn an_archive_that_unpacks_to_too_much_is_stopped_on_the_way() {
    // Zeros deflate a thousandfold: 5 MiB of plot.json from some kB, where 4 MiB are allowed.
    let zeros = vec![b' '; 5 << 20];
    let bytes = archive("hollow-bank/plot.json", &zeros);
    assert!(bytes.len() < 50_000);
    check(
        &bytes,
        "copy.zip: found \"hollow-bank/plot.json\", which unpacks to more, expected at most \
         4194304 bytes in it",
    );
    // The archive may lie about the size: the entry's stated size is not what counts.
    let mut lying = bytes.clone();
    let stated = (5_u32 << 20).to_le_bytes();
    while let Some(at) = lying.windows(4).position(|window| window == stated) {
        lying[at..at + 4].copy_from_slice(&100_u32.to_le_bytes());
    }
    assert!(unpack("copy.zip", &lying).is_err());
}
