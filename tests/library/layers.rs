//! The layers of the program: who may know whom. Reads the `use crate::`
//! lines and other mentions of `crate::` in `src` and fails on an arrow this
//! table does not allow.

use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

/// A layer and what it may know, itself apart.
const LAYERS: &[(&str, &[&str])] = &[
    ("words", &[]),
    ("units", &[]),
    ("finding", &[]),
    ("deadline", &[]),
    ("model", &["units", "finding"]),
    ("plan", &["units", "model"]),
    ("file", &["units", "finding", "model", "plan", "bake"]),
    ("bake", &["units", "model"]),
    ("convert", &["units", "model"]),
    ("speech", &["words", "units", "model", "convert"]),
    ("graph", &["units", "finding", "model", "bake"]),
    ("planner", &["words", "units", "finding", "model", "bake", "graph", "plan"]),
    ("check", &["units", "finding", "model", "plan", "bake"]),
    ("play", &["units", "model", "plan", "check"]),
    ("better", &["model", "plan", "graph", "planner", "check", "play"]),
    ("edit", &["finding", "file"]),
    (
        "change",
        &[
            "words", "units", "finding", "model", "plan", "file", "edit", "bake", "graph",
            "planner", "check",
        ],
    ),
    ("setup", &["words", "units", "finding", "model", "file", "edit", "bake", "convert", "speech"]),
    ("interchange", &["words", "units", "finding", "model", "file", "convert", "setup"]),
    ("keep", &["units", "finding", "model", "plan", "file", "graph", "planner", "check"]),
    (
        "today",
        &[
            "words", "units", "finding", "model", "plan", "file", "bake", "graph", "planner",
            "check", "change", "view", "keep", "edit", "play",
        ],
    ),
    (
        "afterwards",
        &["units", "finding", "model", "plan", "file", "check", "edit", "setup", "today", "view"],
    ),
    (
        "week",
        &["words", "units", "finding", "model", "plan", "file", "planner", "check", "keep", "play"],
    ),
    (
        "hand",
        &[
            "words", "units", "finding", "model", "plan", "file", "bake", "graph", "planner",
            "check", "change", "view", "keep", "edit", "today",
        ],
    ),
    ("view", &["words", "units", "finding", "model", "plan", "bake", "check", "play", "week"]),
    (
        "export",
        &[
            "words",
            "units",
            "finding",
            "model",
            "bake",
            "graph",
            "plan",
            "change",
            "check",
            "play",
            "better",
            "view",
            "today",
            "week",
            "stores",
            "speech",
            "afterwards",
        ],
    ),
    ("stores", &["words", "units", "model", "check", "speech"]),
    ("nutrition", &["units"]),
    ("substitute", &["words", "units", "finding", "model", "file", "edit", "setup"]),
    (
        "papers",
        &["words", "units", "finding", "model", "plan", "check", "stores", "view", "speech"],
    ),
    (
        "session",
        &[
            "units",
            "finding",
            "model",
            "plan",
            "file",
            "bake",
            "planner",
            "check",
            "change",
            "edit",
            "setup",
            "keep",
            "today",
            "hand",
            "view",
            "export",
            "speech",
            "play",
            "better",
            "stores",
            "papers",
            "week",
            "afterwards",
            "interchange",
        ],
    ),
    (
        "app",
        &[
            "units",
            "finding",
            "model",
            "plan",
            "file",
            "bake",
            "check",
            "change",
            "edit",
            "setup",
            "today",
            "hand",
            "view",
            "export",
            "speech",
            "papers",
            "stores",
            "session",
            "play",
            "week",
            "afterwards",
            "interchange",
            "substitute",
        ],
    ),
    (
        "cli",
        &[
            "units",
            "finding",
            "deadline",
            "model",
            "plan",
            "file",
            "bake",
            "convert",
            "graph",
            "planner",
            "check",
            "change",
            "keep",
            "play",
            "better",
            "view",
            "export",
            "today",
            "speech",
            "stores",
            "papers",
            "week",
            "edit",
            "afterwards",
            "interchange",
            "nutrition",
        ],
    ),
];

/// The window's own folders, each knowing only those before it.
const OF_THE_WINDOW: &[&str] = &["state", "looks", "screens", "shell"];

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

/// Where a file of the window belongs: its folder, and of `screens` the screen.
fn room(inside: &Path) -> String {
    let parts: Vec<_> = inside.components().map(|c| c.as_os_str().to_string_lossy()).collect();
    match parts.as_slice() {
        [first, second, ..] if first == "screens" && second != "mod.rs" => {
            format!("screens/{}", second.trim_end_matches(".rs"))
        }
        [first, _, ..] => first.to_string(),
        _ => String::new(),
    }
}

/// The rooms of the window that a source text names, by `crate::app::`.
fn rooms_named(text: &str) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    let text = text.replace("crate::app::screens::{", "crate::app::screens::");
    for (at, _) in text.match_indices("crate::app::") {
        let rest = &text[at + "crate::app::".len()..];
        let path: String =
            rest.chars().take_while(|c| c.is_alphanumeric() || "_:".contains(*c)).collect();
        let mut parts = path.split("::");
        match (parts.next(), parts.next()) {
            (Some("screens"), Some(screen)) => {
                // Several of them, named in one line.
                let names = rest["screens::".len()..].split([';', '}']).next().unwrap_or(screen);
                let ident = |n: &str| n.trim().split("::").next().unwrap_or_default().to_owned();
                found.extend(names.split(',').map(|n| format!("screens/{}", ident(n))));
            }
            (Some(folder), _) => {
                found.insert(folder.to_owned());
            }
            _ => {}
        }
    }
    found
}

/// A circle among arrows, if there is one: each node before the one it knows.
fn circle(arrows: &BTreeMap<String, BTreeSet<String>>) -> Option<Vec<String>> {
    fn visit(
        node: &str,
        arrows: &BTreeMap<String, BTreeSet<String>>,
        way: &mut Vec<String>,
        done: &mut BTreeSet<String>,
    ) -> Option<Vec<String>> {
        if let Some(from) = way.iter().position(|n| n == node) {
            return Some(way[from..].to_vec());
        }
        if done.contains(node) {
            return None;
        }
        way.push(node.to_owned());
        let found =
            arrows.get(node).into_iter().flatten().find_map(|to| visit(to, arrows, way, done));
        way.pop();
        done.insert(node.to_owned());
        found
    }
    let mut done = BTreeSet::new();
    arrows.keys().find_map(|node| visit(node, arrows, &mut Vec::new(), &mut done))
}

fn arrows_of_the_window() -> BTreeMap<String, BTreeSet<String>> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/app");
    let mut files = Vec::new();
    sources(&root, &mut files);
    let mut arrows: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for file in files {
        let from = room(file.strip_prefix(&root).unwrap());
        if from.is_empty() {
            continue;
        }
        let mut to = rooms_named(&fs::read_to_string(&file).unwrap());
        to.remove(&from);
        // What a screen is given stands beside the screens.
        to.remove("screens/OnScreen");
        arrows.entry(from).or_default().extend(to);
    }
    arrows
}

#[test]
fn the_window_has_no_circle() {
    let arrows = arrows_of_the_window();
    assert!(arrows.len() > 8, "the window's folders were not found: {:?}", arrows.keys());
    assert_eq!(circle(&arrows), None);
    let place = |room: &str| {
        let folder = room.split('/').next().unwrap();
        OF_THE_WINDOW.iter().position(|f| *f == folder)
    };
    for (from, to) in &arrows {
        for to in to {
            assert!(place(from).is_some() && place(to) <= place(from), "{from} may not know {to}");
        }
    }
}

#[test]
fn the_session_needs_no_window() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/session");
    let mut files = Vec::new();
    sources(&root, &mut files);
    assert!(files.len() > 10, "the session was not found");
    for file in files {
        assert!(!fs::read_to_string(&file).unwrap().contains("egui"), "{}", file.display());
    }
}

#[test]
fn the_reader_of_circles_finds_them() {
    let text = "use crate::app::screens::{OnScreen, board, card};\nuse crate::app::looks::say;";
    let found: Vec<String> = rooms_named(text).into_iter().collect();
    assert_eq!(found, ["looks", "screens/OnScreen", "screens/board", "screens/card"]);
    let arrow = |from: &str, to: &str| (from.to_owned(), BTreeSet::from([to.to_owned()]));
    let round = BTreeMap::from([arrow("a", "b"), arrow("b", "c"), arrow("c", "b")]);
    assert_eq!(circle(&round), Some(vec!["b".to_owned(), "c".to_owned()]));
    assert_eq!(circle(&BTreeMap::from([arrow("a", "b"), arrow("b", "c")])), None);
}

#[test]
fn the_reader_of_arrows_finds_them() {
    let text = "use crate::units::Minute;\nuse crate::{model::{A, B}, plan};\ncrate::check::x()";
    let found: Vec<String> = named(text).into_iter().collect();
    assert_eq!(found, ["check", "model", "plan", "units"]);
}
