//! What the whole rehearsal has along the clock: open doors, ovens that are on and
//! those with something in, adults who are free.

use super::MinuteCard;
use crate::model::{Lesson, OvenId, StepKind};
use crate::play::{Course, busy};
use crate::units::{Minute, Minutes};

/// A stretch with so many: from, until, how many.
pub type Many = (Minute, Minute, u32);

/// What there is along the clock, each in the order of time and without stretches
/// of none.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Along {
    /// Ovens whose doors are open.
    pub doors: Vec<Many>,
    /// Ovens that are on.
    pub on: Vec<Many>,
    /// Ovens with something in.
    pub baking: Vec<Many>,
    /// Adults who are there and whom neither a group nor the class has.
    pub free: Vec<Many>,
    /// How many ovens the lesson has.
    pub ovens: u32,
    /// How many adults it has.
    pub adults: u32,
}

impl Along {
    pub(super) fn of(lesson: &Lesson, plan: &dyn Course, minutes: &[MinuteCard]) -> Self {
        let told = plan.plan();
        let ovens = || (0..lesson.ovens.len()).map(OvenId);
        let busy = busy(lesson, plan);
        let during = |from: Minute, until: Minute, minute: Minute| from <= minute && minute < until;
        let is_on = |oven: OvenId, minute| {
            let mut of_oven = told.settings.iter().filter(|s| s.oven == oven);
            of_oven.any(|s| during(s.set_at, s.until, minute))
        };
        let bakes = |oven: OvenId, minute| {
            told.loads.iter().any(|l| l.oven == oven && during(l.start, l.end, minute))
        };
        let is_open = |oven: OvenId, minute| {
            let at_doors = told.steps.iter().filter(|step| during(step.start, step.end, minute));
            let mut groups = at_doors.filter(|step| {
                let choice = told.choice(step.group);
                let method = choice.map(|c| lesson.method_of(step.group, c.method));
                let kind = method.map(|m| m.steps[step.step.0].kind);
                matches!(kind, Some(StepKind::Load | StepKind::TakeOut))
            });
            groups.any(|step| told.loads.iter().any(|l| l.oven == oven && l.group == step.group))
        };
        let is_free = |adult: usize, minute| {
            let is_busy = busy[adult].iter().any(|&(from, until)| during(from, until, minute));
            lesson.adults[adult].is_there(minute) && !is_busy
        };
        let of = |count: &dyn Fn(Minute) -> usize| many(minutes, count);
        Self {
            doors: of(&|minute| ovens().filter(|&o| is_open(o, minute)).count()),
            on: of(&|minute| ovens().filter(|&o| is_on(o, minute)).count()),
            baking: of(&|minute| ovens().filter(|&o| bakes(o, minute)).count()),
            free: of(&|minute| (0..lesson.adults.len()).filter(|&a| is_free(a, minute)).count()),
            ovens: number(lesson.ovens.len()),
            adults: number(lesson.adults.len()),
        }
    }
}

fn number(of: usize) -> u32 {
    u32::try_from(of).unwrap_or(u32::MAX)
}

fn many(minutes: &[MinuteCard], count: &dyn Fn(Minute) -> usize) -> Vec<Many> {
    let mut all: Vec<Many> = Vec::new();
    for card in minutes {
        let (from, until) = (card.minute, card.minute + Minutes::new(1));
        match (number(count(card.minute)), all.last_mut()) {
            (0, _) => {}
            (n, Some(last)) if last.1 == from && last.2 == n => last.1 = until,
            (n, _) => all.push((from, until, n)),
        }
    }
    all
}
