//! What is wrong by the rules `bake-time` and `cool-enough`.

use super::{StepOf, TinOf, Words};
use crate::units::{Celsius, Minute, Minutes};

/// What is wrong with the minutes of a bake or of cooling.
#[derive(Debug, Clone, PartialEq)]
pub enum BakeFault {
    /// Nobody has stated how long it bakes.
    Unstated {
        /// The bake.
        step: StepOf,
        /// What the plan gives it.
        given: Minutes,
    },
    /// It does not last its minutes.
    Lasts {
        /// The bake.
        step: StepOf,
        /// What the plan gives it.
        given: Minutes,
        /// What it takes.
        takes: Minutes,
    },
    /// It is at a temperature at which its minutes are not known.
    Unknown {
        /// The tin.
        tin: TinOf,
        /// The temperature.
        at: Celsius,
        /// Those at which they are.
        known: Vec<Celsius>,
    },
    /// Tins of one group take different minutes.
    TinsDiffer {
        /// The tin.
        tin: TinOf,
        /// Its temperature.
        at: Celsius,
        /// What it takes there.
        takes: Minutes,
        /// What another tin of the group takes.
        other: Minutes,
    },
    /// It does not cool for long enough.
    CoolsTooShort {
        /// The cooling.
        step: StepOf,
        /// What the plan gives it.
        given: Minutes,
        /// From when.
        start: Minute,
        /// What it takes at least.
        takes: Minutes,
    },
}

impl BakeFault {
    pub(super) fn told(&self, words: &Words<'_>) -> String {
        let of = |step, given| format!("{} is given {given}", words.step_of(step));
        match self {
            Self::Unstated { step, given } => {
                format!("{}; nobody has stated its minutes", of(*step, *given))
            }
            Self::Lasts { step, given, takes } => {
                format!("{}; it takes {}", of(*step, *given), takes.get())
            }
            Self::Unknown { tin, at, known } => {
                let known: Vec<String> = known.iter().map(Celsius::to_string).collect();
                format!(
                    "{} bakes at {at}; its minutes are known for {} only",
                    words.tin_of(*tin),
                    known.join(" and ")
                )
            }
            Self::TinsDiffer { tin, at, takes, other } => format!(
                "{} bakes at {at}; there it takes {takes}; another of its tins takes {}",
                words.tin_of(*tin),
                other.get()
            ),
            Self::CoolsTooShort { step, given, start, takes } => format!(
                "{} from {}; it takes {} at least",
                of(*step, *given),
                words.at(*start),
                takes.get()
            ),
        }
    }
}
