//! Tiles of the day as words, without a window: recounted from plan and log.

use std::ops::ControlFlow;
use std::path::Path;
use std::sync::OnceLock;
use std::sync::atomic::AtomicBool;

use ovenbell::check::{CheckedPlan, judge_of};
use ovenbell::file::format::LessonFile;
use ovenbell::file::{lesson_of_shapes, load_lesson};
use ovenbell::model::{Fact, FactKind, GroupId, Lesson, RoomId, StepKind};
use ovenbell::plan::StepPlacement;
use ovenbell::planner::{Budget, plan_until};
use ovenbell::today::{Standing, start_of_day};
use ovenbell::units::{ClockTime, Minute, Minutes};
use ovenbell::view::class_view::{Call, ClassView, On};
use ovenbell::view::day::{Day, Known, Tile, bakes};

fn planned(file: &str, change: impl FnOnce(&mut LessonFile)) -> (Lesson, CheckedPlan) {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join(file);
    let mut file = start_of_day(&load_lesson(&path).unwrap().file);
    change(&mut file);
    let lesson = lesson_of_shapes(&file, &[]).unwrap();
    let budget = Budget { within: None, decodings: Some(200), seed: 1 };
    let on = |_: &CheckedPlan| ControlFlow::Continue(());
    let never = AtomicBool::new(false);
    let plan = plan_until(&lesson, &budget, &never, judge_of(&lesson), on).unwrap().judged;
    (lesson, plan)
}

fn demo() -> &'static (Lesson, CheckedPlan) {
    static DEMO: OnceLock<(Lesson, CheckedPlan)> = OnceLock::new();
    DEMO.get_or_init(|| planned("lessons/demo.ron", |_| {}))
}

fn clock(lesson: &Lesson, minute: Minute) -> ClockTime {
    lesson.periods[0].start_clock.after(minute - Minute::BELL)
}

fn day(facts: &[Fact], now: Minute) -> Day {
    let (lesson, plan) = demo();
    Day::of(lesson, plan, &Standing::of(lesson, plan, facts, now))
}

fn step(group: GroupId, wanted: StepKind) -> &'static StepPlacement {
    let (lesson, plan) = demo();
    let method = lesson.method_of(group, plan.plan().choice(group).unwrap().method);
    let mut steps = plan.plan().steps.iter().filter(|s| s.group == group);
    steps.find(|s| method.steps[s.step.0].kind == wanted).unwrap()
}

fn tile(day: &Day, group: GroupId) -> &Tile {
    day.tiles.iter().find(|t| t.group == group).unwrap()
}

fn fact(group: GroupId, what: FactKind, at: Minute) -> Fact {
    Fact { at: clock(&demo().0, at), group, what, settled: false }
}

#[test]
fn where_nothing_is_told_all_is_as_planned_at_every_minute() {
    let (lesson, plan) = demo();
    for minute in 0..65 {
        let now = Minute::new(minute);
        let day = day(&[], now);
        assert_eq!(day.clock, clock(lesson, now));
        assert_eq!(day.tiles.len(), lesson.attending().count());
        for tile in &day.tiles {
            if plan.plan().choice(tile.group).is_none() {
                assert_eq!((tile.known, tile.tell), (Known::NotServed, None));
                continue;
            }
            assert_eq!(tile.known, Known::Presumed);
            let load = step(tile.group, StepKind::Load);
            let out = step(tile.group, StepKind::TakeOut);
            let is_in = load.end <= now && now < out.end;
            let oven = plan.plan().loads.iter().find(|l| l.group == tile.group).unwrap().oven;
            let oven = &lesson.ovens[oven.0].name;
            let says = tile.doing.starts_with("in ") && tile.doing.contains(oven.as_str());
            assert_eq!(says, is_in, "{minute}: {tile:?}");
            if is_in {
                assert_eq!(tile.next, format!("out {}", clock(lesson, out.start)));
            } else if now <= load.start {
                assert_eq!(tile.next, format!("in {}", clock(lesson, load.start)));
            }
            // A fact that is not long past is the next to be told, before those that follow.
            let due = |placed: &StepPlacement| now < placed.end + Minutes::new(5);
            match tile.tell {
                Some(FactKind::Out) => assert!(!due(load) && due(out), "{minute}: {tile:?}"),
                Some(FactKind::In) => assert!(due(load), "{minute}: {tile:?}"),
                Some(FactKind::Ready) => assert!(!due(out), "{minute}: {tile:?}"),
                _ => assert!(now < load.start, "{minute}: {tile:?}"),
            }
        }
        for oven in &day.ovens {
            let inside = day.tiles.iter().filter(|t| {
                let loads = || plan.plan().loads.iter().filter(|l| l.oven == oven.oven);
                t.doing.starts_with("in ") && loads().any(|l| l.group == t.group)
            });
            assert_eq!(oven.who == "empty", inside.count() == 0, "{minute}: {oven:?}");
        }
    }
}

#[test]
fn what_is_told_looks_told_and_the_tap_goes_on_to_what_follows() {
    let (lesson, plan) = demo();
    let group = plan.plan().choices[0].group;
    let (load, out) = (step(group, StepKind::Load), step(group, StepKind::TakeOut));
    let early = load.start - Minutes::new(3);
    assert_eq!(tile(&day(&[], load.start), group).tell, Some(FactKind::In));
    // Told early it is in, whatever the plan says.
    let facts = [fact(group, FactKind::In, early)];
    let told = day(&facts, early);
    let told = tile(&told, group);
    assert!(told.doing.starts_with("in ") && told.known == Known::Told, "{told:?}");
    assert_eq!(told.tell, Some(FactKind::Out));
    assert!(told.spoken().starts_with(&format!("{}: in ", lesson.group(group).name)));
    // Late by four, it is filling still, and is to be in four later.
    let late = [fact(group, FactKind::Late(Minutes::new(4)), load.start + Minutes::new(1))];
    let behind = day(&late, load.start + Minutes::new(2));
    let behind = tile(&behind, group);
    assert_eq!(behind.known, Known::Behind(4));
    assert_eq!(behind.next, format!("in {}", clock(lesson, load.start + Minutes::new(4))));
    assert_eq!(behind.tell, Some(FactKind::In));
    // In four late, it comes out four late.
    let facts = [fact(group, FactKind::In, load.end + Minutes::new(4))];
    let inside = day(&facts, load.end + Minutes::new(4));
    let inside = tile(&inside, group);
    assert_eq!(inside.next, format!("out {}", clock(lesson, out.start + Minutes::new(4))));
    let ready = day(&[fact(group, FactKind::Ready, out.end)], out.end);
    assert_eq!((tile(&ready, group).doing.as_str(), tile(&ready, group).tell), ("ready", None));
}

#[test]
fn an_oven_tells_of_all_who_are_called_to_it_together() {
    let (lesson, plan) = demo();
    let mut loads: Vec<_> = plan.plan().loads.iter().collect();
    loads.sort_by_key(|l| (l.start, l.group));
    let first = loads[0];
    let with_it: Vec<String> = lesson
        .attending()
        .filter(|g| {
            loads.iter().any(|l| {
                l.group == *g && l.oven == first.oven && l.start <= first.start + Minutes::new(4)
            })
        })
        .map(|g| lesson.group(g).name.clone())
        .collect();
    let day = day(&[], first.start);
    let oven = day.ovens.iter().find(|o| o.oven == first.oven).unwrap();
    assert_eq!(oven.tell, Some((FactKind::In, with_it)));
    assert!(oven.spoken().starts_with(&lesson.ovens[first.oven.0].name));
}

#[test]
fn bakes_that_were_told_are_real_and_another_plan_shows_where_it_differs() {
    let (lesson, plan) = demo();
    let group = plan.plan().choices[0].group;
    let load = step(group, StepKind::Load);
    let facts = [fact(group, FactKind::In, load.end)];
    let standing = Standing::of(lesson, plan, &facts, load.end);
    let all = bakes((lesson, plan), &standing, Some((lesson, plan)));
    assert_eq!(all.iter().filter(|b| b.real).map(|b| b.group).collect::<Vec<_>>(), [group]);
    assert!(all.iter().all(|b| b.other.is_none()), "the same plan is not outlined");
    let of = all.iter().find(|b| b.group == group).unwrap();
    assert_eq!(of.span, (load.start, step(group, StepKind::TakeOut).end));
}

#[test]
fn a_bake_told_in_early_or_late_is_out_when_it_has_baked() {
    let (lesson, plan) = demo();
    let group = plan.plan().choices[0].group;
    let (load, out) = (step(group, StepKind::Load), step(group, StepKind::TakeOut));
    let baked = out.start - load.end;
    // Minutes after its call, and by how much it is off its plan. Loading takes a minute.
    for (told, off) in [(-5, -5), (-1, -1), (0, 0), (1, 0), (2, 1), (7, 6)] {
        let at = load.start + Minutes::new(told);
        let facts = [fact(group, FactKind::In, at)];
        let standing = Standing::of(lesson, plan, &facts, at);
        let shown = Day::of(lesson, plan, &standing);
        let loaded = load.end + Minutes::new(off);
        assert_eq!(tile(&shown, group).next, format!("out {}", clock(lesson, loaded + baked)));
        let bakes = bakes((lesson, plan), &standing, None);
        let bar = bakes.iter().find(|b| b.group == group).unwrap();
        assert_eq!(bar.span, (loaded - (load.end - load.start), out.end + Minutes::new(off)));
        assert!(bar.real && (told > 0 || bar.span.0 <= at), "told before it began: {bar:?}");
        // It is presumed out when it has baked.
        let over = Standing::of(lesson, plan, &facts, out.end + Minutes::new(off));
        let over = Day::of(lesson, plan, &over);
        assert!(off > 0 || !tile(&over, group).doing.starts_with("in "), "{told}");
        // Told late since, it is later than its plan.
        let late = fact(group, FactKind::Late(Minutes::new(8)), out.start);
        let late = tile(&day(&[facts[0], late], out.start), group).next.clone();
        assert_eq!(late, format!("out {}", clock(lesson, out.start + Minutes::new(8))));
    }
}

/// Times at which a view calls groups or shows them at an oven, by name: in, and out.
fn shown_at(view: &ClassView, into: bool) -> Vec<(String, String)> {
    let mut all = Vec::new();
    for slot in view.ovens.iter().flat_map(|o| &o.shelves).flat_map(|s| &s.slots) {
        let at = if into { slot.in_at } else { slot.out_at };
        all.extend(slot.groups.iter().map(|name| (name.clone(), at.to_string())));
    }
    if let Some(next) = &view.next {
        for call in &next.calls {
            let Call::Door { into: way, groups, .. } = call else { continue };
            let at = next.at.to_string();
            let groups = groups.iter().filter(|_| *way == into);
            all.extend(groups.map(|name| (name.clone(), at.clone())));
        }
    }
    all
}

#[test]
fn who_was_told_is_not_called_again_and_each_has_one_time() {
    let (lesson, plan) = demo();
    let mut loads: Vec<&StepPlacement> = Vec::new();
    loads.extend(plan.plan().choices.iter().map(|c| step(c.group, StepKind::Load)));
    loads.sort_by_key(|load| (load.start, load.group));
    let (early, late) = (loads[0], loads[1]);
    assert_eq!(early.start, late.start, "both are called together by the plan");
    let facts = [
        fact(early.group, FactKind::In, early.start - Minutes::new(5)),
        fact(late.group, FactKind::Late(Minutes::new(8)), early.start - Minutes::new(4)),
    ];
    let [early, late] = [early, late].map(|load| lesson.group(load.group).name.clone());
    let mut called = 0;
    for minute in loads[0].start.get() - 3..60 {
        let now = Minute::new(minute);
        let standing = Standing::of(lesson, plan, &facts, now);
        let shown = Day::of(lesson, plan, &standing);
        let view = ClassView::of_room(lesson, plan, now, (None, Some((plan, &standing))));
        if let On::Calls(calls) = &view.on {
            for call in calls {
                let Call::Door { into: true, groups, .. } = call else { continue };
                assert!(!groups.contains(&early), "{minute}: {early} is in already");
                assert!(!groups.contains(&late) || minute == loads[1].start.get() + 8);
                called += usize::from(groups.contains(&late));
            }
            assert_eq!(shown.now, view.on.lines().join("; "));
        }
        for tile in &shown.tiles {
            for (way, into) in [("in ", true), ("out ", false)] {
                let Some(at) = tile.next.strip_prefix(way) else { continue };
                for (_, other) in shown_at(&view, into).iter().filter(|(n, _)| *n == tile.name) {
                    assert_eq!(other, at, "{minute}: {way}of {}", tile.name);
                }
            }
        }
        for oven in &shown.ovens {
            // Each time with who is named after it: "in 10:43: Unit 5 and 6; 10:44: Unit 1".
            let way = if oven.next.starts_with("in ") { "in " } else { "out " };
            for one in oven.next.strip_prefix(way).into_iter().flat_map(|n| n.split("; ")) {
                let (at, who) = one.split_once(": ").unwrap_or((one, ""));
                let names: Vec<String> = who
                    .trim_start_matches("Unit ")
                    .replace(" and ", ", ")
                    .split(", ")
                    .map(|number| format!("Unit {number}"))
                    .collect();
                for tile in shown.tiles.iter().filter(|t| names.contains(&t.name)) {
                    assert_eq!(tile.next, format!("{way}{at}"), "{minute}: {oven:?}");
                }
            }
        }
    }
    assert_eq!(called, 1, "{late} is called when it is expected");
}

#[test]
fn one_room_sees_its_ovens_and_the_calls_of_its_own_groups() {
    let (lesson, plan) = planned("tests/cases/good/two_rooms.ron", |file| {
        file.locks.clear();
        file.groups[1].room = Some("Room 5".to_owned());
        file.groups[1].methods = vec!["creaming".to_owned()];
    });
    let mut seen = [0; 2];
    for minute in 0..lesson.periods.last().unwrap().end.get() {
        for (room, seen) in seen.iter_mut().enumerate() {
            let minute = Minute::new(minute);
            let view = ClassView::of_room(&lesson, &plan, minute, (Some(RoomId(room)), None));
            for oven in &view.ovens {
                let of = lesson.ovens.iter().find(|o| o.name == oven.name).unwrap();
                assert_eq!(of.room, RoomId(room), "{minute:?}: {}", oven.name);
            }
            let On::Calls(calls) = &view.on else { continue };
            for call in calls {
                let Call::Door { groups, .. } = call else { continue };
                *seen += 1;
                for name in groups {
                    let of = lesson.groups.iter().find(|g| g.name == *name).unwrap();
                    assert_eq!(of.room, RoomId(room), "{minute:?}: {name}");
                }
            }
        }
    }
    assert!(seen.iter().all(|seen| *seen > 0), "each room has its calls: {seen:?}");
}
