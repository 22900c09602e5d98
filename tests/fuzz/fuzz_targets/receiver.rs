//! Positions of a receiver from any bytes: [`fuzz::receiver`].
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| fuzz::receiver(bytes));
