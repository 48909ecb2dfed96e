//! Things of a plan moved and held by hand. What is said of a move is judged
//! here anew: plans by the checker, refusals by looking for what they say there
//! is not.

#![allow(clippy::unwrap_used, clippy::expect_used, missing_docs)]

mod common;

use std::collections::BTreeMap;
use std::ops::ControlFlow;
use std::path::Path;
use std::sync::atomic::AtomicBool;
use std::time::Duration;

use common::generate;
use ovenbell::check::{CheckedPlan, Rule, check, judge_of};
use ovenbell::file::format::LessonFile;
use ovenbell::file::{lesson_of_shapes, load_lesson, read_lesson, set_oven_out, write_lesson};
use ovenbell::hand::{
    Fit, Held, Put, Refused, Spot, SpotRow, Thing, contradiction, held, hold, let_go, put, spots,
};
use ovenbell::model::{Attendance, GroupId, Lesson, LockedTo, OvenId, ShelfId, StepId};
use ovenbell::plan::Plan;
use ovenbell::planner::explain::{ExplainLimits, explain};
use ovenbell::planner::{Budget, plan_until};
use ovenbell::today::{Keeps, keeps};
use ovenbell::units::{Minute, Minutes};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// How many drags a default run makes; `OVENBELL_DRAGS` sets another number.
fn how_many(usual: u64) -> u64 {
    std::env::var("OVENBELL_DRAGS").ok().and_then(|n| n.parse().ok()).unwrap_or(usual)
}

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

/// A generated lesson in which now and then an oven is broken and something is
/// held.
fn scene(seed: u64, rng: &mut Pcg64Mcg) -> Scene {
    let mut file = generate::lesson_of(seed, rng.random_range(3..=9));
    let lesson = lesson_of_shapes(&file, &[]).unwrap();
    if lesson.ovens.len() > 1 && rng.random_bool(0.25) {
        let oven = &lesson.ovens[rng.random_range(0..lesson.ovens.len())].name;
        let mut broken = file.clone();
        assert!(set_oven_out(&mut broken, oven, true));
        // Where units do not share, one without an oven is no lesson.
        if lesson_of_shapes(&broken, &[]).is_ok() {
            file = broken;
        }
    }
    let mut scene = Scene::of(file, 200);
    if rng.random_bool(0.4) {
        for _ in 0..rng.random_range(1..=3) {
            let served = scene.served();
            if served.is_empty() {
                break;
            }
            let g = served[rng.random_range(0..served.len())];
            let steps = scene.lesson.method_of(g, scene.plan.plan().choice(g).unwrap().method);
            let what = match rng.random_range(0..5) {
                0 => Held::Oven(g),
                1 => Held::Tin(g),
                2 => Held::Group(g),
                _ => Held::Step(g, StepId(rng.random_range(0..steps.steps.len()))),
            };
            let file = hold(&scene.file, &scene.lesson, &scene.plan, what);
            let lesson = lesson_of_shapes(&file, &[]).unwrap();
            let plan = check(&lesson, scene.plan.plan().clone()).unwrap();
            scene = Scene { file, lesson, plan };
        }
    }
    scene
}

fn drag(scene: &Scene, rng: &mut Pcg64Mcg) -> Option<(Thing, Spot)> {
    let served = scene.served();
    if served.is_empty() {
        return None;
    }
    let g = served[rng.random_range(0..served.len())];
    let plan = scene.plan.plan();
    let method = scene.lesson.method_of(g, plan.choice(g)?.method);
    let period = &scene.lesson.periods[scene.lesson.group(g).period.0];
    let mut near = |at: Minute| {
        if rng.random_bool(0.6) {
            at + Minutes::new(rng.random_range(-6..=8))
        } else {
            Minute::new(rng.random_range(period.start.get()..period.end.get()))
        }
    };
    let own = in_lesson(&scene.lesson, plan, g);
    let first = *own.values().min()?;
    let load = plan.loads.iter().find(|l| l.group == g);
    let kind = scene.lesson.groups.len() + g.0 + usize::try_from(first.get()).unwrap_or(0);
    let (step_at, bake_at, row_at) = {
        let names: Vec<&String> = own.keys().collect();
        let name = names[kind % names.len()].clone();
        let step = method.step_named(&name)?;
        ((step, near(own[&name])), load.map(|l| near(l.start)), near(first))
    };
    let place = (load.is_some() && rng.random_bool(0.8)).then(|| {
        let oven = rng.random_range(0..scene.lesson.ovens.len());
        let shelf = rng.random_range(0..scene.lesson.ovens[oven].shelves.len());
        (OvenId(oven), rng.random_bool(0.7).then_some(ShelfId(shelf)))
    });
    Some(match rng.random_range(0..10) {
        0..4 => {
            let (step, at) = step_at;
            (Thing::Step(g, step), Spot { at: Some(at), place: None })
        }
        4..8 if bake_at.is_some() => {
            let at = bake_at.filter(|_| place.is_none() || rng.random_bool(0.7));
            (Thing::Bake(g), Spot { at, place })
        }
        _ => {
            let place = place.filter(|_| rng.random_bool(0.3));
            (Thing::Row(g), Spot { at: Some(row_at), place })
        }
    })
}

#[test]
fn every_drag_is_kept_or_refused_for_a_true_reason() {
    let mut told: BTreeMap<String, usize> = BTreeMap::new();
    let mut faults = Vec::new();
    let (mut kept, mut refused, mut open) = (0_u64, 0_u64, 0_u64);
    let all = how_many(200);
    let begun = std::time::Instant::now();
    let mut slowest = Duration::ZERO;
    for i in 0..all.div_ceil(8) {
        let mut rng = Pcg64Mcg::seed_from_u64(7_000 + i);
        let scene = scene(i, &mut rng);
        for n in 0..8 {
            let Some((thing, spot)) = drag(&scene, &mut rng) else { continue };
            let then = std::time::Instant::now();
            let said = scene.put(thing, spot);
            slowest = slowest.max(then.elapsed());
            let key = match &said {
                Ok(put) => format!("{:?}", put.fit),
                Err(r) => format!("refused: {}{}", r.rule, if r.proved { "" } else { " (open)" }),
            };
            *told.entry(key).or_default() += 1;
            match &said {
                Ok(_) => kept += 1,
                Err(r) => {
                    refused += 1;
                    open += u64::from(!r.proved);
                    if std::env::var("OVENBELL_TELL").is_ok() {
                        println!("{i}.{n} {:?} {spot:?}\n    [{}] {}", thing, r.rule, r.sentence);
                    }
                }
            }
            for what in wrong(&scene, thing, spot, &said) {
                let told = said.as_ref().err().map(|r| r.sentence.clone());
                faults.push(format!("{i}.{n} {thing:?} {spot:?}: {what} {told:?}"));
            }
        }
    }
    println!("{kept} kept, {refused} refused ({open} not proved), {:?}", begun.elapsed());
    println!("slowest {slowest:?}; {told:#?}");
    assert!(faults.is_empty(), "{} of {all}\n{}", faults.len(), faults.join("\n"));
    assert!(kept * 5 > all && refused * 5 > all, "both in a decent share: {kept}, {refused}");
    assert!(open * 20 <= all, "few are left open: {open}");
}
