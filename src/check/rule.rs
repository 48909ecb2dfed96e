//! A breach of a rule.

use std::fmt;

use crate::model::GroupId;
pub(super) use crate::plan::Rule;
use crate::units::Minute;

/// One place where a plan breaks a rule.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Breach {
    /// The rule.
    pub rule: Rule,
    /// The group concerned, if it is one group's affair.
    pub group: Option<GroupId>,
    /// When, if it happens at some minute.
    pub minute: Option<Minute>,
    /// What is wrong, in a sentence with names and figures.
    pub message: String,
}

impl fmt::Display for Breach {
    /// The rule's name and the message.
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "[{}] {}", self.rule, self.message)
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
        message: String,
    ) {
        let minute = minute.into().map(super::span::to_minute);
        self.0.push(Breach { rule, group: group.into(), minute, message });
    }
}
