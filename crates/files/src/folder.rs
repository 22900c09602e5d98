//! The files of a plot folder, also when they lie one level down.

use std::collections::BTreeMap;

use language::say;
use plot::{Problem, Weight};

/// The files of a plot folder by path within the folder, parted by `/` (`plot.json`,
/// `photos/a.jpg` …).
pub type FileSet = BTreeMap<String, Vec<u8>>;

const HEAD: &str = "plot.json";
/// Letters of four bytes leave room for a date and an ending within the 255 bytes of a name.
const LONGEST_NAME: usize = 60;

/// Where the plot folder lies within a set of file names: `""`, or one level down such as
/// `hollow-bank/`.
///
/// # Errors
/// No `plot.json` at the top or one level down, or several one level down.
pub fn base<'a>(names: impl Iterator<Item = &'a str> + Clone) -> Result<String, Problem> {
    if names.clone().any(|name| name == HEAD) {
        return Ok(String::new());
    }
    let below = names.clone().filter_map(|name| {
        let folder = name.strip_suffix(HEAD)?;
        (folder.find('/') == Some(folder.len().checked_sub(1)?)).then_some(folder)
    });
    let found = match below.collect::<Vec<&str>>()[..] {
        [one] => return Ok(one.to_owned()),
        [] if names.clone().next().is_none() => {
            say!("no plot.json (the folder is empty)").to_owned()
        }
        [] => say!("no plot.json").to_owned(),
        ref several => {
            say!("{count} plots ({names})", count = several.len(), names = several.join(", "))
        }
    };
    Err(Problem {
        weight: Weight::Fault,
        file: HEAD.to_owned(),
        line: None,
        column: None,
        found,
        expected: say!("a plot folder with plot.json and trees.csv").to_owned(),
    })
}

/// What version control and systems put into folders is no part of a plot.
pub fn is_hidden(path: &str) -> bool {
    path.split('/').any(|part| part.starts_with('.'))
}

/// A plot's name as the name of a file or folder on any system: lower-case letters and digits, a
/// dash between words, cut after 60 letters; `plot` where it has none.
pub fn plain_name(name: &str) -> String {
    let lower = name.to_lowercase();
    let words = lower.split(|letter: char| !letter.is_alphanumeric());
    let words: Vec<&str> = words.filter(|word| !word.is_empty()).collect();
    let whole: String = words.join("-").chars().take(LONGEST_NAME).collect();
    let name = whole.trim_end_matches('-');
    if name.is_empty() { "plot".to_owned() } else { name.to_owned() }
}

/// The files below `base`, named from there.
pub(crate) fn within(files: FileSet, base: &str) -> FileSet {
    if base.is_empty() {
        return files;
    }
    let named =
        |(name, bytes): (String, Vec<u8>)| Some((name.strip_prefix(base)?.to_owned(), bytes));
    files.into_iter().filter_map(named).collect()
}

#[cfg(test)]
mod tests {
    use super::{base, plain_name};

    #[test]
    fn a_plain_name_names_a_file_on_any_system() {
        let check = |name: &str, expected: &str| assert_eq!(plain_name(name), expected);
        check("Lantern Bank, an invented orchard", "lantern-bank-an-invented-orchard");
        check("Ängsbacken 3/2", "ängsbacken-3-2");
        check("../c:\\nul", "c-nul");
        check(" … ", "plot");
        check("hollow-bank-2031-06-14", "hollow-bank-2031-06-14");
        check(&"𐓷".repeat(400), &"𐓷".repeat(60));
        check(&format!("{} b", "a".repeat(59)), &"a".repeat(59));
    }

    #[test]
    fn a_plot_lies_at_the_top_or_one_level_down() {
        let check = |names: &[&str], expected: Result<&str, &str>| {
            let found = base(names.iter().copied()).map_err(|problem| problem.found);
            assert_eq!(found.as_deref().map_err(String::as_str), expected, "{names:?}");
        };
        check(&["plot.json", "old/plot.json"], Ok(""));
        check(&["hollow-bank/plot.json", "readme.txt"], Ok("hollow-bank/"));
        check(&["a/b/plot.json"], Err("no plot.json"));
        check(&["a/plot.json", "b/plot.json"], Err("2 plots (a/, b/)"));
        check(&["my-plot.json"], Err("no plot.json"));
        check(&[], Err("no plot.json (the folder is empty)"));
    }
}
