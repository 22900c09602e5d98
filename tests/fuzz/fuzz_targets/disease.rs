//! The profile of a disease that a plot.json holds from any bytes: [`fuzz::disease`].
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| fuzz::disease(bytes));
