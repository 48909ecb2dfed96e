//! What the class may see: the clock, the call that is on, the next one, and
//! who is in which oven until when, and who washes up. Nothing of a group's
//! needs, pace or verdict is read here, and of groups that are not served nothing at all.

use std::collections::BTreeMap;

use super::ovens::dial_words;
use super::washing_up::{ALL, WashingUp, called, washing_up};
use super::words::{capital, clock, in_short, list, minutes, shelf};
use crate::check::CheckedPlan;
use crate::model::{FactKind, GroupId, Lesson, OvenId, RoomId, ShelfId};
use crate::plan::OvenSetting;
use crate::play::{Course, GroupStanding, Standing, planned_minutes};
use crate::units::{ClockTime, Minute, Minutes};

/// What the class is shown at one minute.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ClassView {
    /// The time of day.
    pub clock: ClockTime,
    /// What is on.
    pub on: On,
    /// What comes next, up to the last bell.
    pub next: Option<Next>,
    /// Ovens that work, in the lesson's order.
    pub ovens: Vec<OvenSlots>,
}

/// What is on at a minute.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum On {
    /// No bell has gone yet; it goes at this time.
    Before(ClockTime),
    /// The class or some of its groups are called.
    Calls(Vec<Call>),
    /// Nobody is called: groups work by themselves, and some wash up.
    Work(WashingUp),
    /// A break; the next bell goes at this time.
    Break(ClockTime),
    /// The last bell has gone.
    Over,
}

/// Something that is called out.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Call {
    /// A step that the class takes together.
    Class {
        /// Its name.
        name: String,
        /// When it ends.
        until: ClockTime,
    },
    /// Groups load or take out.
    Door {
        /// Into the oven, not out of it.
        into: bool,
        /// Who.
        groups: Vec<String>,
        /// Oven and shelf, one or more.
        places: Vec<String>,
        /// How many groups take part in the lesson.
        of: usize,
    },
    /// A bell.
    Bell,
}

/// Nobody counts minutes down from more than this.
const LONG_BEFORE: i32 = 60;

/// The next call or calls.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Next {
    /// When.
    pub at: ClockTime,
    /// Minutes until then.
    pub wait: i32,
    /// What.
    pub calls: Vec<Call>,
}

/// An oven and who is in it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OvenSlots {
    /// Its name.
    pub name: String,
    /// What its dial shows, or that it is off.
    pub set: String,
    /// Its shelves, from the top.
    pub shelves: Vec<ShelfSlots>,
}

/// A shelf and who is on it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ShelfSlots {
    /// "top shelf".
    pub name: String,
    /// Who is there and who comes later, by time.
    pub slots: Vec<Slot>,
}

/// Groups whose tins stand on a shelf for the same minutes.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Slot {
    /// Who.
    pub groups: Vec<String>,
    /// How far they are.
    pub stage: Stage,
    /// When they load.
    pub in_at: ClockTime,
    /// When they begin to take out: the minute they are called.
    pub out_at: ClockTime,
}

/// How far a bake is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Stage {
    /// Yet to come.
    Later,
    /// Being loaded.
    GoesIn,
    /// In the oven.
    Inside,
    /// Being taken out.
    ComesOut,
}

impl ClassView {
    /// What the class is shown at a minute of a plan.
    pub fn of(lesson: &Lesson, plan: &dyn Course, minute: Minute) -> Self {
        Self::of_room(lesson, plan, minute, (None, None))
    }

    /// What is shown of it in one room, or of all of them: its ovens, and calls of those
    /// who work there. Groups that were told to be in or out are not called again, and
    /// those told late are when they are expected.
    pub fn of_room(
        lesson: &Lesson,
        plan: &dyn Course,
        minute: Minute,
        (room, told): (Option<RoomId>, Option<(&CheckedPlan, &Standing)>),
    ) -> Self {
        let is_there = |o: &OvenId| room.is_none_or(|room| lesson.ovens[o.0].room == room);
        let works = |o: &OvenId| !lesson.ovens[o.0].out_of_order && is_there(o);
        let ovens = (0..lesson.ovens.len()).map(OvenId).filter(works);
        let of = Shown { lesson, plan, room, told };
        Self {
            clock: clock(lesson, minute),
            on: on(of, minute),
            next: next(of, minute),
            ovens: ovens.map(|o| oven(of, o, minute)).collect(),
        }
    }
}

impl On {
    /// What is on, a line each.
    pub fn lines(&self) -> Vec<String> {
        match self {
            On::Before(bell) => vec![format!("The bell goes at {bell}.")],
            On::Calls(calls) => calls.iter().map(Call::words).collect(),
            On::Work(washing_up) => vec![washing_up.words()],
            On::Break(bell) => vec![format!("A break until the bell at {bell}")],
            On::Over => vec!["The last bell has gone. The lesson is over.".to_owned()],
        }
    }

    /// The same in fewer lines.
    pub fn brief(&self) -> Vec<String> {
        match self {
            On::Calls(calls) => brief(calls, Call::words),
            _ => self.lines(),
        }
    }
}

impl Next {
    /// "Next 10:29, in 4 minutes"; long before, the minutes say nothing.
    pub fn when(&self) -> String {
        if self.wait > LONG_BEFORE {
            return format!("Next {}", self.at);
        }
        format!("Next {}, in {}", self.at, minutes(self.wait))
    }

    /// The calls in one line; in a brief one, groups are put together.
    pub fn what(&self, in_brief: bool) -> String {
        let begun = |call: &Call| match call {
            Call::Class { name, .. } => capital(name),
            _ => call.words(),
        };
        let lines = if in_brief {
            brief(&self.calls, begun)
        } else {
            self.calls.iter().map(begun).collect()
        };
        lines.join("; ")
    }
}

impl Call {
    /// "Demo, until 10:16"; "Pair 3 and Pair 5: into Oven B, top shelf".
    pub fn words(&self) -> String {
        match self {
            Call::Class { name, until } => format!("{}, until {until}", capital(name)),
            Call::Door { into, groups, places, of } => {
                let way = if *into { "into" } else { "out of" };
                let who = called(groups, *of);
                let who = if who == ALL { capital(&who) } else { who };
                format!("{who}: {way} {}", list(places))
            }
            Call::Bell => "Bell".to_owned(),
        }
    }
}

/// Calls to the ovens put together: which oven, its own picture says.
fn brief(calls: &[Call], words: impl Fn(&Call) -> String) -> Vec<String> {
    let of = |wanted: bool| -> Vec<String> {
        let groups = calls.iter().filter_map(|c| match c {
            Call::Door { into, groups, .. } if *into == wanted => Some(groups),
            _ => None,
        });
        groups.flatten().cloned().collect()
    };
    let all = calls.iter().find_map(|c| match c {
        Call::Door { of, .. } => Some(*of),
        _ => None,
    });
    let all = all.unwrap_or_default();
    let together = calls.iter().filter(|c| !matches!(c, Call::Door { .. }));
    let mut lines: Vec<String> = together.map(words).collect();
    for (into, to) in [(false, "Out of the ovens"), (true, "Into the ovens")] {
        let mut groups = of(into);
        groups.dedup();
        if !groups.is_empty() {
            lines.push(format!("{to}: {}", called(&groups, all)));
        }
    }
    lines
}

impl OvenSlots {
    /// All of it in words, for a screen reader.
    pub fn spoken(&self) -> String {
        let shelves = self.shelves.iter().map(|s| {
            let slots: Vec<String> = s.slots.iter().map(Slot::words).collect();
            let held = if slots.is_empty() { "empty".to_owned() } else { slots.join(", ") };
            format!("{}: {held}", s.name)
        });
        let all: Vec<String> = shelves.collect();
        format!("{}, {}; {}", self.name, self.set, all.join("; "))
    }

    /// Who is in it or at its door, or else who comes next, whatever the
    /// shelf: groups from the top shelf down.
    pub fn together(&self) -> Vec<Slot> {
        let mut all: Vec<Slot> = Vec::new();
        let slots = || self.shelves.iter().flat_map(|s| &s.slots);
        let first = slots().map(|s| s.in_at).min();
        let is_told = |s: &&Slot| match self.in_use() {
            true => s.stage != Stage::Later,
            false => Some(s.in_at) == first,
        };
        for slot in slots().filter(is_told) {
            let same = |s: &&mut Slot| s.when() == slot.when();
            match all.iter_mut().find(same) {
                Some(with) => {
                    let new = slot.groups.iter().filter(|g| !with.groups.contains(g));
                    let new: Vec<String> = new.cloned().collect();
                    with.groups.extend(new);
                }
                None => all.push(slot.clone()),
            }
        }
        all
    }

    /// Whether anything is to stand in it still.
    pub fn is_taken(&self) -> bool {
        self.shelves.iter().any(|s| !s.slots.is_empty())
    }

    /// Whether anything stands in it, goes in or comes out.
    pub fn in_use(&self) -> bool {
        self.shelves.iter().flat_map(|s| &s.slots).any(|s| s.stage != Stage::Later)
    }
}

impl Slot {
    /// "out 10:45 · Unit 1 and Unit 2": the time first, since names may be cut.
    pub fn words(&self) -> String {
        format!("{} · {}", self.when(), self.who())
    }

    /// "out 10:45".
    pub fn when(&self) -> String {
        match self.stage {
            Stage::Later => format!("in {}", self.in_at),
            Stage::GoesIn => "in now".to_owned(),
            Stage::Inside => format!("out {}", self.out_at),
            Stage::ComesOut => "out now".to_owned(),
        }
    }

    /// "Unit 1 and Unit 2".
    pub fn who(&self) -> String {
        list(&in_short(&self.groups))
    }
}

/// A plan, and the room of which it is shown; all of it if `None`. What was told of
/// groups, if that counts.
#[derive(Clone, Copy)]
struct Shown<'a> {
    lesson: &'a Lesson,
    plan: &'a dyn Course,
    room: Option<RoomId>,
    /// With the plan that it was told of.
    told: Option<(&'a CheckedPlan, &'a Standing)>,
}

impl Shown<'_> {
    fn has(&self, group: GroupId) -> bool {
        self.room.is_none_or(|room| self.lesson.group(group).room == room)
    }

    fn stands(&self, group: GroupId) -> Option<(&CheckedPlan, &GroupStanding)> {
        let (plan, told) = self.told?;
        Some((plan, told.groups.iter().find(|g| g.group == group)?))
    }

    /// Whether a group was told to have done it.
    fn is_told(&self, group: GroupId, what: FactKind) -> bool {
        self.stands(group).is_some_and(|(_, stands)| stands.is_told(what))
    }

    /// By how much later than planned a group does it, as it was told.
    fn later(&self, group: GroupId, what: FactKind) -> Minutes {
        let Some((plan, stands)) = self.stands(group) else { return Minutes::ZERO };
        let expected = stands.expected(self.lesson, plan, what);
        let planned = planned_minutes(self.lesson, plan, group, what);
        expected.zip(planned).map_or(Minutes::ZERO, |(is, was)| is.0 - was.0)
    }
}

fn on(of: Shown<'_>, minute: Minute) -> On {
    let lesson = of.lesson;
    let bell = |of: fn(&crate::model::Period) -> Minute| lesson.periods.iter().map(of);
    let next_start = bell(|p| p.start).filter(|&s| s > minute).min();
    if lesson.periods.iter().any(|p| p.start <= minute && minute < p.end) {
        let calls = calls(of, |from, until| from <= minute && minute < until);
        return if calls.is_empty() {
            On::Work(washing_up(lesson, of.plan, minute, |group| of.has(group)))
        } else {
            On::Calls(calls)
        };
    }
    let begun = bell(|p| p.start).any(|s| s <= minute);
    match next_start {
        Some(start) if begun => On::Break(clock(lesson, start)),
        Some(start) => On::Before(clock(lesson, start)),
        None => On::Over,
    }
}

fn next(of: Shown<'_>, minute: Minute) -> Option<Next> {
    let (lesson, plan) = (of.lesson, of.plan);
    let doors = doors(of);
    let starts = doors.iter().map(|d| d.from);
    let class = plan.plan().class_steps.iter().map(|c| c.start);
    let bells = lesson.periods.iter().flat_map(|p| [p.start, p.end]);
    let at = starts.chain(class).chain(bells).filter(|&m| m > minute).min()?;
    let mut calls = calls(of, |from, _| from == at);
    if calls.is_empty() || lesson.periods.iter().any(|p| p.end == at) {
        calls.insert(0, Call::Bell);
    }
    Some(Next { at: clock(lesson, at), wait: (at - minute).get(), calls })
}

/// The calls whose minutes satisfy a condition: the class's own first, then
/// what comes out of the ovens, then what goes in.
fn calls(of: Shown<'_>, is_on: impl Fn(Minute, Minute) -> bool) -> Vec<Call> {
    let (lesson, plan) = (of.lesson, of.plan);
    let class = plan.plan().class_steps.iter().filter(|c| is_on(c.start, c.end));
    let mut calls: Vec<Call> = class
        .map(|c| Call::Class {
            name: lesson.class_steps[c.step.0].name.clone(),
            until: clock(lesson, c.end),
        })
        .collect();
    // Groups that go to the same places are called together.
    let mut together: BTreeMap<(bool, Vec<Place>), Vec<String>> = BTreeMap::new();
    for door in doors(of) {
        if is_on(door.from, door.until) {
            let places = places(plan, door.group);
            let name = lesson.group(door.group).name.clone();
            together.entry((door.into, places)).or_default().push(name);
        }
    }
    calls.extend(together.into_iter().map(|((into, places), groups)| Call::Door {
        into,
        groups,
        places: places.iter().map(|&p| place(lesson, p)).collect(),
        of: lesson.attending().filter(|group| of.has(*group)).count(),
    }));
    calls
}

/// A shelf of an oven.
type Place = (OvenId, ShelfId);

fn place(lesson: &Lesson, (oven, on): Place) -> String {
    let oven = &lesson.ovens[oven.0];
    match oven.shelves.len() {
        0 | 1 => oven.name.clone(),
        of => format!("{}, {}", oven.name, shelf(on.0, of)),
    }
}

/// A group at an oven's door.
struct AtDoor {
    into: bool,
    group: GroupId,
    from: Minute,
    until: Minute,
}

/// Loading and taking out within the lesson: what is done before or after the
/// bells is not for the class. Who has done it by what was told is not called to it.
fn doors(of: Shown<'_>) -> Vec<AtDoor> {
    let (lesson, plan) = (of.lesson, of.plan);
    let mut doors = Vec::new();
    for choice in plan.plan().choices.iter().filter(|choice| of.has(choice.group)) {
        let method = lesson.method_of(choice.group, choice.method);
        let Some((load, _, out)) = method.bake_steps() else { continue };
        let period = &lesson.periods[lesson.group(choice.group).period.0];
        let of_group = plan.plan().steps.iter().filter(|s| s.group == choice.group);
        for step in of_group.filter(|s| s.step == load || s.step == out) {
            let (into, group) = (step.step == load, step.group);
            let what = if into { FactKind::In } else { FactKind::Out };
            let is_in_lesson = period.start <= step.start && step.start < period.end;
            if is_in_lesson && !of.is_told(group, what) {
                let later = of.later(group, what);
                let (from, until) = (step.start + later, step.end + later);
                doors.push(AtDoor { into, group, from, until });
            }
        }
    }
    doors.sort_by_key(|d| (d.from, d.group));
    doors
}

fn places(plan: &dyn Course, group: GroupId) -> Vec<Place> {
    let of_group = plan.plan().loads.iter().filter(|l| l.group == group);
    let mut places: Vec<Place> = of_group.map(|l| (l.oven, l.shelf)).collect();
    places.sort_unstable();
    places.dedup();
    places
}

fn oven(shown: Shown<'_>, id: OvenId, minute: Minute) -> OvenSlots {
    let (lesson, plan) = (shown.lesson, shown.plan);
    let oven = &lesson.ovens[id.0];
    let of = oven.shelves.len();
    let shelves = (0..of)
        .map(|s| ShelfSlots { name: shelf(s, of), slots: slots(shown, (id, ShelfId(s)), minute) });
    OvenSlots {
        name: oven.name.clone(),
        set: set(lesson, plan, id, minute),
        shelves: shelves.collect(),
    }
}

/// What an oven's dial shows.
fn set(lesson: &Lesson, plan: &dyn Course, id: OvenId, minute: Minute) -> String {
    let all: Vec<&OvenSetting> = plan.plan().settings.iter().filter(|s| s.oven == id).collect();
    let dial = |s: &OvenSetting| dial_words(&lesson.ovens[id.0], s.celsius);
    let now = all.iter().filter(|s| s.set_at <= minute && minute < s.until);
    if let Some(now) = now.max_by_key(|s| s.set_at) {
        return match now.hot_from > minute {
            true => format!("{} by {}", dial(now), clock(lesson, now.hot_from)),
            false => dial(now),
        };
    }
    let later = all.iter().filter(|s| s.set_at > minute).min_by_key(|s| s.set_at);
    match later {
        Some(later) => format!("{} from {}", dial(later), clock(lesson, later.set_at)),
        None if all.is_empty() => "not needed".to_owned(),
        None => "off".to_owned(),
    }
}

fn slots(of: Shown<'_>, (oven, on): Place, minute: Minute) -> Vec<Slot> {
    let (lesson, plan) = (of.lesson, of.plan);
    let mut together: BTreeMap<(Minute, Minute), Vec<GroupId>> = BTreeMap::new();
    for load in plan.plan().loads.iter().filter(|l| l.oven == oven && l.shelf == on) {
        let group = load.group;
        let start = load.start + of.later(group, FactKind::In);
        let end = load.end + of.later(group, FactKind::Out);
        if end <= minute || of.is_told(group, FactKind::Out) {
            continue;
        }
        let groups = together.entry((start, end)).or_default();
        if !groups.contains(&group) {
            groups.push(group);
        }
    }
    let mut slots = Vec::new();
    for ((start, end), mut groups) in together {
        groups.sort_unstable();
        // Groups that are loaded and taken out together may bake apart: those
        // that are called out at another minute are told apart, and so are those told
        // to be in.
        let mut by_call: BTreeMap<(Minute, Minute, bool), Vec<String>> = BTreeMap::new();
        for group in groups {
            let (from, out) = bake_of(of, group).unwrap_or((start, end));
            let call = (from, out, of.is_told(group, FactKind::In));
            by_call.entry(call).or_default().push(lesson.group(group).name.clone());
        }
        for ((baked_from, out, is_in), groups) in by_call {
            let stage = match minute {
                m if out <= m => Stage::ComesOut,
                m if is_in || baked_from <= m => Stage::Inside,
                m if start <= m => Stage::GoesIn,
                _ => Stage::Later,
            };
            let (in_at, out_at) = (clock(lesson, start), clock(lesson, out));
            slots.push(Slot { groups, stage, in_at, out_at });
        }
    }
    slots
}

/// From when until when a group's bake itself lasts.
fn bake_of(of: Shown<'_>, group: GroupId) -> Option<(Minute, Minute)> {
    let (lesson, plan) = (of.lesson, of.plan.plan());
    let choice = plan.choice(group)?;
    let (_, bake, _) = lesson.method_of(group, choice.method).bake_steps()?;
    let placed = plan.steps.iter().find(|s| s.group == group && s.step == bake)?;
    let (was_in, is_out) = (of.later(group, FactKind::In), of.later(group, FactKind::Out));
    Some((placed.start + was_in, placed.end + is_out))
}
