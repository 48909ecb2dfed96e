//! The file of licences has every package that is handed on with the program, in the
//! version that is, and nothing else.

use std::collections::BTreeSet;
use std::fs;
use std::path::Path;
use std::process::Command;

use ovenbell::view::licences::licences;

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

fn in_the_file() -> BTreeSet<String> {
    let packages = licences().iter().flat_map(|l| &l.packages);
    packages.map(|package| (*package).to_owned()).collect()
}

#[test]
fn every_package_that_is_handed_on_has_its_licence_in_the_file() {
    let tree = Command::new(env!("CARGO"))
        .args(["tree", "--locked", "--offline", "--prefix", "none", "--format", "{p}"])
        .args(["--edges", "normal,no-proc-macro"])
        .current_dir(root())
        .output()
        .unwrap();
    assert!(tree.status.success(), "{}", String::from_utf8_lossy(&tree.stderr));
    let said = String::from_utf8(tree.stdout).unwrap();
    // `name v1.2.3`, and perhaps `(*)`; the first is the program itself.
    let packages = said.lines().skip(1).filter_map(|line| line.split_once(" v"));
    let wanted: BTreeSet<String> = packages
        .map(|(name, rest)| format!("{name} {}", rest.split(' ').next().unwrap_or(rest)))
        .collect();
    assert!(wanted.len() > 100, "only {} packages were found", wanted.len());
    let there = in_the_file();
    let missing: Vec<_> = wanted.difference(&there).collect();
    assert!(missing.is_empty(), "assets/licences/make has to be run for {missing:?}");
}

#[test]
fn the_file_of_licences_has_no_package_that_is_gone() {
    let lock = fs::read_to_string(root().join("Cargo.lock")).unwrap();
    for package in in_the_file() {
        let (name, version) = package.split_once(' ').unwrap();
        let entry = format!("name = \"{name}\"\nversion = \"{version}\"\n");
        assert!(lock.contains(&entry), "assets/licences/make has to be run: {package} is gone");
    }
}

#[test]
fn every_licence_has_its_text_and_a_title_of_its_own() {
    let all = licences();
    let titles: BTreeSet<String> = all.iter().map(|l| l.title()).collect();
    assert_eq!(titles.len(), all.len());
    for licence in all {
        assert!(licence.texts.iter().all(|t| t.len() > 200), "{}", licence.title());
        let own = all.iter().position(|l| l == licence).unwrap() < 4;
        assert_eq!(licence.packages.is_empty(), own, "{}", licence.title());
    }
    for face in ["Hack-Regular", "egui-icons", "emoji-icon-font"] {
        assert!(all.iter().any(|l| l.name.ends_with(face)), "{face}");
    }
    for id in ["Mozilla Public License", "SIL Open Font License", "Ubuntu Font"] {
        assert!(all.iter().any(|l| l.name.contains(id)), "{id}");
    }
}
