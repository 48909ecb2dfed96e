//! Things of a plan moved and held by hand. What is said of a move is judged
//! here anew: plans by the checker, refusals by looking for what they say there
//! is not.

mod drags;
mod held;
mod refusals;
mod words;

use std::collections::BTreeMap;
use std::ops::ControlFlow;
use std::path::Path;
use std::sync::atomic::AtomicBool;

use ovenbell::check::{CheckedPlan, check, judge_of};
use ovenbell::file::format::LessonFile;
use ovenbell::file::{lesson_of_shapes, load_lesson, read_lesson, write_lesson};
use ovenbell::hand::{Fit, Put, Refused, Spot, SpotRow, Thing, put, spots};
use ovenbell::keep::{Keeps, keeps};
use ovenbell::model::{Attendance, GroupId, Lesson, OvenId, ShelfId, StepId};
use ovenbell::plan::Plan;
use ovenbell::planner::{Budget, plan_until};
use ovenbell::units::{Minute, Minutes};

fn budget(decodings: u64) -> Budget {
    Budget { within: None, decodings: Some(decodings), seed: 1 }
}

fn planned(lesson: &Lesson, decodings: u64) -> CheckedPlan {
    let on = |_: &CheckedPlan| ControlFlow::Continue(());
    let never = AtomicBool::new(false);
    plan_until(lesson, &budget(decodings), &never, judge_of(lesson), on).unwrap().judged
}

/// A lesson, planned.
struct Scene {
    file: LessonFile,
    lesson: Lesson,
    plan: CheckedPlan,
}

impl Scene {
    fn of(file: LessonFile, decodings: u64) -> Self {
        let lesson = lesson_of_shapes(&file, &[]).unwrap();
        let plan = planned(&lesson, decodings);
        Self { file, lesson, plan }
    }

    fn named(name: &str, change: impl FnOnce(&mut LessonFile)) -> Self {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons").join(name);
        let mut file = load_lesson(&path).unwrap().file;
        change(&mut file);
        Self::of(file, 2_000)
    }

    fn put(&self, thing: Thing, spot: Spot) -> Result<Put, Box<Refused>> {
        let never = AtomicBool::new(false);
        let from = (&self.file, &self.lesson, &self.plan);
        put(from, &[], thing, spot, &budget(600), &never)
    }

    fn spots(&self, thing: Thing) -> Vec<SpotRow> {
        let mut rows = Vec::new();
        let never = AtomicBool::new(false);
        let each = |row: &SpotRow| rows.push(row.clone());
        spots((&self.file, &self.lesson, &self.plan), thing, &never, each);
        rows
    }

    fn served(&self) -> Vec<GroupId> {
        self.plan.plan().choices.iter().map(|c| c.group).collect()
    }

    /// The step's id in the method the group uses.
    fn step(&self, group: GroupId, name: &str) -> StepId {
        let choice = self.plan.plan().choice(group).unwrap();
        self.lesson.method_of(group, choice.method).step_named(name).unwrap()
    }

    /// Minutes of the lesson by its own clock.
    fn minute(&self, clock: &str) -> Minute {
        let clock = ovenbell::units::ClockTime::parse(clock).unwrap();
        Minute::BELL + clock.minutes_since(self.lesson.periods[0].start_clock)
    }
}

fn starts(lesson: &Lesson, plan: &Plan, group: GroupId) -> BTreeMap<String, Minute> {
    let Some(choice) = plan.choice(group) else { return BTreeMap::new() };
    let method = lesson.method_of(group, choice.method);
    let own = plan.steps.iter().filter(|s| s.group == group);
    own.map(|s| (method.steps[s.step.0].name.clone(), s.start)).collect()
}

/// Starts of what is done in the lesson.
fn in_lesson(lesson: &Lesson, plan: &Plan, group: GroupId) -> BTreeMap<String, Minute> {
    let of = lesson.group(group);
    let mut all = starts(lesson, plan, group);
    all.retain(|name, _| !of.beforehand.contains(name) && !of.collected.contains(name));
    all
}

/// Whether a plan has the thing where it was put; `was` is the plan before.
fn is_put(lesson: &Lesson, plan: &Plan, was: &Plan, thing: Thing, spot: Spot) -> bool {
    let group = thing.group();
    let now = starts(lesson, plan, group);
    let loads = || plan.loads.iter().filter(|l| l.group == group);
    let place = spot.place.is_none_or(|(oven, shelf)| {
        loads().next().is_some()
            && loads().all(|l| l.oven == oven && shelf.is_none_or(|s| l.shelf == s))
    });
    match thing {
        Thing::Step(_, step) => {
            let method = was.choice(group).map_or(lesson.group(group).methods[0], |c| c.method);
            let name = &lesson.method_of(group, method).steps[step.0].name;
            now.get(name).copied() == spot.at
        }
        Thing::Bake(_) => place && spot.at.is_none_or(|at| loads().all(|l| l.start == at)),
        Thing::Row(_) => {
            let then = in_lesson(lesson, was, group);
            let later = spot.at.map_or(Minutes::ZERO, |at| at - *then.values().min().unwrap());
            let (old, new) = (was.choice(group), plan.choice(group));
            place
                && old == new
                && then.iter().all(|(name, at)| now.get(name) == Some(&(*at + later)))
        }
    }
}

/// The group, and others that are served and of which something is held.
fn kept(scene: &Scene, group: GroupId) -> Vec<GroupId> {
    let held = |g: &GroupId| scene.lesson.locks.iter().any(|l| l.group == *g);
    let mut all: Vec<GroupId> = scene.served().into_iter().filter(held).collect();
    all.retain(|&g| g != group);
    all.push(group);
    all
}

fn only(lesson: &Lesson, groups: &[GroupId]) -> Lesson {
    let mut parts = lesson.clone().into_parts();
    for (g, group) in parts.groups.iter_mut().enumerate() {
        let takes_part = groups.contains(&GroupId(g));
        let attendance = if takes_part { Attendance::TakesPart } else { Attendance::LeftOut };
        group.attendance = attendance;
    }
    Lesson::new(parts).unwrap()
}

/// What is wrong with what was said of a move.
fn wrong(scene: &Scene, thing: Thing, spot: Spot, said: &Result<Put, Box<Refused>>) -> Vec<String> {
    let mut wrong = Vec::new();
    let mut must = |what: &str, is: bool| {
        if !is {
            wrong.push(what.to_owned());
        }
    };
    let group = thing.group();
    let was = scene.plan.plan();
    match said {
        Ok(put) => {
            let text = write_lesson(&put.file).unwrap();
            let again = read_lesson(&text).unwrap().lesson;
            must("the file is the lesson", again == *put.lesson);
            let checked = check(&again, put.plan.plan().clone());
            must("the plan keeps every rule", checked.is_ok());
            let plan = put.plan.plan();
            must("the group is served", plan.choice(group).is_some());
            must("it is where it was put", is_put(&again, plan, was, thing, spot));
            let others = || scene.served().into_iter().filter(|&g| g != group);
            let lost: Vec<GroupId> = others().filter(|&g| plan.choice(g).is_none()).collect();
            let moves = |&g: &GroupId| {
                let k = keeps((&scene.lesson, &scene.plan, g), (&again, &put.plan, g));
                k.is_some() && k != Some(Keeps::All)
            };
            let mut moved: Vec<GroupId> = others().filter(moves).collect();
            moved.sort_unstable();
            must("moved", moved == put.moved);
            must("lost", lost.iter().all(|g| put.lost.contains(g)) && lost.len() == put.lost.len());
            let fit = match (lost.is_empty(), moved.is_empty()) {
                (true, true) => Fit::Stays,
                (true, false) => Fit::OthersMove,
                _ => Fit::AtACost,
            };
            must("fit", fit == put.fit);
            let held = kept(scene, group);
            must("what is held stays", held.iter().all(|g| plan.choice(*g).is_some()));
        }
        Err(refused) => {
            let lesson = &*refused.lesson;
            let of = |l: &Lesson| {
                let mut parts = l.clone().into_parts();
                parts.locks.retain(|l| l.group != group);
                parts
            };
            must("nothing but its own locks differ", of(lesson) == of(&scene.lesson));
            match check(lesson, refused.witness.clone()) {
                Ok(_) => must("the witness is refused", false),
                Err(breaches) => {
                    let named = breaches.iter().any(|b| b.rule == refused.rule);
                    must(&format!("the checker names {}: {breaches:?}", refused.rule), named);
                }
            }
            let there = is_put(lesson, &refused.witness, was, thing, spot);
            must("the witness has it where it was put", there);
            must("it says something", refused.sentence.len() > 20);
            let alone = only(lesson, &kept(scene, group));
            let found = planned(&alone, 1_500);
            let all = found.plan().choices.len() == alone.attending().count();
            must("there is a plan all the same", !all);
        }
    }
    wrong
}

fn refused(scene: &Scene, thing: Thing, at: &str, place: Option<(usize, usize)>) -> Box<Refused> {
    let place = place.map(|(oven, shelf)| (OvenId(oven), Some(ShelfId(shelf))));
    let spot = Spot { at: (!at.is_empty()).then(|| scene.minute(at)), place };
    let said = scene.put(thing, spot);
    assert_eq!(wrong(scene, thing, spot, &said), Vec::<String>::new());
    said.unwrap_err()
}
