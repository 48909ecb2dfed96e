//! What lies around the bells: ovens that are on before the first, the plenary
//! while bakes cool, who is named for it, and how many pupils there are.

use crate::common::cases::cases;
use crate::common::planned::planned;
use ovenbell::file::{merged, read_lesson};
use ovenbell::model::{AtOvens, Lesson, Phase, Timing};
use ovenbell::setup::starter;
use ovenbell::units::{ClockTime, Minute};
use ovenbell::view::class_view::Next;
use ovenbell::view::remarks::{class_size, ovens_on};

fn text() -> String {
    let is_it = |path: &std::path::Path| path.ends_with("around_the_bells.ron");
    cases("good").into_iter().find(|(path, _)| is_it(path)).unwrap().1
}

fn lesson(text: &str) -> Lesson {
    read_lesson(text).unwrap().lesson
}

/// When each oven is switched on.
fn switched_on(lesson: &Lesson) -> Vec<i32> {
    let plan = planned(lesson, 100);
    let loads = &plan.plan().loads;
    assert!(!loads.is_empty());
    let hot = |s: &&ovenbell::plan::OvenSetting| {
        loads.iter().filter(|l| l.oven == s.oven).all(|l| s.hot_from <= l.start)
    };
    assert!(plan.plan().settings.iter().all(|s| hot(&s)));
    plan.plan().settings.iter().map(|s| s.set_at.get()).collect()
}

#[test]
fn ovens_are_hot_at_the_bell_where_they_may_be() {
    // 15 minutes to 180 °C, and they may be on 20 minutes before.
    assert!(switched_on(&lesson(&text())).iter().all(|&on| on == -15));
    let later = text().replace("ovens_on_by", "ovens_on_from: -6, ovens_on_by");
    assert!(switched_on(&lesson(&later)).iter().all(|&on| on == -6));
    let after = text().replace("ovens_on_by", "ovens_on_from: 0, ovens_on_by");
    assert!(switched_on(&lesson(&after)).iter().all(|&on| on >= 0));
}

/// On a day that has begun, an oven that need not be on yet is perhaps off.
#[test]
fn nothing_is_said_to_have_been_on_that_need_not_be() {
    let day = |at: &str| {
        let today = format!("today: (happened: [(at: \"{at}\", what: \"A late start.\")]),");
        switched_on(&lesson(&text().replace("format: 2,", &format!("format: 2, {today}"))))
    };
    let at_last = day("09:00");
    assert!(at_last.iter().all(|&on| on > -15), "{at_last:?}");
    assert!(day("10:30").iter().all(|&on| on == -15));
}

#[test]
fn who_switches_ovens_on_is_named() {
    let said = |text: &str| {
        let lesson = lesson(text);
        ovens_on(&lesson, &planned(&lesson, 100)).join(" ")
    };
    assert_eq!(said(&text()), "Ovens go on at 09:50, before the bell, by the technician.");
    let nobody = text().replace(" ovens_on_by: \"technician\",", "");
    assert!(said(&nobody).ends_with("nobody is named for it."), "{}", said(&nobody));
    // The technician who is there by then is taken to, as on the technician's day.
    assert!(said(&nobody).contains("by the technician, as nobody"), "{}", said(&nobody));
    let nobody_there = nobody.replace("(-30, 10)", "(-10, 10)");
    assert!(said(&nobody_there).ends_with("before the bell: nobody is named for it."));
    let away = text().replace("(-30, 10)", "(-10, 10)");
    assert!(said(&away).ends_with("is not there then."), "{}", said(&away));
    let in_the_lesson = text().replace("ovens_on_by", "ovens_on_from: 0, ovens_on_by");
    assert_eq!(said(&in_the_lesson), "");
}

#[test]
fn a_class_above_the_limit_is_remarked_on() {
    let said = |limit: &str, groups: &str| {
        let text = text().replace("rules: (class_limit: 8),", limit);
        class_size(&lesson(&text.replace("count: 5", groups)))
    };
    let own = said("rules: (class_limit: 8),", "count: 5").unwrap();
    assert_eq!(own, "There are 10 pupils: more than this lesson's class limit of eight.");
    assert_eq!(said("rules: (class_limit: 10),", "count: 5"), None);
    assert_eq!(said("", "count: 10"), None, "20 pupils");
    let usual = said("", "count: 11").unwrap();
    assert!(usual.contains("22 pupils") && usual.contains("UK") && usual.contains("24"), "{usual}");
}

#[test]
fn an_adult_stands_at_open_doors_of_the_youngest_if_nobody_says_otherwise() {
    let rule = |text: &str| lesson(text).rules.at_ovens == AtOvens::AtDoor;
    assert!(rule(&text()));
    assert!(!rule(&text().replace("Ages11To12", "Ages12To14")));
    assert!(!rule(&text().replace("class_limit: 8", "adult_at_doors: false")));
    let assumed = lesson(&text()).assumed.clone();
    assert!(assumed.iter().any(|a| a.text.contains("every open oven door")));
}

#[test]
fn a_plenary_lies_in_the_last_minutes_before_the_closing() {
    let lesson = lesson(&text());
    let (plenary, step) =
        lesson.class_steps.iter().enumerate().find(|(_, s)| s.phase == Phase::During).unwrap();
    // 60 less the unit check of 3.
    assert_eq!(step.timing, Timing::Between(Minute::new(37), Minute::new(57)));
    let plan = planned(&lesson, 100);
    let placed = plan.plan().class_steps.iter().find(|c| c.step.0 == plenary).unwrap();
    assert!(placed.start >= Minute::new(37) && placed.end <= Minute::new(57));
}

#[test]
fn a_new_lesson_has_its_plenary_while_bakes_cool_and_closes_with_the_unit_check() {
    let period = starter::new_lesson().unwrap().period;
    let names = |steps: &[ovenbell::file::format::ClassStepShape]| {
        steps.iter().map(|s| s.name.clone()).collect::<Vec<_>>()
    };
    assert_eq!(names(&period.during), ["plenary"]);
    assert_eq!(period.during[0].before_closing, Some(20));
    assert_eq!(names(&period.closing), ["unit check", "dismissal"]);
}

/// A lesson of format 1 is told of once: as soon as it is saved it is of the
/// format of now, and its verdicts are what they were.
#[test]
fn a_lesson_of_format_1_means_what_it_meant() {
    let of_now =
        text().replace("class_limit: 8", "class_limit: 8, wanted_spare: 3, adult_at_doors: false");
    let older = text().replace("format: 2", "format: 1");
    let read = read_lesson(&older).unwrap();
    let codes: Vec<&str> = read.warnings.iter().map(|f| f.code).collect();
    assert_eq!(codes, ["older-format"]);
    let now = lesson(&of_now);
    assert_eq!(read.lesson.rules, now.rules);
    assert_eq!(planned(&read.lesson, 50).verdict(), planned(&now, 50).verdict());

    let saved = merged(&older, &read.file).unwrap();
    assert!(saved.starts_with("// A plenary") && saved.contains("format: 2"), "{saved}");
    let again = read_lesson(&saved).unwrap();
    assert_eq!((again.warnings, again.lesson), (Vec::new(), read.lesson));

    let bands = older.replace("Ages11To12", "Ages13To14");
    let band = read_lesson(&bands).unwrap().file.class.band;
    assert_eq!(band, ovenbell::file::format::PaceBand::Ages12To14);
}

#[test]
fn minutes_are_counted_down_only_shortly_before_a_call() {
    let at = ClockTime::parse("10:05").unwrap();
    let when = |wait| Next { at, wait, calls: Vec::new() }.when();
    assert_eq!((when(573), when(4)), ("Next 10:05".into(), "Next 10:05, in 4 minutes".into()));
}
