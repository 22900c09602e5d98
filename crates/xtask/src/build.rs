//! Building the browser face: wasm, its JavaScript glue, the page's files under hashed names.

use std::fs;
use std::path::{Path, PathBuf};

use anyhow::{Context, Result, ensure};

use crate::bundle::{Bundle, gzipped};
use crate::shell::{cargo, output, run, target_dir, top};

/// What a first visit may cost on the wire.
const FIRST_LOAD_LIMIT_BYTES: usize = 350 * 1000;

/// How to build.
#[derive(clap::Args, Clone, Debug, Default)]
pub(crate) struct Building {
    /// Compile fast instead of small; skips the check of the first load.
    #[arg(long)]
    pub dev: bool,
}

/// Builds into `<target>/dist` and gives that folder.
///
/// # Errors
/// The compiler or the bundler fails, or the first load is above its limit.
#[expect(clippy::print_stdout, reason = "the size is the answer")]
pub(crate) fn build(options: &Building) -> Result<PathBuf> {
    add_wasm_target()?;
    let profile = if options.dev { "dev" } else { "wasm" };
    run(cargo().args([
        "build",
        "-p",
        "app",
        "--target",
        "wasm32-unknown-unknown",
        "--profile",
        profile,
    ]))?;
    let folder = if options.dev { "debug" } else { profile };
    let wasm = target_dir().join("wasm32-unknown-unknown").join(folder).join("app.wasm");

    let glue = target_dir().join("glue");
    fresh(&glue)?;
    wasm_bindgen_cli_support::Bindgen::new()
        .input_path(&wasm)
        .web(true)?
        .omit_default_module_path(false)
        .remove_name_section(!options.dev)
        .remove_producers_section(true)
        .typescript(false)
        .generate(&glue)?;

    let mut bundle = Bundle::default();
    bundle.add_folder(&top().join("www"))?;
    let script = fs::read_to_string(glue.join("app.js"))?;
    bundle.add("app.js", script.replace("app_bg.wasm", "{{app_bg.wasm}}").into_bytes());
    bundle.add("app_bg.wasm", fs::read(glue.join("app_bg.wasm"))?);
    bundle.add("demo-plot.zip", demo_plot(&top().join("demo-plot"))?);
    let dist = target_dir().join("dist");
    fresh(&dist)?;
    let placed = bundle.place(&dist)?;

    let mut first_load = 0;
    for (name, file) in &placed {
        if !name.starts_with("demo-plot") {
            first_load += gzipped(&fs::read(dist.join(file))?)?.len();
        }
    }
    println!(
        "first load: {:.1} kB compressed (limit {} kB)",
        first_load as f64 / 1000.0,
        FIRST_LOAD_LIMIT_BYTES / 1000
    );
    ensure!(
        options.dev || first_load <= FIRST_LOAD_LIMIT_BYTES,
        "the first load is larger than its limit"
    );
    Ok(dist)
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

/// The demo plot as one zip file; the same bytes for the same files.
fn demo_plot(folder: &Path) -> Result<Vec<u8>> {
    use std::io::Write as _;
    let mut zip = zip::ZipWriter::new(std::io::Cursor::new(Vec::new()));
    for (name, bytes) in crate::bundle::files_under(folder)? {
        zip.start_file(name, zip::write::SimpleFileOptions::default())?;
        zip.write_all(&bytes)?;
    }
    Ok(zip.finish()?.into_inner())
}
