//! The layers of the program: who may know whom. Reads the `use crate::`
//! lines and other mentions of `crate::` in `src` and fails on an arrow this
//! table does not allow.

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

/// A layer and what it may know, itself apart.
const LAYERS: &[(&str, &[&str])] = &[
    ("words", &[]),
    ("units", &[]),
    ("finding", &[]),
    ("model", &["units", "finding"]),
    ("plan", &["units", "model"]),
    ("file", &["units", "finding", "model", "plan", "bake"]),
    ("bake", &["units", "model"]),
    ("convert", &["units", "model"]),
    ("speech", &["words", "units", "model", "convert"]),
    ("graph", &["units", "finding", "model", "bake"]),
    ("planner", &["words", "units", "finding", "model", "bake", "graph", "plan"]),
    ("check", &["units", "finding", "model", "plan", "bake"]),
    ("edit", &["finding", "file"]),
    (
        "change",
        &[
            "words", "units", "finding", "model", "plan", "file", "edit", "bake", "graph",
            "planner", "check",
        ],
    ),
    ("setup", &["words", "units", "finding", "model", "file", "edit", "bake"]),
    ("keep", &["units", "model", "plan", "graph", "planner", "check"]),
    (
        "today",
        &[
            "words", "units", "finding", "model", "plan", "file", "bake", "graph", "planner",
            "check", "change", "view", "keep", "edit",
        ],
    ),
    (
        "hand",
        &[
            "words", "units", "finding", "model", "plan", "file", "bake", "graph", "planner",
            "check", "change", "view", "keep", "edit", "today",
        ],
    ),
    ("view", &["words", "units", "finding", "model", "plan", "bake", "check"]),
    (
        "export",
        &[
            "words", "units", "finding", "model", "bake", "graph", "plan", "change", "check",
            "view", "today",
        ],
    ),
    (
        "app",
        &[
            "units", "finding", "model", "plan", "file", "bake", "graph", "planner", "check",
            "change", "edit", "setup", "today", "hand", "view", "export", "speech",
        ],
    ),
    (
        "cli",
        &[
            "units", "finding", "model", "plan", "file", "bake", "convert", "graph", "planner",
            "check", "change", "view", "export", "today", "speech",
        ],
    ),
];

fn sources(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|e| e == "rs") {
            found.push(path);
        }
    }
}

/// Layers named after `crate::` in a source text, `crate::{a, b::c}` included.
fn named(text: &str) -> BTreeSet<String> {
    let mut names = BTreeSet::new();
    for (at, _) in text.match_indices("crate::") {
        let rest = &text[at + "crate::".len()..];
        let ident = |s: &str| -> String {
            s.trim_start().chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect()
        };
        if let Some(inner) = rest.strip_prefix('{') {
            let mut depth = 0;
            let mut start = 0;
            for (i, c) in inner.char_indices() {
                match c {
                    '{' => depth += 1,
                    '}' | ',' if depth == 0 => {
                        names.insert(ident(&inner[start..i]));
                        start = i + 1;
                        if c == '}' {
                            break;
                        }
                    }
                    '}' => depth -= 1,
                    _ => {}
                }
            }
        } else {
            names.insert(ident(rest));
        }
    }
    names.remove("");
    names
}

#[test]
fn every_arrow_between_layers_is_allowed() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files = Vec::new();
    sources(&root, &mut files);
    assert!(files.len() > 20, "the sources were not found");
    let mut wrong = Vec::new();
    let mut layers_seen = BTreeSet::new();
    for file in files {
        let inside = file.strip_prefix(&root).unwrap();
        let first = inside.components().next().unwrap().as_os_str().to_string_lossy().into_owned();
        let layer = first.trim_end_matches(".rs").to_owned();
        if layer == "lib" || layer == "main" {
            continue;
        }
        layers_seen.insert(layer.clone());
        let Some((_, may)) = LAYERS.iter().find(|(name, _)| *name == layer) else {
            wrong.push(format!("{} belongs to no layer", inside.display()));
            continue;
        };
        for name in named(&fs::read_to_string(&file).unwrap()) {
            if name != layer && !may.contains(&name.as_str()) {
                wrong.push(format!("{} may not know {name}", inside.display()));
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(layers_seen.contains("check") && layers_seen.contains("planner"));
}

#[test]
fn nothing_below_the_window_names_its_toolkit() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut files = Vec::new();
    sources(&root, &mut files);
    for file in files {
        let inside = file.strip_prefix(&root).unwrap().to_string_lossy().into_owned();
        let text = fs::read_to_string(&file).unwrap();
        if !inside.starts_with("app") {
            assert!(!text.contains("egui::"), "{inside} knows egui");
        }
    }
}

#[test]
fn the_reader_of_arrows_finds_them() {
    let text = "use crate::units::Minute;\nuse crate::{model::{A, B}, plan};\ncrate::check::x()";
    let found: Vec<String> = named(text).into_iter().collect();
    assert_eq!(found, ["check", "model", "plan", "units"]);
}
