//! What is wrong by the rule `tin`, stock apart.

use super::Words;
use crate::model::{GroupId, MethodId, TinChoiceId};
use crate::units::{Millilitres, plain_number};

/// What is wrong with a group's choice of method and tin.
#[derive(Debug, Clone, PartialEq)]
pub enum TinFault {
    /// The method is not one it may use.
    NotItsMethod {
        /// Whose choice.
        group: GroupId,
        /// The method.
        method: MethodId,
    },
    /// The tin is not one it accepts.
    NotAccepted {
        /// Whose choice.
        group: GroupId,
        /// The tin.
        tin: TinChoiceId,
    },
    /// The tin does not go with the method.
    NotForMethod {
        /// Whose choice.
        group: GroupId,
        /// The tin.
        tin: TinChoiceId,
        /// The method.
        method: MethodId,
    },
    /// A tin is chosen and nothing baked.
    NotBaked {
        /// Whose choice.
        group: GroupId,
        /// The method.
        method: MethodId,
    },
    /// It is baked and no tin chosen.
    NoTin {
        /// Whose choice.
        group: GroupId,
        /// The method.
        method: MethodId,
    },
    /// Each tin is filled too far.
    Overfilled {
        /// Whose choice.
        group: GroupId,
        /// The tin.
        tin: TinChoiceId,
        /// What goes into each, millilitres.
        mixture: f64,
        /// What each holds.
        holds: Millilitres,
        /// The part of that to which it may be filled.
        limit: f64,
    },
}

impl TinFault {
    pub(super) fn told(&self, words: &Words<'_>) -> String {
        match *self {
            Self::NotItsMethod { group, method } => format!(
                "{} is not to use the method {}",
                words.group(group),
                words.method(group, method)
            ),
            Self::NotAccepted { group, tin } => {
                format!("{} does not accept {}", words.group(group), words.tin_choice(group, tin))
            }
            Self::NotForMethod { group, tin, method } => format!(
                "{}: {} does not go with the method {}",
                words.group(group),
                words.tin_choice(group, tin),
                words.method(group, method)
            ),
            Self::NotBaked { group, method } => format!(
                "{}: {} is not baked, but a tin is chosen",
                words.group(group),
                words.method(group, method)
            ),
            Self::NoTin { group, method } => format!(
                "{}: {} is baked, but no tin is chosen",
                words.group(group),
                words.method(group, method)
            ),
            Self::Overfilled { group, tin, mixture, holds, limit } => format!(
                "{}: {} ml go into each tin of {}; it holds {holds} and is filled to {} % at \
                 most, {} ml",
                words.group(group),
                plain_number(mixture),
                words.tin_choice(group, tin),
                plain_number(limit * 100.0),
                plain_number(holds.get() * limit)
            ),
        }
    }
}
