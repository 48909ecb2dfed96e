//! The plan that was shown is the plan: it is kept with its lesson, comes back
//! when that is opened and on undo, and one that no longer holds is told of and
//! replaced.

use std::fs;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::time::{Duration, Instant};

use ovenbell::check::check;
use ovenbell::edit::Edit;
use ovenbell::file::format::{GroupShape, LessonFile};
use ovenbell::file::{RealDisk, load_lesson, read_lesson, write_lesson};
use ovenbell::keep::{Keeps, keeps, told};
use ovenbell::model::{GroupId, Lesson};
use ovenbell::plan::why::By;
use ovenbell::plan::{Plan, Refusal};
use ovenbell::session::{Clock, Command, Session, SessionStart};
use ovenbell::today::Happening;
use rand::SeedableRng;
use rand_pcg::Pcg64Mcg;

use crate::common::how_many::{FEW_PLANS, how_many_lessons};
use crate::common::{edits, generate};

const DEMO: &str = include_str!("../../lessons/demo.ron");

fn session(folder: &Path) -> Session {
    Session::new(SessionStart {
        wake: Arc::new(|| {}),
        disk: Arc::new(RealDisk),
        clock: Clock::default(),
        outcomes: None,
        data: Some(folder.join("data")),
        documents: None,
        runs: None,
        decodings: Some(FEW_PLANS),
    })
}

fn opened(path: &Path) -> Session {
    let mut session = session(path.parent().unwrap());
    session.apply(Command::Open(path.to_owned()));
    assert!(session.broken().is_none(), "{:?}", session.broken());
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

/// Waits for a plan and has no better one looked for.
fn take_the_first(session: &mut Session) {
    let begun = Instant::now();
    while session.current_plan().is_none() {
        assert!(begun.elapsed() < Duration::from_secs(300), "no plan comes");
        std::thread::sleep(Duration::from_millis(2));
        session.listen(None);
    }
    session.apply(Command::Stop);
    settle(session);
}

/// What is where and when; who is not served, whatever the reason.
fn placed(plan: &Plan) -> Plan {
    let mut plan = plan.clone();
    for group in &mut plan.not_served {
        (group.rules, group.reason) = (Vec::new(), String::new());
        (group.refusal, group.by) = (Refusal::NotFound, By::Nothing);
    }
    plan.not_served.sort_by_key(|n| n.group);
    Plan { bounds: None, ..plan }
}

fn shown(session: &Session) -> Plan {
    placed(session.current_plan().expect("a plan is shown").plan())
}

fn written(folder: &Path, text: &str) -> PathBuf {
    let path = folder.join("lesson.ron");
    fs::write(&path, text).unwrap();
    path
}

/// A file of a lesson with its plan, and that plan.
fn saved(folder: &Path, text: &str) -> (PathBuf, Plan) {
    let path = written(folder, text);
    let mut session = opened(&path);
    take_the_first(&mut session);
    session.apply(Command::Save);
    assert_eq!(session.message(), None);
    (path, shown(&session))
}

/// `OVENBELL_LESSONS=300 cargo test --test library kept_plan::` for more lessons.
#[test]
fn a_lesson_opened_again_and_any_state_gone_back_to_has_the_very_plan_it_had() {
    for seed in 0..how_many_lessons(6) {
        let folder = tempfile::tempdir().unwrap();
        let path = written(folder.path(), &write_lesson(&generate::lesson(seed)).unwrap());
        let mut rng = Pcg64Mcg::seed_from_u64(seed);
        let mut session = opened(&path);
        take_the_first(&mut session);
        let mut states = vec![shown(&session)];
        for _ in 0..3 {
            let before = session.document().unwrap().revision();
            let edit = edits::random(&mut rng, session.document().unwrap().file());
            session.apply(Command::Edit(edit));
            if session.document().unwrap().revision() != before {
                take_the_first(&mut session);
                states.push(shown(&session));
            }
        }
        for (i, state) in states.iter().enumerate().rev().skip(1) {
            session.apply(Command::Undo);
            assert_eq!(shown(&session), *state, "lesson {seed}, back to state {i}");
        }
        for (i, state) in states.iter().enumerate().skip(1) {
            session.apply(Command::Redo);
            assert_eq!(shown(&session), *state, "lesson {seed}, again to state {i}");
        }
        session.apply(Command::Save);
        drop(session);
        let mut again = opened(&path);
        assert_eq!(again.message(), None, "lesson {seed}");
        assert_eq!(&shown(&again), states.last().unwrap(), "lesson {seed}, opened again");
        take_the_first(&mut again);
        assert_eq!(&shown(&again), states.last().unwrap(), "lesson {seed}, once all is looked at");
        assert!(!again.document().unwrap().changed, "lesson {seed}: there is nothing to save");
    }
}

#[test]
fn comments_stay_where_a_plan_is_kept_in_a_hand_written_file() {
    let folder = tempfile::tempdir().unwrap();
    let (path, _) = saved(folder.path(), DEMO);
    let text = fs::read_to_string(&path).unwrap();
    for comment in DEMO.lines().filter(|line| line.trim_start().starts_with("//")) {
        assert!(text.contains(comment), "{comment}");
    }
    assert_eq!(fs::read_to_string(folder.path().join("lesson.ron.bak")).unwrap(), DEMO);
    // A comment in the plan stays as well.
    let text = text.replacen("    told: (", "    told: ( // as on the board", 1);
    fs::write(&path, &text).unwrap();
    let mut session = opened(&path);
    assert_eq!(session.message(), None);
    let title = Edit::LeftOut { group: "Unit 1".to_owned(), out: true };
    session.apply(Command::Edit(title));
    take_the_first(&mut session);
    session.apply(Command::Save);
    assert!(fs::read_to_string(&path).unwrap().contains("told: ( // as on the board"));
}

/// The lesson of a text, and whether the plan in it still holds.
fn holds(text: &str) -> (Lesson, bool) {
    let loaded = read_lesson(text).unwrap();
    let holds = told(&loaded.lesson, loaded.told.as_ref().unwrap()).is_ok();
    (loaded.lesson, holds)
}

/// The text with the first step of a group in the kept plan ending a minute later,
/// and the line of that.
fn longer(text: &str, group: &str) -> (usize, String) {
    let start = text.find("    told: (").unwrap();
    let steps = start + text[start..].find("    steps: [").unwrap();
    let step = steps + text[steps..].find(&format!("group: \"{group}\"")).unwrap();
    let at = step + text[step..].find("end: ").unwrap() + "end: ".len();
    let digits = text[at..].find(|c: char| c != '-' && !c.is_ascii_digit()).unwrap();
    let minute: i32 = text[at..at + digits].parse().unwrap();
    let entry = text[..step].rfind('(').unwrap();
    let line = text[..entry].matches('\n').count() + 1;
    (line, format!("{}{}{}", &text[..at], minute + 1, &text[at + digits..]))
}

/// The text with a method of a group in the kept plan that its recipe has not, and
/// the line of that.
fn another_method(text: &str, group: &str) -> (usize, String) {
    let start = text.find("    told: (").unwrap();
    let choice = start + text[start..].find(&format!("group: \"{group}\", method: \"")).unwrap();
    let at = choice + text[choice..].find("method: \"").unwrap() + "method: \"".len();
    let line = text[..at].matches('\n').count() + 1;
    (line, format!("{}un{}", &text[..at], &text[at..]))
}

#[test]
fn a_plan_edited_so_that_it_breaks_a_rule_is_told_and_replaced_and_the_others_stay() {
    type Break = fn(&str, &str) -> (usize, String);
    for (name, breaks) in [("Unit 2", longer as Break), ("Unit 8", another_method as Break)] {
        let folder = tempfile::tempdir().unwrap();
        let (path, before) = saved(folder.path(), DEMO);
        let text = fs::read_to_string(&path).unwrap();
        assert!(holds(&text).1);
        let (line, broken) = breaks(&text, name);
        fs::write(&path, &broken).unwrap();
        let (lesson, still) = holds(&broken);
        assert!(!still);
        let mut session = opened(&path);
        let said = session.message().unwrap().to_owned();
        assert!(said.contains("no longer holds"), "{said}");
        assert!(said.contains(&format!("line {line}")), "{line}: {said}");
        settle(&mut session);
        let was = check(&lesson, load_told(&text)).unwrap();
        let is = session.current_plan().unwrap();
        assert_eq!(is.plan().choices.len(), before.choices.len(), "nobody is lost");
        for group in lesson.attending().filter(|&g| lesson.group(g).name != name) {
            let kept = keeps((&lesson, &was, group), (&lesson, is, group));
            assert_eq!(kept, Some(Keeps::All), "{}", lesson.group(group).name);
        }
        assert!(session.document().unwrap().changed, "the new plan is not saved yet");
        assert!(fs::read_to_string(&path).unwrap() == broken, "nothing is lost");
        session.apply(Command::Save);
        let bak = fs::read_to_string(folder.path().join("lesson.ron.bak")).unwrap();
        assert!(bak == broken, "what was there is in the backup");
        assert!(holds(&fs::read_to_string(&path).unwrap()).1);
    }
}

fn load_told(text: &str) -> Plan {
    let loaded = read_lesson(text).unwrap();
    told(&loaded.lesson, loaded.told.as_ref().unwrap()).unwrap().into_plan()
}

#[test]
fn a_plan_this_program_cannot_read_is_told_and_replaced() {
    let folder = tempfile::tempdir().unwrap();
    let (path, _) = saved(folder.path(), DEMO);
    let text = fs::read_to_string(&path).unwrap();
    let told_at = text.find("    told: (").unwrap();
    let (lesson, plan) = text.split_at(told_at);
    let line = lesson.lines().count() + 1;
    for (what, other) in [
        ("of an older format", plan.replacen("format: 1", "format: 0", 1)),
        ("of a newer format", plan.replacen("format: 1", "format: 2", 1)),
        ("with an unknown field", plan.replacen("format: 1", "format: 1, trays: 3", 1)),
        ("with an unknown group", plan.replace("\"Unit 2\"", "\"Bench 2\"")),
        ("that is no plan", "    told: 3,\n)\n".to_owned()),
    ] {
        let text = format!("{lesson}{other}");
        // What is left open leaves a copy of what is not saved.
        let folder = tempfile::tempdir().unwrap();
        let path = written(folder.path(), &text);
        let mut session = opened(&path);
        let said = session.message().unwrap_or_default().to_owned();
        assert!(said.contains("no longer holds (line "), "{what}: {said}");
        if what != "with an unknown group" {
            let at = |line: usize| said.contains(&format!("(line {line}: "));
            assert!(at(line) || at(line + 1), "{what}, {line}: {said}");
        }
        take_the_first(&mut session);
        assert!(session.document().unwrap().changed, "{what}");
        assert_eq!(fs::read_to_string(&path).unwrap(), text, "{what}");
    }
}

#[test]
fn a_group_added_by_hand_is_planned_around_the_kept_plan() {
    let folder = tempfile::tempdir().unwrap();
    let file = load_lesson(&lessons("demo.ron")).unwrap().file;
    let fewer = with_groups(&file, 3);
    let (path, before) = saved(folder.path(), &write_lesson(&fewer).unwrap());
    let text = fs::read_to_string(&path).unwrap();
    let more = text.replacen("name: \"Unit\", count: 3", "name: \"Unit\", count: 4", 1);
    assert!(text != more);
    fs::write(&path, more).unwrap();
    let mut session = opened(&path);
    assert!(session.message().unwrap().contains("Unit 4 is not in it"), "{:?}", session.message());
    settle(&mut session);
    let now = shown(&session);
    assert_eq!(now.choices.len(), 4);
    for load in &before.loads {
        assert!(now.loads.contains(load), "{load:?}");
    }
    assert!(session.message().unwrap().contains("Unit 4 is out by the bell now"));
}

fn lessons(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons").join(name)
}

fn with_groups(file: &LessonFile, count: i64) -> LessonFile {
    let first = GroupShape { count: Some(count), name: "Unit".into(), ..file.groups[0].clone() };
    let file = LessonFile { groups: vec![first], locks: Vec::new(), ..file.clone() };
    assert!(read_lesson(&write_lesson(&file).unwrap()).is_ok());
    file
}

#[test]
fn what_a_plan_does_not_go_by_is_changed_without_another_plan() {
    let folder = tempfile::tempdir().unwrap();
    let (path, before) = saved(folder.path(), DEMO);
    let mut session = opened(&path);
    session.apply(Command::RenameGroup(GroupId(0), "Bench by the door".to_owned()));
    assert_eq!(shown(&session), before);
    session.apply(Command::Save);
    assert_eq!(session.message(), None);
    assert_eq!(shown(&opened_again(session, &path)), before);
}

fn opened_again(session: Session, path: &Path) -> Session {
    drop(session);
    opened(path)
}

#[test]
fn the_day_begins_with_the_plan_that_was_told_and_undo_comes_back_to_it() {
    let folder = tempfile::tempdir().unwrap();
    let (path, before) = saved(folder.path(), DEMO);
    let mut session = opened(&path);
    session.apply(Command::Today);
    assert_eq!(shown(&session), before);
    let late = Happening::LateStart { minutes: 5, period: None };
    session.apply(Command::Happened(late));
    take_the_first(&mut session);
    let later = shown(&session);
    assert_ne!(later, before);
    session.apply(Command::Undo);
    assert_eq!(shown(&session), before);
    session.apply(Command::Redo);
    assert_eq!(shown(&session), later);
    // The copy for the day keeps the plan of the day.
    let day = folder.path().join("day.ron");
    session.apply(Command::SaveAs(day.clone()));
    assert_eq!(shown(&opened_again(session, &day)), later);
}

#[test]
fn the_best_is_looked_for_when_asked_and_undo_takes_that_back() {
    let folder = tempfile::tempdir().unwrap();
    let (path, before) = saved(folder.path(), DEMO);
    let mut session = opened(&path);
    session.apply(Command::PlanAnew);
    assert!(session.current_plan().is_none(), "another plan is looked for");
    settle(&mut session);
    session.apply(Command::Undo);
    assert_eq!(shown(&session), before);
}

#[test]
fn what_is_said_of_pupils_is_not_in_the_kept_plan() {
    let folder = tempfile::tempdir().unwrap();
    let mut file = load_lesson(&lessons("demo.ron")).unwrap().file;
    file = with_groups(&file, 4);
    let slow = GroupShape {
        count: None,
        name: "Slow bench".to_owned(),
        pace: Some(3.0),
        needs: vec!["made without egg".to_owned()],
        ..file.groups[0].clone()
    };
    file.groups.push(slow);
    let (path, plan) = saved(folder.path(), &write_lesson(&file).unwrap());
    assert!(!plan.not_served.is_empty(), "its pace keeps it from being out by the bell");
    let text = fs::read_to_string(&path).unwrap();
    let kept = text.split_once("    told: (").unwrap().1;
    assert!(kept.contains("(group: \"Slow bench\", refusal: NotFound)"), "{kept}");
    for word in ["pace", "needs", "egg\"", "reason", "rules"] {
        assert!(!kept.contains(word), "{word}");
    }
    // Clearing the class takes the plan away as well: it was made for its paces.
    let mut session = opened(&path);
    session.apply(Command::ClearClassNow);
    assert!(!fs::read_to_string(&path).unwrap().contains("told:"));
}
