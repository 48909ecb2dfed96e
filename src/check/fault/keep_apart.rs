//! What is wrong by the rule `keep-apart`.

use super::words::from_one;
use super::{Heap, Words};
use crate::model::{GroupId, OvenId};
use crate::units::Minute;

/// What brings a group that is kept apart together with another.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum KeepApartFault {
    /// Their tins stand in one oven.
    OneOven {
        /// The group that is kept apart.
        kept: GroupId,
        /// In which oven.
        oven: OvenId,
        /// The other group.
        other: GroupId,
        /// From when.
        minute: Minute,
    },
    /// It uses what the other has used before.
    UsedBefore {
        /// The group that is kept apart.
        kept: GroupId,
        /// Of what.
        heap: Heap,
        /// Which of them, from 0.
        item: u32,
        /// From when.
        minute: Minute,
        /// The other group.
        other: GroupId,
        /// From when the other used it.
        since: Minute,
    },
}

impl KeepApartFault {
    pub(super) fn told(&self, words: &Words<'_>) -> String {
        match *self {
            Self::OneOven { kept, oven, other, minute } => format!(
                "{} is kept apart, but stands in {} together with {} at {}",
                words.group(kept),
                words.oven(oven),
                words.group(other),
                words.at(minute)
            ),
            Self::UsedBefore { kept, heap, item, minute, other, since } => format!(
                "{} is kept apart, but uses {} number {} from {}, which {} has used since {}",
                words.group(kept),
                words.heap(heap),
                from_one(item),
                words.at(minute),
                words.group(other),
                words.at(since)
            ),
        }
    }
}
