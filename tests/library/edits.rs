//! Every kind of change of a lesson's file goes through one door: it says what
//! it is called, and changes the file or says why not.

use std::ops::ControlFlow;
use std::path::Path;
use std::sync::atomic::AtomicBool;

use ovenbell::change::{Alteration, Item};
use ovenbell::check::{CheckedPlan, judge_of};
use ovenbell::edit::{Edit, FileChange};
use ovenbell::file::format::{LessonFile, LockShape, ReviewShape, ReviewedShape, TeacherNoteShape};
use ovenbell::file::{lesson_of_shapes, library, load_lesson};
use ovenbell::hand::{ByHand, Does, Held, Spot, Thing};
use ovenbell::model::{ChangeKind, GroupId, Lesson, Lock, LockedTo, Slip, StepKind};
use ovenbell::planner::{Budget, plan_until};
use ovenbell::setup::SetUp;
use ovenbell::setup::looked_at::LookedAt;
use ovenbell::setup::rename::Named;
use ovenbell::setup::teacher_notes::NoteChange;
use ovenbell::today::{BakesTold, Happening, Happens, start_of_day};
use ovenbell::units::{ClockTime, Minute, Minutes};

fn file(name: &str) -> LessonFile {
    load_lesson(&Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons").join(name)).unwrap().file
}

fn planned(lesson: &Lesson) -> CheckedPlan {
    let budget = Budget { within: None, decodings: Some(100), seed: 1 };
    let on = |_: &CheckedPlan| ControlFlow::Continue(());
    let never = AtomicBool::new(false);
    plan_until(lesson, &budget, &never, judge_of(lesson), on).unwrap().judged
}

/// The file with a change of that name, which is still a lesson's.
fn made(change: &dyn FileChange, file: &LessonFile, label: &str) -> LessonFile {
    assert_eq!(change.label(), label);
    let after = change.made(file).unwrap_or_else(|why| panic!("{label}: {why:?}"));
    assert_ne!(after, *file, "{label}");
    if let Err(findings) = lesson_of_shapes(&after, &[]) {
        panic!("{label}: {findings:#?}");
    }
    after
}

/// Why it cannot be made; the file stays as it was.
fn refused(change: &dyn FileChange, file: &LessonFile) -> String {
    let before = file.clone();
    let why = change.made(file).expect_err(&change.label());
    assert_eq!(*file, before);
    why.message
}

#[test]
fn a_change_on_a_card() {
    let file = file("demo.ron");
    let lesson = lesson_of_shapes(&file, &[]).unwrap();
    let name = lesson.groups[0].name.clone();
    let out = Edit::LeftOut { group: name.clone(), out: true };
    let after = made(&out, &file, &format!("leave {name} out"));
    assert!(after.groups.iter().any(|g| g.name == name && g.left_out));
    assert_eq!(out.field(), None);

    let oven = lesson.ovens[1].name.clone();
    let broken = Edit::OvenOut { oven: oven.clone(), out: true };
    let after = made(&broken, &file, &format!("{oven} out of order"));
    assert_eq!(after.room.out_of_order.last(), Some(&oven));

    let nobody = Edit::Pupils { group: "nobody".to_owned(), pupils: 3 };
    let why = refused(&nobody, &file);
    assert_eq!(why, "cannot nobody of 3 pupils: there is no such entry");
}

#[test]
fn a_change_of_the_menu() {
    let file = file("demo.ron");
    let item = |what: Alteration, words: &str| Item {
        kind: ChangeKind::Longer,
        what,
        cost: 1.0,
        words: words.to_owned(),
        asks: Vec::new(),
        ladder: None,
    };
    let longer = item(Alteration::Longer { period: 0, minutes: 5 }, "the bell 5 minutes later");
    let after = made(&longer, &file, "the bell 5 minutes later");
    let end = |file: &LessonFile| ClockTime::parse(&file.period.end).unwrap();
    assert_eq!(end(&after).minutes_since(end(&file)).get(), 5);

    let lock = LockShape { group: "nobody".to_owned(), ..LockShape::default() };
    let unlock = item(Alteration::Unlock(lock), "let nobody go");
    assert_eq!(refused(&unlock, &file), "cannot let nobody go: there is no such entry");
}

#[test]
fn a_note_of_the_teachers() {
    let file = file("demo.ron");
    let note = |say: &str| TeacherNoteShape {
        at: "load Oven 2".to_owned(),
        say: say.to_owned(),
        ..TeacherNoteShape::default()
    };
    let added = made(&NoteChange::Add(note("Gloves on.")), &file, "a note at load Oven 2");
    let to = note("Gloves on, tin level.");
    let change = NoteChange::Change { number: 0, to: to.clone() };
    let changed = made(&change, &added, "the note at load Oven 2");
    assert_eq!(changed.teacher, [to]);
    assert!(refused(&change, &file).contains("no such entry"));
    let gone = NoteChange::Drop { number: 0, at: "load Oven 2".to_owned() };
    assert_eq!(made(&gone, &changed, "no note at load Oven 2"), file);
    let other = NoteChange::Drop { number: 0, at: "load Oven 3".to_owned() };
    assert!(refused(&other, &changed).contains("no such entry"));
}

#[test]
fn something_that_happens_on_the_day() {
    let file = file("demo.ron");
    let lesson = lesson_of_shapes(&file, &[]).unwrap();
    let oven = lesson.ovens[0].name.clone();
    let what = Happening::OvenOut { oven: oven.clone() };
    let at = ClockTime::parse("10:12").ok();
    let happens = Happens { what: &what, at, during: false, past: &[] };
    let after = made(&happens, &file, &format!("{oven} out of order"));
    let happened = &after.today.as_ref().unwrap().happened;
    assert_eq!(happened.len(), 1);
    assert_eq!(happened[0].at.as_deref(), Some("10:12"));

    assert_eq!(refused(&happens, &after), format!("{oven} is out of order already."));
}

#[test]
fn a_bake_that_lasts_otherwise_than_planned() {
    let file = start_of_day(&file("demo.ron"));
    let lesson = lesson_of_shapes(&file, &[]).unwrap();
    let plan = planned(&lesson);
    let load = plan.plan().loads.iter().min_by_key(|l| (l.start, l.group)).unwrap();
    let slip = Slip { group: load.group, from: load.end - Minutes::new(4), late: Minutes::new(5) };
    let slips = [slip];
    let told = BakesTold { told: (&lesson, &plan), slips: &slips };
    let after = made(&told, &file, "bakes that last otherwise than planned");
    let minutes = &after.today.as_ref().unwrap().baked_for.0;
    let [(name, minutes)] = minutes.as_slice() else { panic!("{minutes:?}") };
    assert_eq!(*name, lesson.group(load.group).name);
    let placed = plan.plan().steps.iter().filter(|s| s.group == load.group);
    let method = lesson.method_of(load.group, plan.plan().choice(load.group).unwrap().method);
    let mut bake = placed.filter(|s| Some(s.step) == method.bake_steps().map(|(_, bake, _)| bake));
    let planned = bake.next().map(|s| (s.end - s.start).get()).unwrap();
    assert_eq!(*minutes, planned + 5);
    assert!(refused(&told, &self::file("demo.ron")).contains("not a copy for the day"));
}

#[test]
fn something_done_by_hand() {
    let file = file("demo.ron");
    let lesson = lesson_of_shapes(&file, &[]).unwrap();
    let plan = planned(&lesson);
    let group = plan.plan().choices.iter().map(|c| c.group).next().unwrap();
    let name = lesson.group(group).name.clone();
    let by_hand = |what| ByHand { lesson: &lesson, plan: &plan, what };

    let all = [Held::Tin(group), Held::Oven(group)];
    let held = made(&by_hand(Does::Hold(&all)), &file, &format!("hold {name}'s tin and 1 more"));
    assert!(held.locks.iter().any(|l| l.group == name && l.tin.is_some()));
    let let_go = by_hand(Does::LetGo(&all));
    let free = made(&let_go, &held, &format!("let go of {name}'s tin and 1 more"));
    assert_eq!(free, file);
    assert!(refused(&let_go, &file).ends_with("nothing of it is held"));

    let lock = Lock { group, to: LockedTo::Method(plan.plan().choice(group).unwrap().method) };
    assert!(refused(&by_hand(Does::LetGoLock(&lock)), &file).contains("let go: "));

    let start = Thing::Row(group).start(&lesson, &plan).unwrap();
    let later = Spot { at: Some(Minute::new(start.get() + 1)), place: None };
    let put = made(
        &by_hand(Does::Put(&[(Thing::Row(group), later)])),
        &file,
        &format!("all of {name} 1 minute later"),
    );
    assert!(put.locks.iter().any(|l| l.at.is_some()));
}

#[test]
fn who_bakes_nothing_has_no_bake_to_be_put() {
    let mut file = file("demo.ron");
    for method in file.recipes.iter_mut().flat_map(|r| &mut r.methods) {
        let cut = method.steps.iter().map(|s| s.name.clone()).collect::<Vec<_>>();
        let bake =
            method.steps.iter().position(|s| s.kind == ovenbell::file::format::StepKindShape::Bake);
        method.steps.truncate(bake.unwrap_or(cut.len()));
        let there: Vec<String> = method.steps.iter().map(|s| s.name.clone()).collect();
        method.links.retain(|l| there.contains(&l.from) && there.contains(&l.to));
        method.holds.retain(|h| there.contains(&h.from) && there.contains(&h.to));
        method.tin_held = None;
    }
    file.recipes.iter_mut().for_each(|r| r.tins.clear());
    file.groups.iter_mut().for_each(|g| g.tins.clear());
    file.locks.clear();
    file.collected.clear();
    file.beforehand.clear();
    let lesson = lesson_of_shapes(&file, &[]).unwrap();
    let kinds = |g: usize| &lesson.recipe_of(GroupId(g)).methods[0].steps;
    assert!(kinds(0).iter().all(|s| s.kind != StepKind::Bake));
    let plan = planned(&lesson);
    let spots = [(Thing::Bake(GroupId(0)), Spot { at: Some(Minute::new(30)), place: None })];
    let put = ByHand { lesson: &lesson, plan: &plan, what: Does::Put(&spots) };
    let name = &lesson.groups[0].name;
    assert_eq!(refused(&put, &file), format!("{name} bakes nothing."));
}

#[test]
fn something_set_up() {
    let file = file("demo.ron");
    let there = |file: &LessonFile, name: &str| file.recipes.iter().any(|r| r.name == name);
    let recipes = library::recipes().unwrap();
    let recipe = recipes.iter().find(|r| !there(&file, &r.name)).unwrap();
    let tins = library::tins().unwrap();
    let with = SetUp::Recipe { recipe, tins: &tins };
    assert_eq!(with.label(), format!("with {}", recipe.name));
    let after = with.made(&file).unwrap();
    assert!(there(&after, &recipe.name));
    let without = SetUp::WithoutRecipe(&recipe.name);
    assert_eq!(without.label(), format!("without {}", recipe.name));
    assert!(!there(&without.made(&after).unwrap(), &recipe.name));
    assert!(refused(&without, &file).ends_with("there is no such entry"));

    let what = Named::Adult(0);
    let old = file.adults[0].name.clone();
    let called = SetUp::Called { what: &what, old: &old, to: " Dana " };
    let after = made(&called, &file, &format!("{old} is called Dana"));
    assert_eq!(after.adults[0].name, "Dana");
    let nameless = SetUp::Called { what: &what, old: &old, to: "" };
    assert_eq!(refused(&nameless, &file), "it needs a name");
}

#[test]
fn something_read_from_elsewhere_is_looked_at() {
    let mut file = file("demo.ron");
    let of = |text: &str, why: &str| ReviewShape {
        about: ReviewedShape::Ingredient,
        text: text.to_owned(),
        why: why.to_owned(),
    };
    file.recipes[0].review = vec![of("2–3 eggs", "2 to 3"), of("", "no steps")];
    let (eggs, steps) = (of("2–3 eggs", "2 to 3"), of("", "no steps"));
    let looked = LookedAt { recipe: 0, entry: &eggs };
    let after = made(&looked, &file, "looked at: 2–3 eggs");
    assert_eq!(after.recipes[0].review, std::slice::from_ref(&steps));
    assert!(refused(&looked, &after).ends_with("there is no such entry"));
    let looked = LookedAt { recipe: 0, entry: &steps };
    assert!(made(&looked, &after, "looked at: no steps").recipes[0].review.is_empty());
}
