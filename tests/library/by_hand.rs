//! Things of a plan moved and held by hand. What is said of a move is judged
//! here anew: plans by the checker, refusals by looking for what they say there
//! is not.

use std::collections::BTreeMap;
use std::ops::ControlFlow;
use std::path::Path;
use std::sync::atomic::AtomicBool;
use std::time::Duration;

use crate::common::generate;
use crate::common::how_many::how_many;
use ovenbell::check::{CheckedPlan, Rule, check, judge_of};
use ovenbell::edit::set_oven_out;
use ovenbell::file::format::LessonFile;
use ovenbell::file::{lesson_of_shapes, load_lesson, read_lesson, write_lesson};
use ovenbell::hand::{
    Fit, Held, Put, Refused, Spot, SpotRow, Thing, contradiction, held, hold, let_go, put, spots,
};
use ovenbell::keep::{Keeps, keeps};
use ovenbell::model::{Attendance, GroupId, Lesson, LockedTo, OvenId, ShelfId, StepId};
use ovenbell::plan::Plan;
use ovenbell::planner::explain::{ExplainLimits, explain};
use ovenbell::planner::{Budget, plan_until};
use ovenbell::units::{Minute, Minutes};
use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

/// How many drags a default run makes; `OVENBELL_DRAGS` sets another number.
fn drags(usual: u64) -> u64 {
    how_many("OVENBELL_DRAGS", usual)
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
    let (mut asked, mut explained) = (0, 0);
    let all = drags(200);
    let begun = std::time::Instant::now();
    let mut slowest = Duration::ZERO;
    for i in 0.. {
        if kept + refused >= all {
            break;
        }
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
            if let Err(r) = &said
                && refused % 10 == 0
            {
                asked += 1;
                let groups = self::kept(&scene, thing.group());
                let alone = only(&r.lesson, &groups);
                let limits = ExplainLimits { within: Duration::from_secs(1), ..Default::default() };
                let why = explain(&alone, &[thing.group()], limits);
                explained += u32::from(why.iter().all(|w| w.is_proved()));
            }
            for what in wrong(&scene, thing, spot, &said) {
                let told = said.as_ref().err().map(|r| r.sentence.clone());
                faults.push(format!("{i}.{n} {thing:?} {spot:?}: {what} {told:?}"));
            }
        }
    }
    println!("{kept} kept, {refused} refused ({open} not proved), {:?}", begun.elapsed());
    println!("slowest {slowest:?}; {told:#?}");
    println!("{explained} of {asked} refusals asked about are explained otherwise too");
    assert!(explained * 10 >= asked * 8, "{explained} of {asked} explained otherwise too");
    assert!(faults.is_empty(), "{} of {all}\n{}", faults.len(), faults.join("\n"));
    assert!(kept * 5 > all && refused * 5 > all, "both in a decent share: {kept}, {refused}");
    assert!(open * 20 <= all, "few are left open: {open}");
}

#[test]
fn what_lights_up_is_what_a_drop_comes_to() {
    let (mut asked, mut same_rule, mut refused) = (0, 0, 0);
    let mut faults = Vec::new();
    let mut told: BTreeMap<String, usize> = BTreeMap::new();
    let mut slowest = Duration::ZERO;
    for i in 0..drags(200).div_ceil(20) {
        let mut rng = Pcg64Mcg::seed_from_u64(90_000 + i);
        let scene = scene(50 + i, &mut rng);
        let Some((thing, _)) = drag(&scene, &mut rng) else { continue };
        let then = std::time::Instant::now();
        let rows = scene.spots(thing);
        slowest = slowest.max(then.elapsed());
        let period = &scene.lesson.periods[scene.lesson.group(thing.group()).period.0];
        for row in &rows {
            let minutes: Vec<i32> = row.fits.iter().map(|(at, _)| at.get()).collect();
            let all: Vec<i32> = (period.start.get()..period.end.get()).collect();
            assert_eq!(minutes, all, "every minute of the period");
            assert_eq!(row.place.is_some(), matches!(thing, Thing::Bake(_)));
        }
        let shelves: usize = scene.lesson.ovens.iter().map(|o| o.shelves.len()).sum();
        let bake = matches!(thing, Thing::Bake(_));
        assert_eq!(rows.len(), if bake { shelves } else { 1 });
        let lit: Vec<_> =
            rows.iter().flat_map(|r| r.fits.iter().map(move |f| (r.place, *f))).collect();
        for _ in 0..12 {
            let (place, (at, fit)) = lit[rng.random_range(0..lit.len())];
            let place = place.map(|(oven, shelf)| (oven, Some(shelf)));
            let spot = Spot { at: Some(at), place };
            let said = scene.put(thing, spot);
            asked += 1;
            let fault = match (fit, &said) {
                (Fit::Stays, Ok(put)) => put.fit != Fit::Stays,
                (Fit::Stays, Err(_)) | (Fit::Refused(_), Ok(_)) => true,
                (Fit::OthersMove | Fit::AtACost, said) => said.is_err(),
                (Fit::Refused(rule), Err(said)) => {
                    refused += 1;
                    same_rule += u32::from(said.rule == rule);
                    if said.rule != rule && std::env::var("OVENBELL_TELL").is_ok() {
                        println!(
                            "{i} {thing:?} {spot:?} lit {rule}: [{}] {}",
                            said.rule, said.sentence
                        );
                    }
                    false
                }
            };
            let came = match &said {
                Ok(put) => format!("{:?}", put.fit),
                Err(r) => format!("refused {}", r.rule),
            };
            let lit = match fit {
                Fit::Refused(rule) => format!("refused {rule}"),
                fit => format!("{fit:?}"),
            };
            if fault {
                faults.push(format!("{i} {thing:?} {spot:?}: lit {lit}, put {came}"));
            }
            *told.entry(format!("lit {lit}, put {came}")).or_default() += 1;
        }
    }
    println!("{asked} asked, {refused} refused, {same_rule} by the same rule, slowest {slowest:?}");
    println!("{told:#?}");
    assert!(faults.is_empty(), "{}", faults.join("\n"));
    assert!(same_rule * 10 >= refused * 8, "{same_rule} of {refused} by the same rule");
}

fn refused(scene: &Scene, thing: Thing, at: &str, place: Option<(usize, usize)>) -> Box<Refused> {
    let place = place.map(|(oven, shelf)| (OvenId(oven), Some(ShelfId(shelf))));
    let spot = Spot { at: (!at.is_empty()).then(|| scene.minute(at)), place };
    let said = scene.put(thing, spot);
    assert_eq!(wrong(scene, thing, spot, &said), Vec::<String>::new());
    said.unwrap_err()
}

#[test]
fn sums_of_refusals_are_those_done_by_hand() {
    let scones = Scene::named("a-scones-hour.ron", |_| {});
    let pair = GroupId(0);
    let step = |name: &str| Thing::Step(pair, scones.step(pair, name));
    let told = |thing, at, place| {
        let r = refused(&scones, thing, at, place);
        assert!(r.proved, "{}", r.sentence);
        (r.rule, r.sentence)
    };
    // Register 3, aprons and hands 4, demo 5: until 10:12.
    let (rule, sum) = told(step("weigh"), "10:10", None);
    assert_eq!(rule, Rule::Period);
    assert_eq!(
        sum,
        "Weigh of Pair 1 cannot begin at 10:10. The demo ends at 10:12: not before 10:12."
    );
    // Then weigh 5.
    let (rule, sum) = told(step("rub in"), "10:14", None);
    assert_eq!(rule, Rule::Order);
    assert_eq!(
        sum,
        "Rub in of Pair 1 cannot begin at 10:14. Weigh 5 min comes first and the demo ends at \
         10:12: not before 10:17."
    );
    // 5 + 6 + 1 + 12 + 1 + 6 + 2 = 33 until the plenary at 10:56.
    let (rule, sum) = told(step("rub in"), "10:40", None);
    assert_eq!(rule, Rule::Bell);
    assert_eq!(
        sum,
        "Rub in of Pair 1 cannot begin at 10:40. Rub in 5 min, mix, shape and cut 6 min, load 1 \
         min, bake 12 min, take out 1 min, cool 6 min and box and label 2 min, 33 minutes in all, \
         are to come and the plenary begins at 10:56: not after 10:23."
    );
    let (rule, sum) = told(Thing::Bake(pair), "10:24", Some((0, 0)));
    assert_eq!(rule, Rule::Order);
    assert_eq!(
        sum,
        "Pair 1's bake cannot go onto the top shelf of Oven 1 at 10:24. Weigh 5 min, rub in 5 min \
         and mix, shape and cut 6 min come first and the demo ends at 10:12: not before 10:28."
    );
    // Boxing ends 33 after rubbing in began and 38 after weighing, if nothing
    // waits in between.
    let row = refused(&scones, Thing::Row(pair), "10:35", None);
    assert_eq!(row.rule, Rule::Bell);
    let own = in_lesson(&scones.lesson, scones.plan.plan(), pair);
    let (first, boxed) = (own.values().min().unwrap(), own["box and label"]);
    let latest = scones.minute("10:54") - (boxed - *first);
    assert!(
        row.sentence.ends_with(&format!(
            "; so its first step is at {} at the latest.",
            ovenbell::view::words::clock(&scones.lesson, latest)
        )),
        "{}",
        row.sentence
    );
}

#[test]
fn ovens_and_shelves_are_told_of_in_centimetres() {
    let scene = Scene::named("a-scones-hour.ron", |file| {
        let mut small = file.room.ovens[0].clone();
        small.name = "Small oven".into();
        small.count = None;
        small.shelf_mm = Some((300.0, 240.0));
        let mut low = small.clone();
        low.name = "Low oven".into();
        low.shelf_mm = Some((420.0, 360.0));
        low.clear_mm = Some(12.0);
        file.room.ovens.extend([small, low]);
        assert!(set_oven_out(file, "Oven 2", true));
    });
    let pair = Thing::Bake(GroupId(3));
    let oven = |name: &str| scene.lesson.ovens.iter().position(|o| o.name == name).unwrap();
    let out = refused(&scene, pair, "10:30", Some((oven("Oven 2"), 0)));
    assert_eq!(out.rule, Rule::OneOven);
    assert_eq!(
        out.sentence,
        "Pair 4's bake cannot go onto the top shelf of Oven 2 at 10:30. Oven 2 is out of order."
    );
    let small = refused(&scene, pair, "", Some((oven("Small oven"), 1)));
    assert_eq!(small.rule, Rule::Shelf);
    assert_eq!(
        small.sentence,
        "Pair 4's bake cannot go onto the bottom shelf of Small oven. The baking sheet is 35 by 25 \
         cm, and the bottom shelf of Small oven is 30 cm wide and 24 cm deep."
    );
    let low = refused(&scene, pair, "10:30", Some((oven("Low oven"), 0)));
    assert_eq!(low.rule, Rule::Shelf);
    assert!(
        low.sentence.ends_with(
            "The baking sheet is 1.5 cm high, and the top shelf of Low oven has 1.2 cm above it."
        ),
        "{}",
        low.sentence
    );
}

/// One group that mixes and prepares before it bakes.
const TWO_BRANCHES: &str = r#"(
    format: 2,
    period: (start: "10:00", end: "11:00", opening: [(name: "register", minutes: 2)],
        closing: [(name: "plenary", minutes: 4)]),
    room: (ovens: [(name: "Oven", count: 2, shelves: 1, shelf_mm: (420, 360), warm_up: 10)]),
    recipes: [(
        name: "buns",
        bake: (),
        methods: [(
            name: "way",
            steps: [
                (name: "mix", minutes: 5, after: []),
                (name: "prepare", minutes: 25, after: []),
                (name: "bake", kind: Bake, after: ["mix", "prepare"]),
                (name: "wash up", minutes: 3, after: ["bake"]),
            ],
            links: [(from: "mix", to: "bake", longest: 6)],
        )],
        tins: [(label: "a sheet", tin: "sheet", celsius: 180, minutes: 10)],
    )],
    tins: [(name: "sheet", form: Sheet, rim_mm: (350, 250), height_mm: 15)],
    groups: [(name: "Pair", count: 3, recipe: "buns")],
)"#;

#[test]
fn a_longest_gap_is_told_with_its_sum() {
    let scene = Scene::of(read_lesson(TWO_BRANCHES).unwrap().file, 500);
    let pair = GroupId(1);
    // Prepare 25 from 10:02: load at 10:27. Mix 5 ends at 10:21 or later.
    let said = refused(&scene, Thing::Step(pair, scene.step(pair, "mix")), "10:12", None);
    assert_eq!(said.rule, Rule::Order);
    assert_eq!(
        said.sentence,
        "Mix of Pair 2 cannot begin at 10:12. Prepare 25 min comes first and the register ends at \
         10:02, so load begins at 10:27 at the earliest; mix 5 min may end 6 minutes before load, \
         no more: not before 10:16."
    );
    let at = Spot { at: Some(scene.minute("10:16")), place: None };
    let put = scene.put(Thing::Step(pair, scene.step(pair, "mix")), at).unwrap();
    assert_eq!(put.lost, []);
}

#[test]
fn held_locks_that_contradict_each_other_are_named() {
    let never = AtomicBool::new(false);
    let lock = |group: &str, step: &str, at: i32| ovenbell::file::format::LockShape {
        group: group.into(),
        step: Some(step.into()),
        at: Some(at),
        ..Default::default()
    };
    let on_top = |group: &str, oven: &str| ovenbell::file::format::LockShape {
        group: group.into(),
        oven: Some(oven.into()),
        shelf: Some(1),
        ..Default::default()
    };
    let of = |end: &str, locks: Vec<ovenbell::file::format::LockShape>| {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/a-scones-hour.ron");
        let mut file = load_lesson(&path).unwrap().file;
        file.locks = locks;
        file.period.end = end.into();
        let lesson = lesson_of_shapes(&file, &[]).unwrap();
        let found = contradiction(&lesson, &never);
        (lesson, found)
    };
    assert_eq!(of("11:00", Vec::new()).1, None);
    // Others are held too, and have no part in it.
    let (lesson, found) = of(
        "12:00",
        vec![
            lock("Pair 1", "weigh", 14),
            on_top("Pair 3", "Oven 2"),
            lock("Pair 3", "load", 29),
            on_top("Pair 5", "Oven 2"),
            lock("Pair 5", "load", 31),
            lock("Pair 7", "rub in", 18),
        ],
    );
    let found = found.unwrap();
    assert_eq!(found.locks, [1, 2, 3, 4]);
    assert_eq!(found.groups, [GroupId(2), GroupId(4)]);
    assert_eq!(found.rule, Rule::Shelf);
    assert_eq!(
        found.sentence,
        "Pair 3's bake is held at 10:29 on the top shelf of Oven 2 and Pair 5's bake is held at \
         10:31 on the top shelf of Oven 2: both cannot be kept. Pair 5's baking sheet is on the \
         top shelf of Oven 2 from 10:31 to 10:45; two baking sheets of 35 by 25 cm, with 2 cm of \
         air between, take 52 cm side by side, and the shelf is 42 cm wide and 36 cm deep."
    );
    // With any one of them let go there is a plan of both.
    for &gone in &found.locks {
        let mut parts = only(&lesson, &found.groups).into_parts();
        let kept = found.locks.iter().filter(|l| **l != gone);
        parts.locks = kept.map(|&l| lesson.locks[l].clone()).collect();
        let plan = planned(&Lesson::new(parts).unwrap(), 500);
        assert_eq!(plan.plan().choices.len(), 2, "without lock {gone}");
    }
    // In an hour there is time for one bake on that shelf, whenever it is: in at
    // 10:28 or later, and at 10:34 at the latest.
    let (_, found) = of("11:00", vec![on_top("Pair 3", "Oven 2"), on_top("Pair 5", "Oven 2")]);
    let found = found.unwrap();
    assert_eq!((&found.locks[..], found.rule), (&[0, 1][..], Rule::Shelf));
    // Weighing takes 5 as planned; at its quickest it takes 4.
    let (_, found) = of("12:00", vec![lock("Pair 2", "weigh", 20), lock("Pair 2", "rub in", 24)]);
    let found = found.unwrap();
    assert_eq!((&found.locks[..], found.rule), (&[0, 1][..], Rule::Order));
    assert!(found.proved);
    assert_eq!(
        found.sentence,
        "Weigh of Pair 2 is held at 10:20 and rub in of Pair 2 is held at 10:24: both cannot be \
         kept. Weigh is held at 10:20 and takes 5 minutes: not before 10:25."
    );
    // One that leaves no time is a contradiction by itself.
    let (_, found) = of("11:00", vec![lock("Pair 4", "load", 50)]);
    let found = found.unwrap();
    assert_eq!((&found.locks[..], found.rule), (&[0][..], Rule::Bell));
}

#[test]
fn what_is_held_is_shown_and_let_go_again() {
    let scene = Scene::named("demo.ron", |_| {});
    let mut seen = 0;
    for g in scene.served() {
        let name = &scene.lesson.group(g).name;
        let choice = *scene.plan.plan().choice(g).unwrap();
        let steps = scene.lesson.method_of(g, choice.method).steps.len();
        let all = (0..steps).map(|s| Held::Step(g, StepId(s)));
        let rest = [Held::Tin(g), Held::Method(g), Held::Oven(g), Held::Group(g)];
        for what in all.chain(rest) {
            let file = hold(&scene.file, &scene.lesson, &scene.plan, what);
            let text = write_lesson(&file).unwrap();
            let lesson = read_lesson(&text).unwrap().lesson;
            assert!(check(&lesson, scene.plan.plan().clone()).is_ok(), "{name} {what:?}");
            let marks = held(&lesson);
            assert!(marks[g.0].any(), "{name} {what:?}");
            assert_eq!(marks.iter().filter(|m| m.any()).count(), 1);
            match what {
                Held::Step(_, s) => {
                    let step = &scene.lesson.method_of(g, choice.method).steps[s.0].name;
                    let at = starts(&scene.lesson, scene.plan.plan(), g)[step];
                    assert_eq!(marks[g.0].step(step), Some(at));
                }
                Held::Tin(_) => assert_eq!(marks[g.0].tin, choice.tin),
                Held::Method(_) => assert_eq!(marks[g.0].method, Some(choice.method)),
                Held::Oven(_) => assert!(marks[g.0].oven.is_some()),
                Held::Group(_) => assert!(marks[g.0].starts.len() > 3 && marks[g.0].tin.is_some()),
            }
            // Twice is once.
            assert_eq!(hold(&file, &lesson, &scene.plan, what), file, "{name} {what:?}");
            assert_eq!(let_go(&file, &lesson, &scene.plan, what), scene.file, "{name} {what:?}");
            seen += 1;
        }
    }
    assert!(seen > 40);
}

#[test]
fn a_drop_replaces_what_was_held_of_the_same_thing_alone() {
    let scene = Scene::named("a-scones-hour.ron", |file| {
        let lock = |step: &str, at| ovenbell::file::format::LockShape {
            group: "Pair 6".into(),
            step: Some(step.into()),
            at: Some(at),
            ..Default::default()
        };
        // One entry may hold several things.
        let mut both = lock("bake", 30);
        both.tin = Some("8 scones".into());
        file.locks = vec![lock("weigh", 12), both];
    });
    let pair = GroupId(5);
    let spot = Spot { at: Some(scene.minute("10:31")), place: Some((OvenId(1), None)) };
    let put = scene.put(Thing::Bake(pair), spot).unwrap();
    assert_eq!(wrong(&scene, Thing::Bake(pair), spot, &Ok(put.clone())), Vec::<String>::new());
    let locks: Vec<&LockedTo> = put.lesson.locks.iter().map(|l| &l.to).collect();
    assert_eq!(locks.len(), 4, "{locks:?}");
    let start = |name: &str, at| LockedTo::Start(name.into(), Minute::new(at));
    assert!(locks.contains(&&start("weigh", 12)) && locks.contains(&&start("load", 31)));
    assert!(locks.contains(&&LockedTo::Oven(OvenId(1), None)));
    // Put again with nothing else, it stays where it is.
    let again = Scene { file: put.file.clone(), lesson: (*put.lesson).clone(), plan: put.plan };
    let same = again.put(Thing::Bake(pair), spot).unwrap();
    assert_eq!((same.fit, &same.file), (Fit::Stays, &put.file));
    // Whenever it suits: no minute is held any more.
    let anywhen = Spot { at: None, place: Some((OvenId(2), Some(ShelfId(0)))) };
    let put = again.put(Thing::Bake(pair), anywhen).unwrap();
    assert!(!put.lesson.locks.iter().any(|l| l.to == start("load", 31)));
}

#[test]
fn a_refusal_beside_what_is_held_names_it() {
    let scene = Scene::named("a-scones-hour.ron", |file| {
        file.locks = vec![ovenbell::file::format::LockShape {
            group: "Pair 5".into(),
            step: Some("load".into()),
            at: Some(31),
            oven: Some("Oven 3".into()),
            shelf: Some(1),
            ..Default::default()
        }];
    });
    let said = refused(&scene, Thing::Bake(GroupId(2)), "10:29", Some((2, 0)));
    assert_eq!(said.rule, Rule::Shelf);
    assert!(
        said.sentence.contains("Pair 5's baking sheet is on the top shelf of Oven 3"),
        "{}",
        said.sentence
    );
    // Who is not held makes room.
    let scene = Scene::named("a-scones-hour.ron", |_| {});
    let load = scene.plan.plan().loads.iter().find(|l| l.group != GroupId(2)).unwrap().clone();
    let spot = Spot { at: Some(load.start), place: Some((load.oven, Some(load.shelf))) };
    let put = scene.put(Thing::Bake(GroupId(2)), spot).unwrap();
    assert_eq!(put.lost, []);
}

#[test]
fn who_is_left_out_is_not_put_anywhere() {
    let scene = Scene::of(
        read_lesson(&TWO_BRANCHES.replace("count: 3, ", "left_out: true, ")).unwrap().file,
        100,
    );
    let thing = Thing::Step(GroupId(0), StepId(0));
    let spot = Spot { at: Some(scene.minute("10:20")), place: None };
    let said = scene.put(thing, spot).unwrap_err();
    assert_eq!((said.rule, said.proved), (Rule::WholeGroup, true));
    assert!(is_put(&said.lesson, &said.witness, scene.plan.plan(), thing, spot));
    let breaches = check(&said.lesson, said.witness.clone()).unwrap_err();
    assert!(breaches.iter().any(|b| b.rule == Rule::WholeGroup));
}

#[test]
fn who_bakes_nothing_has_nothing_to_put() {
    let text = TWO_BRANCHES.replace(
        "groups: [(name: \"Pair\"",
        "groups: [(name: \"Cold\", recipe: \"cold\"), (name: \"Pair\"",
    );
    let cold = "recipes: [(name: \"cold\", bake: (), methods: [(name: \"stir\", steps: \
                [(name: \"stir\", minutes: 5)])]), (";
    let text = text.replacen("recipes: [(", cold, 1);
    let scene = Scene::of(read_lesson(&text).unwrap().file, 100);
    let place = Some((OvenId(1), Some(ShelfId(0))));
    let spot = Spot { at: Some(scene.minute("10:20")), place };
    let said = scene.put(Thing::Bake(GroupId(0)), spot).unwrap_err();
    assert_eq!((said.rule, said.proved), (Rule::OneOven, true));
    assert_eq!(said.sentence, "Cold bakes nothing.");
    let breaches = check(&said.lesson, said.witness.clone()).unwrap_err();
    assert!(breaches.iter().any(|b| b.rule == Rule::OneOven));
}

#[test]
fn round_tins_are_refused_from_middle_to_middle() {
    let airy = "ovens: [(name: \"Airy\", kind: Conventional, shelves: 1, gap_mm: 80), ";
    let text = include_str!("../cases/good/round_tins.ron").replace("ovens: [", airy);
    let scene = Scene::of(read_lesson(&text).unwrap().file, 100);
    let said = refused(&scene, Thing::Bake(GroupId(0)), "10:30", Some((0, 0)));
    assert!(
        said.sentence.contains(
            "20 cm sandwich tins, 21.5 cm across, and 8 cm of air take 29.5 cm from middle to \
             middle, and on the shelf of Airy, 42 cm wide and 36 cm deep, middles are no more than \
             25.11 cm apart"
        ),
        "{}",
        said.sentence
    );
    assert!(said.proved);
}
