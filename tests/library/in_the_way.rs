//! Links, pipes, folders, protected and shared files put in the way of every
//! file the program writes: nothing of anybody else's is changed, nothing is
//! made elsewhere, and nothing is waited for without end. The table of it is in
//! `tests/testing.md`.

use std::fs;
use std::os::unix::fs::{FileTypeExt, MetadataExt, PermissionsExt, symlink};
use std::path::{Path, PathBuf};
use std::process::Command;
use std::sync::Arc;

use chrono::NaiveDate;
use ovenbell::file::copies::{copy_beside, copy_elsewhere};
use ovenbell::file::file_hold::hold_path;
use ovenbell::file::format::SavedClass;
use ovenbell::file::open_lesson::{Over, Safekeeping};
use ovenbell::file::outcomes::note_outcome;
use ovenbell::file::own_library::{OwnEntry, OwnLibrary};
use ovenbell::file::{Backup, RealDisk, backup_path, load_lesson, write_atomically};
use ovenbell::model::PastBake;
use ovenbell::session::{Document, DocumentId};
use ovenbell::units::ExactMinutes;

const LESSON: &str = include_str!("../../lessons/a-scones-hour.ron");
const THEIRS: &str = "somebody else's, and none of ours\n";

/// What stands where the program is to write.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Thing {
    Link,
    Dangling,
    HardLink,
    Pipe,
    DeviceLink,
    Folder,
    Protected,
}

const THINGS: [Thing; 7] = [
    Thing::Link,
    Thing::Dangling,
    Thing::HardLink,
    Thing::Pipe,
    Thing::DeviceLink,
    Thing::Folder,
    Thing::Protected,
];

/// A folder to work in, and another that is none of the program's business.
struct Place {
    ours: tempfile::TempDir,
    theirs: tempfile::TempDir,
}

impl Place {
    fn new() -> Self {
        let place =
            Self { ours: tempfile::tempdir().unwrap(), theirs: tempfile::tempdir().unwrap() };
        fs::write(place.victim(), THEIRS).unwrap();
        fs::write(place.lesson(), LESSON).unwrap();
        place
    }

    fn victim(&self) -> PathBuf {
        self.theirs.path().join("victim")
    }

    fn nothing(&self) -> PathBuf {
        self.theirs.path().join("nothing")
    }

    fn lesson(&self) -> PathBuf {
        self.ours.path().join("lesson.ron")
    }

    fn data(&self) -> PathBuf {
        self.ours.path().join("data")
    }

    fn table(&self) -> PathBuf {
        self.ours.path().join("bakes.csv")
    }

    fn plan(&self) -> PathBuf {
        self.ours.path().join("plan.ron")
    }

    fn keeping(&self) -> Safekeeping {
        Safekeeping::new(Arc::new(RealDisk), Some(self.data()))
    }

    fn put(&self, thing: Thing, at: &Path) {
        fs::create_dir_all(at.parent().unwrap()).unwrap();
        let _ = fs::remove_file(at);
        match thing {
            Thing::Link => symlink(self.victim(), at).unwrap(),
            Thing::Dangling => symlink(self.nothing(), at).unwrap(),
            Thing::HardLink => fs::hard_link(self.victim(), at).unwrap(),
            Thing::Pipe => {
                assert!(Command::new("mkfifo").arg(at).status().unwrap().success());
            }
            Thing::DeviceLink => symlink("/dev/null", at).unwrap(),
            Thing::Folder => fs::create_dir(at).unwrap(),
            Thing::Protected => {
                fs::write(at, THEIRS).unwrap();
                fs::set_permissions(at, fs::Permissions::from_mode(0o444)).unwrap();
            }
        }
    }

    /// What was put there is there still, and nothing happened elsewhere.
    fn is_unharmed(&self, thing: Thing, at: &Path, what: &str) {
        assert_eq!(fs::read_to_string(self.victim()).unwrap(), THEIRS, "{what}");
        let elsewhere = fs::read_dir(self.theirs.path()).unwrap().count();
        assert_eq!(elsewhere, 1, "{what}: something was made elsewhere");
        assert!(fs::metadata("/dev/null").unwrap().file_type().is_char_device());
        let about = fs::symlink_metadata(at).unwrap();
        match thing {
            Thing::Link | Thing::Dangling | Thing::DeviceLink => {
                assert!(about.is_symlink(), "{what}")
            }
            // A new file may take the name; the other name keeps its file.
            Thing::HardLink => assert!(about.is_file(), "{what}"),
            Thing::Pipe => assert!(about.file_type().is_fifo(), "{what}"),
            Thing::Folder => assert!(about.is_dir(), "{what}"),
            Thing::Protected => {
                assert_eq!(fs::read_to_string(at).unwrap(), THEIRS, "{what}");
                assert_eq!(about.mode() & 0o777, 0o444, "{what}");
            }
        }
    }
}

fn open(place: &Place) -> Document {
    let past = Arc::from([]);
    Document::open(Document::read, &place.lesson(), &place.keeping(), DocumentId::default(), past)
        .unwrap()
        .0
}

fn change(doc: &mut Document, title: &str) {
    let mut file = doc.file().clone();
    file.title = title.to_owned();
    // Where it may only be read, it is refused.
    let _ = doc.change_to("title".into(), file);
    doc.care().flush();
}

fn bake() -> PastBake {
    PastBake {
        date: NaiveDate::from_ymd_opt(2026, 11, 24),
        recipe: "scones".into(),
        tin: "tray".into(),
        oven: String::new(),
        celsius: None,
        minutes: ExactMinutes::new(12.0).unwrap(),
        note: String::new(),
    }
}

/// A change that is not saved, with something in the way of its copy: it is
/// kept in the other place, found again, and what is in the way stays.
fn with_a_copy_in_the_way(thing: Thing, at: impl Fn(&Place) -> PathBuf, what: &str) {
    let place = Place::new();
    let at = at(&place);
    place.put(thing, &at);
    let mut doc = open(&place);
    change(&mut doc, "changed");
    assert_eq!(doc.care().trouble(), None, "{what}");
    drop(doc);
    let doc = open(&place);
    assert_eq!(doc.file().title, "changed", "{what}");
    place.is_unharmed(thing, &at, what);
}

#[test]
fn the_note_of_an_open_lesson() {
    for thing in THINGS {
        let place = Place::new();
        let note = hold_path(&place.lesson());
        place.put(thing, &note);
        let mut doc = open(&place);
        let what = format!("{thing:?}");
        let why = doc.care().read_only().map(str::to_owned);
        assert!(why.is_some_and(|why| why.contains(".lesson.ron.open")), "{what}");
        change(&mut doc, "changed");
        assert!(doc.save(Over::All).is_err(), "{what}");
        drop(doc);
        place.is_unharmed(thing, &note, &what);
        assert_eq!(fs::read_to_string(place.lesson()).unwrap(), LESSON);
        assert_eq!(fs::read_dir(place.ours.path()).unwrap().count(), 2, "{what}");
    }
}

#[test]
fn the_copies_of_changes_not_saved() {
    for thing in THINGS {
        let beside = |place: &Place| copy_beside(&place.lesson());
        with_a_copy_in_the_way(thing, beside, &format!("{thing:?} beside"));
        let elsewhere = |place: &Place| copy_elsewhere(&place.data(), &place.lesson());
        with_a_copy_in_the_way(thing, elsewhere, &format!("{thing:?} elsewhere"));
    }
}

#[test]
fn the_file_as_it_was_before() {
    for thing in THINGS {
        let place = Place::new();
        let backup = backup_path(&place.lesson());
        place.put(thing, &backup);
        let mut doc = open(&place);
        change(&mut doc, "changed");
        let what = format!("{thing:?}");
        let why = doc.save(Over::Nothing).unwrap_err().to_string();
        assert!(why.contains("lesson.ron.bak"), "{what}: {why}");
        assert!(doc.changed, "{what}");
        assert_eq!(fs::read_to_string(place.lesson()).unwrap(), LESSON, "{what}");
        place.is_unharmed(thing, &backup, &what);
        // Elsewhere it can be saved.
        let other = place.ours.path().join("other.ron");
        doc.save_as(&other, Over::Nothing).unwrap();
        assert!(load_lesson(&other).is_ok());
    }
}

#[test]
fn the_lesson_saved_as_another() {
    for thing in THINGS {
        let place = Place::new();
        let other = place.ours.path().join("other.ron");
        place.put(thing, &other);
        fs::write(backup_path(&other), "older still").unwrap();
        let mut doc = open(&place);
        change(&mut doc, "changed");
        let saved = doc.save_as(&other, Over::All);
        match thing {
            // A link that a user names is gone to, and a file with another name
            // is a file: asked about, they are written over.
            Thing::Link => {
                assert!(saved.is_ok());
                assert!(load_lesson(&place.victim()).is_ok());
                assert_eq!(fs::read_to_string(backup_path(&place.victim())).unwrap(), THEIRS);
                assert!(fs::symlink_metadata(&other).unwrap().is_symlink());
            }
            Thing::HardLink => {
                assert!(saved.is_ok());
                place.is_unharmed(thing, &other, "hard link");
            }
            _ => {
                assert!(saved.is_err(), "{thing:?}");
                assert_eq!(fs::read_to_string(backup_path(&other)).unwrap(), "older still");
                place.is_unharmed(thing, &other, &format!("{thing:?}"));
            }
        }
    }
}

#[test]
fn the_table_of_bakes() {
    /// Which file it is.
    type At = fn(&Place) -> PathBuf;
    let ways: [(&str, At); 3] = [
        ("table", |place| place.table()),
        ("note", |place| hold_path(&place.table())),
        ("before", |place| backup_path(&place.table())),
    ];
    for thing in THINGS {
        for (which, at) in ways {
            let place = Place::new();
            fs::write(place.table(), "recipe,tin,minutes\n").unwrap();
            let at = at(&place);
            place.put(thing, &at);
            let what = format!("{thing:?} {which}");
            // A bake with nothing but what the table has columns for.
            let refused = note_outcome(&place.table(), &bake());
            let refused = refused.unwrap_err().to_string();
            let name = at.file_name().unwrap().to_str().unwrap();
            let is_folder = matches!(thing, Thing::Folder);
            // Where there is something to read, it is told of the text found, or of
            // what a link leads to.
            let is_read = which == "table" && !matches!(thing, Thing::Dangling | Thing::Pipe);
            assert!(refused.contains(name) || is_folder || is_read, "{what}: {refused}");
            place.is_unharmed(thing, &at, &what);
            if which != "table" {
                let text = fs::read_to_string(place.table()).unwrap();
                assert_eq!(text, "recipe,tin,minutes\n", "{what}");
            }
        }
    }
}

#[test]
fn plans_and_settings() {
    for thing in THINGS {
        for (backup, which) in [(Backup::Keep, "plan"), (Backup::None, "settings")] {
            let place = Place::new();
            place.put(thing, &place.plan());
            let written = write_atomically(&place.plan(), b"ours", backup);
            let what = format!("{thing:?} {which}");
            match thing {
                Thing::Link => {
                    assert_eq!(fs::read_to_string(place.victim()).unwrap(), "ours", "{what}");
                }
                Thing::HardLink => {
                    assert!(written.is_ok(), "{what}");
                    place.is_unharmed(thing, &place.plan(), &what);
                }
                _ => {
                    assert!(written.is_err(), "{what}");
                    place.is_unharmed(thing, &place.plan(), &what);
                }
            }
        }
    }
}

#[test]
fn the_users_own_library() {
    let class = |name: &str| {
        let mut class = SavedClass::default();
        class.class.name = name.to_owned();
        OwnEntry::Class(class)
    };
    for thing in THINGS {
        let place = Place::new();
        let own = OwnLibrary::at(Some(place.data()), Arc::new(RealDisk));
        let shelf = place.data().join("library/classes");
        for (at, which) in [
            (shelf.join("8 Harbour.ron"), "entry"),
            (place.data().join("library/.classes.open"), "note"),
        ] {
            place.put(thing, &at);
            let what = format!("{thing:?} {which}");
            let kept = own.keep(&class("8 Harbour"));
            assert_eq!(kept.is_ok(), which == "entry", "{what}: {:?}", kept.err());
            assert_eq!(own.list().classes.len(), 1, "{what}");
            place.is_unharmed(thing, &at, &what);
            if fs::symlink_metadata(&at).unwrap().is_dir() {
                fs::remove_dir(&at).unwrap();
            } else {
                fs::remove_file(&at).unwrap();
            }
        }
    }
}

#[test]
fn what_is_kept_of_a_lesson_is_no_more_open_than_it() {
    for mode in [0o600, 0o640, 0o644, 0o660] {
        let place = Place::new();
        let lesson = place.lesson();
        fs::set_permissions(&lesson, fs::Permissions::from_mode(mode)).unwrap();
        let mode_of = |path: &Path| fs::metadata(path).unwrap().mode() & 0o777;
        let mut doc = open(&place);
        change(&mut doc, "one");
        assert_eq!(mode_of(&copy_beside(&lesson)), mode, "the copy of {mode:o}");
        doc.save(Over::Nothing).unwrap();
        assert_eq!(mode_of(&lesson), mode, "the lesson of {mode:o}");
        assert_eq!(mode_of(&backup_path(&lesson)), mode, "what was before {mode:o}");
        // With the place beside it taken, the copy goes to the user's data.
        place.put(Thing::Pipe, &copy_beside(&lesson));
        change(&mut doc, "two");
        assert_eq!(mode_of(&copy_elsewhere(&place.data(), &lesson)), mode, "elsewhere {mode:o}");
    }
    // A lesson that was never saved is its user's alone.
    let place = Place::new();
    let mut doc = Document::read(LESSON, None, DocumentId::default(), Arc::from([])).unwrap();
    doc.keep_safe(&place.keeping());
    change(&mut doc, "new");
    let copies = fs::read_dir(place.data().join("unsaved")).unwrap();
    let copy =
        copies.map(|e| e.unwrap()).find(|e| !e.file_name().to_string_lossy().starts_with('.'));
    assert_eq!(copy.unwrap().metadata().unwrap().mode() & 0o777, 0o600);
}

#[test]
fn a_protected_lesson_may_only_be_read() {
    let place = Place::new();
    fs::set_permissions(place.lesson(), fs::Permissions::from_mode(0o444)).unwrap();
    let past = Arc::from([]);
    let (mut doc, told) = Document::open(
        Document::read,
        &place.lesson(),
        &place.keeping(),
        DocumentId::default(),
        past,
    )
    .unwrap();
    assert_eq!(told, ["Open to read only: its file is write-protected."]);
    let mut file = doc.file().clone();
    file.title = "changed".into();
    assert!(doc.change_to("title".into(), file).is_err());
    let why = doc.save(Over::All).unwrap_err().to_string();
    assert!(why.contains("write-protected") && why.contains("Save as"), "{why}");
    let same = doc.save_as(&place.lesson(), Over::All).unwrap_err().to_string();
    assert!(same.contains("write-protected"), "{same}");
    assert_eq!(fs::read_to_string(place.lesson()).unwrap(), LESSON);
    assert_eq!(fs::metadata(place.lesson()).unwrap().mode() & 0o777, 0o444);
    let other = place.ours.path().join("other.ron");
    doc.save_as(&other, Over::Nothing).unwrap();
    assert!(doc.care().read_only().is_none());
    change(&mut doc, "changed");
    doc.save(Over::Nothing).unwrap();
    assert_eq!(load_lesson(&other).unwrap().file.title, "changed");
}
