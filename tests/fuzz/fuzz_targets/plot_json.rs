//! `plot.json` from any bytes: [`fuzz::plot_json`].
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| fuzz::plot_json(bytes));
