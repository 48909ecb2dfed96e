//! Groups of pupils, and the adults in the room.

use std::collections::BTreeSet;

use super::ids::{AdultId, GroupId, MethodId, PeriodId, RecipeId, RoomId, TinChoiceId, UnitId};
use crate::units::{Minute, Minutes};

/// An adult and when they are there.
#[derive(Debug, Clone, PartialEq)]
pub struct Adult {
    /// Name of the post ("teacher", "technician"), unique in the lesson.
    pub name: String,
    /// The room they are in; `None` when they go between the rooms.
    pub room: Option<RoomId>,
    /// Stretches in the room, from (inclusive) to (exclusive).
    pub hours: Vec<(Minute, Minute)>,
    /// The one group they serve, if they serve only one.
    pub attached_to: Option<GroupId>,
}

impl Adult {
    /// Whether they are in the room in that minute.
    pub fn is_there(&self, minute: Minute) -> bool {
        self.hours.iter().any(|&(from, until)| from <= minute && minute < until)
    }

    /// Whether they are in the room in all minutes from one to another.
    pub fn is_there_throughout(&self, from: Minute, until: Minute) -> bool {
        (from.get()..until.get()).all(|minute| self.is_there(Minute::new(minute)))
    }

    /// Whether they are in the room in that minute or later.
    pub fn is_there_from(&self, minute: Minute) -> bool {
        self.hours.iter().any(|&(_, until)| minute < until)
    }
}

/// The adult who sets up, by the name of the post.
pub fn technician(adults: &[Adult]) -> Option<AdultId> {
    let post = |word: &str| adults.iter().position(|a| a.name.to_lowercase().contains(word));
    post("technician").or_else(|| post("assistant")).map(AdultId)
}

/// Whether a group is planned for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Attendance {
    /// The group takes part.
    #[default]
    TakesPart,
    /// The teacher has left it out.
    LeftOut,
}

/// A group of pupils who bake together.
#[derive(Debug, Clone, PartialEq)]
pub struct Group {
    /// Its name, unique in the lesson.
    pub name: String,
    /// How many pupils, at least one.
    pub pupils: u32,
    /// The room it works in.
    pub room: RoomId,
    /// The unit it works at, if any.
    pub unit: Option<UnitId>,
    /// Its period.
    pub period: PeriodId,
    /// The recipe it makes.
    pub recipe: RecipeId,
    /// Methods it may use, best liked first; never empty.
    pub methods: Vec<MethodId>,
    /// Tins it may use, best liked first. Empty if the recipe is not baked.
    pub tins: Vec<TinChoiceId>,
    /// Factor on the minutes of its hand steps.
    pub pace: f64,
    /// Must share no oven at one time and no kit that touched other food.
    pub keep_apart: bool,
    /// Needs its bakes must keep to, in a few words each. For people to read:
    /// no plan goes by it.
    pub needs: Vec<String>,
    /// Names of steps done for it before the start bell.
    pub beforehand: BTreeSet<String>,
    /// Names of steps done for it after the end bell.
    pub collected: BTreeSet<String>,
    /// Whether it is planned for.
    pub attendance: Attendance,
    /// How long its bake lasts, where the day has told that it is not as long as its tin
    /// has it.
    pub baked_for: Option<Minutes>,
}

impl Group {
    /// Whether an adult may serve this group, which has id `group`.
    pub fn may_have(&self, group: GroupId, adult: AdultId, adults: &[Adult]) -> bool {
        adults.get(adult.0).is_some_and(|a| {
            a.attached_to.is_none_or(|g| g == group) && a.room.is_none_or(|r| r == self.room)
        })
    }
}
