//! Building the browser face: wasm, its JavaScript glue, the page's files under hashed names.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Result, anyhow, ensure};

use crate::bundle::{Bundle, files_under, pack_beside, worth_packing};
use crate::headers::POLICY;
use crate::help::{self, Lacking};
use crate::shell::{cargo, fresh, output, run, target_dir, top};
use crate::words;

/// What a first visit may cost on the wire.
const FIRST_LOAD_LIMIT_BYTES: usize = 280 * 1000;

/// How to build.
#[derive(clap::Args, Clone, Debug, Default)]
pub(crate) struct Building {
    /// Compile fast instead of small; skips the check of the first load.
    #[arg(long)]
    pub dev: bool,
    /// What to do about pictures of the guide that are not there.
    #[arg(skip)]
    pub lacking: Lacking,
}

/// The wasm files with the scripts that belong to them.
const GROUPS: [&str; 4] = ["app/", "judge/", "sheets/", "writer/"];
/// What a first visit fetches of them; the rest waits until a plot is opened, as do some others.
const FIRST: [&str; 3] = ["app/app.js", "app/app_bg.wasm", "app/pieces.js"];
const LATER: [&str; 6] =
    ["judge.js", "sheets.js", "writer.js", "demo-plot.zip", "icon-192.png", "icon-512.png"];
/// Most memory that a workbook may take while it is read (768 MiB): beyond, its worker ends.
const SHEETS_MEMORY: &str = "-Clink-args=--max-memory=805306368";

/// Builds into `<target>/dist` and gives that folder.
///
/// # Errors
/// The compiler or the bundler fails, or the first load is above its limit.
pub(crate) fn build(options: &Building) -> Result<PathBuf> {
    add_wasm_target()?;
    let profile = if options.dev { "dev" } else { "wasm" };
    let wasm = |arguments: &[&str]| {
        let mut cargo = cargo();
        cargo.args(arguments).args(["--target", "wasm32-unknown-unknown", "--profile", profile]);
        cargo
    };
    run(&mut wasm(&["build", "-p", "judge"]))?;
    run(&mut wasm(&["build", "-p", "writer", "--bin", "writer"]))?;
    run(wasm(&["rustc", "-p", "sheets", "--bin", "sheets"]).args(["--", SHEETS_MEMORY]))?;
    // Taking it apart needs to know where code names other code.
    run(wasm(&["rustc", "-p", "app", "--lib", "--crate-type", "cdylib"])
        .args(["--", "-Clink-args=--emit-relocs"]))?;

    let compiled = |name: &str| {
        let folder = if options.dev { "debug" } else { profile };
        target_dir().join("wasm32-unknown-unknown").join(folder).join(format!("{name}.wasm"))
    };
    let mut bundle = Bundle::default();
    bundle.add_folder(&top().join("www"))?;
    help::add_to(&mut bundle, &top().join("docs"), options.lacking)?;
    words::add_to(&mut bundle)?;
    bundle.put("index.html", "__POLICY__", POLICY)?;
    for worker in ["judge", "sheets", "writer"] {
        bundle.add_group(worker, bound(worker, &compiled(worker), options)?);
    }
    let (main, mut group) = taken_apart(&compiled("app"))?;
    group.extend(bound("app", &main, options)?);
    bundle.add_group("app", group);
    bundle.add("demo-plot.zip", demo_plot(&top().join("demo-plot"))?);
    let dist = target_dir().join("dist");
    fresh(&dist)?;
    let placed = bundle.place(&dist)?;
    if !options.dev {
        check_first_load(&dist, &placed)?;
    }
    Ok(dist)
}

/// Divides the page's wasm into what every visit needs and a piece for each place; gives the path
/// of the first, and the files of the others with the script that fetches them.
fn taken_apart(compiled: &Path) -> Result<(PathBuf, BTreeMap<String, Vec<u8>>)> {
    let apart = target_dir().join("apart");
    fresh(&apart)?;
    let (main, pieces) = (apart.join("first.wasm"), apart.join("pieces"));
    let wasm = fs::read(compiled)?;
    let mut options = wasm_split_cli_support::Options::new(&wasm);
    options.output_dir = &pieces;
    options.main_out_path = &main;
    options.link_name = "./pieces.js";
    options.main_module = "./app.js";
    wasm_split_cli_support::transform(options)
        .map_err(|error| anyhow!("cannot take the page's wasm apart: {error:#}"))?;
    Ok((main, files_under(&pieces)?))
}

/// Puts the JavaScript glue to a wasm file and gives both.
fn bound(name: &str, wasm: &Path, options: &Building) -> Result<BTreeMap<String, Vec<u8>>> {
    let glue = target_dir().join("glue").join(name);
    fresh(&glue)?;
    wasm_bindgen_cli_support::Bindgen::new()
        .input_path(wasm)
        .out_name(name)
        .web(true)?
        .omit_default_module_path(false)
        .keep_lld_exports(true) // the pieces call them
        .remove_name_section(!options.dev)
        .remove_producers_section(true)
        .typescript(false)
        .generate(&glue)?;
    files_under(&glue)
}

/// Packs every file for the server and adds up what a first visit fetches.
#[expect(clippy::print_stdout, reason = "the size is the answer")]
fn check_first_load(dist: &Path, placed: &BTreeMap<String, String>) -> Result<()> {
    let (mut first, mut later) = (0, 0);
    for (name, file) in placed {
        let file = dist.join(file);
        let size = if worth_packing(name) {
            pack_beside(&file)?
        } else {
            usize::try_from(fs::metadata(&file)?.len())?
        };
        let name = name.as_str();
        let waits = LATER.contains(&name)
            || help::is_of_help(name)
            || words::is_translation(name)
            || GROUPS.iter().any(|group| name.starts_with(group)) && !FIRST.contains(&name);
        *(if waits { &mut later } else { &mut first }) += size;
    }
    let kilobytes = |bytes: usize| bytes as f64 / 1000.0;
    println!(
        "first load: {:.1} kB compressed; {:.1} kB more once a plot is open",
        kilobytes(first),
        kilobytes(later)
    );
    ensure!(
        first <= FIRST_LOAD_LIMIT_BYTES,
        "the first load is above {:.0} kB",
        kilobytes(FIRST_LOAD_LIMIT_BYTES)
    );
    Ok(())
}

/// Adds the compiler's browser target where it is absent.
pub(crate) fn add_wasm_target() -> Result<()> {
    let mut rustc = std::process::Command::new("rustc");
    rustc.current_dir(top());
    let libdir =
        output(rustc.args(["--print", "target-libdir", "--target", "wasm32-unknown-unknown"]))?;
    if !Path::new(libdir.trim()).is_dir() {
        let mut rustup = std::process::Command::new("rustup");
        rustup.current_dir(top());
        run(rustup.args(["target", "add", "wasm32-unknown-unknown"]))?;
    }
    Ok(())
}

/// The demo plot as one zip file, stored as it is: the server packs it better than zip does.
fn demo_plot(folder: &Path) -> Result<Vec<u8>> {
    use std::io::Write as _;
    let mut zip = zip::ZipWriter::new(std::io::Cursor::new(Vec::new()));
    for (name, bytes) in files_under(folder)? {
        let options = zip::write::SimpleFileOptions::default();
        zip.start_file(name, options.compression_method(zip::CompressionMethod::Stored))?;
        zip.write_all(&bytes)?;
    }
    Ok(zip.finish()?.into_inner())
}
