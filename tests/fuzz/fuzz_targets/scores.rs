//! `scores.csv` from any bytes: [`fuzz::scores`].
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| fuzz::scores(bytes));
