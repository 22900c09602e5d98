//! Writes the plot folders and zips that mean harm, for whoever hands them to the page: `hostile
//! OUT`. Each goes by its name, and a line of `OUT/list.tsv` says what must become of it.

use std::fs;
use std::path::Path;
use std::process::ExitCode;

use crossing::hostile::{End, Form, all};

#[expect(clippy::print_stderr, reason = "a program that fails says why")]
fn main() -> ExitCode {
    let Some(out) = std::env::args().nth(1) else {
        eprintln!("expected a folder to write into");
        return ExitCode::FAILURE;
    };
    match write(Path::new(&out)) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

fn write(out: &Path) -> std::io::Result<()> {
    let mut list = String::new();
    for hostile in all() {
        let folder = out.join(hostile.name);
        let (form, files) = match hostile.form {
            Form::Folder(files) => ("folder", files),
            Form::Zip(bytes) => ("zip", [("plot.zip".to_owned(), bytes)].into()),
            Form::Workbook(bytes) => ("workbook", [("list.ods".to_owned(), bytes)].into()),
        };
        for (name, bytes) in files {
            let path = folder.join(name);
            fs::create_dir_all(path.parent().unwrap_or(&folder))?;
            fs::write(path, bytes)?;
        }
        let (end, words) = match hostile.end {
            End::Sound => ("sound", ""),
            End::Faulty(words) => ("faulty", words),
            End::Refused(words) => ("refused", words),
        };
        list += &format!("{}\t{form}\t{end}\t{words}\n", hostile.name);
    }
    fs::write(out.join("list.tsv"), list)
}
