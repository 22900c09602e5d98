//! How every command ends, what it says where nobody listens, and its answers as JSON.

use std::io::{BufRead as _, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use files::FileSet;
use serde_json::Value;

use crate::plots::{changed, sound};
use crate::run::{commands, leeward_in, on_disk, table};

/// Folders: `made-up` with something to say of everything, `withy` with next to nothing, `one`
/// with a single tree, `changed` as withy with another score, `faulty`, `noticed`.
fn workbench(name: &str) -> PathBuf {
    let mut files = FileSet::new();
    let mut add = |folder: &str, plot: FileSet| {
        files.extend(plot.into_iter().map(|(name, bytes)| (format!("{folder}/{name}"), bytes)));
    };
    add("withy", sound());
    add("changed", changed("scores.csv", "s1,W1,scab_leaf,0", "s1,W1,scab_leaf,1"));
    add("faulty", changed("trees.csv", "W2,1,2", "W2,one,2"));
    add("noticed", changed("trees.csv", "W3,1,3,", "W3,1,2,"));
    let mut one = changed("trees.csv", "W2,1,2,Q-2\nW3,1,3,\n", "");
    one.extend(
        changed("scores.csv", "s2,W2,scab_leaf,1,2031-06-14\n", "").remove_entry("scores.csv"),
    );
    add("one", one);
    let folder = on_disk(&format!("ends-{name}"), &files);
    let call = "simulate made-up --seed 3 --kind demo --rows 6 --places 20 --seasons 2";
    assert_eq!(leeward_in(&folder, call.split(' ')).code, Some(0));
    folder
}

#[test]
fn every_command_ends_as_it_should() {
    let folder = workbench("codes");
    let check = |call: &str, code: i32| {
        let gave = leeward_in(&folder, call.split(' '));
        assert_eq!(gave.code, Some(code), "leeward {call}\n{}{}", gave.out, gave.said);
    };
    for (call, code) in [
        ("inspect withy", 0),
        ("inspect noticed", 1),
        ("inspect faulty", 2),
        ("inspect nowhere", 2),
        ("proof made-up --disease scab", 0),
        ("proof withy --disease scab", 1),
        ("proof faulty --disease scab", 2),
        ("season made-up --disease scab", 0),
        ("season withy --disease scab", 1),
        ("season one --disease scab", 1),
        ("season faulty --disease scab", 2),
        ("season withy --disease rust", 2),
        ("plan made-up --disease scab", 0),
        ("plan one --disease scab", 1),
        ("plan faulty --disease scab", 2),
        ("progress made-up --disease scab", 0),
        ("progress withy --disease scab", 1),
        ("progress withy --disease rust", 2),
        ("near withy --tree W1 --disease scab", 0),
        ("near one --tree W1 --disease scab", 1),
        ("near withy --tree W9 --disease scab", 2),
        ("vigour made-up --trait trunk_diameter", 0),
        ("vigour withy --trait scab_leaf", 1),
        ("vigour withy", 2),
        ("merge withy withy --out same", 0),
        ("merge withy changed --out both", 1),
        ("merge withy faulty --out none", 2),
        ("export withy --to csv", 0),
        ("export faulty --to csv", 2),
        ("print withy --what tags --out tags.html", 0),
        ("print withy --what tags --out tags.html", 2),
        ("simulate again --seed 1 --rows 1 --places 5 --seasons 1", 0),
        ("simulate withy --seed 1 --rows 1 --places 5 --seasons 1", 2),
        ("spatial again/trees.csv --row row --place place --value place --weights rook", 0),
        ("spatial withy/trees.csv --row row --place place --value row --weights rook", 1),
        ("spatial withy/trees.csv --row row --place place --value tag --weights rook", 2),
        ("completions fish", 0),
        ("completions cmd", 2),
        ("man", 0),
        ("man --out withy", 2),
        ("--help", 0),
        ("--version", 0),
        ("prove withy", 2),
    ] {
        check(call, code);
    }
    assert!(!folder.join("none").exists());
    assert_eq!(leeward_in::<&str>(&folder, []).code, Some(2), "a call without a command");
}

#[test]
fn every_table_is_json_as_well() {
    let folder = workbench("json");
    // What writes files, or JSON alone, has no table.
    let others = ["export", "print", "simulate", "spatial", "completions", "man"];
    let options = |command: &str| match command {
        "near" => vec!["--tree", "T0001", "--disease", "scab"],
        "inspect" => vec![],
        "vigour" => vec!["--trait", "trunk_diameter"],
        "merge" => vec!["made-up", "--out"],
        _ => vec!["--disease", "scab"],
    };
    for command in commands().iter().filter(|command| !others.contains(&command.as_str())) {
        let asked = |format: &str| {
            let mut call = vec![command.as_str(), "made-up"];
            call.extend(options(command));
            if command == "merge" {
                call[1..].copy_from_slice(&["withy", "changed", "--out"]);
                call.push(if format == "csv" { "in-csv" } else { "in-json" });
            }
            call.extend(["--format", format]);
            leeward_in(&folder, call).out
        };
        let (header, rows) = table(&asked("csv"));
        let json: Value = serde_json::from_str(&asked("json")).expect(command);
        let lines = if command == "inspect" { &json["holds"] } else { &json };
        let lines = lines.as_array().expect("a list");
        assert_eq!(lines.len(), rows.len(), "{command}");
        assert!(!rows.is_empty(), "{command}");
        for (line, row) in lines.iter().zip(&rows) {
            assert_eq!(line.as_object().expect("an object").len(), header.len());
            for (name, cell) in row {
                let same = match &line[name] {
                    Value::Null => cell.is_empty(),
                    Value::String(text) => text == cell,
                    number => number.as_f64() == cell.parse().ok(),
                };
                assert!(same, "{command}, {name}: {cell} and {}", line[name]);
            }
        }
    }
}

fn program(folder: &Path, call: &str) -> Command {
    let mut command = Command::new(env!("CARGO_BIN_EXE_leeward"));
    command.args(call.split(' ')).current_dir(folder);
    command
}

#[test]
fn a_reader_that_goes_away_ends_it_quietly() {
    let folder = workbench("pipes");
    let call = "simulate wide --seed 1 --rows 60 --places 60 --seasons 1 --no-truth";
    assert_eq!(leeward_in(&folder, call.split(' ')).code, Some(0));
    // More than a pipe holds.
    let mut child = program(&folder, "export wide --to csv")
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program runs");
    let mut first = String::new();
    BufReader::new(child.stdout.take().expect("a pipe")).read_line(&mut first).expect("a line");
    let ended = child.wait_with_output().expect("it ends");
    assert!(first.contains("tree_id"), "{first}");
    assert_eq!((ended.status.code(), ended.stderr.as_slice()), (Some(0), b"".as_slice()));
    // Nobody listens to either.
    let mut child = program(&folder, "inspect faulty")
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the program runs");
    drop((child.stdout.take(), child.stderr.take()));
    assert_eq!(child.wait().expect("it ends").code(), Some(2));
}

#[test]
fn colours_are_for_terminals_and_never_where_they_are_unwanted() {
    let check = |variables: &[(&str, &str)], are_coloured: bool| {
        for call in ["proof --help", "proof --colour"] {
            let mut command = program(Path::new("."), call);
            command.env_remove("NO_COLOR").env_remove("CLICOLOR_FORCE").env("TERM", "xterm");
            let output = command.envs(variables.iter().copied()).output().expect("it runs");
            let said = [output.stdout, output.stderr].concat();
            assert_eq!(said.contains(&0x1b), are_coloured, "{call} {variables:?}");
        }
    };
    check(&[], false);
    check(&[("CLICOLOR_FORCE", "1")], true);
    check(&[("CLICOLOR_FORCE", "1"), ("NO_COLOR", "1")], false);
}

#[test]
fn shells_complete_and_manual_pages_tell_every_command() {
    let folder = on_disk("ends-shells", &FileSet::new());
    let said = |call: &str| {
        let gave = leeward_in(&folder, call.split(' '));
        assert_eq!((gave.code, gave.said.as_str()), (Some(0), ""), "{call}");
        gave.out
    };
    for shell in ["bash", "elvish", "fish", "powershell", "zsh"] {
        let script = said(&format!("completions {shell}"));
        assert!(commands().iter().all(|command| script.contains(command)), "{shell}");
    }
    std::fs::write(folder.join("leeward.bash"), said("completions bash")).expect("a file");
    let complete = "source ./leeward.bash; COMP_WORDS=(leeward pro); COMP_CWORD=1
        _leeward leeward pro leeward; echo \"${COMPREPLY[@]}\"";
    let bash = Command::new("bash").args(["-c", complete]).current_dir(&folder).output();
    let words = String::from_utf8(bash.expect("bash runs").stdout).expect("UTF-8");
    assert_eq!(words.trim(), "proof progress");
    let page = said("man");
    assert!(page.contains("\n.SH EXIT STATUS\n"), "{page}");
    let gave = leeward_in(&folder, ["man", "--out", "pages"]);
    assert_eq!((gave.code, gave.out.as_str()), (Some(0), ""), "{}", gave.said);
    for command in commands() {
        assert!(page.contains(&format!("leeward\\-{command}(1)")), "{command}");
        let own = folder.join(format!("pages/leeward-{command}.1"));
        let own = std::fs::read_to_string(own).expect("a page");
        assert!(own.contains(&format!(".TH leeward-{command} 1 ")), "{own}");
        assert!(own.contains("\n.SH EXAMPLES\n"), "{own}");
    }
    assert_eq!(std::fs::read_to_string(folder.join("pages/leeward.1")).expect("a page"), page);
}
