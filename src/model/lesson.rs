//! The lesson: everything the planner and the checker know.

use std::ops::Deref;

use chrono::NaiveDate;
use thiserror::Error;

use super::at_ovens::AtOvens;
use super::begun::{Begun, BegunBake, StandingTin};
use super::change_kind::ChangeCosts;
use super::equipment::{KitKind, KitPool, Oven, Room, Tin, TinPool, UnitBay};
use super::figure::{Figure, ThreePoint};
use super::ids::{
    AdultId, ClassStepId, GroupId, MethodId, OvenId, PeriodId, PoolId, RecipeId, RoomId, ShelfId,
    StepId, TinChoiceId, TinId, TinPoolId, UnitId,
};
use super::language::Language;
use super::packet::Packet;
use super::people::{Adult, Attendance, Group};
use super::period::{ClassStep, Period, Phase, Timing};
use super::recipe::{Method, Recipe, Step, TinChoice};
use super::teacher_note::TeacherNote;
use super::today::Today;
use super::together::Together;
use crate::finding::Path;
use crate::units::{Celsius, Minute, Minutes};

/// The class that is taught.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Class {
    /// Its name, such as "2B".
    pub name: String,
}

/// Rules laid down by the teacher or the school.
#[derive(Debug, Clone, PartialEq)]
pub struct Rules {
    /// Spare minutes wanted before the closing steps.
    pub wanted_spare: Figure<Minutes>,
    /// Length of one oven call.
    pub call: Figure<Minutes>,
    /// Tins one opening of an oven door moves at most.
    pub tins_per_opening: Figure<u32>,
    /// Where an adult must be while an oven is open.
    pub at_ovens: AtOvens,
    /// 0 plans on usual minutes, 1 on slow ones.
    pub caution: f64,
    /// Washed kit counts as unused for `keep-apart`.
    pub washed_is_unused: bool,
    /// A call waits for its slowest group, for its own minutes at most. No rule of
    /// plans: it is so played.
    pub call_waits: bool,
    /// Overrules `Room::sharing`.
    pub sharing: Option<bool>,
    /// Pupils in one room at most, by the school's own rule. No rule of plans:
    /// more are remarked on.
    pub class_limit: Figure<u32>,
}

impl Rules {
    /// Pupils of a practical class at most, if the school has not said: 20, in
    /// Scotland by conditions of service, in Northern Ireland by regulation, in
    /// England and Wales as guidance (from memory).
    pub const CLASS_LIMIT: u32 = 20;
}

/// The thing a lock holds in place.
#[derive(Debug, Clone, PartialEq)]
pub enum LockedTo {
    /// A step, by name, starts at this minute.
    Start(String, Minute),
    /// The tin.
    Tin(TinChoiceId),
    /// The method.
    Method(MethodId),
    /// The oven, and the shelf if given.
    Oven(OvenId, Option<ShelfId>),
}

/// A lock: something of a group that the teacher has fixed.
#[derive(Debug, Clone, PartialEq)]
pub struct Lock {
    /// The group.
    pub group: GroupId,
    /// The thing held in place.
    pub to: LockedTo,
}

/// The subject of an assumed figure, so that an answer lists only the figures
/// it rests on.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum About {
    /// Any plan of the lesson.
    Everything,
    /// Figures of an oven.
    Oven(OvenId),
    /// A recipe in a plan.
    Recipe(RecipeId),
    /// The quick minutes of a recipe's step: only proofs rest on them.
    QuickMinutes(RecipeId),
    /// The quick minutes of the class's own steps: only proofs rest on them.
    ClassQuickMinutes,
    /// A tin said to be there in any number.
    TinStock(TinId),
}

/// A figure nobody stated.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Assumption {
    /// Its subject.
    pub about: About,
    /// Where it would be stated.
    pub at: Path,
    /// In words, with its value: "air gap between tins: 20 mm".
    pub text: String,
}

/// Everything a lesson consists of. Becomes a [`Lesson`] by [`Lesson::new`].
#[derive(Debug, Clone, PartialEq)]
pub struct LessonParts {
    /// The lesson's title.
    pub title: String,
    /// The day, if known.
    pub date: Option<NaiveDate>,
    /// The time zone of its clock, if known.
    pub zone: Option<chrono_tz::Tz>,
    /// The class.
    pub class: Class,
    /// Rules laid down.
    pub rules: Rules,
    /// Periods, at least one; the first one's start bell is minute 0.
    pub periods: Vec<Period>,
    /// Steps of the classes.
    pub class_steps: Vec<ClassStep>,
    /// Rooms, at least one.
    pub rooms: Vec<Room>,
    /// Units of the rooms.
    pub units: Vec<UnitBay>,
    /// Ovens of all rooms.
    pub ovens: Vec<Oven>,
    /// Kinds of kit.
    pub kit_kinds: Vec<KitKind>,
    /// Kit by kind and place.
    pub kit_pools: Vec<KitPool>,
    /// Kinds of tins.
    pub tins: Vec<Tin>,
    /// Tins in stock.
    pub tin_pools: Vec<TinPool>,
    /// Adults.
    pub adults: Vec<Adult>,
    /// Recipes.
    pub recipes: Vec<Recipe>,
    /// Groups, at least one.
    pub groups: Vec<Group>,
    /// Locks.
    pub locks: Vec<Lock>,
    /// How far minutes go together.
    pub together: Together,
    /// Costs of changes.
    pub change_costs: ChangeCosts,
    /// Figures nobody stated.
    pub assumed: Vec<Assumption>,
    /// The day, if this is a copy for the day on which it is taught.
    pub today: Option<Today>,
    /// What is under way, if plans are looked for in mid-lesson.
    pub begun: Option<Begun>,
    /// The teacher's own notes, in the order of the file.
    pub teacher_notes: Vec<TeacherNote>,
    /// Packets of ingredients, in the order of the file: one of each at most.
    pub packets: Vec<Packet>,
}

/// Parts that do not make a lesson. A file's findings say this better; this
/// is the last line of defence.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[error("not a lesson: {0}")]
pub struct InvalidLesson(pub String);

/// A lesson whose parts fit together: ids are in range, methods have no
/// cycles, bells are in order.
#[derive(Debug, Clone, PartialEq)]
pub struct Lesson(LessonParts);

impl Deref for Lesson {
    type Target = LessonParts;
    fn deref(&self) -> &LessonParts {
        &self.0
    }
}

impl Lesson {
    /// Checks that the parts fit together.
    ///
    /// # Errors
    /// Names the first thing that does not.
    pub fn new(parts: LessonParts) -> Result<Self, InvalidLesson> {
        audit(&parts).map_err(InvalidLesson)?;
        Ok(Self(parts))
    }

    /// The parts again, to change them and make another lesson.
    pub fn into_parts(self) -> LessonParts {
        self.0
    }

    /// A group.
    pub fn group(&self, id: GroupId) -> &Group {
        &self.groups[id.0]
    }

    /// A group's recipe.
    pub fn recipe_of(&self, group: GroupId) -> &Recipe {
        &self.recipes[self.group(group).recipe.0]
    }

    /// A method of a group's recipe.
    pub fn method_of(&self, group: GroupId, method: MethodId) -> &Method {
        &self.recipe_of(group).methods[method.0]
    }

    /// A tin choice of a group's recipe.
    pub fn tin_choice_of(&self, group: GroupId, choice: TinChoiceId) -> &TinChoice {
        &self.recipe_of(group).tins[choice.0]
    }

    /// The three-point minutes of a step for a tin choice, before pace and
    /// rounding: the tin's own minutes where it states them, else the step's.
    /// The bake is at the tin's own temperature; `None` in a tin without
    /// minutes.
    pub fn minutes_of(&self, step: &Step, tin: Option<&TinChoice>) -> Option<ThreePoint> {
        self.minutes_at(step, tin, tin.map_or(Celsius::BAKING, |t| t.celsius))
    }

    /// What people call a way of baking: "2 × bun tray" where a group fills two
    /// and the recipe has no words of its own for that.
    pub fn tin_in_words(&self, choice: &TinChoice) -> String {
        let is_bare = self.tins.get(choice.tin.0).is_some_and(|tin| tin.name == choice.label);
        match choice.count {
            count if count > 1 && is_bare => format!("{count} × {}", choice.label),
            _ => choice.label.clone(),
        }
    }

    /// As [`Lesson::minutes_of`], with the bake at a temperature; `None` also
    /// where its minutes are not known for that.
    pub fn minutes_at(
        &self,
        step: &Step,
        tin: Option<&TinChoice>,
        celsius: Celsius,
    ) -> Option<ThreePoint> {
        if step.minutes.is_none() {
            return tin?.minutes_at(celsius);
        }
        tin.and_then(|t| t.step_minutes.iter().find(|(name, _)| *name == step.name))
            .map(|(_, minutes)| *minutes)
            .or(step.minutes)
    }

    /// The period whose start bell comes next, at a minute that is in no period.
    pub fn bell_after(&self, minute: Minute) -> Option<PeriodId> {
        let during = self.periods.iter().any(|p| p.start <= minute && minute < p.end);
        let later = (0..self.periods.len()).filter(|&p| minute < self.periods[p].start);
        later.filter(|_| !during).min_by_key(|&p| self.periods[p].start).map(PeriodId)
    }

    /// Languages in which steps of recipes have a line for pupils, each once.
    pub fn home_languages(&self) -> Vec<Language> {
        let methods = self.recipes.iter().flat_map(|recipe| &recipe.methods);
        let steps = methods.flat_map(|method| &method.steps);
        let mut all: Vec<Language> =
            steps.flat_map(|step| step.home.iter().map(|(language, _)| *language)).collect();
        all.sort_unstable();
        all.dedup();
        all
    }

    /// Ids of the groups that take part.
    pub fn attending(&self) -> impl Iterator<Item = GroupId> + '_ {
        (0..self.groups.len())
            .map(GroupId)
            .filter(|&g| self.group(g).attendance == Attendance::TakesPart)
    }

    /// Steps of a period in one phase, in order.
    pub fn class_steps_in(
        &self,
        period: PeriodId,
        phase: Phase,
    ) -> impl Iterator<Item = (ClassStepId, &ClassStep)> + '_ {
        self.class_steps
            .iter()
            .enumerate()
            .filter(move |(_, s)| s.period == period && s.phase == phase)
            .map(|(i, s)| (ClassStepId(i), s))
    }

    /// Whether groups of that room may use what belongs to another unit.
    pub fn sharing_in(&self, room: RoomId) -> bool {
        self.rules.sharing.unwrap_or(self.rooms[room.0].sharing)
    }

    /// Whether a thing of `room` and `unit` may be used by a group.
    pub fn may_use(&self, group: GroupId, room: Option<RoomId>, unit: Option<UnitId>) -> bool {
        let group = self.group(group);
        let own_room = room.is_none_or(|r| r == group.room);
        let own_unit = unit.is_none() || group.unit.is_none() || unit == group.unit;
        own_room && (own_unit || self.sharing_in(group.room))
    }

    /// Whether a working oven may be used by a group.
    pub fn may_use_oven(&self, group: GroupId, oven: OvenId) -> bool {
        let oven = &self.ovens[oven.0];
        !oven.out_of_order && self.may_use(group, Some(oven.room), oven.unit)
    }

    /// Whether kit may be used by a group.
    pub fn may_use_pool(&self, group: GroupId, pool: PoolId) -> bool {
        let pool = &self.kit_pools[pool.0];
        self.may_use(group, pool.room, pool.unit)
    }

    /// The stock of a tin in a room; `None` if it is there in any number.
    pub fn tin_pool(&self, room: RoomId, tin: TinId) -> Option<TinPoolId> {
        self.tin_pools.iter().position(|p| p.room == room && p.tin == tin).map(TinPoolId)
    }
}

fn audit(parts: &LessonParts) -> Result<(), String> {
    let fail = |what: String| -> Result<(), String> { Err(what) };
    if parts.periods.is_empty() || parts.rooms.is_empty() || parts.groups.is_empty() {
        fail("a period, a room and a group are needed".into())?;
    }
    for p in &parts.periods {
        if p.end <= p.start {
            fail(format!("period {} ends before it starts", p.name))?;
        }
    }
    for s in &parts.class_steps {
        let adults = s.adults.iter().all(|a| a.0 < parts.adults.len());
        let timed = (s.phase == Phase::During) == (s.timing != Timing::InTurn);
        if s.period.0 >= parts.periods.len() || !adults || !timed {
            fail(format!("class step {} points nowhere", s.name))?;
        }
    }
    let room_ok = |r: RoomId| r.0 < parts.rooms.len();
    let unit_ok = |u: UnitId| u.0 < parts.units.len();
    for o in &parts.ovens {
        if !room_ok(o.room) || !o.unit.is_none_or(unit_ok) || o.shelves.is_empty() {
            fail(format!("oven {} has no place or no shelf", o.name))?;
        }
    }
    for p in &parts.kit_pools {
        if p.kit.0 >= parts.kit_kinds.len()
            || !p.room.is_none_or(room_ok)
            || !p.unit.is_none_or(unit_ok)
        {
            fail("kit points nowhere".into())?;
        }
    }
    let joined = parts.today.iter().flat_map(|t| &t.joined);
    if joined.flat_map(|(a, b)| [a, b]).any(|g| g.0 >= parts.groups.len()) {
        fail("a joined group points nowhere".into())?;
    }
    if parts.begun.as_ref().is_some_and(|begun| !audit_begun(parts, begun)) {
        fail("what has begun points nowhere".into())?;
    }
    let mut pegs = parts.teacher_notes.iter().filter_map(|note| note.peg.as_ref());
    if pegs.any(|peg| !peg.is_of(parts)) {
        fail("a note hangs on nothing".into())?;
    }
    if parts.tin_pools.iter().any(|p| p.tin.0 >= parts.tins.len() || !room_ok(p.room)) {
        fail("a tin in stock points nowhere".into())?;
    }
    for a in &parts.adults {
        if !a.room.is_none_or(room_ok) || a.attached_to.is_some_and(|g| g.0 >= parts.groups.len()) {
            fail(format!("adult {} points nowhere", a.name))?;
        }
    }
    for r in &parts.recipes {
        audit_recipe(parts, r)?;
    }
    for g in &parts.groups {
        audit_group(parts, g)?;
    }
    for l in &parts.locks {
        audit_lock(parts, l)?;
    }
    Ok(())
}

fn audit_begun(parts: &LessonParts, begun: &Begun) -> bool {
    let stands = |tin: &StandingTin| {
        parts.ovens.get(tin.oven.0).is_some_and(|oven| tin.shelf.0 < oven.shelves.len())
    };
    let bakes =
        |bake: &BegunBake| bake.group.0 < parts.groups.len() && bake.tins.iter().all(stands);
    begun.set.len() == parts.ovens.len() && begun.bakes.iter().all(bakes)
}

fn audit_recipe(parts: &LessonParts, recipe: &Recipe) -> Result<(), String> {
    let name = &recipe.name;
    if recipe.methods.is_empty() {
        return Err(format!("recipe {name} has no method"));
    }
    for m in &recipe.methods {
        let there = |s: StepId| s.0 < m.steps.len();
        // Steps stand after those they are linked from, so no cycle is left.
        if !m.links.iter().all(|l| l.from.0 < l.to.0 && there(l.to)) {
            return Err(format!("the links of {name}, {} do not run forward", m.name));
        }
        if !m.holds.iter().all(|h| there(h.from) && there(h.to) && h.kit.0 < parts.kit_kinds.len())
            || !m.tin_held.is_none_or(|(a, b)| there(a) && there(b))
            || m.steps.iter().flat_map(|s| &s.kit).any(|(k, _)| k.0 >= parts.kit_kinds.len())
        {
            return Err(format!("kit of {name}, {} points nowhere", m.name));
        }
        let without_minutes =
            m.steps.iter().any(|s| (s.minutes.is_none()) != (s.kind == super::StepKind::Bake));
        if without_minutes || m.bake_steps().is_some() != m.tin_held.is_some() {
            return Err(format!("the bake of {name}, {} is not whole", m.name));
        }
        if let Some((load, bake, out)) = m.bake_steps()
            && !(bake.0 == load.0 + 1 && out.0 == bake.0 + 1)
        {
            return Err(format!("the bake of {name}, {} is not in one piece", m.name));
        }
    }
    let tins_ok = recipe.tins.iter().all(|t| {
        t.tin.0 < parts.tins.len() && t.methods.iter().all(|m| m.0 < recipe.methods.len())
    });
    if tins_ok { Ok(()) } else { Err(format!("a tin of {name} points nowhere")) }
}

fn audit_group(parts: &LessonParts, g: &Group) -> Result<(), String> {
    let Some(recipe) = parts.recipes.get(g.recipe.0) else {
        return Err(format!("group {} has no recipe", g.name));
    };
    let ok = g.pupils > 0
        && g.room.0 < parts.rooms.len()
        && g.period.0 < parts.periods.len()
        && g.unit.is_none_or(|u| u.0 < parts.units.len())
        && !g.methods.is_empty()
        && g.methods.iter().all(|m| m.0 < recipe.methods.len())
        && g.tins.iter().all(|t| t.0 < recipe.tins.len())
        && g.pace.is_finite()
        && g.pace > 0.0;
    if ok { Ok(()) } else { Err(format!("group {} points nowhere", g.name)) }
}

fn audit_lock(parts: &LessonParts, lock: &Lock) -> Result<(), String> {
    let group = parts.groups.get(lock.group.0).ok_or("a lock names no group")?;
    let recipe = &parts.recipes[group.recipe.0];
    let ok = match &lock.to {
        LockedTo::Start(..) => true,
        LockedTo::Tin(t) => t.0 < recipe.tins.len(),
        LockedTo::Method(m) => m.0 < recipe.methods.len(),
        LockedTo::Oven(o, s) => {
            parts.ovens.get(o.0).is_some_and(|oven| s.is_none_or(|s| s.0 < oven.shelves.len()))
        }
    };
    if ok { Ok(()) } else { Err(format!("a lock of {} points nowhere", group.name)) }
}

/// An adult of the lesson who may serve a group, in the lesson's order.
pub fn adults_for(lesson: &Lesson, group: GroupId) -> impl Iterator<Item = AdultId> + '_ {
    let g = lesson.group(group);
    (0..lesson.adults.len()).map(AdultId).filter(move |&a| g.may_have(group, a, &lesson.adults))
}
