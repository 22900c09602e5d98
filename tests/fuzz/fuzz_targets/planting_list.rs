//! A planting list from any bytes: [`fuzz::planting_list`].
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| fuzz::planting_list(bytes));
