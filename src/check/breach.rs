//! A breach of a rule.

use std::fmt;

use super::fault::{Fault, Words};
use crate::model::{GroupId, Lesson};
use crate::plan::Rule;
use crate::units::Minute;

/// One place where a plan breaks a rule.
#[derive(Debug, Clone, PartialEq)]
pub struct Breach {
    /// The rule.
    pub rule: Rule,
    /// The group concerned, if it is one group's affair.
    pub group: Option<GroupId>,
    /// When, if it happens at some minute.
    pub minute: Option<Minute>,
    /// What is wrong, in ids and figures.
    pub fault: Fault,
}

impl Breach {
    /// What is wrong, in a sentence with names and figures; minutes are those
    /// of the plan: "from minute 12 to 15".
    pub fn sentence(&self, lesson: &Lesson) -> String {
        self.fault.told(&Words::by_minutes(lesson))
    }

    /// The same with minutes told by the clock: "from 10:12 to 10:15".
    pub fn by_the_clock(&self, lesson: &Lesson) -> String {
        self.fault.told(&Words::by_the_clock(lesson))
    }

    /// The rule's name and the sentence.
    pub fn told<'a>(&'a self, lesson: &'a Lesson) -> impl fmt::Display + use<'a> {
        BreachTold { breach: self, lesson }
    }
}

struct BreachTold<'a> {
    breach: &'a Breach,
    lesson: &'a Lesson,
}

impl fmt::Display for BreachTold<'_> {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "[{}] {}", self.breach.rule, self.breach.sentence(self.lesson))
    }
}

/// The breaches found so far.
#[derive(Debug, Default)]
pub(super) struct Breaches(pub(super) Vec<Breach>);

impl Breaches {
    /// Adds a breach; `minute` counts from the first start bell.
    pub(super) fn add(
        &mut self,
        rule: Rule,
        group: impl Into<Option<GroupId>>,
        minute: impl Into<Option<i64>>,
        fault: impl Into<Fault>,
    ) {
        let minute = minute.into().map(super::span::to_minute);
        self.0.push(Breach { rule, group: group.into(), minute, fault: fault.into() });
    }
}
