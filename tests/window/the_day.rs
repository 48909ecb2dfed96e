//! The day in the window: a lesson that is taught is told of by mouse, by keys for one
//! hand, by the four keys of a remote, and by the accessibility tree.

use crate::common::hands::{Hands, How};
use egui::Key;
use egui_kittest::kittest::{NodeT, Queryable};
use ovenbell::app::{Command, Follows, Place};
use ovenbell::check::CheckedPlan;
use ovenbell::model::{FactKind, GroupId, Lesson};
use ovenbell::play::groups_to_give;
use ovenbell::session::Command as LessonCommand;
use ovenbell::units::{ClockTime, Minute, Minutes};
use ovenbell::view::class_view::ClassView;
use ovenbell::view::day::{Day, help_words};

const WIDE: [f32; 2] = [1280.0, 800.0];

/// At the day of the sample lesson, an hour before its bell.
fn at(how: How, size: [f32; 2]) -> Hands {
    let mut hands = Hands::on_its_day(how, size, "09:00");
    hands.apply(LessonCommand::Today);
    hands.settle();
    assert!(hands.says("Clock of the day at 09:00"), "{:?}", hands.heard());
    hands
}

fn plan(hands: &Hands) -> (&Lesson, &CheckedPlan) {
    let planned = hands.app().session().planned().unwrap();
    (&planned.lesson, &planned.plan)
}

fn clock(hands: &Hands, minute: Minute) -> ClockTime {
    plan(hands).0.periods[0].start_clock.after(minute - Minute::BELL)
}

fn facts(hands: &Hands) -> Vec<(String, FactKind)> {
    let lesson = hands.app().document().unwrap().lesson().unwrap();
    let facts = lesson.today.as_ref().unwrap().facts.iter();
    facts.map(|f| (lesson.group(f.group).name.clone(), f.what)).collect()
}

fn focused(hands: &Hands) -> String {
    let focused = hands.window().root().query_all_by(|n| n.is_focused()).next();
    focused.and_then(|n| n.accesskit_node().label()).unwrap_or_default()
}

/// The group with the least to give, how late it is too late, and its first minute.
fn too_late(hands: &Hands) -> (String, GroupId, Minutes, Minute) {
    let (lesson, plan) = plan(hands);
    let to_give = groups_to_give(lesson, plan);
    let (group, give) = to_give.into_iter().min_by_key(|(_, give)| *give).unwrap();
    let steps = plan.plan().steps.iter().filter(|s| s.group == group);
    let first = steps.map(|s| s.start).filter(|s| Minute::BELL <= *s).min().unwrap();
    (lesson.group(group).name.clone(), group, Minutes::new(give + 1), first)
}

/// When the first group begins.
fn first(hands: &Hands) -> (String, Minute) {
    let (lesson, plan) = plan(hands);
    let steps = plan.plan().steps.iter().filter(|s| Minute::BELL <= s.start);
    let first = steps.min_by_key(|s| (s.start, s.group)).unwrap();
    (lesson.group(first.group).name.clone(), first.start)
}

#[test]
fn a_lesson_is_told_of_and_a_response_kept_without_keys() {
    for how in [How::Mouse, How::Access] {
        let mut hands = at(how, WIDE);
        let (name, start) = first(&hands);
        hands.go_by(clock(&hands, start));
        hands.press(&format!("{name}: go"));
        assert_eq!(facts(&hands), [(name.clone(), FactKind::Go)]);
        assert!(hands.says(&format!("{name}: ")) && hands.says("told"), "{:?}", hands.heard());
        hands.press("Take it back");
        assert!(facts(&hands).is_empty());
        let before = plan(&hands).1.plan().clone();
        let (late, _, by, from) = too_late(&hands);
        hands.go_by(clock(&hands, from + by));
        while !hands.says("What would do it") {
            let behind = hands.app().session().standing_now().unwrap();
            let behind = behind.standing.behind().map(|g| g.behind).max().unwrap_or(0);
            assert!(behind < by.get() + 8, "nothing is asked: {:?}", hands.heard());
            hands.press(&format!("{late}: late, or something else"));
            let more = [2, 4, 8].into_iter().find(|m| *m > behind).unwrap_or(8);
            hands.press(&format!("{more} late"));
            hands.settle();
            if more == 8 {
                break;
            }
        }
        assert!(hands.says("If nothing is done"), "{:?}", hands.heard());
        assert_eq!(*plan(&hands).1.plan(), before, "looking changes nothing");
        assert!(hands.says("Worked out for"));
        hands.press("Keep 1");
        hands.settle();
        assert_ne!(*plan(&hands).1.plan(), before);
        assert!(!hands.says("What would do it"), "{:?}", hands.heard());
    }
}

#[test]
fn keys_for_one_hand_choose_tell_and_take_back() {
    let mut hands = at(How::Keyboard, WIDE);
    let (_, start) = first(&hands);
    hands.command(Key::Num2);
    hands.command(Key::Num5);
    hands.go_by(clock(&hands, start));
    hands.key(Key::Num3);
    hands.wait(2);
    assert!(focused(&hands).starts_with("Unit 3: "), "{}", focused(&hands));
    hands.key(Key::Space);
    assert_eq!(facts(&hands), [("Unit 3".to_owned(), FactKind::Go)]);
    hands.key(Key::Equals);
    hands.key(Key::Equals);
    let late = |minutes| ("Unit 3".to_owned(), FactKind::Late(Minutes::new(minutes)));
    assert_eq!(facts(&hands)[1..], [late(2), late(4)]);
    assert!(hands.says("4 behind"), "{:?}", hands.heard());
    hands.key(Key::Backspace);
    assert_eq!(facts(&hands)[1..], [late(2)]);
    // Elsewhere these keys are what they were.
    hands.command(Key::Num2);
    hands.key(Key::Backspace);
    assert_eq!(facts(&hands).len(), 2);
}

#[test]
fn four_keys_of_a_remote_are_enough() {
    let mut hands = at(How::Keyboard, WIDE);
    let (late, _, by, from) = too_late(&hands);
    hands.go_by(clock(&hands, from + by));
    let before = plan(&hands).1.plan().clone();
    let go_to = |hands: &mut Hands, label: &str| {
        for _ in 0..60 {
            if focused(hands).starts_with(label) {
                return;
            }
            hands.key(Key::PageDown);
            hands.wait(2);
        }
        panic!("{label} is not gone to; {} has the keyboard", focused(hands));
    };
    go_to(&mut hands, &format!("{late}: "));
    hands.key(Key::PageUp);
    hands.wait(2);
    assert!(!focused(&hands).starts_with(&format!("{late}: ")));
    go_to(&mut hands, &format!("{late}: "));
    hands.key(Key::Period);
    hands.settle();
    assert_eq!(facts(&hands).len(), 1, "{:?}", facts(&hands));
    for _ in 0..by.get() {
        if hands.says("What would do it") {
            break;
        }
        hands.key(Key::F5);
        hands.settle();
    }
    go_to(&mut hands, "1  ");
    hands.key(Key::Period);
    go_to(&mut hands, "Keep 1");
    hands.key(Key::Period);
    hands.settle();
    assert_ne!(*plan(&hands).1.plan(), before);
}

#[test]
fn the_class_goes_on_to_see_the_plan_that_was_kept() {
    let mut hands = at(How::Mouse, WIDE);
    let (late, _, by, from) = too_late(&hands);
    hands.go_by(clock(&hands, from + by));
    hands.apply(Command::ClassView);
    hands.apply(Command::ClassViewFollows(Follows::Clock));
    hands.wait(2);
    let before = hands.heard();
    hands.apply(LessonCommand::Tell(vec![late], FactKind::Late(by)));
    hands.settle();
    assert!(!hands.app().session().responses().unwrap().found.is_empty());
    // What is only considered is not shown; what was told is.
    let (lesson, plan) = plan(&hands);
    let standing = &hands.app().session().standing_now().unwrap().standing;
    let view = ClassView::of_room(lesson, plan, standing.now, (None, Some((plan, standing))));
    for oven in &view.ovens {
        assert!(hands.says(&oven.spoken()), "{}: {:?}", oven.spoken(), hands.heard());
    }
    assert_ne!(hands.heard(), before, "the late group has its own time");
}

#[test]
fn what_an_adults_help_would_have_to_bring_is_said_and_is_nothing_to_keep() {
    for how in [How::Mouse, How::Access] {
        let mut hands = at(how, WIDE);
        let (late, _, by, from) = too_late(&hands);
        hands.go_by(clock(&hands, from + by));
        hands.apply(LessonCommand::Tell(vec![late.clone()], FactKind::Late(by)));
        hands.settle();
        let responses = hands.app().session().responses().unwrap();
        let [help] = responses.help.as_slice() else { panic!("{:?}", responses.help) };
        assert!(help.made_up.gain <= by && help.by > from + by);
        let words = help_words(plan(&hands).0, help);
        assert!(words.starts_with(&format!("An adult to {late}: ")), "{words}");
        let keeps = responses.found.len();
        assert!(hands.says(&words), "{words}: {:?}", hands.heard());
        assert!(!hands.says(&format!("Keep {}", keeps + 1)), "{:?}", hands.heard());
    }
}

#[test]
fn before_the_day_it_is_begun_and_on_another_date_taught() {
    let mut hands = Hands::new(How::Mouse, |_| {});
    hands.apply(Command::Go(Place::Day));
    hands.wait(2);
    assert!(hands.says("Before the bell"), "{:?}", hands.heard());
    hands.press("Begin the day");
    hands.settle();
    assert!(hands.says("Thursday 26 November is over."), "{:?}", hands.heard());
    hands.press("Teach it today");
    hands.settle();
    let date = hands.app().document().unwrap().file().date.clone();
    assert_eq!(date.as_deref(), Some("2026-11-27"));
}

#[test]
fn once_it_is_over_three_questions_are_asked_and_none_has_to_be_answered() {
    for how in [How::Mouse, How::Access] {
        let mut hands = at(how, WIDE);
        let end = plan(&hands).0.periods[0].end;
        hands.go_by(clock(&hands, end));
        assert!(hands.says("When did they set to work?"), "{:?}", hands.heard());
        hands.press("set to work: 2 later");
        hands.settle();
        hands.press("last ready: a minute later");
        hands.settle();
        hands.press("held up: nothing");
        hands.settle();
        hands.fill("For next time, in your words", "Shorter demo.");
        if how == How::Mouse {
            hands.key(Key::Enter);
        }
        hands.settle();
        let lesson = hands.app().document().unwrap().lesson().unwrap();
        let after = lesson.today.as_ref().unwrap().afterwards.clone().unwrap();
        assert_eq!((after.held.as_str(), after.next.as_str()), ("nothing", "Shorter demo."));
        assert!(after.set_to_work.is_some());
        assert_eq!(facts(&hands).last().unwrap().1, FactKind::Ready);
        hands.press("Note it for next time");
        assert!(hands.data().join("minutes.csv").exists(), "{:?}", hands.heard());
        assert!(!hands.says("Note it for next time"));
        // What was forgotten in the lesson can still be told.
        hands.press("Tell more");
        let (name, _) = first(&hands);
        hands.press(&format!("{name}: late, or something else"));
        hands.press("go");
        assert_eq!(facts(&hands).last().unwrap(), &(name, FactKind::Go));
        hands.press("Afterwards");
        assert!(hands.says("When did they set to work?"));
    }
}

#[test]
fn a_bake_that_was_answered_can_be_taken_back() {
    for how in [How::Mouse, How::Access] {
        let mut hands = at(how, WIDE);
        let end = plan(&hands).0.periods[0].end;
        hands.go_by(clock(&hands, end));
        let outcomes = hands.data().join("outcomes.csv");
        let lines = || {
            let text = std::fs::read_to_string(&outcomes).unwrap_or_default();
            text.lines().skip(1).map(str::to_owned).collect::<Vec<_>>()
        };
        let before = lines();
        let bakes = hands.app().session().day_over().unwrap().asked.bakes.clone();
        let bake = bakes.iter().find(|bake| bake.took.is_empty()).unwrap();
        let (name, planned) = (bake.name(), bake.planned.minutes.get());
        // A length is longer or shorter, not later or sooner.
        hands.press(&format!("{name}: 2 longer"));
        hands.settle();
        assert_eq!(lines().len(), before.len() + 1, "{:?}", hands.heard());
        assert!(lines().last().unwrap().contains(&format!(",{},", planned + 2.0)));
        assert!(!hands.says(&format!("{name}: 2 shorter")));
        hands.press(&format!("{name}: take it back"));
        hands.settle();
        assert_eq!(lines(), before);
        assert!(hands.says(&format!("{name}: 2 shorter")), "it is asked again");
        hands.press(&format!("{name}: as planned"));
        hands.settle();
        assert!(lines().last().unwrap().contains(&format!(",{planned},")));
    }
}

#[test]
fn tiles_are_read_from_two_metres_and_have_room() {
    let mut hands = at(How::Mouse, WIDE);
    let (lesson, _) = plan(&hands);
    let names: Vec<String> = lesson.attending().map(|g| lesson.group(g).name.clone()).collect();
    let (late, _, by, from) = too_late(&hands);
    hands.go_by(clock(&hands, from + by));
    for asks in [false, true] {
        if asks {
            hands.apply(LessonCommand::Tell(vec![late.clone()], FactKind::Late(by)));
            hands.settle();
        }
        for size in [[1024.0, 768.0], WIDE, [1092.0, 614.0], [1920.0, 1080.0]] {
            hands.harness().set_size(size.into());
            hands.wait(3);
            let window = egui::Rect::from_min_size(egui::Pos2::ZERO, size.into());
            let tiles: Vec<egui::Rect> = names.iter().map(|name| tile(&hands, name)).collect();
            for (i, tile) in tiles.iter().enumerate() {
                assert!(window.contains_rect(*tile), "{size:?}: {} at {tile:?}", names[i]);
                assert!(!tiles[..i].iter().any(|other| other.intersects(*tile)), "{size:?}");
                // Lines whose capitals are a fortieth of the height, and the foot.
                let line = size[1] / 40.0 / 0.668;
                assert!(tile.height() >= 2.75 * line + 24.0, "{size:?}: {tile:?}");
            }
            // The question comes up beside the tiles, or from below, and hides none.
            if asks {
                let asked = hands.place("What would do it");
                assert!(window.contains(asked.center()), "{size:?}: {asked:?}");
                assert!(!tiles.iter().any(|tile| tile.intersects(asked)), "{size:?}");
            }
        }
    }
}

fn texts_in(shape: &egui::Shape, out: &mut Vec<String>) {
    match shape {
        egui::Shape::Text(text) => out.push(text.galley.text().to_owned()),
        egui::Shape::Vec(all) => all.iter().for_each(|shape| texts_in(shape, out)),
        _ => {}
    }
}

#[test]
fn ovens_name_all_who_are_in_them_and_all_who_come_next() {
    let mut hands = at(How::Mouse, WIDE);
    let bell = plan(&hands).0.periods[0].end.get();
    let mut named = 0;
    for minute in (8..bell).step_by(6) {
        hands.go_by(clock(&hands, Minute::new(minute)));
        for size in [WIDE, [1024.0, 768.0], [1920.0, 1080.0]] {
            hands.harness().set_size(size.into());
            hands.wait(3);
            let now = hands.app().session().standing_now().unwrap();
            let day = Day::of(&now.told.0, &now.told.1, &now.standing);
            assert_eq!(day.ovens.len(), 4);
            let mut painted = Vec::new();
            hands.window().output().shapes.iter().for_each(|s| texts_in(&s.shape, &mut painted));
            let painted = painted.join(" ");
            for oven in &day.ovens {
                let all = format!("{} {} {}", oven.name, oven.who, oven.next);
                assert!(painted.contains(all.trim()), "{size:?}: {all}, in {painted}");
                named += usize::from(oven.next.contains(" and "));
            }
        }
    }
    assert!(named > 3, "several go in together");
}

/// Where a group's tile is.
fn tile(hands: &Hands, name: &str) -> egui::Rect {
    let labels = ["go", "in", "out", "ready"].map(|what| format!("{name}: {what}"));
    let mut all = hands.window().root().query_all_by(move |n| {
        n.role() == egui::Role::Button && n.label().is_some_and(|l| labels.contains(&l))
    });
    all.next().unwrap_or_else(|| panic!("{name} has no tile: {:?}", hands.heard())).rect()
}
