//! What comes out of the program: nothing that a terminal or a spreadsheet
//! would obey, and nothing lost unsaid.

use std::fs;
use std::path::Path;
use std::process::{Command, Output};

fn ovenbell(args: &[&str]) -> Command {
    let nowhere = Path::new(env!("CARGO_TARGET_TMPDIR")).join("no-data");
    let mut program = Command::new(env!("CARGO_BIN_EXE_ovenbell"));
    program.args(args).env("OVENBELL_DATA", nowhere);
    program
}

fn lesson(name: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons").join(name);
    path.to_str().unwrap().to_owned()
}

/// The sample lesson with names that a terminal would obey.
fn with_commands() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let text = fs::read_to_string(lesson("demo.ron")).unwrap();
    let text = text
        .replace("\"Unit 2\"", "\"Unit \\u{1b}[2J2\"")
        .replace("\"Unit 3\"", "\"\\u{202e}Unit 3\"")
        .replace("\"Oven 1\"", "\"Oven\\u{9b}31m 1\"")
        .replace("lemon bake", "lemon\\u{7} bake");
    fs::write(folder.path().join("lesson.ron"), text).unwrap();
    folder
}

fn is_harmless(bytes: &[u8]) -> bool {
    let text = std::str::from_utf8(bytes).unwrap();
    let turns =
        |c: char| ('\u{202a}'..='\u{202e}').contains(&c) || ('\u{2066}'..='\u{2069}').contains(&c);
    !text.chars().any(|c| turns(c) || (c.is_control() && c != '\n' && c != '\t'))
}

#[test]
fn names_are_no_commands_to_a_terminal() {
    let folder = with_commands();
    let path = folder.path().join("lesson.ron");
    let path = path.to_str().unwrap();
    let few = ["--decodings", "100"];
    let commands: Vec<Vec<&str>> = vec![
        [&["plan", path][..], &few].concat(),
        [&["plan", path, "--json"][..], &few].concat(),
        [&["why", path][..], &few].concat(),
        [&["why", path, "--group", "x"][..], &few].concat(),
        [&["today", path, "--late", "5"][..], &few].concat(),
        [&["today", path, "--absent", "Unit 4"][..], &few].concat(),
        vec!["check", path],
        vec!["tins", path],
        vec!["problem", path, "--json"],
        vec!["took", path, "--recipe", "x", "--tin", "y", "--minutes", "3"],
        vec!["plan", "no\u{1b}[2Jsuch.ron"],
    ];
    for args in commands {
        let Output { stdout, stderr, .. } = ovenbell(&args).output().unwrap();
        assert!(stdout.len() + stderr.len() > 20, "{args:?} says nothing");
        assert!(is_harmless(&stdout) && is_harmless(&stderr), "{args:?}");
    }
    let plan = [&["plan", path, "--json"][..], &few].concat();
    let said = ovenbell(&plan).output().unwrap().stdout;
    let said: serde_json::Value = serde_json::from_slice(&said).unwrap();
    let names: Vec<&str> =
        said["groups"].as_array().unwrap().iter().filter_map(|g| g["name"].as_str()).collect();
    assert!(names.contains(&"Unit \u{1b}[2J2") && names.contains(&"\u{202e}Unit 3"), "{names:?}");
}

#[test]
#[cfg(target_os = "linux")]
fn an_answer_that_cannot_be_written_is_no_success() {
    let full = || fs::File::options().write(true).open("/dev/full").unwrap();
    let demo = lesson("demo.ron");
    for args in [
        &["plan", &demo, "--decodings", "100"][..],
        &["plan", &demo, "--decodings", "100", "--json"],
        &["check", &demo],
        &["convert", "gas 4"],
        &["problem", &demo, "--json"],
    ] {
        let output = ovenbell(args).stdout(full()).output().unwrap();
        assert_eq!(output.status.code(), Some(4), "{args:?}");
        assert!(String::from_utf8_lossy(&output.stderr).contains("could not be written"));
    }
    // Where even that cannot be said, the status says it.
    let status = ovenbell(&["check", &demo]).stdout(full()).stderr(full()).status().unwrap();
    assert_eq!(status.code(), Some(4));
    let status = ovenbell(&["check", "none.ron"]).stderr(full()).status().unwrap();
    assert_eq!(status.code(), Some(2));
}

#[test]
fn noted_names_are_no_formulas() {
    let folder = tempfile::tempdir().unwrap();
    let text = fs::read_to_string(lesson("demo.ron")).unwrap();
    let text = text.replace("\"lemon bake\"", "\"=HYPERLINK(1)\"");
    let ovens = "(name: \"@home\", kind: Fan, shelves: 2, shelf_mm: (420, 360)), (name: \"Oven\",";
    let text = text.replacen("(name: \"Oven\",", ovens, 1);
    let path = folder.path().join("lesson.ron");
    fs::write(&path, text).unwrap();
    let table = folder.path().join("bakes.csv");
    let (path, table) = (path.to_str().unwrap(), table.to_str().unwrap());
    let args = ["took", path, "--recipe", "=HYPERLINK(1)", "--tin", "12 buns", "--minutes", "15"];
    let more = ["--note=-2 looked pale", "--oven", "@home", "--outcomes", table];
    let output = ovenbell(&[&args[..], &more[..]].concat()).output().unwrap();
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let mut rows = csv::Reader::from_path(table).unwrap();
    for cell in rows.records().next().unwrap().unwrap().iter() {
        assert!(!cell.starts_with(['=', '+', '-', '@']), "{cell}");
    }
    // It is the same recipe when it is read again.
    let said = String::from_utf8(output.stdout).unwrap();
    assert!(said.contains("took 15"), "{said}");
}
