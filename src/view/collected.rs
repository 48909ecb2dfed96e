//! What is done after the bell for groups that fetch their bakes later: it keeps nobody
//! from being out, and is said beside it.

use super::words::number;
use crate::check::CheckedPlan;
use crate::model::{GroupId, Lesson};

/// Names of a group's steps that are done after the bell, in the order of its method; none
/// of a group that is not served.
pub fn collected(lesson: &Lesson, plan: &CheckedPlan, id: GroupId) -> Vec<String> {
    let Some(choice) = plan.plan().choice(id) else { return Vec::new() };
    let names = lesson.method_of(id, choice.method).steps.iter().map(|step| &step.name);
    names.filter(|name| lesson.group(id).collected.contains(*name)).cloned().collect()
}

/// Groups whose bakes are collected later, in the lesson's order.
pub fn collecting(lesson: &Lesson, plan: &CheckedPlan) -> Vec<GroupId> {
    lesson.attending().filter(|&id| !collected(lesson, plan, id).is_empty()).collect()
}

/// "bakes collected later", "Unit 4's bake collected later"; empty where none is.
pub(super) fn collected_words(lesson: &Lesson, plan: &CheckedPlan) -> String {
    let served = plan.plan().choices.len();
    match collecting(lesson, plan).as_slice() {
        [] => String::new(),
        [one] => format!("{}'s bake collected later", lesson.group(*one).name),
        all if all.len() == served => "bakes collected later".to_owned(),
        all => format!("{} bakes collected later", number(all.len())),
    }
}
