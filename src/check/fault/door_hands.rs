//! What is wrong by the rule `door-hands`.

use super::Words;
use crate::model::{AdultId, GroupId, OvenId};
use crate::units::Minute;

/// Why an adult cannot be at a door, or has no cause to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Unfit {
    /// They are not there then.
    Away,
    /// They are in another room.
    OtherRoom,
    /// Nobody opens it.
    NobodyOpens,
    /// They serve another group alone.
    ServesAlone(GroupId),
}

/// What is wrong with hands at oven doors.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum DoorHandsFault {
    /// An adult is named twice at one door in one minute.
    NamedTwice {
        /// Who.
        adult: AdultId,
        /// At which oven.
        oven: OvenId,
        /// When.
        minute: Minute,
    },
    /// More tins are moved than one opening moves.
    TooManyTins {
        /// How many.
        tins: i64,
        /// At which oven.
        oven: OvenId,
        /// In which minute.
        minute: Minute,
        /// How many one opening moves.
        most: i64,
    },
    /// No adult is at an open door.
    NobodyThere {
        /// Who opens it.
        group: GroupId,
        /// Of which oven.
        oven: OvenId,
        /// In which minute.
        minute: Minute,
    },
    /// An adult is to be at a door who cannot.
    Unfit {
        /// Who.
        adult: AdultId,
        /// At which oven.
        oven: OvenId,
        /// When.
        minute: Minute,
        /// Why not.
        why: Unfit,
    },
}

impl DoorHandsFault {
    pub(super) fn told(&self, words: &Words<'_>) -> String {
        match *self {
            Self::NamedTwice { adult, oven, minute } => format!(
                "{} is named twice at the door of {} at {}",
                words.adult(adult),
                words.oven(oven),
                words.at(minute)
            ),
            Self::TooManyTins { tins, oven, minute, most } => format!(
                "{tins} tins go through the door of {} in {}; one opening moves {most}",
                words.oven(oven),
                words.at(minute)
            ),
            Self::NobodyThere { group, oven, minute } => format!(
                "{} opens the door of {} in {} and no adult is at it",
                words.group(group),
                words.oven(oven),
                words.at(minute)
            ),
            Self::Unfit { adult, oven, minute, why } => {
                let why = match why {
                    Unfit::Away => "is not there then".to_owned(),
                    Unfit::OtherRoom => "is in another room".to_owned(),
                    Unfit::NobodyOpens => "nobody opens it".to_owned(),
                    Unfit::ServesAlone(group) => format!("serves {} alone", words.group(group)),
                };
                format!(
                    "{} is to be at the door of {} at {}, but {why}",
                    words.adult(adult),
                    words.oven(oven),
                    words.at(minute)
                )
            }
        }
    }
}
