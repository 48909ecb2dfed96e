//! Lesson files that are read, and lesson files with slips: each of the
//! latter says in its first lines what must be found, and nothing else may be.
#![allow(clippy::unwrap_used, clippy::expect_used)]

use std::fs;
use std::path::PathBuf;

use ovenbell::file::{Loaded, read_lesson};
use ovenbell::finding::Finding;

fn cases(folder: &str) -> Vec<(PathBuf, String)> {
    let folder = format!("{}/tests/cases/{folder}", env!("CARGO_MANIFEST_DIR"));
    let mut cases: Vec<(PathBuf, String)> = fs::read_dir(folder)
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .filter(|path| path.extension().is_some_and(|e| e == "ron"))
        .map(|path| (path.clone(), fs::read_to_string(&path).unwrap()))
        .collect();
    cases.sort();
    cases
}

fn shown(findings: &[Finding]) -> String {
    findings.iter().map(|f| format!("{f}\n")).collect()
}

#[test]
fn good_lessons_are_read() {
    for (path, text) in cases("good") {
        let loaded = read_lesson(&text);
        if let Ok(Loaded { warnings, .. }) = &loaded {
            assert!(warnings.is_empty(), "{}:\n{}", path.display(), shown(warnings));
        }
        let findings = loaded.err().unwrap_or_default();
        assert!(findings.is_empty(), "{}:\n{}", path.display(), shown(&findings));
    }
}
#[test]
fn tmp() {
    for (_path, text) in cases("good") {
        for a in &read_lesson(&text).unwrap().lesson.assumed {
            println!("{:?}: {}", a.about, a.text);
        }
    }
    let base = cases("good")[0].1.clone();
    let m = base.replace("minutes: (4, 6, 9)", "minutes: (0.1, 0.3, 1e999)");
    println!("{}", shown(&read_lesson(&m).unwrap_err()));
    let m = base.replace("minutes: (4, 6, 9)", "minutes: (0.1, 0.3, 0.7)");
    println!("{:?}", read_lesson(&m).unwrap().lesson.recipes[0].methods[0].steps[2].minutes);
    for (a, b) in [
        ("pace: 1", "x"),
        ("kind: Fan", "kind: Fann"),
        ("celsius: 220, ", ""),
        ("title:", "titel:"),
        ("(4, 6, 9)", "(4, 6)"),
        ("(4, 6, 9)", "\"six\""),
        ("(4, 6, 9)", "NaN"),
        ("kind: Fan", "kind: Fan, kind: Gas"),
        ("count: 5", "count: \"five\""),
        ("count: 5", "count: 5.5"),
        ("],\n)", "]\n"),
        ("title: \"Scones\",", "title: \"Scones,"),
        ("format: 1,", "format: 1"),
        ("\"sink\": 5", "\"sink\": true"),
        ("kind: Bake", "kind: Bke"),
        ("everyone: true", "everyone: yes"),
        ("name: \"sheet\", form", "nam: \"sheet\", form"),
        ("(name: \"sheet\", form", "(form"),
        ("\"sink\": 5", "\"sink\": (cout: 3)"),
        ("format: 1,", ""),
        ("format: 1,", "format: \"1\","),
        ("\"sink\": 5", "sink: 5"),
        ("tins: [(name", "tins: ((name"),
        ("start: \"10:05\"", "start: 10:05"),
        ("10:05", "10.05"),
        ("form: Sheet", "form: Round(acros_mm: 3)"),
        ("form: Sheet", "form: Round(across_mm: 300, a: 3)"),
    ] {
        let m = base.replacen(a, b, 1);
        println!("--- {b}\n{}", read_lesson(&m).map_or_else(|f| shown(&f), |_| "fine".into()));
    }
    for m in [
        "",
        "(",
        "hello",
        "()",
        "(format: 2, anything)",
        "(format: 2",
        "/* (",
        "(format: 1)",
        "[1,2]",
        "(format: 1, title: \"\\q\")",
    ] {
        println!("--- {m}\n{}", read_lesson(m).map_or_else(|f| shown(&f), |_| "fine".into()));
    }
}
