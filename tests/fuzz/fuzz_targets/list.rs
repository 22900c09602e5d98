//! A list that is brought in from any bytes: [`fuzz::list`].
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| fuzz::list(bytes));
