//! One file in, one file out: a zip of a plot folder wherever a folder may stand, and archives that
//! mean harm.

use std::path::{Path, PathBuf};

use crossing::hostile::{Said, written};
use files::{FileSet, pack, unpack};

use crate::plots::{changed, sound, with};
use crate::run::{Gave, held, leeward, on_disk};

/// A folder with a file of this name, and the file.
fn file(folder: &str, name: &str, bytes: &[u8]) -> PathBuf {
    let files = FileSet::from([(name.to_owned(), bytes.to_vec())]);
    on_disk(folder, &files).join(name)
}

fn call(arguments: &[&str], plot: &Path) -> Gave {
    let plot = plot.to_str().expect("UTF-8");
    leeward(arguments.iter().map(|word| if *word == "PLOT" { plot } else { word }))
}

fn unpacked(path: &Path) -> FileSet {
    unpack("out.zip", &std::fs::read(path).expect("a file")).expect("an archive")
}

#[test]
fn every_command_takes_a_zip_in_place_of_a_folder() {
    let folder = on_disk("zip-same", &sound());
    let zips = ["", "withy-corner"].map(|below| {
        file(&format!("zip-same-{below}"), "Copy of 14 June.ZIP", &pack(&sound(), below))
    });
    for arguments in [
        &["proof", "PLOT", "--disease", "scab"][..],
        &["season", "PLOT", "--disease", "scab"],
        &["plan", "PLOT", "--disease", "scab"],
        &["progress", "PLOT", "--disease", "scab"],
        &["near", "PLOT", "--tree", "W1", "--disease", "scab"],
        &["vigour", "PLOT"],
        &["export", "PLOT", "--to", "csv"],
        &["export", "PLOT", "--to", "datapackage"],
    ] {
        let own = call(arguments, &folder);
        for zip in &zips {
            let gave = call(arguments, zip);
            assert_eq!((gave.code, gave.out), (own.code, own.out.clone()), "{arguments:?}");
        }
    }
    let inspected = call(&["inspect", "PLOT"], &zips[1]);
    assert_eq!(inspected.code, Some(0), "{}", inspected.said);
    assert!(inspected.out.contains("trees of plot,Withy Corner,3\n"), "{}", inspected.out);
    assert!(inspected.out.contains("bytes of file,withy-corner/trees.csv,"), "{}", inspected.out);
}

#[test]
fn faults_within_a_zip_are_told_by_its_path() {
    let files = changed("trees.csv", "W2,1,2", "W2,one,2");
    let zip = file("zip-faults", "copy.zip", &pack(&files, "withy-corner"));
    let gave = call(&["proof", "PLOT", "--disease", "scab"], &zip);
    assert_eq!((gave.code, gave.out.as_str()), (Some(2), ""));
    let said = "copy.zip/withy-corner/trees.csv, line 3, column row: found \"one\"";
    assert!(gave.said.contains(said), "{}", gave.said);
}

#[test]
fn a_plot_leaves_as_one_file_and_comes_back_byte_for_byte() {
    let mut files = with("photos/s1.jpg", "a picture");
    files.insert("notes/hail.txt".to_owned(), b"2031".to_vec());
    let folder = on_disk("zip-leaves", &files);
    std::fs::write(folder.join(".hidden"), "not of the plot").expect("a file");
    let bench = on_disk("zip-leaves-out", &FileSet::new());
    let out = bench.join("Withy Corner 2031.zip");
    let to = |plot: &Path, out: &Path| {
        call(&["export", "PLOT", "--to", "zip", "--out", out.to_str().expect("UTF-8")], plot)
    };
    let gave = to(&folder, &out);
    assert_eq!((gave.code, gave.out.as_str()), (Some(0), ""), "{}", gave.said);
    assert!(gave.said.ends_with("Withy Corner 2031.zip: 3 trees\n"), "{}", gave.said);
    let below =
        |(name, bytes): (&String, &Vec<u8>)| (format!("withy-corner-2031/{name}"), bytes.clone());
    assert_eq!(unpacked(&out), files.iter().map(below).collect());
    // Once more out of the zip: the same bytes under the same name.
    let again = on_disk("zip-leaves-again", &FileSet::new()).join("Withy Corner 2031.zip");
    assert_eq!(to(&out, &again).code, Some(0));
    assert_eq!(std::fs::read(&again).expect("a file"), std::fs::read(&out).expect("a file"));

    let gave = to(&folder, &out);
    assert_eq!(gave.code, Some(2));
    assert!(gave.said.contains("found a file, expected none"), "{}", gave.said);
    let gave = to(&folder, &bench.join("withy"));
    assert_eq!(gave.code, Some(2));
    assert!(gave.said.contains("expected a name that ends in .zip"), "{}", gave.said);
    let gave = call(&["export", "PLOT", "--to", "zip"], &folder);
    assert_eq!((gave.code, gave.out.as_str()), (Some(2), ""));
    assert!(gave.said.starts_with("--out: found nothing"), "{}", gave.said);
    assert_eq!(held(&bench).len(), 1);
}

#[test]
fn a_data_package_opens_as_a_plot_without_an_import() {
    let decisions = "decision_id,tree_id,decision,decided_on,reason\nd1,W1,keep,2031-10-02,\n";
    let folder = on_disk("zip-package", &with("decisions.csv", decisions));
    let bench = on_disk("zip-package-out", &FileSet::new());
    let own = call(&["proof", "PLOT", "--disease", "scab"], &folder);
    for name in ["package", "package.zip"] {
        let out = bench.join(name);
        let to = out.to_str().expect("UTF-8");
        let gave = call(&["export", "PLOT", "--to", "datapackage", "--out", to], &folder);
        assert_eq!(gave.code, Some(0), "{}", gave.said);
        assert_eq!(call(&["inspect", "PLOT"], &out).code, Some(0), "{name}");
        assert_eq!(call(&["proof", "PLOT", "--disease", "scab"], &out).out, own.out, "{name}");
    }
    let files = unpacked(&bench.join("package.zip"));
    let folder = held(&bench.join("package"));
    assert_eq!(files.into_values().collect::<Vec<_>>(), folder.into_values().collect::<Vec<_>>());
}

#[test]
fn zips_merge_into_a_zip() {
    let theirs = changed("scores.csv", "s2,W2", "s3,W3,scab_leaf,0,2031-06-15\ns2,W2");
    let ours = file("zip-ours", "ours.zip", &pack(&sound(), "ours"));
    let theirs = file("zip-theirs", "theirs.zip", &pack(&theirs, ""));
    let out = on_disk("zip-both", &FileSet::new()).join("both.zip");
    let merge = || leeward([Path::new("merge"), &ours, &theirs, Path::new("--out"), &out]);
    let gave = merge();
    assert_eq!(gave.code, Some(0), "{}", gave.said);
    let scores = String::from_utf8(unpacked(&out)["both/scores.csv"].clone()).expect("UTF-8");
    assert!(scores.ends_with("s3,W3,scab_leaf,0,2031-06-15\n"), "{scores}");
    let gave = merge();
    assert_eq!(gave.code, Some(2));
    assert!(gave.said.contains("both.zip: found a file, expected none"), "{}", gave.said);
}

#[test]
fn archives_that_mean_harm_are_refused_and_nothing_is_written() {
    let pack_one = |path: &str, bytes: Vec<u8>| written(&[Said::deflated(path, &bytes)]);
    let out_of_it = [sound(), FileSet::from([("../../evil.csv".to_owned(), b"a".to_vec())])];
    let out_of_it: FileSet = out_of_it.into_iter().flatten().collect();
    for (name, bytes, said) in [
        ("path", pack(&out_of_it, ""), "found the path \"../../evil.csv\""),
        ("drive", pack_one("c:/plot.json", b"{}".to_vec()), "found the path \"c:/plot.json\""),
        ("bomb", pack_one("plot.json", vec![b' '; 5 << 20]), "unpacks to more, expected at most"),
        ("none", b"PK\x03\x04 and no more".to_vec(), "found no sound archive"),
        ("empty", Vec::new(), "found no sound archive"),
        ("no plot", pack_one("trees.csv", b"tree_id\n".to_vec()), "found no plot.json"),
    ] {
        let zip = file(&format!("zip-harm-{name}"), "copy.zip", &bytes);
        let folder = zip.parent().expect("a folder");
        let out = folder.join("out");
        for arguments in [
            &["inspect", "PLOT"][..],
            &["export", "PLOT", "--to", "csv", "--out", out.to_str().expect("UTF-8")],
        ] {
            let gave = call(arguments, &zip);
            assert_eq!(gave.code, Some(2), "{name}: {}", gave.out);
            assert!(gave.said.contains(said), "{name}: {}", gave.said);
        }
        assert_eq!(held(folder).len(), 1, "{name}");
    }
}
