//! The log of a plot as the browser keeps it from any bytes: [`fuzz::log`].
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| fuzz::log(bytes));
