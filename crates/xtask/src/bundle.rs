//! The page's files under names that carry a hash of their content.
//!
//! A text file names another as `{{name}}`; the bundle puts the hashed name there, so a file is
//! placed only after all that it names. Pages and `service-worker.js` keep their names: they are
//! the addresses that must never change.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, bail, ensure};
use sha2::{Digest, Sha256};

/// The page that opens first.
pub(crate) const PAGE: &str = "index.html";
const SERVICE_WORKER: &str = "service-worker.js";
const TEXT: [&str; 6] = ["html", "js", "css", "webmanifest", "svg", "json"];

/// Files by the name that others call them.
#[derive(Default)]
pub(crate) struct Bundle {
    files: BTreeMap<String, Vec<u8>>,
    groups: BTreeMap<String, BTreeMap<String, Vec<u8>>>,
}

impl Bundle {
    /// Takes a file in.
    pub(crate) fn add(&mut self, name: &str, bytes: Vec<u8>) {
        self.files.insert(name.to_owned(), bytes);
    }

    /// Takes all files of a folder in, named by their path within it.
    ///
    /// # Errors
    /// A file that cannot be read.
    pub(crate) fn add_folder(&mut self, folder: &Path) -> Result<()> {
        self.files.extend(files_under(folder)?);
        Ok(())
    }

    /// Puts a text in place of a mark in a file.
    ///
    /// # Errors
    /// No such file, no text, or no such mark in it.
    pub(crate) fn put(&mut self, name: &str, mark: &str, text: &str) -> Result<()> {
        let bytes = self.files.get_mut(name).with_context(|| format!("no {name}"))?;
        let before = std::str::from_utf8(bytes)?;
        ensure!(before.contains(mark), "{name} has no {mark}");
        *bytes = before.replace(mark, text).into_bytes();
        Ok(())
    }

    /// Takes files in that name each other by their plain names: they keep these, in a folder that
    /// carries the hash of them all. Others call them `folder/name`.
    pub(crate) fn add_group(&mut self, folder: &str, files: BTreeMap<String, Vec<u8>>) {
        self.groups.insert(folder.to_owned(), files);
    }

    /// Writes everything into `dist`; gives each file's hashed name by its own.
    ///
    /// # Errors
    /// A name that no file has, files that name each other in a ring, a file that cannot be
    /// written.
    pub(crate) fn place(self, dist: &Path) -> Result<BTreeMap<String, String>> {
        let mut placed = BTreeMap::new();
        for (folder, files) in self.groups {
            let all: Vec<u8> = files.values().flatten().copied().collect();
            let hashed = format!("{folder}-{}", hash(&all));
            for (name, bytes) in files {
                write(dist, &format!("{hashed}/{name}"), &bytes)?;
                placed.insert(format!("{folder}/{name}"), format!("{hashed}/{name}"));
            }
        }
        let mut waiting = self.files;
        let worker = waiting.remove(SERVICE_WORKER);
        while !waiting.is_empty() {
            let ready: Vec<String> = waiting
                .iter()
                .filter(|(name, bytes)| {
                    calls(name, bytes).iter().all(|call| placed.contains_key(call))
                })
                .map(|(name, _)| name.clone())
                .collect();
            if ready.is_empty() {
                bail!("{}", stuck(&waiting, &placed));
            }
            for name in ready {
                let bytes = waiting.remove(&name).unwrap_or_default();
                let bytes = with_names(&name, bytes, &placed);
                let hashed = hashed_name(&name, &bytes);
                write(dist, &hashed, &bytes)?;
                placed.insert(name, hashed);
            }
        }
        if let Some(worker) = worker {
            let worker = with_list(&String::from_utf8(worker)?, &placed, dist)?;
            fs::write(dist.join(SERVICE_WORKER), worker)?;
            placed.insert(SERVICE_WORKER.to_owned(), SERVICE_WORKER.to_owned());
        }
        Ok(placed)
    }
}

fn write(dist: &Path, name: &str, bytes: &[u8]) -> Result<()> {
    let path = dist.join(name);
    if let Some(folder) = path.parent() {
        fs::create_dir_all(folder)?;
    }
    fs::write(path, bytes).with_context(|| format!("cannot write {name}"))
}

/// The files of a folder and its folders, by path with `/`, in order.
///
/// # Errors
/// A folder or file that cannot be read.
pub(crate) fn files_under(folder: &Path) -> Result<BTreeMap<String, Vec<u8>>> {
    let mut files = BTreeMap::new();
    if !folder.is_dir() {
        return Ok(files);
    }
    for entry in
        fs::read_dir(folder).with_context(|| format!("cannot read {}", folder.display()))?
    {
        let entry = entry?;
        let name = entry.file_name().to_string_lossy().into_owned();
        if entry.file_type()?.is_dir() {
            for (inner, bytes) in files_under(&entry.path())? {
                files.insert(format!("{name}/{inner}"), bytes);
            }
        } else {
            files.insert(name, fs::read(entry.path())?);
        }
    }
    Ok(files)
}

/// Whether a file gets smaller by packing.
pub(crate) fn worth_packing(name: &str) -> bool {
    !matches!(name.rsplit('.').next(), Some("png" | "webp"))
}

/// Whether a file is a page, which keeps its name.
pub(crate) fn is_page(name: &str) -> bool {
    name.ends_with(".html")
}

/// The name of a file's packed twin.
pub(crate) fn packed_name(file: &Path) -> PathBuf {
    let mut name = file.as_os_str().to_owned();
    name.push(".br");
    name.into()
}

/// Writes a file's packed twin (Brotli, as every browser takes it) and gives its size in bytes.
///
/// # Errors
/// A file that cannot be read or written.
pub(crate) fn pack_beside(file: &Path) -> Result<usize> {
    let params = brotli::enc::BrotliEncoderParams {
        quality: 11,
        lgwin: 24,
        ..brotli::enc::BrotliEncoderParams::default()
    };
    let mut packed = Vec::new();
    brotli::BrotliCompress(&mut fs::read(file)?.as_slice(), &mut packed, &params)?;
    fs::write(packed_name(file), &packed)?;
    Ok(packed.len())
}

fn is_text(name: &str) -> bool {
    name.rsplit('.').next().is_some_and(|ending| TEXT.contains(&ending))
}

/// The names that stand in `{{ }}`.
fn calls(name: &str, bytes: &[u8]) -> Vec<String> {
    if !is_text(name) {
        return Vec::new();
    }
    let text = String::from_utf8_lossy(bytes);
    text.split("{{")
        .skip(1)
        .filter_map(|rest| rest.split_once("}}"))
        .map(|(call, _)| call)
        .filter(|call| !call.is_empty() && call.chars().all(is_name))
        .map(str::to_owned)
        .collect()
}

fn is_name(letter: char) -> bool {
    letter.is_ascii_alphanumeric() || matches!(letter, '.' | '_' | '-' | '/')
}

fn with_names(name: &str, bytes: Vec<u8>, placed: &BTreeMap<String, String>) -> Vec<u8> {
    let calls = calls(name, &bytes);
    if calls.is_empty() {
        return bytes;
    }
    let mut text = String::from_utf8_lossy(&bytes).into_owned();
    for call in calls {
        if let Some(hashed) = placed.get(&call) {
            text = text.replace(&format!("{{{{{call}}}}}"), hashed);
        }
    }
    text.into_bytes()
}

/// The service worker with the list of all files and a version that changes with any of them.
fn with_list(worker: &str, placed: &BTreeMap<String, String>, dist: &Path) -> Result<String> {
    let address = |file: &String| if file == PAGE { "./".to_owned() } else { file.clone() };
    let files: Vec<String> = placed.values().map(address).collect();
    let mut all = files.join("\n").into_bytes();
    for page in placed.values().filter(|file| is_page(file)) {
        all.extend(fs::read(dist.join(page))?);
    }
    Ok(worker
        .replace("__VERSION__", &hash(&all))
        .replace("__FILES__", &serde_json::to_string(&files)?))
}

fn hash(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().take(6).map(|byte| format!("{byte:02x}")).collect()
}

fn hashed_name(name: &str, bytes: &[u8]) -> String {
    if is_page(name) {
        return name.to_owned();
    }
    let hash = hash(bytes);
    match name.rsplit_once('.') {
        Some((stem, ending)) => format!("{stem}-{hash}.{ending}"),
        None => format!("{name}-{hash}"),
    }
}

fn stuck(waiting: &BTreeMap<String, Vec<u8>>, placed: &BTreeMap<String, String>) -> String {
    let known = |call: &String| waiting.contains_key(call) || placed.contains_key(call);
    for (name, bytes) in waiting {
        if let Some(call) = calls(name, bytes).into_iter().find(|call| !known(call)) {
            return format!("{name} names {{{{{call}}}}}, which no file is called");
        }
    }
    let ring: Vec<&str> = waiting.keys().map(String::as_str).collect();
    format!("these files name each other in a ring: {}", ring.join(", "))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// An empty folder of its own for each test.
    fn folder() -> PathBuf {
        static RUN: std::sync::atomic::AtomicU32 = std::sync::atomic::AtomicU32::new(0);
        let nth = RUN.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
        let dist = std::env::temp_dir().join(format!("bundle-{}-{nth}", std::process::id()));
        fs::create_dir_all(&dist).unwrap();
        dist
    }

    fn check(files: &[(&str, &str)]) -> Result<BTreeMap<String, String>> {
        let dist = folder();
        let mut bundle = Bundle::default();
        for (name, text) in files {
            bundle.add(name, text.as_bytes().to_vec());
        }
        let placed = bundle.place(&dist);
        let texts = placed.and_then(|placed| {
            placed
                .into_iter()
                .map(|(name, file)| {
                    let text = fs::read_to_string(dist.join(&file))?;
                    Ok((name, format!("{file}: {text}")))
                })
                .collect()
        });
        fs::remove_dir_all(&dist)?;
        texts
    }

    #[test]
    fn a_file_is_called_by_the_hash_of_its_content() {
        let placed = check(&[("index.html", "see {{a.js}}"), ("a.js", "go")]).unwrap();
        // SHA-256 of "go" is taken from `printf go | sha256sum`.
        assert_eq!(placed["a.js"], format!("a-{SHA_OF_GO}.js: go"));
        assert_eq!(placed["index.html"], format!("index.html: see a-{SHA_OF_GO}.js"));
    }
    const SHA_OF_GO: &str = "4cd0e21a9a07";

    #[test]
    fn a_group_keeps_its_names_in_a_folder_called_by_the_hash_of_them_all() {
        let with = |part: &str| {
            let dist = folder();
            let mut bundle = Bundle::default();
            bundle.add("page.js", b"import {{app/app.js}}".to_vec());
            let files = [("app.js", "import ./part.wasm"), ("part.wasm", part)];
            let group = files.map(|(name, text)| (name.to_owned(), text.as_bytes().to_vec()));
            bundle.add_group("app", group.into());
            let placed = bundle.place(&dist).unwrap();
            let read = |name: &str| fs::read_to_string(dist.join(&placed[name])).unwrap();
            assert_eq!(read("page.js"), format!("import {}", placed["app/app.js"]));
            assert_eq!(read("app/app.js"), "import ./part.wasm");
            assert_eq!(read("app/part.wasm"), part);
            fs::remove_dir_all(&dist).unwrap();
            placed["app/app.js"].clone()
        };
        let (one, other) = (with("walk"), with("stay"));
        assert!(one.starts_with("app-") && one.ends_with("/app.js"), "{one}");
        assert_ne!(one, other, "a script must not be kept beside another version's pieces");
    }

    #[test]
    fn the_service_worker_knows_every_file_and_a_version_of_them_all() {
        let with = |script: &str| {
            let worker = "__VERSION__ __FILES__";
            let files = [("index.html", "{{a.js}}"), ("a.js", script), (SERVICE_WORKER, worker)];
            check(&files).unwrap()[SERVICE_WORKER].clone()
        };
        let (one, other) = (with("go"), with("stay"));
        assert!(one.ends_with(&format!("[\"a-{SHA_OF_GO}.js\",\"./\"]")), "{one}");
        assert_ne!(one.split(' ').nth(1), other.split(' ').nth(1));
    }

    #[test]
    fn a_page_keeps_its_name_and_its_words_are_part_of_the_version() {
        let with = |words: &str| {
            let worker = "__VERSION__ __FILES__";
            let files = [("index.html", "go"), ("guide.html", words), (SERVICE_WORKER, worker)];
            check(&files).unwrap()
        };
        let (one, other) = (with("walk"), with("stay"));
        assert_eq!(one["guide.html"], "guide.html: walk");
        let list = "[\"guide.html\",\"./\"]";
        assert!(one[SERVICE_WORKER].ends_with(list), "{}", one[SERVICE_WORKER]);
        assert_ne!(one[SERVICE_WORKER], other[SERVICE_WORKER]);
    }

    #[test]
    fn a_missing_name_and_a_ring_are_refused() {
        let missing = check(&[("index.html", "{{nowhere.js}}")]).unwrap_err();
        assert!(missing.to_string().contains("nowhere.js"), "{missing}");
        let ring = check(&[("a.js", "{{b.js}}"), ("b.js", "{{a.js}}")]).unwrap_err();
        assert!(ring.to_string().contains("ring"), "{ring}");
    }
}
