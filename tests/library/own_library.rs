//! The user's own library: kept whole, one entry a file, nothing overwritten
//! that has another name, whatever the disk does.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use crate::common::faulty::{Faulty, WAYS, Way};
use ovenbell::file::format::{ClassShape, GroupShape, SavedClass, TinShape};
use ovenbell::file::own_library::{LibraryShelf, OwnEntry, OwnLibrary};
use ovenbell::file::{RealDisk, library};

fn own(folder: &Path) -> OwnLibrary {
    OwnLibrary::at(Some(folder.to_owned()), Arc::new(RealDisk))
}

fn tin(name: &str, height_mm: f64) -> OwnEntry {
    let like = library::tins().unwrap().remove(0);
    OwnEntry::Tin(TinShape { name: name.into(), height_mm, ..like })
}

fn class(name: &str) -> SavedClass {
    let group = |name: &str, needs: &[&str]| GroupShape {
        name: name.into(),
        pupils: Some(3),
        pace: Some(1.2),
        keep_apart: !needs.is_empty(),
        needs: needs.iter().map(|n| (*n).to_owned()).collect(),
        ..GroupShape::default()
    };
    SavedClass {
        class: ClassShape { name: name.into(), ..ClassShape::default() },
        groups: vec![group("Unit 1", &[]), group("Unit 2", &["made without egg"])],
        start: Some("10:05".into()),
        end: Some("11:05".into()),
        ..SavedClass::default()
    }
}

fn files(folder: &Path) -> Vec<PathBuf> {
    let Ok(entries) = fs::read_dir(folder) else { return Vec::new() };
    let mut files: Vec<PathBuf> = entries.map(|e| e.unwrap().path()).collect();
    files.sort();
    files
}

#[test]
fn what_is_kept_is_listed_again_by_name() {
    let folder = tempfile::tempdir().unwrap();
    let own = own(folder.path());
    assert_eq!(own.list(), ovenbell::file::own_library::OwnEntries::default());
    let recipes = library::recipes().unwrap();
    for recipe in recipes.iter().rev() {
        own.keep(&OwnEntry::Recipe(Box::new(recipe.clone()))).unwrap();
    }
    for room in library::rooms().unwrap() {
        own.keep(&OwnEntry::Room(room)).unwrap();
    }
    own.keep(&OwnEntry::Class(class("8 Harbour"))).unwrap();
    own.keep(&tin("my tin", 40.0)).unwrap();
    let all = own.list();
    assert!(all.unreadable.is_empty(), "{:?}", all.unreadable);
    assert_eq!(all.recipes.len(), recipes.len());
    assert!(recipes.iter().all(|r| all.recipes.contains(r)));
    assert!(all.recipes.is_sorted_by_key(|r| r.name.to_lowercase()));
    assert_eq!(all.rooms.len(), library::rooms().unwrap().len());
    assert_eq!((all.classes.as_slice(), all.tins.len()), ([class("8 Harbour")].as_slice(), 1));
    // For a person to read, and to edit.
    let text = folder.path().join("library/classes/8 Harbour.ron");
    let text = fs::read_to_string(text).unwrap();
    assert!(text.starts_with("(\n    class: (name: \"8 Harbour\"),\n    groups: [\n"), "{text}");
    assert!(text.contains("needs: [\"made without egg\"]"), "{text}");
}

#[test]
fn keeping_again_replaces_and_removing_removes() {
    let folder = tempfile::tempdir().unwrap();
    let own = own(folder.path());
    own.keep(&tin("tray", 30.0)).unwrap();
    own.keep(&tin("tray", 35.0)).unwrap();
    assert_eq!(own.list().tins.len(), 1);
    assert_eq!(own.list().tins[0].height_mm, 35.0);
    own.remove(LibraryShelf::Tins, "another").unwrap();
    own.remove(LibraryShelf::Recipes, "tray").unwrap();
    assert_eq!(own.list().tins.len(), 1);
    own.remove(LibraryShelf::Tins, "tray").unwrap();
    assert!(own.list().tins.is_empty() && files(&folder.path().join("library/tins")).is_empty());
    // A file the user has given another name counts by the name inside.
    let renamed = folder.path().join("library/tins/of my own.RON");
    own.keep(&tin("tray", 30.0)).unwrap();
    fs::rename(folder.path().join("library/tins/tray.ron"), &renamed).unwrap();
    own.keep(&tin("tray", 50.0)).unwrap();
    assert_eq!(files(&folder.path().join("library/tins")), [renamed]);
}

#[test]
fn names_that_come_to_the_same_file_are_kept_apart() {
    let folder = tempfile::tempdir().unwrap();
    let own = own(folder.path());
    let long = "a".repeat(190);
    let names = [
        "Tray",
        "TRAY",
        "tray",
        "tray?",
        "tray:",
        "t/ray",
        "t\\ray",
        "CON",
        "con",
        "nul",
        "...",
        "…",
        "tray 2",
        "cre\u{300}me",
        "cr\u{e8}me",
        &format!("{long}1"),
        &format!("{long}2"),
        "straße",
        "STRASSE",
        "LPT1.ron",
    ];
    for (i, name) in names.iter().enumerate() {
        own.keep(&tin(name, 10.0 + i as f64)).unwrap();
    }
    let all = own.list();
    assert!(all.unreadable.is_empty(), "{:?}", all.unreadable);
    for (i, name) in names.iter().enumerate() {
        let kept = all.tins.iter().find(|t| t.name == *name).unwrap();
        assert_eq!(kept.height_mm, 10.0 + i as f64, "{name}");
    }
    let mut lower: Vec<String> = files(&folder.path().join("library/tins"))
        .iter()
        .map(|p| p.file_name().unwrap().to_string_lossy().to_uppercase())
        .collect();
    assert!(lower.iter().all(|n| n.len() <= 120));
    lower.sort();
    lower.dedup();
    assert_eq!(lower.len(), names.len(), "{lower:?}");
}

#[test]
fn a_broken_entry_is_told_and_left_alone() {
    let folder = tempfile::tempdir().unwrap();
    let own = own(folder.path());
    own.keep(&tin("good", 30.0)).unwrap();
    let tins = folder.path().join("library/tins");
    fs::write(tins.join("tray.ron"), "(name: \"tray\", oh").unwrap();
    fs::write(
        tins.join("nameless.ron"),
        fs::read_to_string(tins.join("good.ron")).unwrap().replace("good", " "),
    )
    .unwrap();
    fs::write(tins.join("binary.ron"), b"\xff\xfe\x00").unwrap();
    fs::copy(tins.join("good.ron"), tins.join("good again.ron")).unwrap();
    fs::write(tins.join("notes.txt"), "not an entry").unwrap();
    let all = own.list();
    assert_eq!(all.tins.len(), 1);
    let told: Vec<(String, &str)> = all
        .unreadable
        .iter()
        .map(|(p, f)| (p.file_name().unwrap().to_string_lossy().into_owned(), f.code))
        .collect();
    let expected = [
        ("binary.ron", "not-utf8"),
        ("good.ron", "duplicate-name"),
        ("nameless.ron", "empty-name"),
        ("tray.ron", "unknown-field"),
    ];
    assert_eq!(told, expected.map(|(f, c)| (f.to_owned(), c)));
    // A new entry of that name does not go over it.
    own.keep(&tin("tray", 20.0)).unwrap();
    assert_eq!(fs::read_to_string(tins.join("tray.ron")).unwrap(), "(name: \"tray\", oh");
    assert_eq!(own.list().tins.len(), 2);
    let before = fs::read(tins.join("tray.ron")).unwrap();
    own.remove(LibraryShelf::Tins, "tray").unwrap();
    assert_eq!(fs::read(tins.join("tray.ron")).unwrap(), before);
}

#[test]
fn what_cannot_be_kept_is_refused_in_words() {
    let folder = tempfile::tempdir().unwrap();
    let own = own(folder.path());
    let words = |e: OwnEntry| own.keep(&e).unwrap_err().to_string();
    assert!(words(tin("  ", 3.0)).contains("no name"));
    assert!(words(tin("odd", f64::NAN)).contains("read the same"));
    let nowhere = OwnLibrary::at(None, Arc::new(RealDisk));
    assert!(nowhere.keep(&tin("tray", 3.0)).unwrap_err().to_string().contains("no folder"));
    assert!(nowhere.remove(LibraryShelf::Tins, "tray").is_ok() && nowhere.list().tins.is_empty());
    // A file stands where the folder should be.
    fs::write(folder.path().join("library"), "").unwrap();
    assert!(!own.keep(&tin("tray", 3.0)).unwrap_err().to_string().is_empty());
    assert_eq!(own.list().unreadable.len(), 4);
}

/// Whatever operation fails, and however, each entry is there as it was kept
/// before or as it was to be kept, and a failure is reported.
#[test]
fn no_failure_of_the_disk_loses_an_entry() {
    for way in WAYS {
        for for_ever in [false, true] {
            for at in 0.. {
                let folder = tempfile::tempdir().unwrap();
                own(folder.path()).keep(&tin("Tray", 1.0)).unwrap();
                own(folder.path()).keep(&tin("other", 2.0)).unwrap();
                let disk = Arc::new(Faulty::new(at, for_ever, way));
                let faulty = OwnLibrary::at(Some(folder.path().to_owned()), disk.clone());
                let results = [
                    faulty.keep(&tin("Tray", 3.0)).is_ok(),
                    faulty.keep(&tin("tray", 4.0)).is_ok(),
                    faulty.remove(LibraryShelf::Tins, "other").is_ok(),
                ];
                look(&own(folder.path()), results, way);
                if disk.operations() <= at {
                    assert!(at > 15, "only {at} operations");
                    break;
                }
            }
        }
    }
}

fn look(own: &OwnLibrary, [tray, small, other]: [bool; 3], way: Way) {
    let all = own.list();
    let height = |name: &str| all.tins.iter().find(|t| t.name == name).map(|t| t.height_mm);
    let done = way == Way::DoneButFailed;
    assert!(all.tins.len() <= 3, "{:?}", all.tins);
    match height("Tray") {
        Some(3.0) => {}
        before => assert!(!tray && before == Some(1.0), "{before:?}"),
    }
    match height("tray") {
        Some(4.0) => assert!(small || done),
        before => assert!(!small && before.is_none(), "{before:?}"),
    }
    match height("other") {
        None => assert!(other || done),
        before => assert!(!other && before == Some(2.0), "{before:?}"),
    }
    // Only what the fault itself left.
    assert!(all.unreadable.is_empty(), "{:?}", all.unreadable);
}
