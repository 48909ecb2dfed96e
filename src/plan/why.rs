//! Why a group is not served, as a planner explains it.

use super::{Refusal, Rule};
use crate::model::{GroupId, KitId, Lesson, TinId};

/// Which minutes a proof counts with.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Pace {
    /// Quick and unrounded: what not even the best lesson beats.
    Quick,
    /// As planned: what no plan beats.
    Planned,
}

impl Pace {
    /// Its fixed short name.
    pub fn name(self) -> &'static str {
        match self {
            Pace::Quick => "quick",
            Pace::Planned => "planned",
        }
    }
}

/// What shows that a group is not served.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum By {
    /// Its own steps, one after the other, take too long.
    Chain,
    /// Shelf places need too many turns.
    Turns,
    /// Something counted is not there for long enough.
    Share,
    /// No tin or oven is left to it.
    NoPlace,
    /// A smallest set of groups and rules that contradict each other.
    Set,
    /// Every running order was tried, of the group by itself or of all groups
    /// together.
    Orders,
    /// Nothing: it is not proved.
    Nothing,
}

impl By {
    /// Its fixed short name.
    pub fn name(self) -> &'static str {
        match self {
            By::Chain => "chain",
            By::Turns => "turns",
            By::Share => "share",
            By::NoPlace => "no-place",
            By::Set => "set",
            By::Orders => "orders",
            By::Nothing => "nothing",
        }
    }

    /// All of them.
    pub const ALL: [By; 7] =
        [By::Chain, By::Turns, By::Share, By::NoPlace, By::Set, By::Orders, By::Nothing];
}

/// Rules that are kept or lifted together. Those of no family are always kept.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Family {
    /// What the lesson locks.
    Locked,
    /// Groups kept apart.
    KeepApart,
    /// The class's own steps between opening and closing.
    ClassStep,
    /// How many tins go through an opened door, and the adult at it.
    DoorHands,
    /// Doors that stay shut for a delicate bake.
    Door,
    /// One temperature at a time, and warming up.
    Temperature,
    /// Adults who are there and near or occupied.
    Adults,
    /// The stock of one kind of tin.
    Tin(TinId),
    /// The number of one kind of kit.
    Kit(KitId),
    /// No pupil does two steps at once.
    Pupils,
    /// Room on the shelves.
    Shelf,
    /// Links between the steps of a group, with their gaps.
    Order,
    /// All is ready before the closing steps.
    Bell,
}

impl Family {
    /// Its rules.
    pub fn rules(self) -> &'static [Rule] {
        match self {
            Family::Locked => &[Rule::Locked],
            Family::KeepApart => &[Rule::KeepApart],
            Family::ClassStep => &[Rule::ClassStep],
            Family::DoorHands => &[Rule::DoorHands],
            Family::Door => &[Rule::Door],
            Family::Temperature => &[Rule::Temperature, Rule::WarmUp],
            Family::Adults => &[Rule::Adults],
            Family::Tin(_) => &[Rule::Tin],
            Family::Kit(_) => &[Rule::Kit],
            Family::Pupils => &[Rule::Pupils],
            Family::Shelf => &[Rule::Shelf],
            Family::Order => &[Rule::Order],
            Family::Bell => &[Rule::Bell],
        }
    }
}

/// Groups and rules of which each is needed for the contradiction.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SmallestSet {
    /// These groups cannot all be served. That any one of them never can be is
    /// not said.
    pub groups: Vec<GroupId>,
    /// Under these families of rules; their rules are [`Explanation::rules`].
    pub families: Vec<Family>,
    /// Without each one member a plan of the rest was found.
    pub smallest: bool,
}

impl SmallestSet {
    /// Names of the kinds of kit and tins in it.
    pub fn things<'a>(&self, lesson: &'a Lesson) -> Vec<&'a str> {
        let name = |family: &Family| match family {
            Family::Kit(kit) => Some(lesson.kit_kinds[kit.0].name.as_str()),
            Family::Tin(tin) => Some(lesson.tins[tin.0].name.as_str()),
            _ => None,
        };
        self.families.iter().filter_map(name).collect()
    }
}

/// Why one group is not served.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Explanation {
    /// Which.
    pub group: GroupId,
    /// What is proved of it. What holds at planned minutes only is
    /// [`Refusal::NotFound`].
    pub refusal: Refusal,
    /// What shows it.
    pub by: By,
    /// The minutes it holds at; `None` if nothing is proved.
    pub pace: Option<Pace>,
    /// The rules that stand in the way.
    pub rules: Vec<Rule>,
    /// The terms of the sum; empty where there is none.
    pub sum: String,
    /// The answer in a teacher's words.
    pub sentence: String,
    /// The contradiction, if that is what shows it.
    pub set: Option<SmallestSet>,
    /// What was tried, where nothing is proved.
    pub tried: String,
}

impl Explanation {
    /// Whether it is proved, be it at planned minutes.
    pub fn is_proved(&self) -> bool {
        self.by != By::Nothing
    }
}
