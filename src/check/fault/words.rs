//! Names of the lesson and its minutes, as sentences about breaches have them.

use super::{Heap, Kind, StepOf, TinOf};
use crate::check::span::Span;
use crate::finding::shortened;
use crate::model::{AdultId, ClassStepId, GroupId, Lesson, MethodId, OvenId, ShelfId, TinChoiceId};
use crate::units::Minute;

/// The longest name shown whole, in characters.
const NAME_LENGTH: usize = 60;

/// Tells of a lesson's things and minutes.
pub(in crate::check) struct Words<'a> {
    lesson: &'a Lesson,
    by_the_clock: bool,
}

impl<'a> Words<'a> {
    /// Minutes count from the first start bell, as in a plan.
    pub(in crate::check) fn by_minutes(lesson: &'a Lesson) -> Self {
        Self { lesson, by_the_clock: false }
    }

    /// Minutes are times of day.
    pub(in crate::check) fn by_the_clock(lesson: &'a Lesson) -> Self {
        Self { lesson, by_the_clock: true }
    }

    pub(super) fn group(&self, group: GroupId) -> String {
        shown(&self.lesson.group(group).name)
    }

    /// "Unit 3: "whisk"".
    pub(super) fn step_of(&self, step: StepOf) -> String {
        format!("{}: {}", self.group(step.group), self.step(step))
    }

    /// A step's name in quotation marks.
    pub(super) fn step(&self, step: StepOf) -> String {
        let method = self.lesson.method_of(step.group, step.method);
        quoted(&method.steps[step.step.0].name)
    }

    /// The same of a step of the class.
    pub(super) fn class_step(&self, step: ClassStepId) -> String {
        quoted(&self.lesson.class_steps[step.0].name)
    }

    pub(super) fn adult(&self, adult: AdultId) -> String {
        shown(&self.lesson.adults[adult.0].name)
    }

    pub(super) fn oven(&self, oven: OvenId) -> String {
        shown(&self.lesson.ovens[oven.0].name)
    }

    /// "Oven 2's top shelf".
    pub(super) fn shelf(&self, (oven, shelf): (OvenId, ShelfId)) -> String {
        let of = self.lesson.ovens[oven.0].shelves.len();
        let which = match shelf.0 {
            0 if of == 1 => "shelf".to_owned(),
            0 => "top shelf".to_owned(),
            n if n + 1 == of => "bottom shelf".to_owned(),
            n => format!("shelf {} from the top", n + 1),
        };
        format!("{}'s {which}", self.oven(oven))
    }

    /// "tin 2 of Unit 3".
    pub(super) fn tin_of(&self, tin: TinOf) -> String {
        format!("tin {} of {}", from_one(tin.number), self.group(tin.group))
    }

    /// What a choice of tin is called, in quotation marks.
    pub(super) fn tin_choice(&self, group: GroupId, tin: TinChoiceId) -> String {
        quoted(&self.lesson.tin_choice_of(group, tin).label)
    }

    /// A method's name in quotation marks.
    pub(super) fn method(&self, group: GroupId, method: MethodId) -> String {
        quoted(&self.lesson.method_of(group, method).name)
    }

    pub(super) fn kind(&self, kind: Kind) -> String {
        shown(match kind {
            Kind::Kit(kit) => &self.lesson.kit_kinds[kit.0].name,
            Kind::Tin(tin) => &self.lesson.tins[tin.0].name,
        })
    }

    /// What a heap is of.
    pub(super) fn heap(&self, heap: Heap) -> String {
        self.kind(heap.kind(self.lesson))
    }

    /// "minute 12", or "10:12".
    pub(super) fn at(&self, minute: Minute) -> String {
        if self.by_the_clock { self.clock(minute) } else { minute.to_string() }
    }

    /// The same without the word: "12", or "10:12".
    pub(super) fn bare(&self, minute: Minute) -> String {
        if self.by_the_clock { self.clock(minute) } else { minute.get().to_string() }
    }

    /// "from minute 12 to 15", or "from 10:12 to 10:15".
    pub(super) fn span(&self, span: Span) -> String {
        format!("from {} to {}", self.at(span.first()), self.bare(span.over()))
    }

    fn clock(&self, minute: Minute) -> String {
        self.lesson.periods[0].start_clock.after(minute - Minute::BELL).to_string()
    }
}

/// A position, which counts from 0, as people count.
pub(super) fn from_one(number: u32) -> u64 {
    u64::from(number) + 1
}

/// A name fit to be shown.
fn shown(name: &str) -> String {
    shortened(name, NAME_LENGTH)
}

/// A name, and whatever a lock calls a step.
pub(super) fn quoted(name: &str) -> String {
    format!("\"{}\"", shown(name))
}
