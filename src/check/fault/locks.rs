//! What is wrong by the rule `locked`.

use super::words::{from_one, quoted};
use super::{TinOf, Words};
use crate::model::{GroupId, MethodId, OvenId, ShelfId, TinChoiceId};
use crate::units::Minute;

/// What is not as a lock says.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum LockFault {
    /// The group has no such step.
    NoSuchStep {
        /// Whose lock it is.
        group: GroupId,
        /// The step, as the lock names it.
        step: String,
        /// When it is to start.
        locked: Minute,
    },
    /// A step starts at another minute.
    OtherStart {
        /// Whose lock it is.
        group: GroupId,
        /// The step, as the lock names it.
        step: String,
        /// When it starts.
        start: Minute,
        /// When it is to start.
        locked: Minute,
    },
    /// Another tin is used.
    OtherTin {
        /// Whose lock it is.
        group: GroupId,
        /// The tin it is to use.
        locked: TinChoiceId,
    },
    /// Another method is used.
    OtherMethod {
        /// Whose lock it is.
        group: GroupId,
        /// The method it is to use.
        locked: MethodId,
    },
    /// A tin stands elsewhere.
    OtherPlace {
        /// The tin.
        tin: TinOf,
        /// Where it stands.
        place: (OvenId, ShelfId),
        /// Where it is to stand.
        locked: (OvenId, Option<ShelfId>),
    },
}

impl LockFault {
    pub(super) fn told(&self, words: &Words<'_>) -> String {
        match self {
            Self::NoSuchStep { group, step, locked } => format!(
                "{} is to start {} at {}, but does no such step",
                words.group(*group),
                quoted(step),
                words.at(*locked)
            ),
            Self::OtherStart { group, step, start, locked } => format!(
                "{} starts {} at {}, locked to {}",
                words.group(*group),
                quoted(step),
                words.at(*start),
                words.at(*locked)
            ),
            Self::OtherTin { group, locked } => format!(
                "{} does not use {}, to which it is locked",
                words.group(*group),
                words.tin_choice(*group, *locked)
            ),
            Self::OtherMethod { group, locked } => format!(
                "{} does not use the method {}, to which it is locked",
                words.group(*group),
                words.method(*group, *locked)
            ),
            Self::OtherPlace { tin, place: (oven, shelf), locked: (to, on) } => {
                let on = on.map_or(String::new(), |s| {
                    format!(", shelf {} from the top", s.0.saturating_add(1))
                });
                format!(
                    "{} has tin {} in {}, shelf {}; it is locked to {}{on}",
                    words.group(tin.group),
                    from_one(tin.number),
                    words.oven(*oven),
                    shelf.0.saturating_add(1),
                    words.oven(*to)
                )
            }
        }
    }
}
