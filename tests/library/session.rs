//! A lesson worked on without a window, and questions worked on beside it.
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, AtomicUsize, Ordering};
use std::time::{Duration, Instant};

use crate::common::faulty::{Faulty, Way};
use ovenbell::edit::Edit;
use ovenbell::file::{RealDisk, load_lesson};
use ovenbell::session::{
    Clock, Command, DocumentId, Event, Heard, Leaving, Question, Revision, Session, SessionStart,
    Study, Unsaved, Wake,
};
use ovenbell::setup::again::Pupils;

fn nobody() -> Wake {
    Arc::new(|| {})
}

fn session(folder: &std::path::Path) -> Session {
    Session::new(SessionStart {
        wake: nobody(),
        disk: Arc::new(RealDisk),
        clock: Clock::default(),
        outcomes: None,
        data: Some(folder.to_owned()),
        documents: Some(folder.to_owned()),
        runs: None,
        decodings: None,
    })
}

fn settle(session: &mut Session) {
    let begun = Instant::now();
    session.listen(None);
    while session.is_busy() {
        assert!(begun.elapsed() < Duration::from_secs(120), "no plan comes");
        std::thread::sleep(Duration::from_millis(5));
        session.listen(None);
    }
}

fn leave_out(group: &str) -> Command {
    Command::Edit(Edit::LeftOut { group: group.to_owned(), out: true })
}

#[test]
fn a_lesson_is_planned_changed_undone_and_saved_without_a_window() {
    let folder = tempfile::tempdir().unwrap();
    let mut session = session(folder.path());
    session.begin(None, None);
    assert!(session.events().contains(&Event::Demo));
    settle(&mut session);
    let first = session.current_plan().unwrap().objective();
    let group = session.document().unwrap().file().groups[0].name.clone();
    session.apply(leave_out(&group));
    settle(&mut session);
    assert_ne!(session.current_plan().unwrap().objective(), first);
    assert!(session.before().is_some());
    session.apply(Command::Undo);
    settle(&mut session);
    assert_eq!(session.current_plan().unwrap().objective(), first);
    session.apply(Command::Redo);
    session.apply(Command::Save);
    assert!(session.events().contains(&Event::WhereToSave), "it has no file yet");
    let path = folder.path().join("lesson.ron");
    session.apply(Command::SaveAs(path.clone()));
    assert_eq!(session.events(), [Event::FileUsed(path.clone())]);
    assert!(!session.document().unwrap().changed);
    let saved = load_lesson(&path).unwrap();
    assert_eq!(saved.file, *session.document().unwrap().file());
}

#[test]
fn changes_are_not_lost_unless_that_is_wanted() {
    let folder = tempfile::tempdir().unwrap();
    let mut session = session(folder.path());
    session.begin(None, None);
    let group = session.document().unwrap().file().groups[0].name.clone();
    let first = session.document().unwrap().id();
    session.apply(leave_out(&group));
    session.apply(Command::New);
    assert_eq!(session.leaving(), Some(&Leaving::New));
    session.answer_leaving(Unsaved::Stay);
    assert_eq!(session.document().unwrap().id(), first);
    assert!(!session.may_close());
    session.answer_leaving(Unsaved::Lose);
    assert!(session.events().contains(&Event::Close));
}

/// What is told goes when it is no longer so.
#[test]
fn it_is_said_that_nothing_is_kept_for_as_long_as_that_is_so() {
    for has_file in [false, true] {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("lesson.ron");
        std::fs::write(&path, include_str!("../../lessons/demo.ron")).unwrap();
        let full = Arc::new(Faulty::new(usize::MAX, true, Way::Refused));
        let mut session = Session::new(SessionStart {
            wake: nobody(),
            disk: full.clone(),
            clock: Clock::default(),
            outcomes: None,
            data: Some(folder.path().join("data")),
            documents: None,
            runs: None,
            decodings: None,
        });
        session.begin(has_file.then(|| path.clone()), None);
        settle(&mut session);
        full.break_now();
        let group = session.document().unwrap().file().groups[0].name.clone();
        session.apply(leave_out(&group));
        let says = |session: &mut Session| {
            session.listen(None);
            session.message().is_some_and(|words| words.contains("would be lost"))
        };
        let wait_for = |session: &mut Session, said: bool| {
            let begun = Instant::now();
            while says(session) != said {
                assert!(begun.elapsed() < Duration::from_secs(60), "never {said}, {has_file}");
                std::thread::sleep(Duration::from_millis(5));
            }
        };
        wait_for(&mut session, true);
        full.mend();
        wait_for(&mut session, false);
    }
}

fn now() -> Revision {
    Revision::first(DocumentId::default())
}

fn heard<Q: Send + 'static, A: Send + 'static>(
    study: &mut Study<Q, A>,
    now: Revision,
) -> Vec<Heard<A>> {
    let begun = Instant::now();
    let mut all = Vec::new();
    while study.is_busy() {
        assert!(begun.elapsed() < Duration::from_secs(60), "no answer comes");
        all.extend(study.hear(Some(now)));
        std::thread::yield_now();
    }
    all
}

#[test]
fn a_study_that_does_nothing_ends() {
    let woken = Arc::new(AtomicUsize::new(0));
    let count = Arc::clone(&woken);
    let wake: Wake = Arc::new(move || {
        count.fetch_add(1, Ordering::SeqCst);
    });
    let mut study: Study<(), ()> = Study::new(&wake, |(), _, _| Ok(()));
    assert!(!study.is_busy());
    study.ask(now(), ());
    assert_eq!(heard(&mut study, now()), [Heard::Ended]);
    assert_eq!(woken.load(Ordering::SeqCst), 1);
}

#[test]
fn a_study_answers_the_last_question_only_and_only_for_its_revision() {
    let twice = |n: u32, _: &AtomicBool, tell: &dyn Fn(u32)| {
        tell(2 * n);
        Ok(())
    };
    let mut study = Study::new(&nobody(), twice);
    study.ask(now(), 1);
    study.ask(now(), 4);
    assert_eq!(heard(&mut study, now()), [Heard::Answer(8), Heard::Ended]);
    study.ask(now(), 5);
    let later = now().next();
    assert_eq!(heard(&mut study, later), [], "the lesson is another one");
    study.ask(later, 6);
    study.forget();
    assert!(!study.is_busy());
    study.ask(later, 7);
    assert_eq!(heard(&mut study, later), [Heard::Answer(14), Heard::Ended]);
}

#[test]
fn a_study_that_is_stopped_tells_what_it_has() {
    let until_stopped = |(): (), stop: &AtomicBool, tell: &dyn Fn(&'static str)| {
        tell("begun");
        while !stop.load(Ordering::SeqCst) {
            std::thread::yield_now();
        }
        tell("ended");
        Ok(())
    };
    let mut study = Study::new(&nobody(), until_stopped);
    study.ask(now(), ());
    let mut all = Vec::new();
    while all.is_empty() {
        all.extend(study.hear(Some(now())));
    }
    study.stop();
    assert!(study.is_stopped());
    all.extend(heard(&mut study, now()));
    assert_eq!(all, [Heard::Answer("begun"), Heard::Answer("ended"), Heard::Ended]);
}

#[test]
fn a_study_that_fails_says_so_and_answers_the_next_question() {
    let work = |fail: bool, _: &AtomicBool, tell: &dyn Fn(bool)| {
        assert!(!fail, "as asked");
        tell(true);
        Ok(())
    };
    let mut study = Study::new(&nobody(), work);
    study.ask(now(), true);
    let fault = "the planner stopped with a fault of its own".to_owned();
    assert_eq!(heard(&mut study, now()), [Heard::Fault(fault)]);
    study.ask(now(), false);
    assert_eq!(heard(&mut study, now()), [Heard::Answer(true), Heard::Ended]);
}

#[test]
fn states_of_documents_differ() {
    let one = DocumentId::default();
    let other = one.next();
    assert_ne!(Revision::first(one), Revision::first(other));
    assert_ne!(Revision::first(one).next(), Revision::first(one));
    assert_eq!(Revision::first(other).next().document(), other);
}

/// A file with needs, a pace and a borrowed oven.
fn of_a_class(folder: &std::path::Path) -> std::path::PathBuf {
    let mut file =
        ovenbell::file::read_lesson(include_str!("../../lessons/demo.ron")).unwrap().file;
    file.groups[0].needs = vec!["made without egg".into()];
    let mut oven = file.room.ovens[0].clone();
    (oven.name, oven.count, oven.borrowed) = ("Borrowed oven".into(), None, true);
    file.room.ovens.push(oven);
    let path = folder.join("lesson.ron");
    std::fs::write(&path, ovenbell::file::write_lesson(&file).unwrap()).unwrap();
    path
}

#[test]
fn taught_again_to_another_class_nothing_is_kept_of_the_first() {
    for pupils in [Pupils::Same, Pupils::Others] {
        let folder = tempfile::tempdir().unwrap();
        let mut session = session(folder.path());
        session.begin(Some(of_a_class(folder.path())), None);
        let before = session.document().unwrap().id();
        session.apply(Command::Again);
        let Some(Question::Again(said)) = session.question() else { panic!("not asked") };
        assert!(said.iter().any(|s| s.contains("needs")), "{said:?}");
        assert_eq!(session.document().unwrap().id(), before, "nothing is done before the answer");
        session.answered(true);
        session.apply(Command::AgainTo(pupils));
        let file = session.document().unwrap().file();
        let is_same = pupils == Pupils::Same;
        assert_eq!(file.groups.iter().any(|g| !g.needs.is_empty()), is_same);
        assert_eq!(file.class.name.is_empty(), !is_same);
        assert!(file.room.ovens.iter().all(|o| !o.borrowed));
        let told = session.message().unwrap();
        assert!(told.contains("gone back: Borrowed oven"), "{told}");
        assert_eq!(told.contains("ask about its needs"), !is_same, "{told}");
    }
}

#[test]
fn of_a_lesson_that_says_nothing_of_pupils_nothing_is_asked() {
    let folder = tempfile::tempdir().unwrap();
    let mut session = session(folder.path());
    session.apply(Command::New);
    let before = session.document().unwrap().id();
    session.apply(Command::Again);
    if session.leaving().is_some() {
        session.answer_leaving(Unsaved::Lose);
    }
    assert_eq!(session.question(), None);
    assert_ne!(session.document().unwrap().id(), before);
}

#[test]
fn a_picture_is_told_as_one_and_its_bytes_are_not_shown() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("board.ron");
    std::fs::write(&path, b"\x89PNG\r\n\x1a\n\0\0\0\rIHDR\n\n").unwrap();
    let mut session = session(folder.path());
    session.apply(Command::Open(path));
    let broken = session.broken().unwrap();
    assert_eq!(broken.findings[0].message, "is a picture (PNG), not a lesson");
    assert!(broken.lines.is_empty() && !broken.can_be_put_right);
}
