//! Who must be where while ovens are open: nobody, an adult in the room, or
//! one at each door; and what each answer comes to before it is taken.

use crate::common::how_many::FEW_PLANS;
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;
use std::time::{Duration, Instant};

use ovenbell::check::{CheckedPlan, judge_of};
use ovenbell::edit::Edit;
use ovenbell::file::format::{AdultShape, LessonFile};
use ovenbell::file::{RealDisk, lesson_of_shapes, load_lesson};
use ovenbell::finding;
use ovenbell::model::{AdultId, AtOvens, Lesson, StepKind};
use ovenbell::planner::{Budget, plan_lesson};
use ovenbell::session::{AtOvensOutcome, Clock, Command, Session, SessionStart};
use ovenbell::setup::at_ovens::ask;
use ovenbell::view::cards;

/// The demo lesson with this answer; the only adult is away for a while.
fn lesson_with(answer: AtOvens, hours: &[(i32, i32)]) -> LessonFile {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/demo.ron");
    let mut file = load_lesson(&path).unwrap().file;
    for step in file.periods_mut().flat_map(|p| p.class_steps_mut()) {
        step.adults.clear();
    }
    file.periods_mut().for_each(|period| period.ovens_on_by = None);
    file.adults =
        vec![AdultShape { name: "teacher".into(), hours: hours.to_vec(), ..AdultShape::default() }];
    ask(&mut file.rules, answer);
    file
}

fn planned(lesson: &Lesson) -> Arc<CheckedPlan> {
    let budget = Budget { within: None, decodings: Some(500), seed: 1 };
    let judge = |plan| judge_of(lesson)(plan).map(Arc::new);
    plan_lesson(lesson, &budget, &AtomicBool::new(false), judge, |_| {}).unwrap().judged
}

/// Minutes in which tins go in or out.
fn openings(lesson: &Lesson, plan: &CheckedPlan) -> Vec<i32> {
    let mut minutes = Vec::new();
    for placed in &plan.plan().steps {
        let Some(choice) = plan.plan().choice(placed.group) else { continue };
        let step = &lesson.method_of(placed.group, choice.method).steps[placed.step.0];
        if matches!(step.kind, StepKind::Load | StepKind::TakeOut) {
            minutes.extend(placed.start.get()..placed.end.get());
        }
    }
    minutes
}

#[test]
fn no_oven_is_open_while_the_adult_who_is_wanted_in_the_room_is_away() {
    // From minute 20 to 33, in which the demo lesson loads.
    let hours = [(-30, 20), (33, 60)];
    let away = |minute: &i32| (20..33).contains(minute);
    let free = lesson_of_shapes(&lesson_with(AtOvens::Nobody, &hours), &[]).unwrap();
    assert!(openings(&free, &planned(&free)).iter().any(away), "the test asks for nothing");
    let watched = lesson_of_shapes(&lesson_with(AtOvens::InRoom, &hours), &[]).unwrap();
    assert_eq!(watched.rules.at_ovens, AtOvens::InRoom);
    let plan = planned(&watched);
    let minutes = openings(&watched, &plan);
    assert!(!minutes.is_empty() && !minutes.iter().any(away), "{minutes:?}");
    // Near is not at the door: nobody is occupied by it, and it is seen.
    assert!(plan.plan().door_watches.is_empty());
    let card = cards::adult(&watched, &plan, AdultId(0), None);
    assert!(card.under.contains("while ovens are open: an adult in the room"), "{card:?}");
    assert!(card.lines.iter().any(|(_, what)| what.starts_with("in the room,")), "{card:?}");
}

#[test]
fn an_adult_who_is_wanted_and_not_there_is_told_of() {
    let mut file = lesson_with(AtOvens::InRoom, &[]);
    file.adults.clear();
    let findings: Vec<finding::Finding> = lesson_of_shapes(&file, &[]).unwrap_err();
    let told = "wanted in the room while ovens are open";
    assert!(findings.iter().any(|f| f.message.contains(told)), "{findings:?}");
}

#[test]
fn what_each_answer_comes_to_is_told_before_it_is_taken() {
    let folder = tempfile::tempdir().unwrap();
    let path = folder.path().join("lesson.ron");
    let text = ovenbell::file::write_lesson(&lesson_with(AtOvens::Nobody, &[])).unwrap();
    std::fs::write(&path, text).unwrap();
    let mut session = Session::new(SessionStart {
        wake: Arc::new(|| {}),
        disk: Arc::new(RealDisk),
        clock: Clock::default(),
        outcomes: None,
        data: None,
        documents: None,
        runs: None,
        decodings: Some(FEW_PLANS),
    });
    session.begin(Some(path), None);
    let wait = |session: &mut Session, until: &dyn Fn(&Session) -> bool| {
        let begun = Instant::now();
        session.listen(None);
        while !until(session) {
            assert!(begun.elapsed() < Duration::from_secs(240), "no answer comes");
            std::thread::sleep(Duration::from_millis(5));
            session.listen(None);
        }
    };
    wait(&mut session, &|s| s.may_compare_at_ovens());
    session.apply(Command::CompareAtOvens);
    assert!(!session.may_compare_at_ovens(), "it is asked once");
    wait(&mut session, &|s| s.at_ovens_tried().is_some());
    let told = session.at_ovens_tried().unwrap().to_vec();
    let answers: Vec<AtOvens> = told.iter().map(|(answer, _)| *answer).collect();
    assert_eq!(answers, AtOvens::ALL);
    let out: Vec<u32> = told
        .iter()
        .map(|(_, outcome)| match outcome {
            AtOvensOutcome::Out(out, _) => *out,
            AtOvensOutcome::NoLesson(why) => panic!("{why}"),
        })
        .collect();
    assert_eq!(out[0], session.current_plan().unwrap().objective().served, "as it is now");
    assert!(out.is_sorted_by(|a, b| a >= b), "what asks for more serves no more: {told:?}");
    // The lesson itself is as it was until an answer is taken.
    assert_eq!(session.document().unwrap().lesson().unwrap().rules.at_ovens, AtOvens::Nobody);
    let mut file = session.document().unwrap().file().clone();
    ask(&mut file.rules, AtOvens::AtDoor);
    let (what, at) = ("at doors".into(), finding::Path::root());
    session.apply(Command::Edit(Edit::Enter { what, at, typing: false, file: Box::new(file) }));
    assert_eq!(session.at_ovens_tried(), None, "that was of another lesson");
}

#[test]
fn what_a_groups_own_way_costs_is_told_as_a_sum() {
    let mut file = lesson_with(AtOvens::AtDoor, &[]);
    // Unit 8 is kept apart; Unit 1's pupil is alone from now on.
    file.groups[0].pupils = Some(1);
    let (one, apart) = (file.groups[0].name.clone(), "Unit 8");
    let lesson = lesson_of_shapes(&file, &[]).unwrap();
    let plan = planned(&lesson);
    let of = |name: &str| {
        let id = lesson.groups.iter().position(|g| g.name == name).unwrap();
        cards::group(&lesson, &plan, ovenbell::model::GroupId(id)).lines
    };
    let line = |lines: &[(String, String)], name: &str| {
        lines.iter().find(|(n, _)| n == name).map(|(_, words)| words.clone())
    };
    let alone = line(&of(&one), "Alone").unwrap();
    let numbers: Vec<f64> = alone.split(' ').filter_map(|w| w.parse().ok()).collect();
    assert_eq!(numbers.len(), 2, "{alone}");
    // Half of the work at the least, and no more than all of it.
    assert!(numbers[1] < numbers[0] && 2.0 * numbers[1] + 1.0 >= numbers[0], "{alone}");
    assert_eq!(line(&of(apart), "Alone"), None, "a pair is not alone");
    let loads = plan.plan().loads.iter().filter(|l| lesson.group(l.group).name == apart);
    let cost = line(&of(apart), "What that takes");
    assert_eq!(cost.is_some(), loads.count() > 0);
    assert!(cost.is_none_or(|c| c.contains("to itself from")));
    let doors = plan.plan().door_watches.len();
    let card = cards::adult(&lesson, &plan, AdultId(0), None);
    let told = line(&card.lines, "In all").unwrap();
    assert!(told.starts_with(&format!("{doors} minutes at open doors")), "{told}");
}
