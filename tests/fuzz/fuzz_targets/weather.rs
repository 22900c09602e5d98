//! `weather.csv` from any bytes: [`fuzz::weather`].
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| fuzz::weather(bytes));
