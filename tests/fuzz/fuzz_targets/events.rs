//! `events.csv` from any bytes: [`fuzz::events`].
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| fuzz::events(bytes));
