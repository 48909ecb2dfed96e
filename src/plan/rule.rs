//! The rules of a valid plan by name: the one vocabulary for checker, planner
//! and whatever tells of them.

use std::fmt;

macro_rules! rules {
    ($($(#[$doc:meta])* $variant:ident => $name:literal),+ $(,)?) => {
        /// A rule a valid plan keeps, as laid down in `src/check/rules.md`.
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

            /// The rule of that short name.
            pub fn named(name: &str) -> Option<Rule> {
                Rule::ALL.iter().copied().find(|rule| rule.name() == name)
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
