//! Moving things of a plan by hand, and holding them.
//!
//! A thing that is put somewhere becomes locks in the lesson's file, so that a
//! move is one change of it that can be undone, and the plan keeps to it
//! because the rule `locked` says so. Others stay where they are if that can
//! be. Where a thing cannot be where it was put, the rule that stands in the
//! way is found by lifting one family of rules after another, and a plan with
//! the thing in that place is put to the checker, which has the last word.

mod alone;
mod by_hand;
mod clash;
mod drop;
mod held;
mod lift;
mod others;
mod path;
mod put;
mod refusal_words;
mod rule_words;
mod several;
mod shelves;
mod spots;
mod why;
pub mod words;

use std::sync::Arc;

use crate::check::CheckedPlan;
use crate::file::format::LessonFile;
use crate::model::{GroupId, Lesson, OvenId, ShelfId, StepId};
use crate::plan::{Plan, Rule};
use crate::units::Minute;

pub use by_hand::{ByHand, Does};
pub use clash::{Contradiction, contradiction};
pub use held::{Held, Holds, held, hold, let_go};
pub use put::put;
pub use several::{let_go_lock, put_all};
pub use spots::spots;

/// A lesson's file, the lesson and its plan, from which something is moved.
pub type AtHand<'a> = (&'a LessonFile, &'a Lesson, &'a CheckedPlan);

/// What is taken hold of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Thing {
    /// A step of the method the group uses in the plan; of its first method if
    /// it is not served. Load, bake and take out go together.
    Step(GroupId, StepId),
    /// A group's tins: their oven and shelf, and when they go in.
    Bake(GroupId),
    /// All of a group's steps in the lesson. What is done for it before the
    /// start bell or after the end bell stays as it is.
    Row(GroupId),
}

impl Thing {
    /// Whose it is.
    pub fn group(self) -> GroupId {
        match self {
            Thing::Step(group, _) | Thing::Bake(group) | Thing::Row(group) => group,
        }
    }

    /// When it starts in a plan; `None` if its group is not served.
    pub fn start(self, lesson: &Lesson, plan: &CheckedPlan) -> Option<Minute> {
        let steps = plan.plan().steps.iter();
        match self {
            Thing::Step(g, s) => {
                steps.clone().find(|p| p.group == g && p.step == s).map(|p| p.start)
            }
            Thing::Row(g) => {
                // What is done before the bell stays as it is.
                let bell = lesson.periods[lesson.group(g).period.0].start;
                steps.filter(|p| p.group == g && p.start >= bell).map(|p| p.start).min()
            }
            Thing::Bake(g) => {
                let choice = plan.plan().choice(g)?;
                let (load, _, _) = lesson.method_of(g, choice.method).bake_steps()?;
                steps.clone().find(|p| p.group == g && p.step == load).map(|p| p.start)
            }
        }
    }
}

/// Where it is put. What is not said stays as it is in the plan, except that a
/// bake with a place and no minute goes in whenever it suits.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Hash)]
pub struct Spot {
    /// Of a step its start; of a bake the start of loading; of a row the start
    /// of its earliest step in the lesson, from which the others keep their
    /// distance.
    pub at: Option<Minute>,
    /// Of a bake or a row: oven, and shelf if one is meant.
    pub place: Option<(OvenId, Option<ShelfId>)>,
}

/// What it would take to put something somewhere.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Fit {
    /// No other group that is served changes anything.
    Stays,
    /// Others change their times or places.
    OthersMove,
    /// Other groups that were served would not be.
    AtACost,
    /// It cannot be there, not even by itself, beside what is held of other
    /// groups; or no way was found.
    Refused(Rule),
}

/// Something was put where it was wanted.
#[derive(Debug, Clone)]
pub struct Put {
    /// The lesson with the locks.
    pub lesson: Arc<Lesson>,
    /// Its file.
    pub file: LessonFile,
    /// A plan of it in which the group is served.
    pub plan: CheckedPlan,
    /// What it took; never `Refused`.
    pub fit: Fit,
    /// Other groups that are served in both plans and change something.
    pub moved: Vec<GroupId>,
    /// Other groups that were served and no longer are.
    pub lost: Vec<GroupId>,
    /// Other groups that were not served and now are.
    pub gained: Vec<GroupId>,
}

/// Something cannot be where it was put.
#[derive(Debug, Clone)]
pub struct Refused {
    /// The rule that stands in the way.
    pub rule: Rule,
    /// Why, with the sum, by the clock and in the lesson's names.
    pub sentence: String,
    /// A plan in which the thing is where it was put; others are left out but
    /// for those of which something is held. The checker refuses it for `rule`
    /// at least.
    pub witness: Plan,
    /// The lesson as it would be, with the locks: what the witness is judged
    /// by. Its file might not be read as a lesson.
    pub lesson: Arc<Lesson>,
    /// It is proved: *cannot*. Else no plan was found.
    pub proved: bool,
}

/// Where something could be put, of one place.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct SpotRow {
    /// Oven and shelf, for a bake.
    pub place: Option<(OvenId, ShelfId)>,
    /// For each minute of the group's period what it would take, as far as a
    /// first look tells: what is said to stay does, what is said to be refused
    /// is, others may turn out better.
    pub fits: Vec<(Minute, Fit)>,
}
