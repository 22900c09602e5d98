//! `leeward merge`: two phones' folders made one, conflicts listed, nothing written over.

use std::path::{Path, PathBuf};

use files::FileSet;

use crate::plots::sound;
use crate::run::{Gave, held, leeward, on_disk, table};

/// Both folders on disk, and an empty one to write.
fn merge(name: &str, ours: &FileSet, theirs: &FileSet) -> (Gave, PathBuf) {
    let ours = on_disk(&format!("{name}-ours"), ours);
    let theirs = on_disk(&format!("{name}-theirs"), theirs);
    let out = on_disk(&format!("{name}-out"), &FileSet::new());
    (call(&ours, &theirs, &out), out)
}

fn call(ours: &Path, theirs: &Path, out: &Path) -> Gave {
    leeward([Path::new("merge"), ours, theirs, Path::new("--out"), out])
}

fn changed(file: &str, from: &str, to: &str) -> FileSet {
    let mut files = sound();
    let text = String::from_utf8(files[file].clone()).expect("UTF-8");
    assert!(text.contains(from), "{text}");
    files.insert(file.to_owned(), text.replace(from, to).into_bytes());
    files
}

fn read(folder: &Path, file: &str) -> String {
    std::fs::read_to_string(folder.join(file)).expect("a file")
}

#[test]
fn lines_of_both_are_there_and_ours_stay_as_they_were() {
    let line = "s3,W3,scab_leaf,0,2031-06-15\n";
    let mut theirs = changed("scores.csv", "s2,W2", &format!("{line}s2,W2"));
    theirs.insert("photos/s3.jpg".to_owned(), b"a picture".to_vec());
    theirs.insert(".hidden".to_owned(), b"not of the plot".to_vec());
    let (gave, out) = merge("merge-lines", &sound(), &theirs);
    assert_eq!((gave.code, gave.out.as_str()), (Some(0), "file,id,column,kept,other\n"));
    assert_eq!(gave.said, "photos/s3.jpg: added\nscores.csv: 1 line added\n");
    let before = String::from_utf8(sound()["scores.csv"].clone()).expect("UTF-8");
    assert_eq!(read(&out, "scores.csv"), format!("{before}{line}"));
    assert_eq!(read(&out, "photos/s3.jpg"), "a picture");
    assert_eq!(held(&out).len(), 4, "plot, trees, scores, picture");
}

#[test]
fn a_line_that_differs_is_listed_cell_by_cell_and_kept_twice() {
    let theirs = changed("trees.csv", "W3,1,3,", "W3,1,3,Q-9");
    let (gave, out) = merge("merge-differs", &sound(), &theirs);
    assert_eq!(gave.code, Some(1));
    assert_eq!(gave.out, "file,id,column,kept,other\ntrees.csv,W3,tag,Q-9,\n");
    assert!(gave.said.contains("1 line is not the same in both"), "{}", gave.said);
    assert!(read(&out, "trees.csv").contains("W3,1,3,Q-9\n"));
    assert_eq!(table(&read(&out, "conflicts.csv")).1.len(), 1);
}

#[test]
fn what_the_merged_plot_breaks_is_said() {
    // Each phone says that the other tree is the graft.
    let grafted = |carrier: &str, graft: &str| {
        let mut files = sound();
        let mut trees = "tree_id,row,place,grafted_on\n".to_owned();
        for id in ["W1", "W2", "W3"] {
            let on = if id == graft { carrier } else { "" };
            trees.push_str(&format!("{id},1,1,{on}\n"));
        }
        files.insert("trees.csv".to_owned(), trees.into_bytes());
        files
    };
    let (gave, out) = merge("merge-ring", &grafted("W1", "W2"), &grafted("W2", "W1"));
    assert_eq!(gave.code, Some(1), "{}", gave.said);
    assert!(gave.said.contains("column grafted_on"), "{}", gave.said);
    assert!(read(&out, "trees.csv").contains("W1,1,1,W2\nW2,1,1,W1\n"), "nothing is dropped");
}

#[test]
fn unusable_calls_write_nothing() {
    let other_plot = changed("plot.json", "Withy Corner", "Hollow Bank");
    let faulty = changed("trees.csv", "W2,1,2", "W2,one,2");
    for (name, theirs, said) in [
        ("merge-plots", other_plot, "column name: found \"Hollow Bank\""),
        ("merge-faulty", faulty, "line 3, column row: found \"one\""),
    ] {
        let (gave, out) = merge(name, &sound(), &theirs);
        assert_eq!(gave.code, Some(2));
        assert!(gave.said.contains(said), "{}", gave.said);
        assert!(held(&out).is_empty());
    }
    let ours = on_disk("merge-full", &sound());
    let gave = call(&ours, &ours, &ours);
    assert_eq!(gave.code, Some(2));
    assert!(gave.said.contains("nothing is written over"), "{}", gave.said);
    assert_eq!(held(&ours).len(), 3);
}
