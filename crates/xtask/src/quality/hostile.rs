//! What becomes of plot folders and zips that mean harm: how they end, how long it takes, and how
//! much memory.

use std::fmt::Write as _;
use std::fs;
use std::path::Path;
use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use anyhow::{Context, Result};

use crate::headers::headers;
use crate::shell::{cargo, fresh, run, target_dir};

/// A table of them, as `leeward inspect` ends on each in a build for tests; what refuses the rest.
pub(super) fn figures() -> Result<String> {
    run(cargo().args(["build", "-q", "-p", "cli", "-p", "crossing", "--bins"]))?;
    let out = target_dir().join("hostile");
    fresh(&out)?;
    run(Command::new(target_dir().join("debug/hostile")).arg(&out))?;
    let mut text = "Made up by `tests/src/hostile.rs`, and held to how they must end by a test of the \
         command line and by `hostile.test.js` in the page. Here as `leeward inspect` ends on each, in \
         a build for tests.\n\n\
         | what | handed in as | bytes | must | told | seconds | MiB at most |\n\
         | --- | --- | --- | --- | --- | --- | --- |\n"
        .to_owned();
    for line in fs::read_to_string(out.join("list.tsv"))?.lines() {
        let [name, form, end, _] = line.split('\t').collect::<Vec<_>>()[..] else { continue };
        if form == "workbook" {
            continue; // The command line reads none.
        }
        let folder = out.join(name);
        let plot = if form == "zip" { folder.join("plot.zip") } else { folder };
        let measured = inspected(&plot)?;
        let must = match end {
            "sound" => "open",
            "faulty" => "open but for the fault",
            _ => "be refused",
        };
        let (seconds, mib) = (measured.took.as_secs_f64(), measured.most_kib as f64 / 1024.0);
        writeln!(
            text,
            "| {name} | {form} | {} | {must} | {} | {seconds:.2} | {mib:.0} |",
            bytes_below(&plot)?,
            measured.told,
        )?;
    }
    fs::remove_dir_all(&out)?;
    let names: Vec<String> = headers().iter().map(|(name, _)| format!("`{name}`")).collect();
    writeln!(
        text,
        "\nThe page is sent with {} ([security.md](security.md#what-a-host-must-send)). \
         `policy.test.js` writes what would run, load or be styled into the page's text, once with \
         the header alone and once with what the page says of itself alone; tries from a script, and \
         from a worker, to make code of words or to ask somebody else; and lets a proxy see a whole \
         visit. Every journey fails on a request that leaves.",
        names.join(", ")
    )?;
    Ok(text)
}

struct Measured {
    /// The first thing that is wrong; a dash where nothing is.
    told: String,
    took: Duration,
    most_kib: u64,
}

fn inspected(plot: &Path) -> Result<Measured> {
    let began = Instant::now();
    let said = plot.with_extension("said");
    let mut child = Command::new(target_dir().join("debug/leeward"))
        .arg("inspect")
        .arg(plot)
        .stdout(Stdio::null())
        .stderr(fs::File::create(&said)?)
        .spawn()
        .context("leeward cannot be started")?;
    let mut most_kib = 0;
    while child.try_wait()?.is_none() {
        most_kib = most_kib.max(peak_kib(child.id()).unwrap_or(0));
        std::thread::sleep(Duration::from_millis(2));
    }
    let took = began.elapsed();
    let told = fs::read_to_string(&said)?;
    fs::remove_file(&said)?;
    let first = told.lines().find(|line| line.contains("found ") && !line.starts_with("notice"));
    let told = first.and_then(|line| line.split_once("found ")).map_or("–", |(_, found)| found);
    Ok(Measured { told: told.replace('|', "\\|").replace('<', "&lt;"), took, most_kib })
}

/// Most memory that a process had so far.
fn peak_kib(id: u32) -> Option<u64> {
    let status = fs::read_to_string(format!("/proc/{id}/status")).ok()?;
    let line = status.lines().find_map(|line| line.strip_prefix("VmHWM:"))?;
    line.trim().trim_end_matches(" kB").parse().ok()
}

fn bytes_below(path: &Path) -> Result<u64> {
    if path.is_file() {
        return Ok(fs::metadata(path)?.len());
    }
    let mut bytes = 0;
    for entry in fs::read_dir(path)? {
        bytes += bytes_below(&entry?.path())?;
    }
    Ok(bytes)
}
