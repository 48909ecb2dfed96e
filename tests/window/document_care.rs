//! A lesson opened, changed, saved, saved elsewhere and cleared, with any one
//! of the disk's operations failing: the user's work is whole somewhere, and
//! where it is not safe that was said.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::Duration;

use crate::common::faulty::{Faulty, WAYS, Way};
use ovenbell::edit::Edit;
use ovenbell::file::copies::{copy_beside, copy_elsewhere, find, left_behind, unsaved_folder};
use ovenbell::file::file_hold::hold_path;
use ovenbell::file::format::{ClassShape, LessonFile, SavedClass};
use ovenbell::file::open_lesson::{NotSaved, Over, Safekeeping};
use ovenbell::file::own_library::{OwnEntry, OwnLibrary};
use ovenbell::file::{Disk, RealDisk, backup_path, clear, read_lesson_shapes};
use ovenbell::session::{Document, DocumentId};

const TEXT: &str = r#"// The class of Friday; Unit 2 has a broken arm.
(
    format: 2, // the first
    title: "Scones",
    class: (name: "8 Harbour"),
    period: (
        start: "10:05", end: "11:05",
        opening: [(name: "register", minutes: (3, 5, 6), adults: ["helper"])],
        closing: [(name: "unit check", minutes: (2, 3, 4))],
    ),
    room: (name: "Room 4", ovens: [(name: "Oven", count: 2)]),
    adults: [(name: "teacher"), (name: "helper", only_for: "Unit 2")],
    recipes: [(name: "buns", methods: [(name: "mix", steps: [
        (name: "mix", minutes: (8, 10, 12)), // by hand
        (name: "wash up", minutes: (8, 10, 12)),
    ])])],
    groups: [
        (name: "Unit 1", recipe: "buns"),
        (name: "Unit 2", recipe: "buns", pace: 1.4, needs: ["made without egg"]),
    ],
)
"#;

struct Place {
    folder: tempfile::TempDir,
}

impl Place {
    fn new() -> Self {
        let place = Self { folder: tempfile::tempdir().unwrap() };
        fs::create_dir(place.folder.path().join("lessons")).unwrap();
        fs::write(place.lesson(), TEXT).unwrap();
        let class = ClassShape { name: "8 Harbour".into(), ..ClassShape::default() };
        let class = SavedClass { class, ..SavedClass::default() };
        place.own(Arc::new(RealDisk)).keep(&OwnEntry::Class(class)).unwrap();
        place
    }

    fn lesson(&self) -> PathBuf {
        self.folder.path().join("lessons/lesson.ron")
    }

    fn other(&self) -> PathBuf {
        self.folder.path().join("lessons/other.ron")
    }

    fn data(&self) -> PathBuf {
        self.folder.path().join("data")
    }

    fn own(&self, disk: Arc<dyn Disk>) -> OwnLibrary {
        OwnLibrary::at(Some(self.data()), disk)
    }

    /// Copies are written when a test asks for it, and not tried again.
    fn keeping(&self, disk: Arc<dyn Disk>) -> Safekeeping {
        let every = Duration::from_secs(3600);
        Safekeeping { every, ..Safekeeping::new(disk, Some(self.data())) }
    }

    fn really(&self) -> Safekeeping {
        self.keeping(Arc::new(RealDisk))
    }

    fn open(&self) -> (Document, Vec<String>) {
        open(&self.lesson(), &self.really())
    }

    /// Names in the folder of lessons.
    fn names(&self) -> Vec<String> {
        names(&self.folder.path().join("lessons"))
    }
}

fn names(folder: &Path) -> Vec<String> {
    let Ok(entries) = fs::read_dir(folder) else { return Vec::new() };
    let mut names: Vec<String> =
        entries.map(|e| e.unwrap().file_name().to_string_lossy().into_owned()).collect();
    names.sort();
    names
}

fn open(path: &Path, keeping: &Safekeeping) -> (Document, Vec<String>) {
    Document::open(Document::read, path, keeping, DocumentId::default(), Arc::from([])).unwrap()
}

fn pupils(group: &str, pupils: i64) -> Edit {
    Edit::Pupils { group: group.into(), pupils }
}

fn shapes(path: &Path) -> LessonFile {
    read_lesson_shapes(&fs::read_to_string(path).unwrap()).unwrap()
}

/// What is said while a lesson is worked on, and what it must come to.
#[derive(Default)]
struct Story {
    /// Every state the lesson had.
    states: Vec<LessonFile>,
    /// The last that was reported as saved, and where.
    saved: Option<(PathBuf, LessonFile)>,
    /// The last of which a copy was reported as kept.
    kept: Option<LessonFile>,
    /// As it was at the end, and whether that was reported as unsaved.
    now: Option<(LessonFile, bool)>,
    /// Copies were reported as not being kept.
    trouble: bool,
    cleared: bool,
    told: Vec<String>,
}

impl Story {
    fn edit(&mut self, doc: &mut Document, edit: &Edit) {
        let before = doc.file().clone();
        match doc.apply(edit) {
            Ok(()) => {
                self.states.push(doc.file().clone());
                assert!(doc.changed);
                doc.care().flush();
                match doc.care().trouble() {
                    None => self.kept = Some(doc.file().clone()),
                    Some(words) => self.told.push(words),
                }
            }
            Err(findings) => {
                // Refused only with the reason, and nothing is changed.
                assert!(doc.care().read_only().is_some(), "{findings:?}");
                assert!(findings[0].message.contains("may only be read"));
                assert_eq!(*doc.file(), before);
            }
        }
    }

    fn saved(&mut self, doc: &Document, to: &Path, done: Result<Option<String>, NotSaved>) {
        match done {
            Ok(told) => {
                assert!(!doc.changed);
                assert_eq!(shapes(to), *doc.file(), "saved means saved");
                self.saved = Some((to.to_path_buf(), doc.file().clone()));
                self.kept = None;
                self.told.extend(told);
            }
            Err(problem) => {
                let words = problem.to_string();
                assert!(words.len() > 20, "{words}");
                self.told.push(words);
                doc.care().flush();
            }
        }
    }
}

fn session(place: &Place, disk: Arc<dyn Disk>) -> Story {
    let mut story = Story { states: vec![shapes(&place.lesson())], ..Story::default() };
    let keeping = place.keeping(Arc::clone(&disk));
    let opened = Document::open(
        Document::read,
        &place.lesson(),
        &keeping,
        DocumentId::default(),
        Arc::from([]),
    );
    let (mut doc, told) = match opened {
        Ok(opened) => opened,
        Err(findings) => {
            assert!(!findings.is_empty());
            return story;
        }
    };
    if doc.care().read_only().is_some() {
        assert!(told.iter().any(|t| t.contains("read only")), "{told:?}");
    }
    story.told.extend(told);
    story.edit(&mut doc, &pupils("Unit 1", 3));
    let done = doc.save(Over::Nothing);
    story.saved(&doc, &place.lesson(), done);
    story.edit(&mut doc, &pupils("Unit 1", 4));
    let done = doc.save_as(&place.other(), Over::Nothing);
    story.saved(&doc, &place.other(), done);
    story.edit(&mut doc, &pupils("Unit 2", 4));
    let to = doc.path.clone().unwrap();
    let done = doc.save(Over::Nothing);
    story.saved(&doc, &to, done);
    story.edit(&mut doc, &pupils("Unit 2", 1));
    if let Ok(remains) = doc.clear_class(&place.own(disk)) {
        story.states.push(doc.file().clone());
        story.kept = None;
        story.cleared = remains.is_empty();
        if !doc.changed {
            story.saved = Some((to, doc.file().clone()));
        }
        story.told.extend(remains);
        doc.care().flush();
    }
    story.trouble = doc.care().trouble().is_some();
    story.now = Some((doc.file().clone(), doc.changed));
    story
}

/// What is found of the lesson afterwards, each whole.
fn found(place: &Place, story: &Story) -> Vec<LessonFile> {
    let mut found = Vec::new();
    for path in [place.lesson(), place.other()] {
        for path in [path.clone(), backup_path(&path)] {
            if path.exists() {
                found.push(shapes(&path));
            }
        }
        for copy in [copy_beside(&path), copy_elsewhere(&place.data(), &path)] {
            if let Some(copy) = find(&RealDisk, &copy) {
                found.push(copy.says.unwrap().1);
            }
        }
    }
    for file in &found {
        assert!(story.states.contains(file), "nobody ever had this: {file:?}");
    }
    found
}

fn look(place: &Place, story: &Story, way: Way) {
    let found = found(place, story);
    if let Some((path, saved)) = &story.saved {
        let there = shapes(path);
        // Or a later one, of which it was said that it could not be saved.
        let later = story.states.iter().rposition(|s| *s == there);
        let then = story.states.iter().rposition(|s| s == saved);
        assert!(there == *saved || (later > then && way == Way::DoneButFailed), "{:?}", story.told);
    }
    if let Some(kept) = &story.kept {
        assert!(found.contains(kept), "a copy was said to be kept: {:?}", story.told);
    }
    let Some((now, changed)) = &story.now else { return };
    match (changed, &story.saved) {
        (false, Some((path, _))) => assert_eq!(shapes(path), *now),
        (false, None) => assert_eq!(shapes(&place.lesson()), story.states[0]),
        (true, _) => {
            assert!(!story.told.is_empty(), "nothing was said");
            assert!(found.contains(now) || story.trouble, "{:?}", story.told);
        }
    }
    if story.cleared {
        assert!(place.own(Arc::new(RealDisk)).list().classes.is_empty());
        let path = story.saved.as_ref().unwrap().0.clone();
        assert!(!backup_path(&path).exists() && !copy_beside(&path).exists());
        assert!(!fs::read_to_string(path).unwrap().contains("egg"));
    }
}

/// Opened once more and closed cleanly, nothing is left but lessons.
fn look_for_strays(place: &Place) {
    for path in [place.lesson(), place.other()] {
        if path.exists() {
            let (mut doc, _) = open(&path, &place.really());
            assert!(doc.care().read_only().is_none());
            doc.lose_changes().unwrap();
        }
    }
    // What is left of a file that never came to be is nobody's to clear away.
    let of_lesson = |name: &String| {
        name.starts_with('.') && (place.other().exists() || !name.contains("other"))
    };
    let strays: Vec<String> = place.names().into_iter().filter(of_lesson).collect();
    assert_eq!(strays, Vec::<String>::new());
    assert!(left_behind(&(Arc::new(RealDisk) as Arc<dyn Disk>), &place.data()).is_empty());
    assert_eq!(names(&unsaved_folder(&place.data())), Vec::<String>::new());
}

#[test]
fn whatever_fails_no_work_is_lost_and_it_is_said() {
    // Side by side: nearly all of the time is spent waiting for the disk.
    std::thread::scope(|scope| {
        for way in WAYS {
            for for_ever in [false, true] {
                scope.spawn(move || fails_at_every_operation(way, for_ever));
            }
        }
    });
}

fn fails_at_every_operation(way: Way, for_ever: bool) {
    let mut tried = 0;
    for at in 0.. {
        let place = Place::new();
        let disk = Arc::new(Faulty::new(at, for_ever, way));
        let story = session(&place, disk.clone());
        look(&place, &story, way);
        look_for_strays(&place);
        if disk.operations() <= at {
            break;
        }
        tried += 1;
    }
    assert!(tried > if for_ever { 20 } else { 35 }, "only {tried}");
}

#[test]
fn with_nothing_failing_all_is_saved_and_cleared() {
    let place = Place::new();
    let disk = Arc::new(Faulty::new(usize::MAX, true, Way::Refused));
    let story = session(&place, disk.clone());
    assert!(story.cleared && story.told.is_empty(), "{:?}", story.told);
    assert_eq!(place.names(), ["lesson.ron", "lesson.ron.bak", "other.ron"]);
    let text = fs::read_to_string(place.other()).unwrap();
    for gone in ["Harbour", "egg", "helper", "pace", "//", "broken arm"] {
        assert!(!text.contains(gone), "{gone} in {text}");
    }
    assert_eq!(fs::read_to_string(backup_path(&place.lesson())).unwrap(), TEXT);
    // What was saved before kept its comments.
    let first = fs::read_to_string(place.lesson()).unwrap();
    assert_eq!(first.lines().next(), TEXT.lines().next());
    assert!(first.contains("pupils: 3") && first.contains("// by hand"));
}

#[test]
fn a_second_window_may_only_read_until_the_first_is_closed() {
    let place = Place::new();
    let (mut first, told) = place.open();
    assert!(told.is_empty());
    let (mut second, told) = place.open();
    let since = ovenbell::units::local_now().format("%H:").to_string();
    assert!(told[0].contains("it is open in another window since"), "{told:?}");
    assert!(told[0].contains(&since), "{told:?}");
    first.apply(&pupils("Unit 1", 3)).unwrap();
    first.care().flush();
    let refused = second.apply(&pupils("Unit 1", 4)).unwrap_err();
    assert!(refused[0].message.contains("open in another window"), "{refused:?}");
    assert!(matches!(second.save(Over::All), Err(NotSaved::ReadOnly(_))));
    assert!(matches!(second.save_as(&place.lesson(), Over::All), Err(NotSaved::Failed(_))));
    assert!(second.clear_class(&place.own(Arc::new(RealDisk))).is_err());
    second.lose_changes().unwrap();
    assert!(copy_beside(&place.lesson()).exists(), "the first one's copy is not ours to remove");
    assert_eq!(fs::read_to_string(place.lesson()).unwrap(), TEXT);
    second.save_as(&place.other(), Over::Nothing).unwrap();
    second.apply(&pupils("Unit 1", 4)).unwrap();
    assert!(copy_beside(&place.lesson()).exists());
    second.save(Over::Nothing).unwrap();
    first.save(Over::Nothing).unwrap();
    assert!(hold_path(&place.lesson()).exists());
    drop(first);
    assert!(!hold_path(&place.lesson()).exists());
    let (third, told) = place.open();
    assert!(told.is_empty() && third.care().read_only().is_none());
}

#[test]
fn unsaved_changes_are_there_again_and_one_undo_goes_back() {
    let place = Place::new();
    let (mut doc, _) = place.open();
    doc.apply(&pupils("Unit 1", 3)).unwrap();
    doc.apply(&pupils("Unit 1", 4)).unwrap();
    let now = doc.file().clone();
    drop(doc); // as if the program had ended
    let copy = fs::read_to_string(copy_beside(&place.lesson())).unwrap();
    assert!(copy.starts_with("// The class of Friday") && copy.contains("pupils: 4"));
    let (mut doc, told) = place.open();
    let at = ovenbell::units::local_now().format("%H:").to_string();
    assert!(told[0].starts_with(&format!("Changes of {at}")), "{told:?}");
    assert!(doc.changed && *doc.file() == now);
    assert!(doc.can_undo().unwrap().starts_with("recovered changes of "));
    doc.undo();
    assert_eq!(*doc.file(), shapes(&place.lesson()));
    assert!(doc.can_undo().is_none());
    doc.redo();
    doc.save(Over::Nothing).unwrap();
    drop(doc);
    assert_eq!(place.names(), ["lesson.ron", "lesson.ron.bak"]);
    assert_eq!(shapes(&place.lesson()), now);
    let (_, told) = place.open();
    assert!(told.is_empty());
}

#[test]
fn a_copy_that_says_what_the_file_says_is_put_away() {
    let place = Place::new();
    fs::write(copy_beside(&place.lesson()), format!("{TEXT}// a comment more\n")).unwrap();
    let (doc, told) = place.open();
    assert!(told.is_empty() && !doc.changed);
    drop(doc);
    assert_eq!(place.names(), ["lesson.ron"]);
}

#[test]
fn a_copy_that_cannot_be_read_is_told_and_kept() {
    let place = Place::new();
    let copy = copy_beside(&place.lesson());
    for broken in [&b"(format: 2, oh"[..], &b"\xff\xfe\x00"[..], &b""[..]] {
        fs::write(&copy, broken).unwrap();
        let (mut doc, told) = place.open();
        assert!(told[0].contains("cannot be read") && told[0].contains("kept"), "{told:?}");
        assert!(!doc.changed);
        // Later changes have a copy elsewhere.
        doc.apply(&pupils("Unit 1", 3)).unwrap();
        doc.care().flush();
        assert_eq!(doc.care().trouble(), None);
        assert_eq!(fs::read(&copy).unwrap(), broken);
        let now = doc.file().clone();
        drop(doc);
        let (mut doc, told) = place.open();
        assert_eq!((told.len(), doc.file()), (2, &now));
        doc.lose_changes().unwrap();
        drop(doc);
        assert_eq!(fs::read(&copy).unwrap(), broken);
    }
}

#[test]
fn a_draft_is_recovered_as_a_draft() {
    let place = Place::new();
    let draft = TEXT.replace("recipe: \"buns\"),", "recipe: \"cakes\"),");
    fs::write(copy_beside(&place.lesson()), &draft).unwrap();
    let (mut doc, _) = place.open();
    assert!(doc.lesson().is_none() && !doc.to_do.is_empty());
    doc.undo();
    assert!(doc.lesson().is_some() && !doc.changed, "it is as the file is");
    doc.apply(&pupils("Unit 1", 7)).unwrap();
    drop(doc);
    // Even where the file itself is no lesson, or gone.
    fs::write(place.lesson(), "(format: 2, oh").unwrap();
    let (doc, told) = place.open();
    assert!(doc.changed && told[0].ends_with("The file itself cannot be read."), "{told:?}");
    drop(doc);
    fs::remove_file(place.lesson()).unwrap();
    let (mut doc, told) = place.open();
    assert!(told[0].ends_with("no longer there."), "{told:?}");
    assert!(doc.changed && doc.lesson().is_some());
    doc.save(Over::Nothing).unwrap();
    assert_eq!(shapes(&place.lesson()), *doc.file());
}

#[test]
fn a_lesson_without_a_file_is_kept_in_the_users_data() {
    let place = Place::new();
    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
    let mut doc = Document::read(TEXT, None, DocumentId::default(), Arc::from([])).unwrap();
    doc.keep_safe(&place.really());
    doc.apply(&pupils("Unit 1", 5)).unwrap();
    doc.care().flush();
    assert_eq!(doc.care().trouble(), None);
    assert!(left_behind(&disk, &place.data()).is_empty(), "it is open");
    let now = doc.file().clone();
    drop(doc);
    let left = left_behind(&disk, &place.data());
    assert_eq!(left.len(), 1);
    let take = |path: &Path| {
        Document::take_up(path, &place.really(), DocumentId::default(), Arc::from([]))
    };
    let (mut doc, told) = take(&left[0].path).unwrap();
    assert!(doc.changed && doc.path.is_none() && *doc.file() == now, "{told:?}");
    assert!(take(&left[0].path).is_err(), "it is open");
    doc.apply(&pupils("Unit 1", 6)).unwrap();
    doc.care().flush();
    assert_eq!(find(&RealDisk, &left[0].path).unwrap().says.unwrap().1, *doc.file());
    doc.save_as(&place.other(), Over::Nothing).unwrap();
    assert_eq!(names(&unsaved_folder(&place.data())), Vec::<String>::new());
    let text = fs::read_to_string(place.other()).unwrap();
    assert!(text.starts_with("// The class of Friday"), "comments are kept: {text}");
}

#[test]
fn copies_go_elsewhere_while_the_folder_cannot_be_written() {
    let place = Place::new();
    let (mut doc, _) = place.open();
    fs::create_dir(copy_beside(&place.lesson())).unwrap(); // in the way
    doc.apply(&pupils("Unit 1", 3)).unwrap();
    doc.care().flush();
    assert_eq!(doc.care().trouble(), None);
    let now = doc.file().clone();
    drop(doc);
    fs::remove_dir(copy_beside(&place.lesson())).unwrap();
    let copy = copy_elsewhere(&place.data(), &place.lesson());
    assert_eq!(find(&RealDisk, &copy).unwrap().of, Some(place.lesson()));
    // By its file, or among those left behind.
    let (doc, told) = place.open();
    assert!(doc.changed && *doc.file() == now && told.len() == 1);
    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
    assert!(left_behind(&disk, &place.data()).is_empty(), "its file is open");
    drop(doc);
    let left = left_behind(&disk, &place.data());
    let (mut doc, _) =
        Document::take_up(&left[0].path, &place.really(), DocumentId::default(), Arc::from([]))
            .unwrap();
    assert_eq!(doc.path.as_deref(), Some(&*place.lesson()));
    doc.save(Over::Nothing).unwrap();
    drop(doc);
    assert!(names(&unsaved_folder(&place.data())).is_empty());
    assert_eq!(shapes(&place.lesson()), now);
}

#[test]
fn what_another_program_wrote_is_not_written_over_unasked() {
    let place = Place::new();
    let (mut doc, _) = place.open();
    doc.apply(&pupils("Unit 1", 3)).unwrap();
    let mine = doc.file().clone();
    let theirs = TEXT.replace("\"Scones\"", "\"Cheese scones\"");
    fs::write(place.lesson(), &theirs).unwrap();
    assert_eq!(doc.save(Over::Nothing), Err(NotSaved::ChangedOnDisk));
    assert!(doc.changed);
    assert_eq!(fs::read_to_string(place.lesson()).unwrap(), theirs);
    doc.care().flush();
    assert!(copy_beside(&place.lesson()).exists());
    // Read again: mine is one undo away.
    doc.read_again().unwrap();
    assert_eq!(doc.file().title, "Cheese scones");
    assert!(!doc.changed && !copy_beside(&place.lesson()).exists());
    doc.undo();
    assert!(doc.changed && *doc.file() == mine);
    fs::write(place.lesson(), TEXT).unwrap();
    assert_eq!(doc.save(Over::Nothing), Err(NotSaved::ChangedOnDisk));
    doc.save(Over::File).unwrap();
    assert_eq!(shapes(&place.lesson()), mine);
    assert_eq!(fs::read_to_string(backup_path(&place.lesson())).unwrap(), TEXT);
}

#[test]
fn another_lesson_and_its_unsaved_changes_are_not_written_over_unasked() {
    let place = Place::new();
    fs::write(place.other(), TEXT).unwrap();
    let copy = copy_beside(&place.other());
    fs::write(&copy, TEXT.replace("Scones", "Stones")).unwrap();
    let (mut doc, _) = place.open();
    doc.apply(&pupils("Unit 1", 3)).unwrap();
    let refused = doc.save_as(&place.other(), Over::Nothing);
    assert!(matches!(refused, Err(NotSaved::HasCopy(..))), "{refused:?}");
    assert!(doc.save_as(&place.other(), Over::File).is_err() && copy.exists());
    fs::remove_file(&copy).unwrap();
    let refused = doc.save_as(&place.other(), Over::Nothing);
    assert!(matches!(refused, Err(NotSaved::Exists(_))), "{refused:?}");
    assert_eq!(doc.path.as_deref(), Some(&*place.lesson()));
    doc.save_as(&place.other(), Over::File).unwrap();
    assert_eq!(doc.path.as_deref(), Some(&*place.other()));
    assert_eq!(fs::read_to_string(backup_path(&place.other())).unwrap(), TEXT);
}

#[test]
fn clearing_says_what_remains() {
    let place = Place::new();
    let (mut doc, _) = place.open();
    doc.apply(&pupils("Unit 1", 3)).unwrap();
    doc.save(Over::Nothing).unwrap();
    doc.apply(&pupils("Unit 1", 4)).unwrap();
    doc.care().flush();
    assert_eq!(clear::what_goes(doc.file()).len(), 4);
    // The .bak cannot be removed: a folder of that name.
    fs::remove_file(backup_path(&place.lesson())).unwrap();
    fs::create_dir(backup_path(&place.lesson())).unwrap();
    let remains = doc.clear_class(&place.own(Arc::new(RealDisk))).unwrap();
    assert_eq!(remains.len(), 1);
    assert!(remains[0].contains("as it was before") && remains[0].contains(".bak"));
    assert!(!doc.changed && doc.can_undo().is_none() && doc.can_redo().is_none());
    let text = fs::read_to_string(place.lesson()).unwrap();
    assert!(!text.contains("//") && !text.contains("Harbour") && text.contains("pupils: 4"));
    assert!(!copy_beside(&place.lesson()).exists());
    assert!(place.own(Arc::new(RealDisk)).list().classes.is_empty());
    assert!(clear::what_goes(doc.file()).is_empty());
}

#[test]
fn a_refusal_says_what_to_do() {
    let place = Place::new();
    let (mut doc, _) = place.open();
    let mut words = |name: &str| {
        let path = place.folder.path().join(name);
        doc.save_as(&path, Over::Nothing).unwrap_err().to_string()
    };
    assert!(words("no/such/lesson.ron").contains("is not there; if it is on a stick"));
    assert!(words(&"a".repeat(300)).contains("cannot have this name here; choose another"));
    assert!(words("nul\0.ron").contains("cannot have this name here; choose another"));
    assert!(words("lessons").contains("there is a folder of this name; choose another"));
    assert!(words("lessons/lesson.ron/x.ron").contains("is no folder; save to another folder"));
}

/// Opened, changed, gone back and saved, a file is as it was to the letter.
#[test]
fn a_round_trip_changes_nothing() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let mut seen = 0;
    for from in ["lessons", "tests/cases/good"] {
        for name in names(&root.join(from)).into_iter().filter(|n| n.ends_with(".ron")) {
            let text = fs::read(root.join(from).join(&name)).unwrap();
            let place = Place::new();
            fs::write(place.lesson(), &text).unwrap();
            let (mut doc, told) = place.open();
            // That a lesson pointed to is not there is told, and changes nothing.
            let is_pointer = |t: &String| t.contains("nor below this folder");
            assert!(told.iter().all(is_pointer), "{name}: {told:?}");
            let mut file = doc.file().clone();
            file.title.push_str(" changed");
            file.groups[0].pupils = file.groups[0].pupils.or(Some(2)).map(|n| n + 1);
            if doc.change_to("change".into(), file.clone()).is_err() {
                file.groups[0].pupils = doc.file().groups[0].pupils;
                doc.change_to("change".into(), file).unwrap();
            }
            doc.undo();
            assert!(!doc.changed, "{name} is as it was saved");
            doc.save(Over::Nothing).unwrap();
            drop(doc);
            assert!(fs::read(place.lesson()).unwrap() == text, "{name} is not as it was");
            assert_eq!(place.names(), ["lesson.ron"]);
            seen += 1;
        }
    }
    assert!(seen > 15, "only {seen} files");
}
