//! What is kept of a plot in one piece: the log that the browser writes, and the folder as a zip.

use files::journal::{self, Record};
use files::{FileSet, TreeRecord};

use crate::folder::sound;
use crate::{headed, laws, parts};

/// The bytes as a log, and a log of records that hold them: the first line of a part is its kind.
pub fn log(bytes: &[u8]) {
    let read = journal::read(bytes);
    assert!(read.end <= bytes.len() && read.torn <= bytes.len());
    let whole: usize =
        read.records.iter().map(|one| journal::record(one.kind, one.payload).len()).sum();
    assert!(whole + read.torn <= bytes.len(), "no byte is read twice");

    let records: Vec<(u8, &[u8])> = parts(bytes)
        .map(headed)
        .filter_map(|(kind, payload)| match kind.as_bytes() {
            [kind @ b'A'..=b'U'] => Some((*kind, payload)),
            _ => None,
        })
        .collect();
    let mut log = journal::version();
    let mut ends = vec![log.len()];
    for (kind, payload) in &records {
        log.extend(journal::record(*kind, payload));
        ends.push(log.len());
    }
    let whole = journal::read(&log);
    let written: Vec<Record<'_>> =
        records.iter().map(|&(kind, payload)| Record { kind, payload }).collect();
    assert_eq!(whole.records, written, "what is written is read");
    assert_eq!((whole.torn, whole.end, whole.is_newer), (0, log.len(), false));
    // Torn anywhere: what was whole is still there; but a log within a record is found, too.
    if !written.iter().all(|one| journal::read(one.payload).records.is_empty()) {
        return replayed(&written);
    }
    let cut = bytes.iter().fold(0, |sum: usize, &byte| sum * 31 % log.len() + usize::from(byte));
    let cut = cut % log.len();
    let torn = journal::read(&log[..cut]);
    let kept = ends.iter().filter(|&&end| end <= cut).count().saturating_sub(1);
    assert_eq!(torn.records, written[..kept], "torn at {cut}");
    replayed(&written);
}

/// Takes the records over a folder, as a page does that opens what it kept.
fn replayed(records: &[Record<'_>]) {
    let mut book = sound();
    let of = |kind: u8| -> Vec<u8> {
        records.iter().filter(|one| one.kind == kind).flat_map(|one| one.payload).copied().collect()
    };
    let told = book.replay_trees(records.iter().filter_map(|one| match one.kind {
        b'T' => Some(TreeRecord::Changes(one.payload)),
        b'E' => Some(TreeRecord::Edit(one.payload)),
        b'P' => Some(TreeRecord::Past(one.payload)),
        _ => None,
    }));
    assert!(told.iter().all(|problem| !problem.found.is_empty()));
    laws::as_read(&book);
    let (lines, decisions) = (of(b'L'), of(b'D'));
    for (file, lines) in [("scores.csv", &lines), ("decisions.csv", &decisions)] {
        let told = match file {
            "scores.csv" => book.replay(lines),
            _ => book.replay_decisions(lines),
        };
        laws::told(&FileSet::from([(file.to_owned(), lines.clone())]), &told);
    }
    laws::as_read(&book);
    let once = book.to_files();
    book.replay(&lines);
    book.replay_decisions(&decisions);
    assert_eq!(book.files(), &once, "the same lines once more leave no trace");
}

/// The bytes as a zip, and a zip of the files that they hold: the first line of a part is the name.
pub fn archive(bytes: &[u8]) {
    match files::unpack("copy.zip", bytes) {
        Ok(found) => packed(&found),
        Err(problem) => assert_eq!((&*problem.file, problem.line), ("copy.zip", None)),
    }
    let named = parts(bytes).map(headed);
    let inside = |name: &str| {
        let mut steps = name.split('/');
        let plain = |step: &str| !["", ".", ".."].contains(&step) && step.len() <= 255;
        let is_strange = |letter: char| "\\:".contains(letter) || letter.is_control();
        steps.all(plain) && !name.contains(is_strange) && name.len() <= 1024
    };
    packed(&named.filter(|(name, _)| inside(name)).map(|(name, it)| (name, it.to_vec())).collect());
}

fn packed(files: &FileSet) {
    for name in files.keys() {
        assert!(name.split('/').all(|step| step != ".."), "{name:?} stays inside");
        assert!(!name.starts_with('/'), "{name:?} stays inside");
    }
    let bytes = files::pack(files, "");
    assert_eq!(files::unpack("copy.zip", &bytes).as_ref(), Ok(files), "packed and unpacked");
    assert_eq!(files::pack(files, ""), bytes, "the same files give the same bytes");
    if files.contains_key("plot.json") {
        laws::opened(files);
    }
}
