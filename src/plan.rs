//! A plan as a planner hands it over: what is where and when, unchecked.
//! Only the checker turns it into something that may be shown.

mod rule;
pub mod why;

pub use rule::Rule;

use why::By;

use crate::model::{
    AdultId, ClassStepId, GroupId, MethodId, OvenId, PoolId, ShelfId, StepId, TinChoiceId, TinId,
};
use crate::units::{Celsius, FineMillimetres, Minute};

/// Which method and tin a served group uses.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Choice {
    /// Whose.
    pub group: GroupId,
    /// The method.
    pub method: MethodId,
    /// The tin; `None` if the method is not baked.
    pub tin: Option<TinChoiceId>,
}

/// One step of one group.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct StepPlacement {
    /// Whose.
    pub group: GroupId,
    /// Which step of the chosen method.
    pub step: StepId,
    /// First minute.
    pub start: Minute,
    /// The minute after its last.
    pub end: Minute,
    /// Which pupils of the group, from 0.
    pub pupils: Vec<u32>,
    /// The adult it occupies, if it asks for one.
    pub adult: Option<AdultId>,
}

/// One tin in one oven.
#[derive(Debug, Clone, PartialEq)]
pub struct Load {
    /// Whose.
    pub group: GroupId,
    /// Which of the group's tins, from 0.
    pub number: u32,
    /// The oven.
    pub oven: OvenId,
    /// The shelf, from the top.
    pub shelf: ShelfId,
    /// Start of loading.
    pub start: Minute,
    /// End of taking out.
    pub end: Minute,
    /// Temperature it bakes at (the recipe's scale, without a fan).
    pub celsius: Celsius,
    /// Where it stands on the shelf.
    pub place: Place,
}

/// Where a tin stands, from the shelf's left and front.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Place {
    /// The left front corner of the rectangle round its rim: how tins stand
    /// whose rim is no circle. Of a round tin it is the square round its rim.
    Corner {
        /// Left edge, from the shelf's left.
        x: FineMillimetres,
        /// Front edge, from the shelf's front.
        y: FineMillimetres,
        /// Turned by a right angle: its rim's width lies left to right.
        turned: bool,
    },
    /// The middle of its rim: how round tins stand.
    Centre {
        /// From the shelf's left.
        x: FineMillimetres,
        /// From the shelf's front.
        y: FineMillimetres,
    },
}

impl Place {
    /// In the left front corner of a shelf.
    pub const FIRST: Self =
        Self::Corner { x: FineMillimetres::whole(0), y: FineMillimetres::whole(0), turned: false };

    /// Left edge, front edge, width and depth in millimetres of the rectangle
    /// round a rim of so many millimetres.
    pub fn around(self, (long, wide): (f64, f64)) -> (f64, f64, f64, f64) {
        match self {
            Self::Corner { x, y, turned: true } => (x.in_mm(), y.in_mm(), wide, long),
            Self::Corner { x, y, turned: false } => (x.in_mm(), y.in_mm(), long, wide),
            Self::Centre { x, y } => (x.in_mm() - long / 2.0, y.in_mm() - wide / 2.0, long, wide),
        }
    }
}

/// Of what some are in use.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Stock {
    /// Counted kit.
    Kit(PoolId),
    /// Tins of a kind, in the group's room.
    Tin(TinId),
}

/// Some kit or tins in use by a group, named one by one so that it can be
/// said who used which before.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct KitUse {
    /// Whose.
    pub group: GroupId,
    /// Of what.
    pub of: Stock,
    /// Which ones, from 0 below their count, each once.
    pub items: Vec<u32>,
    /// First minute.
    pub start: Minute,
    /// The minute after the last.
    pub end: Minute,
}

/// A step of the class.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ClassPlacement {
    /// Which.
    pub step: ClassStepId,
    /// First minute.
    pub start: Minute,
    /// The minute after its last.
    pub end: Minute,
}

/// A stretch for which an oven is set to one temperature.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OvenSetting {
    /// The oven.
    pub oven: OvenId,
    /// The temperature (the recipe's scale, without a fan).
    pub celsius: Celsius,
    /// When the dial is set, and heating or cooling begins.
    pub set_at: Minute,
    /// From when it is at this temperature.
    pub hot_from: Minute,
    /// Until when it is kept there.
    pub until: Minute,
}

/// An adult at an open oven door for one minute.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct DoorWatch {
    /// The oven.
    pub oven: OvenId,
    /// The minute.
    pub minute: Minute,
    /// Who.
    pub adult: AdultId,
}

/// Why a group is left out.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Refusal {
    /// Proved: no arrangement serves it.
    Cannot,
    /// Proved: no arrangement serves it together with all the others.
    CannotAll,
    /// No arrangement was found.
    NotFound,
    /// The teacher has left it out.
    LeftOut,
}

/// A group that is not served.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct NotServed {
    /// Which.
    pub group: GroupId,
    /// Why.
    pub refusal: Refusal,
    /// What shows it; [`By::Nothing`] of what is not proved, and of groups the
    /// teacher has left out.
    pub by: By,
    /// The rules that stand in the way.
    pub rules: Vec<Rule>,
    /// The reason as a teacher can check it, with its sum where there is one.
    pub reason: String,
}

/// Bounds the planner has proved; what is not here is not proved.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Bounds {
    /// No plan serves more groups.
    pub served_at_most: u32,
    /// With that many served, no plan departs less from the first choices.
    pub departures_at_least: u64,
    /// With that many served and so few departures, no plan has less
    /// shortfall of the wanted spare, in minutes.
    pub shortfall_at_least: i32,
}

/// What a planner found.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Plan {
    /// Choice of each group served.
    pub choices: Vec<Choice>,
    /// Steps of the groups served.
    pub steps: Vec<StepPlacement>,
    /// Tins in ovens.
    pub loads: Vec<Load>,
    /// Kit and tins in use.
    pub uses: Vec<KitUse>,
    /// Steps of the class.
    pub class_steps: Vec<ClassPlacement>,
    /// Oven temperatures.
    pub settings: Vec<OvenSetting>,
    /// Adults at oven doors.
    pub door_watches: Vec<DoorWatch>,
    /// Groups not served.
    pub not_served: Vec<NotServed>,
    /// What is proved about it.
    pub bounds: Option<Bounds>,
}

impl Plan {
    /// The choice of a group, if it is served.
    pub fn choice(&self, group: GroupId) -> Option<&Choice> {
        self.choices.iter().find(|c| c.group == group)
    }
}
