//! What may happen on the day.

use crate::words;

/// Something that happens on the day. Groups, ovens, recipes and periods are
/// named.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Happening {
    /// A pupil is absent; the last one of a group leaves it out.
    Absent {
        /// Whose pupil.
        group: String,
    },
    /// The pupils of a group join another, and make one batch with it.
    Joined {
        /// Who joins.
        group: String,
        /// With whom they work from now on.
        with: String,
        /// They may give up a recipe of their own for that of the others.
        other_recipe: bool,
    },
    /// A group's ingredients were forgotten or dropped: it takes a spare set.
    Forgotten {
        /// Whose.
        group: String,
    },
    /// An oven does not work.
    OvenOut {
        /// Which.
        oven: String,
    },
    /// An oven works again.
    OvenWorks {
        /// Which.
        oven: String,
    },
    /// A period starts late, or later still.
    LateStart {
        /// By how many minutes, at least one.
        minutes: i32,
        /// Which period; the first if not said.
        period: Option<String>,
    },
    /// An adult is called away: for the whole lesson where nobody has begun.
    AdultAway {
        /// Who, by the name of the post.
        adult: String,
    },
    /// A group makes another recipe, of the lesson or of the library.
    Reserve {
        /// Which group.
        group: String,
        /// What it makes instead.
        recipe: String,
    },
}

impl Happening {
    /// What it is, for undo and redo: "Unit 3: pupil absent".
    pub fn label(&self) -> String {
        match self {
            Happening::Absent { group } => format!("{group}: pupil absent"),
            Happening::Joined { group, with, .. } => format!("{group} joins {with}"),
            Happening::Forgotten { group } => format!("{group}: ingredients forgotten"),
            Happening::OvenOut { oven } => format!("{oven} out of order"),
            Happening::OvenWorks { oven } => format!("{oven} works again"),
            Happening::LateStart { minutes, period: None } => {
                format!("{} late", words::minutes(*minutes))
            }
            Happening::LateStart { minutes, period: Some(period) } => {
                format!("{period}: {} late", words::minutes(*minutes))
            }
            Happening::AdultAway { adult } => format!("{adult} called away"),
            Happening::Reserve { group, recipe } => format!("{group} makes {recipe}"),
        }
    }
}
