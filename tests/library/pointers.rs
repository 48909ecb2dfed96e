//! Files that point to each other: by the path from their own folder, and by
//! the lesson's id, wherever that lesson has gone.

use crate::common::how_many::FEW_PLANS;
use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

use ovenbell::file::format::PointerShape;
use ovenbell::file::open_lesson::{OpenLesson, Safekeeping};
use ovenbell::file::{Disk, LessonId, RealDisk, Target, id_of, load_lesson, read_lesson_shapes};
use ovenbell::session::{Clock, Command, Leaving, Question, Session, SessionStart};

const SCONES: &str = include_str!("../cases/good/scones.ron");
const DAY: &str = include_str!("../cases/good/today.ron");

/// A folder, its links followed.
fn folder() -> (tempfile::TempDir, PathBuf) {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().canonicalize().unwrap();
    (folder, path)
}

/// A file of a lesson that has an id, or none.
fn lesson(at: &Path, id: &str) -> PathBuf {
    fs::create_dir_all(at.parent().unwrap()).unwrap();
    let id = if id.is_empty() { String::new() } else { format!("id: \"{id}\", ") };
    fs::write(at, SCONES.replacen("title:", &format!("{id}title:"), 1)).unwrap();
    at.to_owned()
}

/// A copy for the day that points so.
fn day_of(of: &str) -> String {
    let line = DAY.lines().find(|l| l.trim_start().starts_with("of: (")).unwrap();
    DAY.replacen(line, &format!("        {of},"), 1)
}

fn pointer(file: &str, id: &str) -> PointerShape {
    PointerShape { file: file.to_owned(), id: (!id.is_empty()).then(|| id.to_owned()) }
}

#[test]
fn a_path_leads_from_the_folder_of_the_file_that_points() {
    let (_keep, root) = folder();
    for folder in ["", "8a", "8a/autumn", "9 b/c"] {
        fs::create_dir_all(root.join(folder)).unwrap();
    }
    for (from, file, path) in [
        ("", "sponge.ron", "sponge.ron"),
        ("", "8a/autumn/sponge.ron", "8a/autumn/sponge.ron"),
        ("8a", "sponge.ron", "../sponge.ron"),
        ("8a/autumn", "9 b/c/s.ron", "../../9 b/c/s.ron"),
        ("9 b/c", "9 b/c/s.ron", "s.ron"),
    ] {
        let there = PointerShape::to(&root.join(file), Some(&root.join(from)), None).unwrap();
        assert_eq!(there.file, path);
        assert_eq!(there.path(&root.join(from)), root.join(file));
        // The same file from another folder, and from none.
        let moved = there.moved(&root.join(from), Some(&root.join("8a")));
        assert_eq!(moved.path(&root.join("8a")), root.join(file));
        let whole = there.moved(&root.join(from), None);
        assert_eq!(Path::new(&whole.file), root.join(file));
        assert_eq!(whole.moved(Path::new("anywhere"), Some(&root.join(from))), there);
    }
}

#[test]
#[cfg(unix)]
fn a_name_that_would_be_read_otherwise_elsewhere_is_not_written() {
    let (_keep, root) = folder();
    assert_eq!(PointerShape::to(&root.join("8a\\sponge.ron"), Some(&root), None), None);
    // Links are gone through, so that `..` means the folder above on the disk.
    fs::create_dir_all(root.join("far/away")).unwrap();
    std::os::unix::fs::symlink(root.join("far/away"), root.join("near")).unwrap();
    let file = lesson(&root.join("lesson.ron"), "");
    let there = PointerShape::to(&file, Some(&root.join("near")), None).unwrap();
    assert_eq!(there.file, "../../lesson.ron");
    assert_eq!(there.path(&root.join("near")), file);
}

#[test]
fn a_lesson_that_was_moved_is_found_by_its_id() {
    let (_keep, root) = folder();
    let leads = |pointer: &PointerShape| pointer.leads(&RealDisk, &root);
    let of = pointer("8a/sponge.ron", "heron-4c2f");
    assert_eq!(leads(&of), Target::Nowhere);
    let file = lesson(&root.join("8a/sponge.ron"), "heron-4c2f");
    assert_eq!(leads(&of), Target::There { file: file.clone(), twins: vec![] });
    // Another lesson in its place is not it, one of no id is, for want of a better.
    let moved = root.join("8a/autumn/cake.ron");
    fs::create_dir_all(moved.parent().unwrap()).unwrap();
    fs::rename(&file, &moved).unwrap();
    assert_eq!(leads(&of), Target::Found(moved.clone()));
    lesson(&file, "wren-91ab");
    assert_eq!(leads(&of), Target::Found(moved.clone()));
    lesson(&file, "");
    assert_eq!(leads(&of), Target::Found(moved.clone()));
    fs::remove_file(&moved).unwrap();
    assert_eq!(leads(&of), Target::There { file: file.clone(), twins: vec![] });
    fs::remove_file(&file).unwrap();
    // Two have it: none is chosen, unless it is at its path.
    let (one, two) = (root.join("8a/a.ron"), root.join("9/b.RON"));
    lesson(&one, "heron-4c2f");
    lesson(&two, "heron-4c2f");
    assert_eq!(leads(&of), Target::Several(vec![one.clone(), two.clone()]));
    lesson(&file, "heron-4c2f");
    let twins = vec![one.clone(), two.clone()];
    assert_eq!(leads(&of), Target::There { file: file.clone(), twins });
    // Without an id the path is all there is.
    assert!(matches!(leads(&pointer("8a/a.ron", "")), Target::There { .. }));
    assert_eq!(leads(&pointer("8a/none.ron", "")), Target::Nowhere);
}

#[test]
fn copies_of_unsaved_changes_and_files_elsewhere_are_not_found() {
    let (_keep, root) = folder();
    let below = root.join("below");
    fs::create_dir_all(&below).unwrap();
    for name in ["below/.a.ron.unsaved", "below/.hidden.ron", "below/.git/a.ron", "above.ron"] {
        lesson(&root.join(name), "heron-4c2f");
    }
    lesson(&below.join("a.ron.bak"), "heron-4c2f");
    fs::write(below.join("b.ron"), "no lesson at all: heron-4c2f").unwrap();
    assert_eq!(pointer("a.ron", "heron-4c2f").leads(&RealDisk, &below), Target::Nowhere);
    assert!(matches!(pointer("a.ron", "heron-4c2f").leads(&RealDisk, &root), Target::Found(_)));
}

#[test]
fn what_a_pointer_leads_to_is_told_with_its_line() {
    let (_keep, root) = folder();
    let day = root.join("day.ron");
    let of = "of: (file: \"8a/sponge.ron\", id: \"heron-4c2f\")";
    let text = day_of(of);
    fs::write(&day, &text).unwrap();
    let line = text.lines().position(|l| l.contains(of)).unwrap() + 1;
    let told = || {
        let warnings = load_lesson(&day).unwrap().warnings;
        assert!(warnings.iter().all(|w| w.code == "pointer" && w.place.unwrap().line == line));
        warnings.iter().map(|w| format!("{}; {}", w.message, w.hint)).collect::<Vec<_>>().join("|")
    };
    assert!(told().starts_with("\"8a/sponge.ron\" (heron-4c2f) is not there, nor below"));
    lesson(&root.join("8a/autumn/cake.ron"), "heron-4c2f");
    let found = told();
    assert!(
        found.contains("found in 8a/autumn; ") && found.contains("`file: \"8a/autumn/cake.ron\"`")
    );
    lesson(&root.join("9/cake.ron"), "heron-4c2f");
    assert!(told().contains("\"8a/autumn/cake.ron\", \"9/cake.ron\" have its id"));
    lesson(&root.join("8a/sponge.ron"), "heron-4c2f");
    let twins = told();
    assert!(twins.starts_with("\"8a/sponge.ron\" and \"8a/autumn/cake.ron\", \"9/cake.ron\" have"));
    fs::remove_dir_all(root.join("8a/autumn")).unwrap();
    fs::remove_dir_all(root.join("9")).unwrap();
    assert_eq!(told(), "");
}

#[test]
fn a_lesson_is_given_an_id_once_and_nothing_else_of_its_file_changes() {
    let (_keep, root) = folder();
    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
    let file = root.join("lesson.ron");
    let commented = SCONES.replacen("title:", "// a comment\n    title:", 1);
    fs::write(&file, &commented).unwrap();
    let id = id_of(&disk, &file).unwrap();
    let text = fs::read_to_string(&file).unwrap();
    assert_eq!(read_lesson_shapes(&text).unwrap().id, Some(id.to_string()));
    let without: Vec<&str> = text.lines().filter(|l| !l.contains(&id.to_string())).collect();
    assert_eq!(without, commented.lines().collect::<Vec<_>>());
    assert_eq!(id_of(&disk, &file), Some(id));
    assert_eq!(fs::read_to_string(&file).unwrap(), text, "it is written once");
    assert_eq!(fs::read_dir(&root).unwrap().count(), 1, "nothing is left beside it");
}

#[test]
fn a_file_that_may_not_be_written_is_given_no_id() {
    let (_keep, root) = folder();
    let disk: Arc<dyn Disk> = Arc::new(RealDisk);
    let file = lesson(&root.join("lesson.ron"), "");
    let unchanged = |file: &Path| {
        let before = fs::read(file).unwrap();
        assert_eq!(id_of(&disk, file), None);
        assert_eq!(fs::read(file).unwrap(), before);
    };
    let open = OpenLesson::open(&Safekeeping::default(), &file).unwrap();
    unchanged(&file);
    drop(open);
    // An older format would have to be brought up, which is the user's to do.
    fs::write(&file, SCONES.replacen("format: 2", "format: 1", 1)).unwrap();
    unchanged(&file);
    fs::write(&file, "no lesson").unwrap();
    unchanged(&file);
    lesson(&file, "not an id");
    unchanged(&file);
    lesson(&file, "");
    let mut protected = fs::metadata(&file).unwrap().permissions();
    protected.set_readonly(true);
    fs::set_permissions(&file, protected).unwrap();
    unchanged(&file);
    assert_eq!(id_of(&disk, &root.join("none.ron")), None);
}

fn opened(path: &Path) -> Session {
    let mut session = Session::new(SessionStart {
        wake: Arc::new(|| {}),
        disk: Arc::new(RealDisk),
        clock: Clock { day: Some("2026-11-24".parse().unwrap()), ..Clock::default() },
        outcomes: None,
        data: None,
        documents: None,
        runs: None,
        decodings: Some(FEW_PLANS),
    });
    session.apply(Command::Open(path.to_owned()));
    settle(&mut session);
    session
}

fn settle(session: &mut Session) {
    let begun = Instant::now();
    session.listen(None);
    while session.is_busy() {
        assert!(begun.elapsed() < Duration::from_secs(300), "no plan comes");
        std::thread::sleep(Duration::from_millis(2));
        session.listen(None);
    }
}

fn of(session: &Session) -> Option<PointerShape> {
    session.document().unwrap().file().today.as_ref()?.of.clone()
}

fn own_path(session: &Session) -> PathBuf {
    session.document().unwrap().path.clone().unwrap()
}

#[test]
fn a_copy_for_the_day_is_named_after_its_lesson_and_points_to_it() {
    let (_keep, root) = folder();
    let file = lesson(&root.join("8-harbour.ron"), "");
    let before = fs::read_to_string(&file).unwrap();
    let mut session = opened(&file);
    session.apply(Command::Today);
    settle(&mut session);
    assert_eq!(fs::read_to_string(&file).unwrap(), before, "nothing points to it yet");
    let copy = session.likely_path(true, None);
    assert_eq!(copy, root.join("8-harbour 2026-11-24.ron"), "not after its title");
    session.apply(Command::SaveAs(copy.clone()));
    let id = read_lesson_shapes(&fs::read_to_string(&file).unwrap()).unwrap().id.unwrap();
    assert!(id.parse::<LessonId>().is_ok());
    let saved = read_lesson_shapes(&fs::read_to_string(&copy).unwrap()).unwrap();
    assert_eq!(saved.id, None, "the id is the lesson's");
    assert_eq!(saved.today.unwrap().of, Some(pointer("8-harbour.ron", &id)));
    assert!(saved.told.is_some(), "with the plan that groups were told");
    // The same day is gone on with, and the way back is the pointer's.
    session.apply(Command::ToLesson);
    assert_eq!((own_path(&session), session.is_today()), (file.clone(), false));
    settle(&mut session);
    session.apply(Command::Today);
    assert_eq!((own_path(&session), session.is_today()), (copy.clone(), true));
    assert!(load_lesson(&copy).unwrap().warnings.is_empty());
    // In another folder the pointer still leads to the lesson, also after undo.
    fs::create_dir(root.join("taught")).unwrap();
    session.apply(Command::SaveAs(root.join("taught/day.ron")));
    assert!(load_lesson(&root.join("taught/day.ron")).unwrap().warnings.is_empty());
    let text = fs::read_to_string(root.join("taught/day.ron")).unwrap();
    let saved = read_lesson_shapes(&text).unwrap();
    assert_eq!(saved.today.unwrap().of, Some(pointer("../8-harbour.ron", &id)));
}

#[test]
fn a_lesson_found_elsewhere_is_offered_and_used() {
    let (_keep, root) = folder();
    lesson(&root.join("autumn/cake.ron"), "heron-4c2f");
    let day = root.join("day.ron");
    fs::write(&day, day_of("of: (file: \"cake.ron\", id: \"heron-4c2f\")")).unwrap();
    let mut session = opened(&day);
    let told = session.message().unwrap_or_default().to_owned();
    assert!(told.contains("\"cake.ron\" (heron-4c2f) is not there; found in autumn."), "{told}");
    session.apply(Command::ToLesson);
    let found = root.join("autumn/cake.ron");
    let asked = Question::Found(found.clone(), "autumn/cake.ron".to_owned());
    assert_eq!(session.question(), Some(&asked));
    session.answered(true);
    session.apply(Command::UseLesson(found.clone()));
    assert!(session.document().unwrap().changed);
    session.apply(Command::Undo);
    assert_eq!(of(&session).unwrap().path(&root), root.join("cake.ron"));
    session.apply(Command::Redo);
    session.apply(Command::Save);
    let saved = read_lesson_shapes(&fs::read_to_string(&day).unwrap()).unwrap();
    assert_eq!(saved.today.unwrap().of, Some(pointer("autumn/cake.ron", "heron-4c2f")));
    session.apply(Command::ToLesson);
    assert_eq!(own_path(&session), found);
    assert_eq!(session.leaving(), None::<&Leaving>);
}

#[test]
fn a_lesson_saved_as_another_leaves_its_id_behind() {
    let (_keep, root) = folder();
    let file = lesson(&root.join("lesson.ron"), "heron-4c2f");
    let id = |path: &Path| read_lesson_shapes(&fs::read_to_string(path).unwrap()).unwrap().id;
    let mut session = opened(&file);
    let group = session.document().unwrap().file().groups[0].name.clone();
    let rename = |session: &mut Session, to: &str| {
        let group = ovenbell::model::GroupId(0);
        session.apply(Command::RenameGroup(group, to.to_owned()));
    };
    rename(&mut session, "First");
    session.apply(Command::Save);
    assert_eq!(id(&file).as_deref(), Some("heron-4c2f"), "saving keeps it");
    let other = root.join("other.ron");
    session.apply(Command::SaveAs(other.clone()));
    assert_eq!((id(&other), id(&file).as_deref()), (None, Some("heron-4c2f")));
    // What was changed before it became another lesson does not bring it back.
    session.apply(Command::Undo);
    session.apply(Command::Save);
    assert_eq!(id(&other), None);
    let text = fs::read_to_string(&other).unwrap();
    assert!(text.contains(&group) && !text.contains("First"));
}
