//! The teacher's own notes at the minutes a plan gives them, and what a note may
//! hang on.

use crate::model::{ClassStepId, Lesson, OvenId, Peg, PeriodId, StepKind};
use crate::plan::StepPlacement;
use crate::play::Course;
use crate::units::Minute;

/// A note with its minute.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NoteTold {
    /// Which, in the order of the lesson's file.
    pub number: usize,
    /// When; `None` if it belongs nowhere now.
    pub minute: Option<Minute>,
    /// What it hangs on, as it is written.
    pub at: String,
    /// What is said.
    pub say: String,
    /// What is done.
    pub own: String,
}

/// All notes, in the order of the file.
pub(super) fn notes(lesson: &Lesson, plan: &dyn Course) -> Vec<NoteTold> {
    let all = lesson.teacher_notes.iter().enumerate();
    let told = all.map(|(number, note)| NoteTold {
        number,
        minute: note.peg.as_ref().and_then(|peg| minute_of(lesson, plan, peg)),
        at: note.at.clone(),
        say: note.say.clone(),
        own: note.own.clone(),
    });
    told.collect()
}

/// When something is in a plan; `None` if the plan has it not.
pub fn minute_of(lesson: &Lesson, plan: &dyn Course, peg: &Peg) -> Option<Minute> {
    let told = plan.plan();
    match peg {
        Peg::StartBell(period) => Some(lesson.periods[period.0].start),
        Peg::EndBell(period) => Some(lesson.periods[period.0].end),
        Peg::ClassStep(step) => {
            told.class_steps.iter().find(|placed| placed.step == *step).map(|placed| placed.start)
        }
        Peg::Into(oven) => at_door(lesson, plan, *oven, StepKind::Load).min(),
        Peg::OutOf(oven) => at_door(lesson, plan, *oven, StepKind::TakeOut).min(),
        Peg::Step(group, name) => {
            let of_group = told.steps.iter().filter(|placed| placed.group == *group);
            let is_it = |placed: &&StepPlacement| step_name(lesson, plan, placed) == Some(name);
            of_group.filter(is_it).map(|placed| placed.start).min()
        }
    }
}

/// When groups that bake in an oven load, or take out.
fn at_door(
    lesson: &Lesson,
    plan: &dyn Course,
    oven: OvenId,
    kind: StepKind,
) -> impl Iterator<Item = Minute> {
    let bakes_in = move |placed: &&StepPlacement| {
        plan.plan().loads.iter().any(|load| load.group == placed.group && load.oven == oven)
    };
    let is_kind = move |placed: &&StepPlacement| {
        let choice = plan.plan().choice(placed.group);
        let method = choice.map(|choice| lesson.method_of(placed.group, choice.method));
        method.is_some_and(|method| method.steps[placed.step.0].kind == kind)
    };
    plan.plan().steps.iter().filter(bakes_in).filter(is_kind).map(|placed| placed.start)
}

fn step_name<'a>(
    lesson: &'a Lesson,
    plan: &dyn Course,
    placed: &StepPlacement,
) -> Option<&'a String> {
    let choice = plan.plan().choice(placed.group)?;
    let method = lesson.method_of(placed.group, choice.method);
    method.steps.get(placed.step.0).map(|step| &step.name)
}

/// What begins at a minute, in the words by which a note hangs on it: bells, steps
/// of the class, ovens, then groups' steps. Where nothing does, what began last
/// before it.
pub fn pegs_at(lesson: &Lesson, plan: &dyn Course, minute: Minute) -> (Minute, Vec<String>) {
    let periods = (0..lesson.periods.len()).map(PeriodId);
    let bells = periods.flat_map(|p| [Peg::StartBell(p), Peg::EndBell(p)]);
    let class = (0..lesson.class_steps.len()).map(|s| Peg::ClassStep(ClassStepId(s)));
    let ovens = (0..lesson.ovens.len()).map(OvenId);
    let doors = ovens.flat_map(|oven| [Peg::Into(oven), Peg::OutOf(oven)]);
    let steps = plan.plan().steps.iter().filter_map(|placed| {
        let name = step_name(lesson, plan, placed)?;
        Some(Peg::Step(placed.group, name.clone()))
    });
    let all = bells.chain(class).chain(doors).chain(steps);
    let begun = all.filter_map(|peg| {
        let at = minute_of(lesson, plan, &peg).filter(|at| *at <= minute)?;
        let words = peg.written(lesson);
        // Where names leave a doubt the note would hang on something else.
        (Peg::read(lesson, &words) == Some(peg)).then_some((at, words))
    });
    let begun: Vec<(Minute, String)> = begun.collect();
    let last = begun.iter().map(|(at, _)| *at).max().unwrap_or(minute);
    (last, begun.into_iter().filter(|(at, _)| *at == last).map(|(_, words)| words).collect())
}
