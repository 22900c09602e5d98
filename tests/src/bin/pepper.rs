//! Writes the open bell-pepper field 2 as a plot folder: `cargo run -p crossing --bin pepper -- OUT`.
#![allow(clippy::print_stderr, reason = "a small program of its own")]

use std::path::PathBuf;
use std::process::ExitCode;

use crossing::pepper::{Field, folder};

fn main() -> ExitCode {
    let Some(out) = std::env::args_os().nth(1).map(PathBuf::from) else {
        eprintln!("expected the folder to write");
        return ExitCode::from(2);
    };
    match write(&out) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{}: {error}", out.display());
            ExitCode::from(2)
        }
    }
}

fn write(out: &std::path::Path) -> Result<(), Box<dyn std::error::Error>> {
    std::fs::create_dir_all(out)?;
    for (name, bytes) in folder(Field::Two)? {
        std::fs::write(out.join(name), bytes)?;
    }
    Ok(())
}
