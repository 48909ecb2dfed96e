//! The pages lead somewhere: every link to a file of the project finds it, and
//! the guide for contributors knows every layer.

use std::collections::BTreeSet;
use std::fs;
use std::path::{Path, PathBuf};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn pages(folder: &Path, found: &mut Vec<PathBuf>) {
    for entry in fs::read_dir(folder).unwrap() {
        let path = entry.unwrap().path();
        let name = path.file_name().unwrap().to_string_lossy().into_owned();
        if path.is_dir() && !name.starts_with('.') && !name.starts_with("target") {
            pages(&path, found);
        } else if name.ends_with(".md") {
            found.push(path);
        }
    }
}

/// What links in a text lead to, but for addresses elsewhere.
fn links(text: &str) -> Vec<&str> {
    let to = text.split("](").skip(1).filter_map(|rest| rest.split(')').next());
    let here = to.filter(|to| !to.contains("://") && !to.starts_with('#'));
    here.map(|to| to.split('#').next().unwrap_or(to)).collect()
}

#[test]
fn every_link_of_every_page_finds_its_file() {
    let mut all = Vec::new();
    pages(root(), &mut all);
    let mut seen = 0;
    let mut wrong = Vec::new();
    for page in all {
        let text = fs::read_to_string(&page).unwrap();
        for link in links(&text) {
            seen += 1;
            if !page.parent().unwrap().join(link).exists() {
                wrong.push(format!("{}: {link}", page.display()));
            }
        }
    }
    assert!(seen > 30, "only {seen} links were found");
    assert!(wrong.is_empty(), "{wrong:#?}");
}

#[test]
fn the_guide_for_contributors_knows_every_layer() {
    let guide = fs::read_to_string(root().join("DEVELOPERS.md")).unwrap();
    let map = guide.split("## The map").nth(1).unwrap().split("## ").next().unwrap();
    let rows = map.lines().filter_map(|line| line.strip_prefix("| `"));
    let named: BTreeSet<String> = rows
        .flat_map(|row| row.split(" |").next().unwrap_or(row).split(", ").map(str::to_owned))
        .map(|name| name.trim_matches('`').to_owned())
        .collect();
    let there: BTreeSet<String> = fs::read_dir(root().join("src"))
        .unwrap()
        .map(|entry| entry.unwrap().path().file_stem().unwrap().to_string_lossy().into_owned())
        .filter(|name| !["lib", "main"].contains(&name.as_str()))
        .collect();
    assert_eq!(named, there);
    assert!(guide.lines().count() < 260, "the guide is for newcomers");
}

#[test]
fn the_guide_for_contributors_says_what_each_package_is_for() {
    let guide = fs::read_to_string(root().join("DEVELOPERS.md")).unwrap();
    let table = guide.split("## Packages").nth(1).unwrap();
    let manifest = fs::read_to_string(root().join("Cargo.toml")).unwrap();
    let mut wanted = BTreeSet::new();
    for section in manifest.split("\n[") {
        let (head, lines) = section.split_once(']').unwrap();
        if head.ends_with("dependencies") {
            let entries = lines.lines().filter(|l| l.starts_with(|c: char| c.is_ascii_lowercase()));
            wanted.extend(entries.filter_map(|l| l.split_once(" = ")).map(|(name, _)| name));
        }
    }
    assert!(wanted.len() > 25, "only {} packages were found", wanted.len());
    for name in wanted {
        let family = name.split('-').next().unwrap();
        let named = [format!("`{name}`"), format!("`{family}-*`")];
        assert!(named.iter().any(|n| table.contains(n)), "nothing says what {name} is for");
    }
}
