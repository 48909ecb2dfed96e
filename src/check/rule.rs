//! The rules by name, and a breach of one.

use std::fmt;

use crate::model::GroupId;
use crate::units::Minute;

macro_rules! rules {
    ($($(#[$doc:meta])* $variant:ident => $name:literal),+ $(,)?) => {
        /// A rule a valid plan keeps, as laid down in `DEVELOPERS.md`.
        #[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Rule {
            $($(#[$doc])* $variant),+
        }

        impl Rule {
            /// Every rule, in the order in which they are laid down.
            pub const ALL: &'static [Rule] = &[$(Rule::$variant),+];

            /// Its fixed short name, such as "whole-group".
            pub const fn name(self) -> &'static str {
                match self {
                    $(Rule::$variant => $name),+
                }
            }
        }
    };
}

rules!(
    /// Every attending group is served whole or reported not served.
    WholeGroup => "whole-group",
    /// Steps follow one another as their links say.
    Order => "order",
    /// No pupil does two steps at once.
    Pupils => "pupils",
    /// The class's own steps are in their places and nobody works meanwhile.
    ClassStep => "class-step",
    /// Counted kit is enough in every minute.
    Kit => "kit",
    /// No adult is in two places, and none works outside their hours.
    Adults => "adults",
    /// Hand steps lie between the opening and the closing.
    Period => "period",
    /// A tin bakes in one oven from start to end.
    OneOven => "one-oven",
    /// An oven has one temperature at a time, and it is the right one.
    Temperature => "temperature",
    /// Ovens have time to reach their temperature.
    WarmUp => "warm-up",
    /// Tins fit on their shelf with air between them.
    Shelf => "shelf",
    /// The door stays shut while a delicate bake needs it.
    Door => "door",
    /// No opening moves more tins than it may, and an adult stands by.
    DoorHands => "door-hands",
    /// The tin is accepted, not overfilled and in stock.
    Tin => "tin",
    /// A bake lasts its minutes.
    BakeTime => "bake-time",
    /// What has to cool has cooled.
    CoolEnough => "cool-enough",
    /// A group kept apart shares no oven and no used kit.
    KeepApart => "keep-apart",
    /// What the lesson locks is where the lesson says.
    Locked => "locked",
    /// Every group is ready before the closing steps begin.
    Bell => "bell",
);

impl fmt::Display for Rule {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self.name())
    }
}

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
