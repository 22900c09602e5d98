//! `trees.csv` from any bytes: [`fuzz::trees`].
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| fuzz::trees(bytes));
