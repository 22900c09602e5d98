//! Building the browser face: wasm, its JavaScript glue, the page's files under hashed names.

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, ensure};

use crate::bundle::{Bundle, pack_beside, worth_packing};
use crate::shell::{cargo, output, run, target_dir, top};

/// What a first visit should cost on the wire.
const FIRST_LOAD_GOAL_BYTES: usize = 350 * 1000;
/// What it may cost until the goal is met (docs/decisions.md): a ratchet, only ever turned down.
const FIRST_LOAD_LIMIT_BYTES: usize = 560 * 1000;

/// How to build.
#[derive(clap::Args, Clone, Debug, Default)]
pub(crate) struct Building {
    /// Compile fast instead of small; skips the check of the first load.
    #[arg(long)]
    pub dev: bool,
}

/// The wasm files: the page with its keeper, and the judge that is called once a plot is open.
const WASM: [(&str, &str); 2] = [("app", "app.js"), ("judge", "judge-glue.js")];
/// What a first visit does not fetch before a plot is opened.
const LATER: [&str; 6] =
    ["judge.js", "judge-glue.js", "judge_bg.wasm", "demo-plot.zip", "icon-192.png", "icon-512.png"];

/// Builds into `<target>/dist` and gives that folder.
///
/// # Errors
/// The compiler or the bundler fails, or the first load is above its limit.
pub(crate) fn build(options: &Building) -> Result<PathBuf> {
    add_wasm_target()?;
    let profile = if options.dev { "dev" } else { "wasm" };
    run(cargo()
        .args(["build", "--target", "wasm32-unknown-unknown", "--profile", profile])
        .args(["-p", "app", "-p", "judge"]))?;

    let mut bundle = Bundle::default();
    bundle.add_folder(&top().join("www"))?;
    for (name, script) in WASM {
        add_wasm(&mut bundle, name, script, options)?;
    }
    bundle.add("demo-plot.zip", demo_plot(&top().join("demo-plot"))?);
    let dist = target_dir().join("dist");
    fresh(&dist)?;
    let placed = bundle.place(&dist)?;
    if !options.dev {
        check_first_load(&dist, &placed)?;
    }
    Ok(dist)
}

/// Puts the JavaScript glue to a wasm file and takes both in.
fn add_wasm(bundle: &mut Bundle, name: &str, script: &str, options: &Building) -> Result<()> {
    let folder = if options.dev { "debug" } else { "wasm" };
    let built = target_dir().join("wasm32-unknown-unknown").join(folder);
    let glue = target_dir().join("glue").join(name);
    fresh(&glue)?;
    wasm_bindgen_cli_support::Bindgen::new()
        .input_path(built.join(format!("{name}.wasm")))
        .web(true)?
        .omit_default_module_path(false)
        .remove_name_section(!options.dev)
        .remove_producers_section(true)
        .typescript(false)
        .generate(&glue)?;
    let wasm = format!("{name}_bg.wasm");
    let text = fs::read_to_string(glue.join(format!("{name}.js")))?;
    bundle.add(script, text.replace(&wasm, &format!("{{{{{wasm}}}}}")).into_bytes());
    bundle.add(&wasm, fs::read(glue.join(&wasm))?);
    Ok(())
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
        *(if LATER.contains(&name.as_str()) { &mut later } else { &mut first }) += size;
    }
    let kilobytes = |bytes: usize| bytes as f64 / 1000.0;
    println!(
        "first load: {:.1} kB compressed; {:.1} kB more once a plot is open",
        kilobytes(first),
        kilobytes(later)
    );
    if first > FIRST_LOAD_GOAL_BYTES {
        println!(
            "that is above the goal of {:.0} kB (the build fails above {:.0} kB)",
            kilobytes(FIRST_LOAD_GOAL_BYTES),
            kilobytes(FIRST_LOAD_LIMIT_BYTES)
        );
    }
    ensure!(first <= FIRST_LOAD_LIMIT_BYTES, "the first load is larger than its limit");
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

fn fresh(folder: &Path) -> Result<()> {
    if folder.exists() {
        fs::remove_dir_all(folder).with_context(|| format!("cannot clear {}", folder.display()))?;
    }
    fs::create_dir_all(folder).with_context(|| format!("cannot make {}", folder.display()))
}

/// The demo plot as one zip file, stored as it is: the server packs it better than zip does.
fn demo_plot(folder: &Path) -> Result<Vec<u8>> {
    use std::io::Write as _;
    let mut zip = zip::ZipWriter::new(std::io::Cursor::new(Vec::new()));
    for (name, bytes) in crate::bundle::files_under(folder)? {
        let options = zip::write::SimpleFileOptions::default();
        zip.start_file(name, options.compression_method(zip::CompressionMethod::Stored))?;
        zip.write_all(&bytes)?;
    }
    Ok(zip.finish()?.into_inner())
}
