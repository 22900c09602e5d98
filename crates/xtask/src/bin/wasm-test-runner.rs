//! Runs the browser's unit tests in headless Chromium: the library form of wasm-bindgen's runner,
//! so that nothing need be installed beside the workspace.

fn main() -> anyhow::Result<()> {
    wasm_bindgen_cli::wasm_bindgen_test_runner::run_cli_with_args(std::env::args_os())
}
