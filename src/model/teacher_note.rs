//! The teacher's own notes, and what they hang on.

use super::ids::{ClassStepId, GroupId, OvenId, PeriodId};
use super::lesson::LessonParts;

const START_BELL: &str = "start bell";
const END_BELL: &str = "end bell";
/// Before an oven's name: the first time something goes in, and comes out.
const LOAD: &str = "load ";
const TAKE_OUT: &str = "take out ";
/// Before a period's name, where the first one is not meant.
const OF: &str = " of ";

/// Words and deeds of the teacher's own. They hang on something of the lesson and
/// never on a minute, so that they move with a plan.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TeacherNote {
    /// What it hangs on, as it is written.
    pub at: String,
    /// The same, if the lesson has such a thing.
    pub peg: Option<Peg>,
    /// What is said.
    pub say: String,
    /// What is done.
    pub own: String,
}

/// What a note hangs on.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Peg {
    /// A period's start bell.
    StartBell(PeriodId),
    /// A period's end bell.
    EndBell(PeriodId),
    /// The beginning of a step of the class.
    ClassStep(ClassStepId),
    /// The first time something goes into an oven.
    Into(OvenId),
    /// The first time something comes out of an oven.
    OutOf(OvenId),
    /// The beginning of a group's step, by name: it may be in any of its methods.
    Step(GroupId, String),
}

impl Peg {
    /// What is meant by "end bell", "demo", "load Oven 2", "mix Unit 3"; `None` if
    /// the lesson has no such thing. Bells come first, then steps of the class,
    /// ovens and groups.
    pub fn read(lesson: &LessonParts, at: &str) -> Option<Self> {
        bell(lesson, at)
            .or_else(|| class_step(lesson, at))
            .or_else(|| door(lesson, at))
            .or_else(|| step(lesson, at))
    }

    /// The words for it, which are read as it where names leave no doubt.
    pub fn written(&self, lesson: &LessonParts) -> String {
        let of_period = |words: &str, period: PeriodId| match period {
            PeriodId(0) => words.to_owned(),
            PeriodId(p) => format!("{words}{OF}{}", lesson.periods[p].name),
        };
        match self {
            Peg::StartBell(period) => of_period(START_BELL, *period),
            Peg::EndBell(period) => of_period(END_BELL, *period),
            Peg::ClassStep(id) => {
                let step = &lesson.class_steps[id.0];
                let first = lesson.class_steps.iter().position(|s| s.name == step.name);
                match first == Some(id.0) {
                    true => step.name.clone(),
                    false => format!("{}{OF}{}", step.name, lesson.periods[step.period.0].name),
                }
            }
            Peg::Into(oven) => format!("{LOAD}{}", lesson.ovens[oven.0].name),
            Peg::OutOf(oven) => format!("{TAKE_OUT}{}", lesson.ovens[oven.0].name),
            Peg::Step(group, step) => format!("{step} {}", lesson.groups[group.0].name),
        }
    }

    /// Whether the lesson has what it stands for.
    pub(super) fn is_of(&self, lesson: &LessonParts) -> bool {
        match self {
            Peg::StartBell(period) | Peg::EndBell(period) => period.0 < lesson.periods.len(),
            Peg::ClassStep(step) => step.0 < lesson.class_steps.len(),
            Peg::Into(oven) | Peg::OutOf(oven) => oven.0 < lesson.ovens.len(),
            Peg::Step(group, _) => group.0 < lesson.groups.len(),
        }
    }
}

fn bell(lesson: &LessonParts, at: &str) -> Option<Peg> {
    let period = |words: &str| match at.strip_prefix(words)? {
        "" => Some(PeriodId(0)),
        rest => {
            let name = rest.strip_prefix(OF)?;
            lesson.periods.iter().position(|p| p.name == name).map(PeriodId)
        }
    };
    let end = || period(END_BELL).map(Peg::EndBell);
    period(START_BELL).map(Peg::StartBell).or_else(end)
}

fn class_step(lesson: &LessonParts, at: &str) -> Option<Peg> {
    let steps = &lesson.class_steps;
    let of_period = |step: &super::ClassStep| {
        let period = lesson.periods.get(step.period.0)?;
        at.strip_prefix(step.name.as_str())?.strip_prefix(OF).filter(|name| *name == period.name)
    };
    let by_name = steps.iter().position(|s| s.name == at);
    let step = by_name.or_else(|| steps.iter().position(|s| of_period(s).is_some()));
    step.map(|i| Peg::ClassStep(ClassStepId(i)))
}

fn door(lesson: &LessonParts, at: &str) -> Option<Peg> {
    let oven = |words: &str| {
        let name = at.strip_prefix(words)?;
        lesson.ovens.iter().position(|o| o.name == name).map(OvenId)
    };
    oven(LOAD).map(Peg::Into).or_else(|| oven(TAKE_OUT).map(Peg::OutOf))
}

fn step(lesson: &LessonParts, at: &str) -> Option<Peg> {
    let steps = lesson.groups.iter().enumerate().filter_map(|(i, group)| {
        let step = at.strip_suffix(group.name.as_str())?.strip_suffix(' ')?;
        let methods = &lesson.recipes.get(group.recipe.0)?.methods;
        let is_there = methods.iter().any(|m| m.step_named(step).is_some());
        is_there.then(|| (group.name.len(), Peg::Step(GroupId(i), step.to_owned())))
    });
    // "mix Unit 3" is of a group called so rather than of one called "3".
    steps.max_by_key(|(length, _)| *length).map(|(_, peg)| peg)
}
