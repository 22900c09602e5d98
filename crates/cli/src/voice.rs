//! What is said on standard error, also when nobody listens any more.

use std::io::Write as _;

/// Says words; a reader that has gone is no fault.
pub(crate) fn say(words: std::fmt::Arguments<'_>) {
    _ = std::io::stderr().lock().write_fmt(words);
}

/// As the standard one, but does not panic where standard error was closed.
macro_rules! eprint {
    ($($words:tt)*) => { $crate::voice::say(format_args!($($words)*)) };
}

/// As the standard one, but does not panic where standard error was closed.
macro_rules! eprintln {
    ($($words:tt)*) => { $crate::voice::say(format_args!("{}\n", format_args!($($words)*))) };
}
