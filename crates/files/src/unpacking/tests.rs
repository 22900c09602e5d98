//! There and back, and archives that mean harm.

use super::*;
use crate::pack;
use zips::{Said, written};

#[allow(dead_code, unreachable_pub, reason = "shared with the tests of what crosses crates")]
#[path = "../../../../tests/src/hostile/zips.rs"]
mod zips;

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
    written(&[Said::deflated(path, content)])
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
fn names_that_not_every_system_takes_are_packed_as_others() {
    let names = ["a:b", "a\\b", "a_b", "photos/c\td", "photos/_a:b", "photos/e.jpg"];
    let files: FileSet =
        names.iter().map(|name| (name.to_string(), name.as_bytes().to_vec())).collect();
    let unpacked = unpack("copy.zip", &pack(&files, "")).expect("an archive");
    let found: Vec<(&str, &[u8])> =
        unpacked.iter().map(|(name, bytes)| (name.as_str(), bytes.as_slice())).collect();
    let expected: [(&str, &[u8]); 6] = [
        ("__a_b", b"a\\b"),
        ("_a_b", b"a:b"),
        ("a_b", b"a_b"),
        ("photos/_a_b", b"photos/_a:b"),
        ("photos/c_d", b"photos/c\td"),
        ("photos/e.jpg", b"photos/e.jpg"),
    ];
    assert_eq!(found, expected);
}

#[test]
fn paths_that_lead_out_of_the_folder_are_refused() {
    for path in [
        "../plot.json",
        "a/../../plot.json",
        "/etc/plot.json",
        "//server/plot.json",
        "c:/plot.json",
        "C:plot.json",
        "plot.json:hidden",
        "a\\..\\b",
        "\\\\server\\plot.json",
        "a/./b",
        "a//b",
        "a/..",
        "..",
        "",
        "plot.json\0.jpg",
        "plot\n.json",
        "\u{1b}[2Jplot.json",
    ] {
        let bytes = archive(path, b"{}");
        let problem = unpack("copy.zip", &bytes).expect_err(path);
        assert_eq!(problem.expected, "paths that stay within the folder, parted by /", "{path:?}");
        assert!(!problem.to_string().contains(char::is_control), "{problem}");
    }
}

#[test]
fn paths_that_no_file_system_takes_are_refused() {
    let long = [format!("photos/{}", "x".repeat(256)), "x/".repeat(600) + "y"];
    for path in long {
        let problem = unpack("copy.zip", &archive(&path, b"{}")).expect_err("long");
        assert_eq!(problem.expected, "paths of at most 1024 bytes, and 255 in each part");
        assert!(problem.found.len() < 150, "{problem}");
    }
    unpack("copy.zip", &archive(&format!("photos/{}", "x".repeat(255)), b"")).expect("255 bytes");
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
fn what_is_written_by_the_letter_unpacks() {
    let files =
        [Said::stored("p/plot.json", b"{}"), Said::deflated("p/trees.csv", &[b'x'; 200_000])];
    let unpacked = unpack("copy.zip", &written(&files)).expect("an archive");
    assert_eq!(
        (&unpacked["p/plot.json"][..], unpacked["p/trees.csv"].len()),
        (&b"{}"[..], 200_000)
    );
    // In steps the same, and no step goes much further than it is told.
    let mut unpacking = Unpacking::new("copy.zip", written(&files), 1 << 20).expect("an archive");
    let mut before = 0;
    while unpacking.step(10_000).expect("a step") {
        let (done, of) = unpacking.progress();
        assert!(done - before <= 10_000 + CHUNK as u64 && done <= of, "{done} of {of}");
        before = done;
    }
    assert_eq!(unpacking.progress(), (200_002, 200_002));
    assert_eq!(unpacking.finish(), unpacked);
}

#[test]
fn more_than_is_allowed_is_refused_before_anything_is_unpacked() {
    let zeros = vec![b' '; 5 << 20];
    check(
        &written(&[Said::deflated("hollow-bank/plot.json", &zeros)]),
        "copy.zip: found \"hollow-bank/plot.json\", which unpacks to more, expected at most \
         4194304 bytes in it",
    );
    let half = Said { bytes: 600 << 20, ..Said::deflated("a/x", &vec![0; 1 << 20]) };
    let two = written(&[half.clone(), Said { path: "a/y".to_owned(), ..half }]);
    let began = Unpacking::new("copy.zip", two.as_slice(), 1 << 30).expect_err("too much");
    assert_eq!(began.found, "\"a/x\": another size than its bytes can give");
    let honest = written(&[
        Said::deflated("a/x", &vec![0; 40 << 20]),
        Said::deflated("a/y", &vec![0; 40 << 20]),
    ]);
    let problem = unpack_at_most("copy.zip", &honest, 64 << 20).expect_err("too much");
    assert_eq!(
        problem.to_string(),
        "copy.zip: found more than 67108864 bytes when unpacked, up to \"a/y\", expected at most \
         67108864 bytes in all"
    );
}

#[test]
fn an_archive_that_lies_is_found_out() {
    let content: Vec<u8> = (0..300_000_u32).map(|nth| (nth * (nth >> 7)) as u8).collect();
    let true_one = Said::deflated("p/x", &content);
    let lies = |lie: Said, found: &str| {
        let problem = unpack("copy.zip", &written(&[lie])).expect_err(found);
        assert_eq!(problem.found, found);
    };
    let size = "\"p/x\": another size than the archive says";
    lies(Said { bytes: 100, ..true_one.clone() }, size);
    lies(Said { bytes: 300_001, ..true_one.clone() }, size);
    let sum = "\"p/x\": another checksum than the archive says";
    lies(Said { crc: 7, ..true_one.clone() }, sum);
    let short = true_one.packed[..true_one.packed.len() / 2].to_vec();
    lies(Said { packed: short, ..true_one.clone() }, "\"p/x\": cut short");
    let stored = Said::stored("p/x", b"abc");
    lies(Said { bytes: 2, ..stored.clone() }, size);
    lies(Said { bytes: 4, ..stored }, "\"p/x\": another size than its bytes can give");
    let noise = Said { packed: vec![0xff; 100], ..true_one };
    let problem = unpack("copy.zip", &written(&[noise])).expect_err("noise");
    assert!(problem.found.starts_with("\"p/x\": "), "{problem}");
}

#[test]
fn files_that_share_their_bytes_are_refused() {
    // A kernel that thousands of files point to unpacks to thousands of times its size.
    let kernel = Said::deflated("p/a", &vec![0; 1 << 20]);
    let names = ["p/b", "p/c", "p/d"];
    let others = names.map(|path| Said {
        path: path.to_owned(),
        at: Some(0),
        packed: kernel.packed.clone(),
        ..kernel.clone()
    });
    let bytes = written(&[vec![kernel], others.to_vec()].concat());
    check(
        &bytes,
        "copy.zip: found files that share their bytes, expected each file with its own bytes",
    );
}

#[test]
fn twins_and_crowds_are_refused() {
    let twice = written(&[Said::stored("p/plot.json", b"{}"), Said::stored("p/plot.json", b"[]")]);
    check(&twice, "copy.zip: found \"p/plot.json\" twice, expected each path once");
    let crowd = vec![Said::stored("p", b""); caps::ARCHIVE_FILES + 1];
    let named: Vec<Said> =
        (0..).zip(crowd).map(|(nth, one)| Said { path: format!("p/{nth}"), ..one }).collect();
    check(&written(&named), "copy.zip: found more files, expected at most 20000 files");
    let sound =
        unpack("copy.zip", &written(&named[..caps::ARCHIVE_FILES])).expect("as many as may be");
    assert_eq!(sound.len(), caps::ARCHIVE_FILES);
    // Letters apart from case are two files here, and on some disks one: both are kept.
    let cases =
        unpack("a.zip", &written(&[Said::stored("A.jpg", b"1"), Said::stored("a.jpg", b"2")]));
    assert_eq!(cases.expect("two files").len(), 2);
}

#[test]
fn an_archive_within_an_archive_is_a_file() {
    let inner = written(&[Said::deflated("bomb", &vec![0; 8 << 20])]);
    let outer = unpack("copy.zip", &archive("photos/inner.zip", &inner)).expect("an archive");
    assert_eq!(outer["photos/inner.zip"], inner);
}
