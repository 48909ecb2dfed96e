//! A lesson as whole-minute tasks, links, resources and choices. Times are
//! plain minutes from the first start bell; resources are numbered pools.

use std::sync::Arc;

use super::footprint::{Footprint, Spot};
use super::packing::Space;
use super::windows::Windows;
use crate::model::{
    ClassStepId, GroupId, MethodId, OvenId, PoolId, RoomId, StepId, StepKind, TinChoiceId, TinId,
    UnitId,
};
use crate::units::Celsius;

/// The problem the planner solves: a lesson in whole minutes.
#[derive(Debug, Clone)]
pub struct Problem {
    /// Minutes `0 … horizon-1` are planned.
    pub horizon: i32,
    /// Groups that take part, in the lesson's order.
    pub groups: Vec<GroupTask>,
    /// Working ovens.
    pub ovens: Vec<OvenTask>,
    /// Temperatures at which tins may bake, each once.
    pub heats: Vec<Celsius>,
    /// Counted things: kit, tins, adults.
    pub pools: Vec<Pool>,
    /// The periods.
    pub periods: Vec<PeriodTask>,
    /// Steps of the class that lie at a fixed minute.
    pub fixed: Vec<ClassTask>,
    /// Steps of the class that lie within a window.
    pub floating: Vec<ClassTask>,
    /// Length of an oven call.
    pub call: i32,
    /// Tins that one opening moves.
    pub tins_per_opening: i32,
    /// The minute of the last thing that happened, on a day that has begun.
    pub happened: Option<i32>,
    /// An adult stands at every open oven door.
    pub adult_at_doors: bool,
    /// Wanted spare minutes.
    pub wanted_spare: i32,
    /// For each room, whether an adult is there, minute by minute.
    pub adult_near: Vec<Vec<bool>>,
}

impl Problem {
    /// Changes every option of every group; those that groups share, once for
    /// all of them. A change goes by what such groups have in common: the
    /// recipe of the one named, and its period.
    pub fn change_options(&mut self, mut change: impl FnMut((GroupId, usize), &mut Choice)) {
        let mut done: Vec<[Arc<Vec<Choice>>; 2]> = Vec::new();
        for group in &mut self.groups {
            let old = Arc::clone(&group.options);
            if let Some([_, new]) = done.iter().find(|[known, _]| Arc::ptr_eq(known, &old)) {
                group.options = Arc::clone(new);
                continue;
            }
            for choice in Arc::make_mut(&mut group.options) {
                change((group.group, group.period), choice);
            }
            done.push([old, Arc::clone(&group.options)]);
        }
    }

    /// Wants the longest period as spare time: the third aim is then the
    /// earliest finish.
    pub fn want_the_whole_period(&mut self) {
        self.wanted_spare = self.periods.iter().map(|p| p.end - p.start).max().unwrap_or(0);
    }
}

/// The thing a pool counts.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PoolOf {
    /// Counted kit.
    Kit(PoolId),
    /// Tins of a kind in a room.
    Tin(TinId, RoomId),
    /// One adult, by position in the lesson.
    Adult(usize),
}

/// A counted thing.
#[derive(Debug, Clone)]
pub struct Pool {
    /// The thing counted.
    pub of: PoolOf,
    /// How many there are.
    pub count: i32,
    /// Minutes in which one of it is taken from the start: an adult who is
    /// not there.
    pub taken: Vec<bool>,
}

/// A period.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PeriodTask {
    /// Start bell.
    pub start: i32,
    /// End bell.
    pub end: i32,
    /// End of the opening steps.
    pub opening_end: i32,
    /// Start of the closing steps.
    pub closing_start: i32,
}

/// A step of the class.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ClassTask {
    /// The step of the lesson.
    pub step: ClassStepId,
    /// Its period.
    pub period: usize,
    /// Its minutes.
    pub minutes: i32,
    /// Earliest start; the start itself if it is fixed.
    pub earliest: i32,
    /// Latest start.
    pub latest: i32,
    /// Pools of the adults it takes.
    pub adults: Vec<usize>,
}

/// A working oven.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OvenTask {
    /// The oven of the lesson.
    pub oven: OvenId,
    /// The unit it belongs to.
    pub unit: Option<UnitId>,
    /// Whole minutes from each of `Problem::heats`, and last from cold, to
    /// each of them.
    pub changes: Vec<Vec<i32>>,
    /// Earliest minute it may be switched on.
    pub on_from: i32,
    /// The minute from which it does not work, if it fails.
    pub out_from: Option<i32>,
    /// What is known of it if plans are looked for in mid-lesson.
    pub begun: Option<OvenBegun>,
    /// Its shelves.
    pub shelves: Vec<ShelfTask>,
}

/// What an oven is set to by a minute of the lesson.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct OvenBegun {
    /// The minute.
    pub by: i32,
    /// The temperature, as a position in `Problem::heats`, and from when it is
    /// that hot; `None` if it is off.
    pub set: Option<(usize, i32)>,
}

/// A tin that stands in an oven by the minute from which plans are looked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct BegunTin {
    /// The oven, as a position in `Problem::ovens`.
    pub oven: usize,
    /// The shelf.
    pub shelf: usize,
    /// Where on it.
    pub spot: Spot,
}

/// A shelf.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct ShelfTask {
    /// Its size and gap.
    pub space: Space,
    /// Clear height over it.
    pub clear: i32,
}

/// A group.
#[derive(Debug, Clone)]
pub struct GroupTask {
    /// The group of the lesson.
    pub group: GroupId,
    /// The first group that differs from it in nothing but its name: where
    /// that one cannot be placed, this one cannot be placed after it.
    pub like: usize,
    /// Its period.
    pub period: usize,
    /// Its room.
    pub room: RoomId,
    /// How many pupils.
    pub pupils: i32,
    /// Whether it is to be served before all others. This is no rule: who
    /// looks for a plan in which a certain group has a place says so.
    pub before_all: bool,
    /// Whether it shares no oven and no kit that touched other food.
    pub keep_apart: bool,
    /// Methods and tins it may use, fewest departures first. Groups of one kind
    /// share them.
    pub options: Arc<Vec<Choice>>,
    /// Ovens it may use, its own unit's first, as positions in
    /// `Problem::ovens`.
    pub ovens: Vec<usize>,
    /// The shelf it is locked to.
    pub shelf: Option<usize>,
    /// Where its tins stand, if its bake has begun.
    pub begun: Vec<BegunTin>,
    /// Pools of adults who may serve it.
    pub adults: Vec<usize>,
}

/// A method and a tin at a temperature. Several may differ in nothing but the
/// temperature, and the minutes of the bake with it.
#[derive(Debug, Clone)]
pub struct Choice {
    /// The method.
    pub method: MethodId,
    /// The tin; `None` if it is not baked.
    pub tin: Option<TinChoiceId>,
    /// How far it departs from the teacher's first choice.
    pub departure: u64,
    /// The steps, each after those it is linked from.
    pub tasks: Vec<Task>,
    /// The bake, if there is one.
    pub bake: Option<BakeTask>,
    /// Things occupied from the start of one task to the end of another.
    pub holds: Vec<HoldTask>,
    /// Tasks of the lesson that must precede loading, in an order in which
    /// they can be placed backwards from it.
    pub ancestors: Vec<usize>,
    /// Other tasks, load, bake and take out apart, in an order in which they
    /// can be placed forwards.
    pub rest: Vec<usize>,
    /// Steps done before the start bell, with their start and end.
    pub beforehand: Vec<(usize, i32, i32)>,
    /// When its tasks can start, by bells, links and locks.
    pub windows: Windows,
}

/// The part of the day in which a step is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum WhenDone {
    /// In the lesson.
    InLesson,
    /// Before the start bell.
    Beforehand,
    /// After the end bell.
    Collected,
}

/// A step.
#[derive(Debug, Clone)]
pub struct Task {
    /// The step of its method.
    pub step: StepId,
    /// Its kind.
    pub kind: StepKind,
    /// Planned minutes.
    pub minutes: i32,
    /// Quick minutes, unrounded: for bounds and proofs.
    pub quick: f64,
    /// Pupils it takes.
    pub pupils: i32,
    /// Counted things it takes while it lasts.
    pub needs: Vec<Need>,
    /// Whether it occupies an adult.
    pub with_adult: bool,
    /// Whether it wants an adult in the room.
    pub adult_near: bool,
    /// When it is done.
    pub when: WhenDone,
    /// The minute it is locked to.
    pub locked: Option<i32>,
    /// The minute before which it does not begin, in mid-lesson.
    pub not_before: Option<i32>,
    /// Links from earlier tasks.
    pub before: Vec<Gap>,
    /// Links to later tasks.
    pub after: Vec<Gap>,
    /// Planned minutes that must pass between the opening and its start.
    pub head: i32,
    /// Planned minutes from its start to the end of all that hangs on it.
    pub tail: i32,
}

/// A link seen from one of its ends.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Gap {
    /// The task at the other end.
    pub task: usize,
    /// Least whole minutes between them.
    pub least: i32,
    /// Longest whole minutes between them.
    pub longest: Option<i32>,
}

/// A number of items of a counted thing.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Need {
    /// Pools that may serve it, best first.
    pub pools: Vec<usize>,
    /// Number of items.
    pub count: i32,
    /// `keep-apart` speaks of it: food touches it, and washing does not make
    /// it unused.
    pub kept_apart: bool,
}

/// A counted thing occupied over several tasks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct HoldTask {
    /// The kit held.
    pub need: Need,
    /// From the start of this task.
    pub from: usize,
    /// To the end of this one.
    pub to: usize,
}

/// The bake of a choice.
#[derive(Debug, Clone)]
pub struct BakeTask {
    /// Task that loads.
    pub load: usize,
    /// The bake.
    pub bake: usize,
    /// Task that takes out.
    pub out: usize,
    /// How many tins.
    pub tins: i32,
    /// What one of them takes of a shelf.
    pub footprint: Footprint,
    /// Height in millimetres.
    pub height: i32,
    /// Temperature without a fan, as a position in `Problem::heats`.
    pub heat: usize,
    /// Whether that is the tin's own temperature.
    pub own_heat: bool,
    /// Minutes the door stays shut after loading.
    pub shut: Option<i32>,
    /// For each oven of the problem and each of its shelves, the best
    /// arrangement of such tins on it when empty; none if too low.
    pub patterns: Arc<Vec<Vec<Vec<Spot>>>>,
    /// Upper bounds that go with `patterns`.
    pub at_most: Arc<Vec<Vec<usize>>>,
}
