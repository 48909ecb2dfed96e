//! Lessons planned the same way in every run, and how many of them.

use std::sync::atomic::AtomicBool;

use ovenbell::check::{CheckedPlan, judge_of};
use ovenbell::model::Lesson;
use ovenbell::planner::{Budget, plan_lesson};

/// The lesson planned with so many decodings.
pub fn planned(lesson: &Lesson, decodings: u64) -> CheckedPlan {
    let budget = Budget { within: None, decodings: Some(decodings), seed: 1 };
    planned_within(lesson, &budget)
}

/// The lesson planned with that budget.
pub fn planned_within(lesson: &Lesson, budget: &Budget) -> CheckedPlan {
    let never = AtomicBool::new(false);
    plan_lesson(lesson, budget, &never, judge_of(lesson), |_| {}).unwrap().judged
}
