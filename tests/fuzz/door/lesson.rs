//! Lessons.

use std::ops::ControlFlow;
use std::sync::atomic::AtomicBool;
use std::time::Duration;

use ovenbell::check::{CheckedPlan, judge_of};
use ovenbell::file::{Loaded, load_lesson, merged, read_lesson, read_lesson_shapes, write_lesson};
use ovenbell::model::Lesson;
use ovenbell::planner::{Budget, PlanError, plan_lesson, plan_until};

use super::{can_be_told, or_told, outward};
use crate::input::Input;

/// Whatever is accepted is written and planned. Of what means the same as the good
/// file it was made of, one in eight is.
pub fn is_accepted(input: &Input<'_>) -> bool {
    let Some(loaded) = read(input) else { return false };
    if input.of.lesson.as_deref() != Some(&loaded.lesson) || input.is_one_in(8) {
        is_written_back(input, &loaded);
        if let Some(plan) = planned(input, &loaded.lesson) {
            outward::told(input, (&loaded.lesson, &plan));
        }
    }
    true
}

/// A lesson, unless it is refused with a reason.
pub fn read(input: &Input<'_>) -> Option<Loaded> {
    let read = match input.text() {
        Some(text) => read_lesson(text),
        None => load_lesson(&input.written("lesson.ron")),
    };
    let loaded = or_told(read)?;
    loaded.warnings.iter().for_each(can_be_told);
    Some(loaded)
}

/// What is written of it reads as the same lesson, laid out anew or into the text as it
/// was.
pub fn is_written_back(input: &Input<'_>, loaded: &Loaded) {
    let anew = write_lesson(&loaded.file).unwrap();
    let again = read_lesson(&anew).unwrap_or_else(|f| panic!("{f:?}\n{anew}"));
    assert_eq!(again.lesson, loaded.lesson);
    let mut changed = loaded.file.clone();
    changed.title.push('!');
    let text = merged(input.text().unwrap_or_default(), &changed).unwrap();
    let again = read_lesson_shapes(&text).unwrap_or_else(|f| panic!("{f:?}\n{text}"));
    assert_eq!(again, changed);
}

/// A plan of few decodings, within its time; one in eight with proofs.
pub fn planned(input: &Input<'_>, lesson: &Lesson) -> Option<CheckedPlan> {
    let within = Some(Duration::from_millis(300));
    let budget = Budget { within, decodings: Some(6), seed: input.seed };
    let (judge, stop) = (judge_of(lesson), AtomicBool::new(false));
    let found = if input.is_one_in(8) {
        plan_lesson(lesson, &budget, &stop, judge, |_| {})
    } else {
        plan_until(lesson, &budget, &stop, judge, |_| ControlFlow::Continue(()))
    };
    match found {
        Ok(found) => Some(found.judged),
        Err(PlanError::ClassStep(_)) => None,
        Err(PlanError::Fault(why)) => panic!("the checker refuses the planner's plan: {why}"),
    }
}
