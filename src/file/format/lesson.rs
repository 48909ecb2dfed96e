//! The lesson itself in a lesson file: periods, groups, adults, rules, locks.

use serde::{Deserialize, Serialize};

use super::super::told::ToldText;
use super::{
    Entries, KitCount, PacketShape, RecipeShape, RoomShape, StatedMinutes, TeacherNoteShape,
    TinShape, TodayShape, TogetherShape, is_default,
};

/// A lesson file.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LessonFile {
    /// The format's number, first in the file.
    pub format: u32,
    /// What other files know the lesson by, once one points to it.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub id: Option<String>,
    /// What the lesson is called.
    #[serde(default, skip_serializing_if = "is_default")]
    pub title: String,
    /// The day, as "2026-11-24".
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub date: Option<String>,
    /// The time zone of its clock by its name in the IANA's database, as
    /// "Europe/London"; the clock on the wall if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub zone: Option<String>,
    /// The class.
    #[serde(default, skip_serializing_if = "is_default")]
    pub class: ClassShape,
    /// The period.
    pub period: PeriodShape,
    /// Further periods of the same day.
    #[serde(default, skip_serializing_if = "is_default")]
    pub other_periods: Vec<PeriodShape>,
    /// The room.
    pub room: RoomShape,
    /// Further rooms.
    #[serde(default, skip_serializing_if = "is_default")]
    pub other_rooms: Vec<RoomShape>,
    /// Kit that the rooms share.
    #[serde(default, skip_serializing_if = "is_default")]
    pub shared_kit: Entries<KitCount>,
    /// Adults.
    #[serde(default, skip_serializing_if = "is_default")]
    pub adults: Vec<AdultShape>,
    /// Rules laid down by the teacher or the school.
    #[serde(default, skip_serializing_if = "is_default")]
    pub rules: RulesShape,
    /// Steps done for every group before the start bell, by name.
    #[serde(default, skip_serializing_if = "is_default")]
    pub beforehand: Vec<String>,
    /// Steps done for every group after the end bell, by name.
    #[serde(default, skip_serializing_if = "is_default")]
    pub collected: Vec<String>,
    /// Recipes.
    pub recipes: Vec<RecipeShape>,
    /// How ingredients are bought, and what their labels name.
    #[serde(default, skip_serializing_if = "is_default")]
    pub packets: Vec<PacketShape>,
    /// Kinds of tins.
    #[serde(default, skip_serializing_if = "is_default")]
    pub tins: Vec<TinShape>,
    /// Groups.
    pub groups: Vec<GroupShape>,
    /// Locks: what is fixed.
    #[serde(default, skip_serializing_if = "is_default")]
    pub locks: Vec<LockShape>,
    /// The teacher's own notes.
    #[serde(default, skip_serializing_if = "is_default")]
    pub teacher: Vec<TeacherNoteShape>,
    /// How far minutes go together when a plan is played.
    #[serde(default, skip_serializing_if = "is_default")]
    pub together: TogetherShape,
    /// Costs of changes.
    #[serde(default, skip_serializing_if = "is_default")]
    pub changes: ChangesShape,
    /// The day, in a copy for the day on which it is taught.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub today: Option<TodayShape>,
    /// The plan that is kept with the lesson: what groups have been told.
    #[serde(
        default,
        skip_serializing_if = "Option::is_none",
        serialize_with = "ToldText::serialize_some"
    )]
    pub told: Option<ToldText>,
}

/// A pace band. A class of one school year has pupils of two ages. Files of
/// format 1 name the upper two by other ages.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
pub enum PaceBand {
    /// Ages 11 to 12.
    Ages11To12,
    /// Ages 12 to 14.
    #[default]
    #[serde(alias = "Ages13To14")]
    Ages12To14,
    /// Ages 14 to 16.
    #[serde(alias = "Ages15To16")]
    Ages14To16,
}

/// The class.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct ClassShape {
    /// Its name.
    #[serde(skip_serializing_if = "is_default")]
    pub name: String,
    /// Its pace band: which of three triples of minutes is meant.
    #[serde(skip_serializing_if = "is_default")]
    pub band: PaceBand,
}

/// A period.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct PeriodShape {
    /// Its name; "period" if not said.
    #[serde(default, skip_serializing_if = "is_default")]
    pub name: String,
    /// Start bell, as "10:05".
    pub start: String,
    /// End bell.
    pub end: String,
    /// The class's own steps from the start bell, in order.
    #[serde(default, skip_serializing_if = "is_default")]
    pub opening: Vec<ClassStepShape>,
    /// The class's steps in the course of the lesson.
    #[serde(default, skip_serializing_if = "is_default")]
    pub during: Vec<ClassStepShape>,
    /// The class's steps up to the end bell, in order.
    #[serde(default, skip_serializing_if = "is_default")]
    pub closing: Vec<ClassStepShape>,
    /// When ovens may be switched on, in minutes from the start bell; -20 if
    /// not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ovens_on_from: Option<i32>,
    /// The adult who switches the ovens on, by name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub ovens_on_by: Option<String>,
}

/// A step of the class.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct ClassStepShape {
    /// Its name.
    pub name: String,
    /// How long.
    pub minutes: StatedMinutes,
    /// Adults it takes, by name.
    #[serde(default, skip_serializing_if = "is_default")]
    pub adults: Vec<String>,
    /// Only in `during`: starts so many minutes after the start bell.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<i32>,
    /// Only in `during`: lies between these minutes after the start bell.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub between: Option<(i32, i32)>,
    /// Only in `during`: lies within so many minutes before the closing.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub before_closing: Option<i32>,
    /// Only in `closing`: it can be dropped when time runs out; by its name if
    /// not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub may_be_dropped: Option<bool>,
}

/// An adult.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct AdultShape {
    /// Their post: "teacher", "technician".
    pub name: String,
    /// The room they are in, by name; all of them if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub room: Option<String>,
    /// When they are there, in minutes from the first start bell; always if
    /// not said.
    #[serde(default, skip_serializing_if = "is_default")]
    pub hours: Vec<(i32, i32)>,
    /// The one group they serve, by name; any if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub only_for: Option<String>,
}

impl AdultShape {
    /// The hours of who is always there: a day before and a day after the first
    /// start bell.
    pub const ALWAYS: (i32, i32) = (-1440, 2880);

    /// Leaves at a minute for good. Whether they were there before it at all; else
    /// nothing is changed, as no hours stand for all.
    #[must_use]
    pub fn leave_at(&mut self, minute: i32) -> bool {
        let stated = if self.hours.is_empty() { &[Self::ALWAYS][..] } else { &self.hours };
        let until = stated.iter().map(|&(from, until)| (from, until.min(minute)));
        let until: Vec<(i32, i32)> = until.filter(|(from, until)| from < until).collect();
        let was_there = !until.is_empty();
        if was_there {
            self.hours = until;
        }
        was_there
    }
}

/// Rules laid down by the teacher or the school.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct RulesShape {
    /// Wanted spare minutes; 5 if not said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub wanted_spare: Option<i32>,
    /// Minutes of one oven call; 3 if not said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub call: Option<i32>,
    /// A call waits for its slowest group, for the call's minutes at most.
    #[serde(skip_serializing_if = "is_default")]
    pub call_waits: bool,
    /// Tins that one opening of a door moves; 4 if not said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub tins_per_opening: Option<i64>,
    /// An adult is in the room whenever an oven is open.
    #[serde(skip_serializing_if = "is_default")]
    pub adult_near_ovens: bool,
    /// An adult stands at every open oven door; for ages 11 to 12 so if not
    /// said, for others not.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub adult_at_doors: Option<bool>,
    /// From 0, usual minutes, to 1, slow minutes.
    #[serde(skip_serializing_if = "is_default")]
    pub caution: f64,
    /// Washed kit counts as unused for groups kept apart.
    #[serde(skip_serializing_if = "is_default")]
    pub washed_is_unused: bool,
    /// Overrules the rooms' `sharing`.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub sharing: Option<bool>,
    /// Pupils in one room at most, by the school's own rule: more are remarked
    /// on, never refused. 20 if not said.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub class_limit: Option<i64>,
}

/// One group, or `count` alike.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct GroupShape {
    /// Its name; with a `count`, "Unit" gives "Unit 1", "Unit 2" and so on.
    pub name: String,
    /// How many alike; one if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub count: Option<i64>,
    /// How many pupils; 2 if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pupils: Option<i64>,
    /// Its room, by name; the first if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub room: Option<String>,
    /// The unit it works at, by name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub unit: Option<String>,
    /// Its period, by name; the first if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub period: Option<String>,
    /// Its recipe, by name.
    #[serde(default, skip_serializing_if = "is_default")]
    pub recipe: String,
    /// Methods it may use, best liked first; all in the recipe's order if not
    /// said.
    #[serde(default, skip_serializing_if = "is_default")]
    pub methods: Vec<String>,
    /// Tins it may use, by the labels of the recipe's tins, best liked first;
    /// all in the recipe's order if not said.
    #[serde(default, skip_serializing_if = "is_default")]
    pub tins: Vec<String>,
    /// Factor on its hand minutes; 1 if not said.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub pace: Option<f64>,
    /// Shares no oven and no kit that touched other food.
    #[serde(default, skip_serializing_if = "is_default")]
    pub keep_apart: bool,
    /// What its bakes must keep to, in a few words each, such as "made without
    /// egg"; kept by unit, never by a pupil's name.
    #[serde(default, skip_serializing_if = "is_default")]
    pub needs: Vec<String>,
    /// Steps done for it before the start bell, by name.
    #[serde(default, skip_serializing_if = "is_default")]
    pub beforehand: Vec<String>,
    /// Steps done for it after the end bell, by name.
    #[serde(default, skip_serializing_if = "is_default")]
    pub collected: Vec<String>,
    /// The group does not take part today.
    #[serde(default, skip_serializing_if = "is_default")]
    pub left_out: bool,
}

/// A lock: a step's start, the tin, the method or the oven that is fixed for a
/// group.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct LockShape {
    /// The group, by name.
    pub group: String,
    /// The step that starts `at`, by name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub step: Option<String>,
    /// Minutes after the first start bell.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub at: Option<i32>,
    /// The tin, by label.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub tin: Option<String>,
    /// The method, by name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub method: Option<String>,
    /// The oven, by name.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub oven: Option<String>,
    /// The shelf of that oven, 1 at the top.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub shelf: Option<i64>,
}

/// Costs of changes of the lesson, where they are not the usual.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields, default)]
pub struct ChangesShape {
    /// Costs by the kind of change.
    #[serde(skip_serializing_if = "is_default")]
    pub costs: Entries<f64>,
    /// Kinds of change that are out of the question.
    #[serde(skip_serializing_if = "is_default")]
    pub never: Vec<String>,
}

impl LessonFile {
    /// Whether an adult stands at open oven doors: with the youngest, unless the
    /// lesson says otherwise or names no adult (common practice of the trade).
    pub fn adult_at_doors(&self) -> bool {
        let usual = self.class.band == PaceBand::Ages11To12 && !self.adults.is_empty();
        self.rules.adult_at_doors.unwrap_or(usual)
    }
}
