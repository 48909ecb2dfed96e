//! What is wrong by the rules `one-oven`, `temperature` and `warm-up`.

use super::{TinOf, Words};
use crate::check::span::Span;
use crate::model::{GroupId, OvenId};
use crate::units::{Celsius, Kelvins, Minute, Minutes};

/// What is wrong with where tins bake.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum OneOvenFault {
    /// A tin is loaded more than once.
    LoadedTwice {
        /// Whose.
        group: GroupId,
    },
    /// Tins are not loaded.
    NotLoaded {
        /// Whose.
        group: GroupId,
        /// How many are.
        loaded: usize,
        /// Of how many.
        of: u32,
    },
    /// There is no such tin.
    NoSuchTin {
        /// The tin.
        tin: TinOf,
        /// Where it is.
        oven: OvenId,
        /// How many the group has.
        of: u32,
    },
    /// The oven is broken, or another's.
    NotItsOven {
        /// The tin.
        tin: TinOf,
        /// Where it is.
        oven: OvenId,
    },
    /// It is not there from loading to taking out.
    OtherTime {
        /// The tin.
        tin: TinOf,
        /// Where it is.
        oven: OvenId,
        /// When it is there.
        span: Span,
        /// From loading to taking out.
        bake: Span,
    },
}

impl OneOvenFault {
    pub(super) fn told(&self, words: &Words<'_>) -> String {
        match *self {
            Self::LoadedTwice { group } => {
                format!("{}: a tin is loaded more than once", words.group(group))
            }
            Self::NotLoaded { group, loaded, of } => {
                format!("{}: {loaded} of its {of} tins are loaded", words.group(group))
            }
            Self::NoSuchTin { tin, oven, of } => {
                format!("{} is in {}; the group has {of} tins", words.tin_of(tin), words.oven(oven))
            }
            Self::NotItsOven { tin, oven } => format!(
                "{} is in {}, which is not its to use or broken",
                words.tin_of(tin),
                words.oven(oven)
            ),
            Self::OtherTime { tin, oven, span, bake } => format!(
                "{} stands in {} {}; from loading to taking out is {}",
                words.tin_of(tin),
                words.oven(oven),
                words.span(span),
                words.span(bake)
            ),
        }
    }
}

/// What is wrong with how hot tins bake.
#[derive(Debug, Clone, PartialEq)]
pub enum TemperatureFault {
    /// Its recipe does not bear it.
    OffRecipe {
        /// The tin.
        tin: TinOf,
        /// How hot it is.
        at: Celsius,
        /// How hot the recipe wants it.
        wants: Celsius,
        /// And how far off that may be.
        tolerance: Kelvins,
    },
    /// The oven is not kept at that.
    NotKept {
        /// The tin.
        tin: TinOf,
        /// When it bakes.
        span: Span,
        /// How hot.
        at: Celsius,
        /// Where.
        oven: OvenId,
    },
}

impl TemperatureFault {
    pub(super) fn told(&self, words: &Words<'_>) -> String {
        match *self {
            Self::OffRecipe { tin, at, wants, tolerance } => format!(
                "{} bakes at {at}; its recipe wants {wants}, give or take {tolerance}",
                words.tin_of(tin)
            ),
            Self::NotKept { tin, span, at, oven } => format!(
                "{} bakes {} at {at}; {} is not kept at that",
                words.tin_of(tin),
                words.span(span),
                words.oven(oven)
            ),
        }
    }
}

/// What is wrong with how ovens come to their temperatures.
#[derive(Debug, Clone, PartialEq)]
pub enum WarmUpFault {
    /// A tin is in an oven that is on its way to a temperature.
    TinMeanwhile {
        /// The tin.
        tin: TinOf,
        /// Where it is.
        oven: OvenId,
        /// When it is there.
        span: Span,
        /// The temperature.
        to: Celsius,
        /// When the oven is on its way there.
        change: Span,
    },
    /// It is switched on too early.
    OnTooEarly {
        /// The oven.
        oven: OvenId,
        /// When it is switched on.
        set_at: Minute,
        /// From when it may be.
        allowed: Minute,
    },
    /// It is kept at one temperature and set to the next.
    TwoAtOnce {
        /// The oven.
        oven: OvenId,
        /// The one.
        kept: Celsius,
        /// Until when it is kept there.
        until: Minute,
        /// The next.
        to: Celsius,
        /// When it is set to that.
        set_at: Minute,
    },
    /// It has not the minutes that the change takes.
    TooShort {
        /// The oven.
        oven: OvenId,
        /// The minutes it has.
        given: Minutes,
        /// When it is set.
        set_at: Minute,
        /// To which temperature.
        to: Celsius,
        /// The minutes that takes.
        takes: Minutes,
    },
    /// It is not kept until it is there.
    CutShort {
        /// The oven.
        oven: OvenId,
        /// The temperature.
        to: Celsius,
        /// From when it is there.
        hot_from: Minute,
        /// Until when it is kept.
        until: Minute,
    },
}

impl WarmUpFault {
    pub(super) fn told(&self, words: &Words<'_>) -> String {
        match *self {
            Self::TinMeanwhile { tin, oven, span, to, change } => format!(
                "{} is in {} {}, while it goes to {to} {}",
                words.tin_of(tin),
                words.oven(oven),
                words.span(span),
                words.span(change)
            ),
            Self::OnTooEarly { oven, set_at, allowed } => format!(
                "{} is switched on at {}, allowed from {}",
                words.oven(oven),
                words.at(set_at),
                words.at(allowed)
            ),
            Self::TwoAtOnce { oven, kept, until, to, set_at } => format!(
                "{} is kept at {kept} until {} and set to {to} at {}",
                words.oven(oven),
                words.at(until),
                words.at(set_at)
            ),
            Self::TooShort { oven, given, set_at, to, takes } => format!(
                "{} is given {given} from {} to reach {to}; it takes {}",
                words.oven(oven),
                words.at(set_at),
                takes.get()
            ),
            Self::CutShort { oven, to, hot_from, until } => format!(
                "{} is set to {to} for {}, but kept only until {}",
                words.oven(oven),
                words.at(hot_from),
                words.at(until)
            ),
        }
    }
}
