//! What the window asks and says so that no work is lost.

use std::fs;
use std::path::{Path, PathBuf};
use std::time::{Duration, Instant};

use crate::common::spoken::{lesson, quick, says, spoken};
use egui_kittest::Harness;
use egui_kittest::kittest::Queryable;
use ovenbell::app::{App, Start};
use ovenbell::edit::Edit;
use ovenbell::file::copies::copy_beside;
use ovenbell::file::file_hold::hold_path;
use ovenbell::file::{load_lesson, read_lesson_shapes};
use ovenbell::session::Command as LessonCommand;

type Window = Harness<'static, App>;

fn window(file: Option<PathBuf>, data: &Path) -> Window {
    let start = Start { file, data: Some(data.to_owned()), paths_by_field: true, ..quick() };
    let mut harness = Harness::builder()
        .with_size([1280.0, 800.0])
        .with_max_steps(200)
        .build_eframe(|cc| App::new(&cc.egui_ctx, start));
    harness.run_steps(5);
    harness
}

fn change(harness: &mut Window, pupils: i64) {
    let edit = Edit::Pupils { group: "Unit 1".into(), pupils };
    harness.state_mut().apply(LessonCommand::Edit(edit));
    harness.run_steps(3);
}

fn press(harness: &mut Window, label: &str) {
    // A question stands before whatever else has such a button.
    harness.get_all_by_label(label).last().unwrap().click();
    harness.run_steps(5);
}

/// Fills the one field that is there.
fn enter(harness: &mut Window, text: &str) {
    harness.run_steps(3);
    let all = egui::Modifiers::COMMAND;
    harness.key_press_modifiers(all, egui::Key::A);
    harness.event(egui::Event::Text(text.to_owned()));
    harness.run_steps(3);
    harness.key_press(egui::Key::Enter);
    harness.run_steps(5);
}

fn close(harness: &mut Window) {
    let root = egui::ViewportId::ROOT;
    let viewport = harness.input_mut().viewports.entry(root).or_default();
    viewport.events.push(egui::ViewportEvent::Close);
    harness.run_steps(3);
}

fn pupils(path: &Path) -> Option<i64> {
    read_lesson_shapes(&fs::read_to_string(path).unwrap()).unwrap().groups[0].pupils
}

fn wait_for(what: &str, mut there: impl FnMut() -> bool) {
    let begun = Instant::now();
    while !there() {
        assert!(begun.elapsed() < Duration::from_secs(30), "{what}");
        std::thread::sleep(Duration::from_millis(10));
    }
}

#[test]
fn saving_before_another_is_opened_saves_and_goes_on() {
    let data = tempfile::tempdir().unwrap();
    let (path, other) = (lesson("demo.ron"), lesson("a-scones-hour.ron"));
    let mut harness = window(Some(path.clone()), data.path());
    change(&mut harness, 3);
    harness.state_mut().apply(LessonCommand::Open(other.clone()));
    harness.run_steps(5);
    assert!(says(&harness, "changes that are not saved"));
    press(&mut harness, "Save");
    assert!(!says(&harness, "changes that are not saved"));
    assert_eq!(harness.state().document().unwrap().path, Some(other));
    assert_eq!(pupils(&path), Some(3));
    assert!(!copy_beside(&path).exists() && !hold_path(&path).exists());
}

#[test]
fn saving_before_closing_asks_before_it_writes_over_another_program() {
    let data = tempfile::tempdir().unwrap();
    let path = lesson("demo.ron");
    let mut harness = window(Some(path.clone()), data.path());
    change(&mut harness, 3);
    let theirs = format!("{}// theirs\n", fs::read_to_string(&path).unwrap());
    fs::write(&path, &theirs).unwrap();
    close(&mut harness);
    press(&mut harness, "Save");
    assert!(says(&harness, "Another program has changed the file"), "{:?}", spoken(&harness));
    assert_eq!(fs::read_to_string(&path).unwrap(), theirs, "nothing is written before the answer");
    press(&mut harness, "Back to the lesson");
    let doc = harness.state().document().unwrap();
    assert!(doc.changed && doc.path.as_deref() == Some(&*path));
    assert_eq!(fs::read_to_string(&path).unwrap(), theirs);
}

#[test]
fn a_failed_saving_leaves_everything_open_and_says_why() {
    let data = tempfile::tempdir().unwrap();
    let path = lesson("demo.ron");
    let mut harness = window(Some(path.clone()), data.path());
    change(&mut harness, 3);
    let aside = path.with_extension("aside");
    fs::rename(&path, &aside).unwrap();
    fs::create_dir(&path).unwrap();
    harness.state_mut().apply(LessonCommand::Open(lesson("a-scones-hour.ron")));
    harness.run_steps(5);
    press(&mut harness, "Save");
    assert!(
        says(&harness, "there is a folder of this name; choose another"),
        "{:?}",
        spoken(&harness)
    );
    let doc = harness.state().document().unwrap();
    assert!(doc.changed && doc.path.as_deref() == Some(&*path));
    // Put right, saving does not go on to what was asked before.
    fs::remove_dir(&path).unwrap();
    fs::rename(&aside, &path).unwrap();
    harness.state_mut().apply(LessonCommand::Save);
    harness.run_steps(5);
    let doc = harness.state().document().unwrap();
    assert!(!doc.changed && doc.path.as_deref() == Some(&*path));
}

#[test]
fn closing_asks_and_a_lesson_without_a_file_is_saved_where_the_field_says() {
    let data = tempfile::tempdir().unwrap();
    let mut harness = window(None, data.path());
    change(&mut harness, 3);
    close(&mut harness);
    assert!(says(&harness, "changes that are not saved"));
    press(&mut harness, "Save");
    assert!(says(&harness, "Save to this file:"), "{:?}", spoken(&harness));
    // A sensible path stands there: the lesson's title and day in a likely
    // folder.
    let title = harness.state().document().unwrap().file().title.clone();
    let named = |s: &String| s.contains(&title) && s.ends_with(".ron");
    let offered = spoken(&harness).into_iter().find(named);
    assert!(offered.is_some_and(|s| Path::new(&s).is_absolute()), "{:?}", spoken(&harness));
    let path = data.path().join("mine");
    enter(&mut harness, &path.display().to_string());
    let path = data.path().join("mine.ron");
    assert_eq!(harness.state().document().unwrap().path.as_ref(), Some(&path));
    assert_eq!(pupils(&path), Some(3));
    assert!(fs::read_dir(data.path().join("unsaved")).unwrap().next().is_none());
}

#[test]
fn changes_may_be_lost_if_that_is_wanted() {
    let data = tempfile::tempdir().unwrap();
    let path = lesson("demo.ron");
    let before = fs::read(&path).unwrap();
    let mut harness = window(Some(path.clone()), data.path());
    change(&mut harness, 3);
    wait_for("no copy is written", || copy_beside(&path).exists());
    close(&mut harness);
    press(&mut harness, "Close without saving");
    assert!(!copy_beside(&path).exists());
    drop(harness);
    assert_eq!(fs::read(&path).unwrap(), before);
    assert_eq!(fs::read_dir(path.parent().unwrap()).unwrap().count(), 1);
}

#[test]
fn a_lesson_of_a_run_that_ended_is_there_at_the_next_start() {
    let data = tempfile::tempdir().unwrap();
    for pupils in [3, 4] {
        let mut harness = window(Some(lesson("demo.ron")), data.path());
        harness.state_mut().apply(LessonCommand::OpenDemo);
        change(&mut harness, pupils);
        drop(harness); // as if the program had ended
    }
    assert_eq!(fs::read_dir(data.path().join("unsaved")).unwrap().count(), 2);
    let mut harness = window(None, data.path());
    assert!(says(&harness, "that were not saved"), "{:?}", spoken(&harness));
    assert!(says(
        &harness,
        "Another lesson that was not saved is in the menu Lesson, under Recent."
    ));
    let doc = harness.state().document().unwrap();
    assert!(doc.changed && doc.path.is_none());
    assert_eq!(doc.file().groups[0].pupils, Some(4), "the newest comes first");
    press(&mut harness, "Lesson");
    press(&mut harness, "Recent");
    harness.get_by_label_contains("Not saved: ").click();
    harness.run_steps(5);
    press(&mut harness, "Open without saving");
    assert_eq!(harness.state().document().unwrap().file().groups[0].pupils, Some(3));
    harness.state_mut().apply(LessonCommand::SaveAs(data.path().join("kept.ron")));
    harness.run_steps(3);
    drop(harness);
    assert!(fs::read_dir(data.path().join("unsaved")).unwrap().next().is_none());
    let harness = window(None, data.path());
    assert!(!says(&harness, "that were not saved"));
}

#[test]
fn a_lesson_open_in_another_window_may_only_be_read() {
    let data = tempfile::tempdir().unwrap();
    let path = lesson("demo.ron");
    let first = window(Some(path.clone()), data.path());
    let mut second = window(Some(path.clone()), data.path());
    assert!(says(&second, "Open to read only: it is open in another window since"));
    change(&mut second, 3);
    assert!(says(&second, "The lesson may only be read: it is open in another window since"));
    assert!(!second.state().document().unwrap().changed);
    let other = path.with_file_name("mine.ron");
    second.state_mut().apply(LessonCommand::SaveAs(other.clone()));
    change(&mut second, 3);
    second.state_mut().apply(LessonCommand::Save);
    second.run_steps(3);
    assert_eq!(pupils(&other), Some(3));
    drop(first);
    // The same window may open its own file again.
    second.state_mut().apply(LessonCommand::Open(other.clone()));
    change(&mut second, 4);
    assert!(second.state().document().unwrap().changed);
}

#[test]
fn what_another_program_wrote_is_asked_about() {
    let data = tempfile::tempdir().unwrap();
    let path = lesson("demo.ron");
    let text = fs::read_to_string(&path).unwrap();
    let mut harness = window(Some(path.clone()), data.path());
    change(&mut harness, 3);
    let theirs = format!("// by hand\n{text}");
    fs::write(&path, &theirs).unwrap();
    harness.state_mut().apply(LessonCommand::Save);
    harness.run_steps(3);
    assert!(says(&harness, "Another program has changed the file"));
    press(&mut harness, "Back to the lesson");
    assert_eq!(fs::read_to_string(&path).unwrap(), theirs);
    harness.state_mut().apply(LessonCommand::Save);
    harness.run_steps(3);
    press(&mut harness, "Read it again");
    assert!(!harness.state().document().unwrap().changed);
    assert!(says(&harness, "Undo goes back to the lesson as it was here."));
    harness.state_mut().apply(LessonCommand::Undo);
    fs::write(&path, &text).unwrap();
    harness.state_mut().apply(LessonCommand::Save);
    harness.run_steps(3);
    press(&mut harness, "Save over it");
    assert_eq!(pupils(&path), Some(3));
    // Another file is not written over unasked either.
    let other = lesson("a-scones-hour.ron");
    harness.state_mut().apply(LessonCommand::SaveAs(other.clone()));
    harness.run_steps(3);
    assert!(says(&harness, "already"));
    press(&mut harness, "Save over it");
    assert_eq!(pupils(&other), Some(3));
}

#[test]
fn a_class_is_cleared_after_it_was_said_what_goes() {
    let data = tempfile::tempdir().unwrap();
    let path = lesson("demo.ron");
    let text = fs::read_to_string(&path).unwrap();
    let name = load_lesson(&path).unwrap().lesson.class.name.clone();
    assert!(!name.is_empty() && text.contains("//"));
    let mut harness = window(Some(path.clone()), data.path());
    harness.state_mut().apply(LessonCommand::ClearClass);
    harness.run_steps(3);
    assert!(says(&harness, &format!("the class's name, {name}")), "{:?}", spoken(&harness));
    assert!(says(&harness, "this cannot be taken back"));
    press(&mut harness, "Keep everything");
    assert_eq!(fs::read_to_string(&path).unwrap(), text);
    change(&mut harness, 3);
    harness.state_mut().apply(LessonCommand::ClearClass);
    harness.run_steps(3);
    press(&mut harness, "Clear this class");
    assert!(says(&harness, "The class is cleared."), "{:?}", spoken(&harness));
    let after = fs::read_to_string(&path).unwrap();
    assert!(!after.contains("//") && !after.contains(&format!("name: \"{name}\"")));
    let doc = harness.state().document().unwrap();
    assert!(!doc.changed && doc.can_undo().is_none());
    assert_eq!(pupils(&path), Some(3));
}
