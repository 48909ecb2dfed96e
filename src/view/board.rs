//! The board: rows of groups, ovens with their shelves, ribbons of kit and
//! adults, all along one clock. Times are minutes of the lesson.

use super::ovens::{OvenLane, oven_lanes};
use super::ribbons::{Ribbon, ribbons};
use super::rows::{Row, rows};
use super::words::clock;
use crate::check::CheckedPlan;
use crate::model::{ClassStepId, GroupId, Lesson, Phase, StepId};
use crate::units::Minute;

/// What a bar is, for its fill.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Work {
    /// Work at the bench.
    Bench,
    /// Tins into the oven or out of it.
    Door,
    /// Baking.
    Bake,
    /// Cooling.
    Cool,
    /// Proving, resting.
    Wait,
    /// Washing up, drying, wiping.
    Clear,
}

impl Work {
    /// In a word.
    pub fn word(self) -> &'static str {
        match self {
            Work::Bench => "bench work",
            Work::Door => "at the oven",
            Work::Bake => "baking",
            Work::Cool => "cooling",
            Work::Wait => "waiting",
            Work::Clear => "clearing away",
        }
    }
}

/// What a bar stands for, the same from plan to plan.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum BarId {
    /// A group's step.
    Step(GroupId, StepId),
    /// A group's tin in an oven, by its number.
    Tin(GroupId, u32),
    /// A step of the class.
    Class(ClassStepId),
}

/// A bar along the clock.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bar {
    /// What it stands for.
    pub id: BarId,
    /// What it is.
    pub work: Work,
    /// First minute.
    pub from: Minute,
    /// The minute after its last.
    pub until: Minute,
    /// Lane within its row, from 0.
    pub lane: usize,
    /// The teacher has fixed it where it is.
    pub held: bool,
    /// What is written on it, if there is room.
    pub label: String,
    /// What a screen reader says.
    pub spoken: String,
}

/// A step of the class, a band through all rows.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Band {
    /// Which.
    pub step: ClassStepId,
    /// Its name.
    pub name: String,
    /// It lies in the course of the lesson.
    pub during: bool,
    /// First minute.
    pub from: Minute,
    /// The minute after its last.
    pub until: Minute,
    /// What a screen reader says.
    pub spoken: String,
}

/// Everything along the clock.
#[derive(Debug, Clone, PartialEq)]
pub struct Board {
    /// First minute there is anything at.
    pub from: Minute,
    /// The minute after the last.
    pub until: Minute,
    /// The bells.
    pub bells: Vec<Minute>,
    /// Steps of the class.
    pub bands: Vec<Band>,
    /// Groups.
    pub rows: Vec<Row>,
    /// Ovens.
    pub ovens: Vec<OvenLane>,
    /// Kit and adults.
    pub ribbons: Vec<Ribbon>,
}

impl Board {
    /// The board of a plan.
    pub fn of(lesson: &Lesson, plan: &CheckedPlan) -> Self {
        let mut bells: Vec<Minute> = lesson.periods.iter().flat_map(|p| [p.start, p.end]).collect();
        bells.sort_unstable();
        bells.dedup();
        let bands = bands(lesson, plan);
        let first = bells.first().copied().unwrap_or_default();
        let last = bells.last().copied().unwrap_or_default();
        Self {
            from: first,
            until: last,
            bells,
            bands,
            rows: rows(lesson, plan),
            ovens: oven_lanes(lesson, plan),
            ribbons: ribbons(lesson, plan),
        }
    }

    /// All bars of groups and ovens.
    pub fn bars(&self) -> impl Iterator<Item = &Bar> {
        let rows = self.rows.iter().flat_map(|r| &r.bars);
        rows.chain(self.ovens.iter().flat_map(|o| o.shelves.iter().flatten()))
    }

    /// The bar of an id.
    pub fn bar(&self, id: BarId) -> Option<&Bar> {
        self.bars().find(|b| b.id == id)
    }
}

fn bands(lesson: &Lesson, plan: &CheckedPlan) -> Vec<Band> {
    let placed = plan.plan().class_steps.iter();
    placed
        .map(|p| {
            let step = &lesson.class_steps[p.step.0];
            let name = step.name.clone();
            let during = step.phase == Phase::During;
            let spoken = format!(
                "The class, {name}, {} to {}",
                clock(lesson, p.start),
                clock(lesson, p.end)
            );
            Band { step: p.step, name, during, from: p.start, until: p.end, spoken }
        })
        .collect()
}
