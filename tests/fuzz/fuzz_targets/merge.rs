//! Two folders of one plot from any bytes: [`fuzz::merge`].
#![no_main]

libfuzzer_sys::fuzz_target!(|bytes: &[u8]| fuzz::merge(bytes));
