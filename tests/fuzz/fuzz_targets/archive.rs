//! A plot folder as a zip from any bytes: [`fuzz::archive`].
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| fuzz::archive(bytes));
