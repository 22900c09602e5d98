//! `decisions.csv` from any bytes: [`fuzz::decisions`].
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| fuzz::decisions(bytes));
