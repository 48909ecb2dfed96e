//! Full disks and such as can only be read, as they really are: small ones made
//! for the purpose, where this system lets tests mount any.

use std::fs;
use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::sync::Arc;

use crate::common::skipped::skipped;
use ovenbell::edit::Edit;
use ovenbell::file::copies::copy_elsewhere;
use ovenbell::file::open_lesson::{Over, Safekeeping};
use ovenbell::file::own_library::{OwnEntry, OwnLibrary};
use ovenbell::file::{RealDisk, library, read_lesson_shapes};
use ovenbell::session::{Document, DocumentId};

const TEXT: &str = include_str!("../../lessons/a-scones-hour.ron");

/// A small disk, unmounted when dropped.
pub(crate) struct Small {
    folder: tempfile::TempDir,
}

impl Small {
    /// `None`, and said so, where mounting is refused.
    pub(crate) fn mount(kb: usize) -> Option<Self> {
        let small = Self { folder: tempfile::tempdir().unwrap() };
        let mounted =
            run("mount", &["-t", "tmpfs", "-o", &format!("size={kb}k"), "tmpfs"], small.at());
        if !mounted {
            skipped("this system lets tests mount no disks");
            return None;
        }
        Some(small)
    }

    pub(crate) fn at(&self) -> &Path {
        self.folder.path()
    }

    /// With a lesson on it.
    fn with_lesson() -> Option<Self> {
        let small = Self::mount(64)?;
        fs::write(small.lesson(), TEXT).unwrap();
        Some(small)
    }

    fn lesson(&self) -> PathBuf {
        self.at().join("lesson.ron")
    }

    /// Writes until nothing more can be.
    fn fill(&self) {
        self.fill_but(0);
    }

    /// The same, and then leaves room for so many bytes, by pages.
    pub(crate) fn fill_but(&self, bytes: u64) {
        let mut file = fs::File::create(self.at().join("filler")).unwrap();
        while file.write(&[b'x'; 512]).is_ok_and(|n| n > 0) {}
        let length = file.metadata().unwrap().len();
        file.set_len(length.saturating_sub(bytes)).unwrap();
    }

    pub(crate) fn read_only(&self) {
        assert!(run("mount", &["-o", "remount,ro"], self.at()));
    }
}

impl Drop for Small {
    fn drop(&mut self) {
        run("umount", &["-l"], self.at());
    }
}

pub(crate) fn run(program: &str, args: &[&str], at: &Path) -> bool {
    let mut command = Command::new(program);
    command.args(args).arg(at).stdout(Stdio::null()).stderr(Stdio::null());
    command.status().is_ok_and(|s| s.success())
}

fn open(path: &Path, data: Option<&Path>) -> (Document, Vec<String>) {
    let keeping = Safekeeping::new(Arc::new(RealDisk), data.map(Path::to_path_buf));
    Document::open(Document::read, path, &keeping, DocumentId::default(), Arc::from([])).unwrap()
}

fn change(doc: &mut Document, title: &str) {
    let mut file = doc.file().clone();
    file.title = title.to_owned();
    doc.change_to("title".into(), file).unwrap();
    doc.care().flush();
}

fn title(path: &Path) -> String {
    read_lesson_shapes(&fs::read_to_string(path).unwrap()).unwrap().title
}

#[test]
fn on_a_full_disk_nothing_is_lost_and_it_is_said() {
    let Some(disk) = Small::with_lesson() else { return };
    let data = tempfile::tempdir().unwrap();
    let (mut doc, _) = open(&disk.lesson(), Some(data.path()));
    disk.fill();
    // Copies go to the other disk meanwhile.
    change(&mut doc, "one");
    assert_eq!(doc.care().trouble(), None);
    assert!(copy_elsewhere(data.path(), &disk.lesson()).exists());
    let words = doc.save(Over::Nothing).unwrap_err().to_string();
    assert!(words.contains("no space left on the disk; make some"), "{words}");
    assert!(doc.changed);
    assert_eq!(fs::read_to_string(disk.lesson()).unwrap(), TEXT);
    drop(doc);
    // Opened on the full disk, the changes are there, and can go elsewhere.
    let (mut doc, told) = open(&disk.lesson(), Some(data.path()));
    assert!(doc.changed && doc.file().title == "one", "{told:?}");
    let other = data.path().join("other.ron");
    doc.save_as(&other, Over::Nothing).unwrap();
    assert_eq!(title(&other), "one");
    drop(doc);
    // With room again all is as it should be.
    fs::remove_file(disk.at().join("filler")).unwrap();
    let (mut doc, told) = open(&disk.lesson(), Some(data.path()));
    assert!(!doc.changed && told.is_empty(), "{told:?}");
    change(&mut doc, "two");
    doc.save(Over::Nothing).unwrap();
    assert_eq!(title(&disk.lesson()), "two");
}

#[test]
fn on_a_full_disk_without_another_it_is_said_that_no_copies_are_kept() {
    let Some(disk) = Small::with_lesson() else { return };
    let data = disk.at().join("data");
    let (mut doc, _) = open(&disk.lesson(), Some(&data));
    disk.fill();
    change(&mut doc, "one");
    let trouble = doc.care().trouble().unwrap();
    assert!(trouble.contains("no space left"), "{trouble}");
    assert!(doc.save(Over::Nothing).is_err());
    fs::remove_file(disk.at().join("filler")).unwrap();
    change(&mut doc, "two");
    assert_eq!(doc.care().trouble(), None);
    doc.save(Over::Nothing).unwrap();
    assert_eq!(title(&disk.lesson()), "two");
    drop(doc);
    let names: Vec<_> = fs::read_dir(disk.at()).unwrap().map(|e| e.unwrap().file_name()).collect();
    assert!(names.iter().all(|n| !n.to_string_lossy().starts_with('.')), "{names:?}");
}

#[test]
fn on_a_disk_that_can_only_be_read_a_lesson_can_be_read_and_saved_elsewhere() {
    let Some(disk) = Small::with_lesson() else { return };
    disk.read_only();
    let data = tempfile::tempdir().unwrap();
    let (mut doc, told) = open(&disk.lesson(), Some(data.path()));
    assert!(told[0].contains("Open to read only: nothing can be written"), "{told:?}");
    let refused = doc.apply(&Edit::LeftOut { group: "x".into(), out: true }).unwrap_err();
    assert!(refused[0].message.contains("\"Save as…\" makes it your own"), "{refused:?}");
    let words = doc.save_as(&disk.at().join("b.ron"), Over::Nothing).unwrap_err().to_string();
    assert!(words.contains("can only be read; save to another folder"), "{words}");
    doc.save_as(&data.path().join("mine.ron"), Over::Nothing).unwrap();
    change(&mut doc, "mine");
    doc.save(Over::Nothing).unwrap();
    assert_eq!(title(&data.path().join("mine.ron")), "mine");
    assert_eq!(fs::read_to_string(disk.lesson()).unwrap(), TEXT);
    // The user's own library is on such a disk.
    let own = OwnLibrary::at(Some(disk.at().to_owned()), Arc::new(RealDisk));
    let tin = OwnEntry::Tin(library::tins().unwrap().remove(0));
    let words = own.keep(&tin).unwrap_err().to_string();
    assert!(words.contains("can only be read"), "{words}");
}
