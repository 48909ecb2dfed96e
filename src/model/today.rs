//! The day on which a lesson is taught.

use std::fmt;
use std::str::FromStr;

use thiserror::Error;

use super::ids::GroupId;
use crate::units::{ClockTime, Minute, Minutes};

/// The day, as far as it is known.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Today {
    /// Whole spare sets of ingredients that are left.
    pub spare_sets: u32,
    /// Events of the day, in their order.
    pub happened: Vec<Happened>,
    /// Facts told of groups, in the order in which they were.
    pub facts: Vec<Fact>,
    /// Groups whose pupils work with another group: who, with whom.
    pub joined: Vec<(GroupId, GroupId)>,
    /// What was said once the lesson was over, if anything was.
    pub afterwards: Option<Afterwards>,
}

/// What was said once the lesson was over.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Afterwards {
    /// When groups set to work.
    pub set_to_work: Option<ClockTime>,
    /// What held groups up; may be empty.
    pub held: String,
    /// A line for next time; may be empty.
    pub next: String,
}

/// An event of the day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Happened {
    /// When, if known.
    pub at: Option<ClockTime>,
    /// The event in a sentence or two.
    pub what: String,
}

/// A fact told of a group.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Fact {
    /// When it was so.
    pub at: ClockTime,
    /// Of whom.
    pub group: GroupId,
    /// What.
    pub what: FactKind,
    /// The plan kept with the day goes by it already: something happened since, for
    /// which it was made.
    pub settled: bool,
}

/// A group that is behind its plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Slip {
    /// Which.
    pub group: GroupId,
    /// What of it ends after this minute of the plan is late.
    pub from: Minute,
    /// By so much; less than nothing of tins that were out early.
    pub late: Minutes,
}

/// What can be told of a group while it is at work.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum FactKind {
    /// It has set to work.
    Go,
    /// Its tins are in.
    In,
    /// Its tins are out.
    Out,
    /// It is ready.
    Ready,
    /// It is so many minutes behind its plan.
    Late(Minutes),
}

impl FactKind {
    /// Nobody is later than this, in minutes.
    pub const LATEST: i32 = 120;
}

impl FromStr for FactKind {
    type Err = NoFact;
    fn from_str(text: &str) -> Result<Self, NoFact> {
        let late = |minutes: &str| {
            let minutes: i32 = minutes.trim().parse().ok()?;
            (0..=Self::LATEST).contains(&minutes).then(|| Self::Late(Minutes::new(minutes)))
        };
        match text.trim() {
            "go" => Ok(Self::Go),
            "in" => Ok(Self::In),
            "out" => Ok(Self::Out),
            "ready" => Ok(Self::Ready),
            text => text.strip_prefix("late ").and_then(late).ok_or(NoFact),
        }
    }
}

impl fmt::Display for FactKind {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Self::Go => f.write_str("go"),
            Self::In => f.write_str("in"),
            Self::Out => f.write_str("out"),
            Self::Ready => f.write_str("ready"),
            Self::Late(minutes) => write!(f, "late {}", minutes.get()),
        }
    }
}

/// What is no fact.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Error)]
#[error("told is: go, in, out, ready, or late and minutes from 0 to 120, like \"late 4\"")]
pub struct NoFact;

impl Today {
    /// Spare sets at the start of a day, if nobody says how many: one whole
    /// set (common practice of the trade).
    pub const SPARE_SETS: u32 = 1;

    /// The group with which the pupils of a group work.
    pub fn works_with(&self, group: GroupId) -> Option<GroupId> {
        self.joined.iter().find(|(who, _)| *who == group).map(|(_, with)| *with)
    }
}
