//! Groups that fall behind: whatever is answered, nothing that has begun moves. What
//! has begun is worked out here from the log and the plan alone.

use std::collections::BTreeMap;
use std::ops::ControlFlow;
use std::path::Path;
use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use rand::{RngExt, SeedableRng};
use rand_pcg::Pcg64Mcg;

use crate::common::generate;
use crate::common::how_many::{how_many, how_many_lessons};
use ovenbell::check::{CheckedPlan, check, judge_of};
use ovenbell::edit::FileChange;
use ovenbell::file::format::LessonFile;
use ovenbell::file::{lesson_of_shapes, load_lesson};
use ovenbell::model::{FactKind, GroupId, Lesson, StepKind};
use ovenbell::plan::{Load, Plan, StepPlacement};
use ovenbell::planner::{Budget, plan_until};
use ovenbell::today::{
    AsTold, BakesTold, Response, Standing, Tell, replan_begun, responses, start_of_day,
};
use ovenbell::units::{Minute, Minutes};

fn budget(decodings: u64) -> Budget {
    Budget { within: None, decodings: Some(decodings), seed: 1 }
}

fn planned(lesson: &Lesson) -> CheckedPlan {
    let on = |_: &CheckedPlan| ControlFlow::Continue(());
    let never = AtomicBool::new(false);
    plan_until(lesson, &budget(200), &never, judge_of(lesson), on).unwrap().judged
}

/// A slip: whose, told at which minute, how late.
#[derive(Debug, Clone, Copy)]
struct Told {
    group: GroupId,
    at: i32,
    late: i32,
}

/// What had begun of a group by the minute in which its slip was told, as it was:
/// steps with their starts, tins where they stand, the tin that is in use.
#[derive(Debug, Default)]
struct Begun {
    steps: BTreeMap<String, i32>,
    tins: Vec<String>,
    tin: Option<String>,
}

fn kind(lesson: &Lesson, plan: &CheckedPlan, placed: &StepPlacement) -> StepKind {
    let choice = plan.plan().choice(placed.group).unwrap();
    lesson.method_of(placed.group, choice.method).steps[placed.step.0].kind
}

fn stands(lesson: &Lesson, load: &Load) -> String {
    let oven = &lesson.ovens[load.oven.0].name;
    format!("{oven} {:?} {:?} {:?} {:?}", load.shelf, load.place, load.start, load.celsius)
}

fn begun(lesson: &Lesson, plan: &CheckedPlan, group: GroupId, told: Told) -> Begun {
    let choice = plan.plan().choice(group).unwrap();
    let method = lesson.method_of(group, choice.method);
    let late = if group == told.group { told.late } else { 0 };
    // By its plan the group stands where it was to be so long ago.
    let stands_at = told.at - late;
    let mut found = Begun::default();
    let of_group = || plan.plan().steps.iter().filter(|s| s.group == group);
    let loaded = of_group().find(|s| kind(lesson, plan, s) == StepKind::Load);
    let is_loading = loaded.is_some_and(|s| s.start.get() < stands_at);
    for step in of_group() {
        // Who is loading goes on to bake.
        let goes_on = is_loading && kind(lesson, plan, step) == StepKind::Bake;
        if step.start.get() >= if goes_on { told.at } else { stands_at } {
            continue;
        }
        // Tins that are in stay in, for as much longer as the group is late.
        let of_bake = matches!(kind(lesson, plan, step), StepKind::Load | StepKind::Bake);
        let over = step.end.get() <= stands_at;
        // Hand work that goes on is told as begun later by what it is late.
        let start = if over || of_bake { step.start.get() } else { step.start.get() + late };
        found.steps.insert(method.steps[step.step.0].name.clone(), start);
        if method.tin_held.is_some_and(|(first, _)| first == step.step) {
            found.tin = choice.tin.map(|t| lesson.tin_choice_of(group, t).label.clone());
        }
    }
    if is_loading {
        let loads = plan.plan().loads.iter().filter(|l| l.group == group);
        found.tins = loads.map(|l| stands(lesson, l)).collect();
        found.tins.sort();
    }
    found
}

/// When the tins of the group that slips were to be taken out, if they are in.
fn is_in(lesson: &Lesson, plan: &CheckedPlan, group: GroupId, told: Told) -> Option<i32> {
    let of = |of: StepKind| {
        let mut steps = plan.plan().steps.iter().filter(|s| s.group == group);
        steps.find(|s| kind(lesson, plan, s) == of)
    };
    let (load, out) = (of(StepKind::Load)?, of(StepKind::TakeOut)?);
    let stands_at = told.at - told.late;
    let within = load.start.get() < stands_at && stands_at < out.end.get();
    (group == told.group && within).then_some(out.start.get())
}

fn nothing_begun_moves(
    (lesson, plan): (&Lesson, &CheckedPlan),
    told: Told,
    response: &Response,
    about: &str,
) {
    let (after, new) = (&response.after.lesson, &response.after.plan);
    check(after, new.plan().clone()).unwrap_or_else(|b| panic!("{about}: {b:#?}"));
    let again = lesson_of_shapes(&response.file, &[]).unwrap();
    assert_eq!(again, **after, "{about}: the plan is of another lesson");
    for choice in &new.plan().choices {
        let group = choice.group;
        let name = &after.group(group).name;
        assert_eq!(*name, lesson.group(group).name);
        let was = begun(lesson, plan, group, told);
        let method = after.method_of(group, choice.method);
        let steps = || new.plan().steps.iter().filter(|s| s.group == group);
        for (step, start) in &was.steps {
            let is = steps().find(|s| method.steps[s.step.0].name == *step);
            assert_eq!(is.map(|s| s.start.get()), Some(*start), "{about}: {step} of {name}");
        }
        // Nothing else is said to have begun by then.
        let said = steps().filter(|s| s.start.get() < told.at).count();
        assert!(said <= was.steps.len(), "{about}: {name} begins something in the past");
        if !was.tins.is_empty() {
            let loads = new.plan().loads.iter().filter(|l| l.group == group);
            let mut tins: Vec<String> = loads.map(|l| stands(after, l)).collect();
            tins.sort();
            assert_eq!(tins, was.tins, "{about}: the bake of {name} is moved");
        }
        if let Some(out) = is_in(lesson, plan, group, told) {
            let after = bake_of(after, new.plan(), group).map(|bake| bake.out.get());
            assert_eq!(after, Some(out + told.late), "{about}: {name} is out too soon");
        }
        if was.tin.is_some() {
            let tin = choice.tin.map(|t| after.tin_choice_of(group, t).label.clone());
            assert_eq!(tin, was.tin, "{about}: the tin of {name} is changed");
        }
    }
}

/// The sample lesson's day, its plan, and groups that bake.
struct Day {
    file: LessonFile,
    lesson: Lesson,
    plan: CheckedPlan,
}

/// A group that bakes: from when until when, and when it has taken out.
#[derive(Debug, Clone, Copy)]
struct Bake {
    group: GroupId,
    loaded: Minute,
    out: Minute,
    over: Minute,
}

impl Day {
    fn new() -> Self {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/demo.ron");
        let file = start_of_day(&load_lesson(&path).unwrap().file);
        let lesson = lesson_of_shapes(&file, &[]).unwrap();
        let plan = planned(&lesson);
        Self { file, lesson, plan }
    }

    fn bakes(&self) -> Vec<Bake> {
        let groups = self.plan.plan().choices.iter().map(|choice| choice.group);
        groups.filter_map(|group| bake_of(&self.lesson, self.plan.plan(), group)).collect()
    }

    /// The day once something was told of a group: how it stands, and when its tins are in
    /// and out by a plan that goes on from there, if that serves it.
    fn told(
        &self,
        bake: Bake,
        told: &[(FactKind, Minute)],
        now: Minute,
    ) -> (Standing, Option<(Minute, Minute)>) {
        let name = self.lesson.group(bake.group).name.clone();
        let file = told.iter().fold(self.file.clone(), |file, &(what, at)| {
            let at = self.lesson.periods[0].start_clock.after(at - Minute::BELL);
            Tell { group: &name, what, at, past: &[] }.made(&file).unwrap()
        });
        let lesson = lesson_of_shapes(&file, &[]).unwrap();
        let facts = &lesson.today.as_ref().unwrap().facts;
        let standing = Standing::of(&lesson, &self.plan, facts, now);
        let before = (&lesson, &self.plan);
        let bakes = BakesTold { told: before, slips: &standing.slips };
        let after = Arc::new(lesson_of_shapes(&bakes.made(&file).unwrap(), &[]).unwrap());
        let by = (now, standing.slips.as_slice());
        let never = AtomicBool::new(false);
        let found = replan_begun(before, &after, by, &budget(60), &never, |_| {});
        let bake = found.ok().and_then(|found| bake_of(&after, found.plan.plan(), bake.group));
        (standing, bake.map(|bake| (bake.loaded, bake.out)))
    }
}

fn bake_of(lesson: &Lesson, plan: &Plan, group: GroupId) -> Option<Bake> {
    let method = lesson.method_of(group, plan.choice(group)?.method);
    let (_, bake, out) = method.bake_steps()?;
    let placed = |step| plan.steps.iter().find(|s| s.group == group && s.step == step);
    let (bake, taking) = (placed(bake)?, placed(out)?);
    Some(Bake { group, loaded: bake.start, out: bake.end, over: taking.end })
}

/// What is told of a group that bakes, by when it is planned on from there, and when its
/// tins are in and out by then.
type Case = fn(Bake) -> (Vec<(FactKind, Minute)>, Minute, (Minute, Minute));

#[test]
fn what_was_told_of_a_bake_is_never_contradicted() {
    fn late(minutes: i32) -> FactKind {
        FactKind::Late(Minutes::new(minutes))
    }
    fn m(minutes: i32) -> Minutes {
        Minutes::new(minutes)
    }
    let cases: [(&str, Case); 5] = [
        ("by then it was to be out, and is told late", |b| {
            (vec![(late(5), b.out + m(3))], b.out + m(3), (b.loaded, b.out + m(5)))
        }),
        ("nobody has told it out since", |b| {
            (vec![(late(5), b.out + m(3))], b.out + m(6), (b.loaded, b.out + m(6)))
        }),
        ("less late than when it went in: it bakes its minutes all the same", |b| {
            let told = vec![(FactKind::In, b.loaded + m(3)), (late(1), b.out + m(1))];
            (told, b.out + m(1), (b.loaded + m(3), b.out + m(3)))
        }),
        ("later than when it went in: it bakes for longer", |b| {
            let told = vec![(FactKind::In, b.loaded + m(3)), (late(5), b.out + m(4))];
            (told, b.out + m(4), (b.loaded + m(3), b.out + m(5)))
        }),
        ("out, and then late at what follows", |b| {
            let told = [(FactKind::In, b.loaded + m(3)), (FactKind::Out, b.over + m(4))];
            let told = told.into_iter().chain([(late(5), b.over + m(5))]);
            (told.collect(), b.over + m(5), (b.loaded + m(3), b.out + m(4)))
        }),
    ];
    let day = Day::new();
    for (what, case) in cases {
        let mut looked_at = 0;
        for bake in day.bakes().into_iter().step_by(3) {
            let (told, now, expected) = case(bake);
            let (standing, is) = day.told(bake, &told, now);
            assert_eq!(standing.behind().count(), 1, "{what}: {bake:?}");
            assert!(is.is_none_or(|is| is == expected), "{what}: {bake:?}, {is:?}");
            looked_at += usize::from(is.is_some());
        }
        assert!(looked_at > 0, "{what}: no plan serves any");
    }
}

/// A slip of a day's lesson by its plan, drawn by a number.
fn slip_of(plan: &CheckedPlan, rng: &mut Pcg64Mcg) -> Told {
    let group = plan.plan().choices[rng.random_range(0..plan.plan().choices.len())].group;
    let steps = plan.plan().steps.iter().filter(|s| s.group == group);
    let last = steps.map(|s| s.end.get()).max().unwrap().max(2);
    Told { group, at: rng.random_range(1..last), late: [2, 4, 8][rng.random_range(0..3)] }
}

/// Whether anything was asked, and whether it was answered.
fn slipped((file, lesson): (&LessonFile, &Lesson), plan: &CheckedPlan, told: Told) -> (bool, bool) {
    let about = format!("{told:?} of {}", lesson.title);
    let at = lesson.periods[0].start_clock.after(Minutes::new(told.at));
    let what = FactKind::Late(Minutes::new(told.late));
    let name = lesson.group(told.group).name.clone();
    let day = Tell { group: &name, what, at, past: &[] }.made(file).unwrap();
    let lesson = lesson_of_shapes(&day, &[]).unwrap();
    let facts = &lesson.today.as_ref().unwrap().facts;
    let standing = Standing::of(&lesson, plan, facts, Minute::new(told.at));
    let as_told = AsTold { file: &day, lesson: &lesson, plan };
    let never = AtomicBool::new(false);
    let found = responses(as_told, &standing, &[], &budget(150), &never);
    assert!(found.len() <= 4, "{about}");
    assert!(!standing.all_out() || found.is_empty(), "{about}: nothing was asked");
    for response in &found {
        let about = format!("{about}: {}", response.words);
        nothing_begun_moves((&lesson, plan), told, response, &about);
    }
    (!standing.all_out(), !found.is_empty())
}

#[test]
fn whatever_slips_no_answer_moves_what_has_begun() {
    let (mut slips, mut asked, mut answered) = (0, 0, 0);
    for seed in 0..how_many_lessons(20) {
        let file = start_of_day(&generate::lesson(seed));
        let lesson = lesson_of_shapes(&file, &[]).unwrap();
        let plan = planned(&lesson);
        if plan.plan().choices.is_empty() {
            continue;
        }
        let mut rng = Pcg64Mcg::seed_from_u64(seed);
        for _ in 0..how_many("OVENBELL_SLIPS", 1) {
            let told = slip_of(&plan, &mut rng);
            println!("lesson {seed}: {told:?}");
            let (is_asked, is_answered) = slipped((&file, &lesson), &plan, told);
            slips += 1;
            asked += usize::from(is_asked);
            answered += usize::from(is_answered);
        }
    }
    println!("{slips} slips, {asked} of them a question, {answered} of these answered");
    assert!(slips > 5);
}
