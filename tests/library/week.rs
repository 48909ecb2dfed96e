//! A department's week: what is wanted twice is found with its sum and its least
//! move; what an oven out of order breaks is what planning without it breaks; and
//! nothing hangs on names, on the order of the file or on other days.

use std::fs;
use std::path::Path;
use std::sync::atomic::AtomicBool;

use chrono::NaiveDate;
use ovenbell::check::judge_of;
use ovenbell::export::week::{json, text};
use ovenbell::file::{lesson_of_shapes, read_lesson};
use ovenbell::finding::{Finding, Severity};
use ovenbell::planner::{Budget, plan_lesson};
use ovenbell::week::{
    EntryNo, LoadedWeek, Move, Planner, Report, RoomNo, Slot, Thing, Trouble, Week, load,
    out_of_order, put, report, setting_up, troubles, wanted,
};
use serde_json::Value;

const SPONGES: &str = include_str!("../../lessons/g-whisks-ten.ron");
const SCONES: &str = include_str!("../../lessons/a-scones-hour.ron");

/// So many plans of each lesson: few, as what is looked for is plain.
pub(crate) const FEW: u64 = 100;

static GO_ON: AtomicBool = AtomicBool::new(false);

/// The sponges of scenario G for ten pairs and for eight, each with as many whisks
/// as the department has; scones for eight.
pub(crate) fn department() -> tempfile::TempDir {
    let folder = tempfile::tempdir().unwrap();
    let of = |pairs: u32| {
        assert!(SPONGES.contains("count: 18, recipe"));
        SPONGES.replace("count: 18, recipe", &format!("count: {pairs}, recipe"))
    };
    let lesson = |name: &str, text: &str| fs::write(folder.path().join(name), text).unwrap();
    lesson("ten.ron", &with_id(&of(10), "heron-4c2f"));
    lesson("eight.ron", &with_id(&of(8), "finch-07d3"));
    lesson("scones.ron", &SCONES.replace("count: 10, recipe", "count: 8, recipe"));
    folder
}

fn with_id(text: &str, id: &str) -> String {
    text.replacen("format: 2,", &format!("format: 2,\n    id: \"{id}\","), 1)
}

pub(crate) const TEN: &str =
    r#"(file: "ten.ron", class: "8A", on: Thu, at: "P3", room: "Room 1"),"#;
pub(crate) const EIGHT: &str =
    r#"(file: "eight.ron", class: "9C", on: Thu, at: "P3", room: "Room 2"),"#;
pub(crate) const OTHER: &str =
    r#"(file: "scones.ron", class: "9C", on: Mon, at: "P1", room: "Room 2"),"#;

pub(crate) fn week_of(lessons: &[&str]) -> String {
    format!(
        r#"(
    format: 1,
    week: "2026-11-30",
    bells: {{"P1": ("09:00", "10:00"), "P2": ("10:00", "11:00"), "P3": ("11:20", "12:20")}},
    days: [(on: Wed, closed: ["Room 2"], why: "exam")],
    rooms: [
        (name: "Room 1", ovens: [(name: "Oven", count: 5, kind: Fan, shelves: 2, shelf_mm: (420, 360))]),
        (name: "Room 2", ovens: [(name: "Oven", count: 4, kind: Fan, shelves: 2, shelf_mm: (420, 360))]),
    ],
    moves: {{"electric whisk": 10}},
    lessons: [
        {}
    ],
)"#,
        lessons.join("\n        ")
    )
}

pub(crate) fn loaded(folder: &Path, text: &str) -> LoadedWeek {
    let path = folder.join("week.ron");
    fs::write(&path, text).unwrap();
    load(&path, &[]).unwrap_or_else(|findings| panic!("{findings:#?}"))
}

pub(crate) fn sound(folder: &Path, text: &str) -> Week {
    let loaded = loaded(folder, text);
    assert!(loaded.findings.is_empty(), "{:#?}", loaded.findings);
    loaded.week
}

pub(crate) fn told(week: &Week) -> Report {
    report(week, &Planner::new(&[], FEW, &GO_ON), None)
}

pub(crate) fn day(week: &Week, name: &str) -> NaiveDate {
    week.day_called(name).unwrap()
}

#[test]
fn eighteen_whisks_wanted_of_ten_are_found_and_a_swap_clears_it() {
    let folder = department();
    let week = sound(folder.path(), &week_of(&[TEN, EIGHT, OTHER]));
    let report = told(&week);
    // Each class alone is out.
    for told in &report.lessons {
        let alone = told.alone.as_ref().unwrap();
        assert_eq!((alone.not_out(), alone.whole), (0, true), "{:?}", told.entry);
    }
    let [moves] = report.moves.as_slice() else { panic!("{:#?}", report.moves) };
    let Trouble::Clash(clash) = &moves.trouble else { panic!("{:?}", moves.trouble) };
    assert_eq!((clash.what, clash.date), (Thing::Moving(0), day(&week, "thu")));
    assert_eq!((clash.span.count, clash.there), (18, 10));
    assert_eq!(clash.by, [(EntryNo(0), 10), (EntryNo(1), 8)]);
    // Who whisks does so for six minutes, after 16 of opening and weighing.
    let clock = (clash.span.from_clock().to_string(), clash.span.until_clock().to_string());
    assert_eq!(clock, ("11:36".to_owned(), "11:42".to_owned()));
    // Ten whisks serve ten pairs once, the second turn is three minutes too late:
    // proved of the two planned together.
    let together = moves.together.as_ref().unwrap();
    assert_eq!((together.served, together.of), (10, 18));
    assert_eq!((together.at_most, together.is_enough), (10, false));
    // The least move: 9C bakes Monday's scones on Thursday.
    assert_eq!(moves.offers[0].what, Move::Swap(EntryNo(1), EntryNo(2)));
    assert!(moves.offers[0].not_all_out.is_empty());
    let swapped = moves.offers[0].what.made(&week).unwrap();
    assert!(told_troubles(&swapped).is_empty());
    let words = text_of(&week, &report);
    let sum = "10 + 8 = 18 electric whisks wanted, 10 there";
    assert!(words.contains("Thursday 11:36 to 11:42"), "{words}");
    assert!(words.contains(sum), "{words}");
}

#[test]
fn lessons_that_can_be_reconciled_are_planned_together() {
    let folder = department();
    // Without the demo there is time for a second turn of whisking.
    for name in ["ten.ron", "eight.ron"] {
        let path = folder.path().join(name);
        let text = fs::read_to_string(&path).unwrap();
        let shorter =
            text.replace("(name: \"demo\", minutes: (4, 5, 7), adults: [\"teacher\"]),", "");
        assert_ne!(shorter, text);
        fs::write(&path, shorter).unwrap();
    }
    let week = sound(folder.path(), &week_of(&[TEN, EIGHT]));
    let clash = |week: &Week| {
        let report = told(week);
        report.moves.iter().find_map(|m| m.together.clone()).unwrap()
    };
    let found = clash(&week);
    assert_eq!((found.served, found.of, found.is_enough), (18, 18, true));
    // Each uses them at least for the six minutes of whisking, both for two turns.
    let [(_, one), (_, other)] = found.when.as_slice() else { panic!("{:?}", found.when) };
    let all = one.1.max(other.1).minutes_since(one.0.min(other.0));
    assert!(all.get() >= 12, "{:?}", found.when);
    assert!([one, other].iter().all(|of| of.1.minutes_since(of.0).get() >= 6));
    // The other way round, and with the later bell first.
    let turned = sound(folder.path(), &week_of(&[EIGHT, TEN]));
    let turned = clash(&turned);
    assert_eq!((turned.served, turned.at_most, turned.is_enough), (18, found.at_most, true));
}

fn told_troubles(week: &Week) -> Vec<Trouble> {
    let planner = Planner::new(&[], FEW, &GO_ON);
    week.days.iter().flat_map(|day| troubles(week, &planner, day.date)).collect()
}

#[test]
fn a_room_lends_what_it_does_not_want_and_what_is_held_stays() {
    let folder = department();
    let held = |entry: &str| entry.replace("),", ", held: true),");
    let text = week_of(&[&held(TEN), &held(EIGHT), OTHER]);
    let third = r#"(name: "Room 3", kit: {"electric whisk": 8}),
    ],
    moves"#;
    let text = text.replacen("],\n    moves", third, 1);
    let lending = |text: &str| {
        let report = told(&sound(folder.path(), text));
        let moves = &report.moves[0];
        assert_eq!(moves.tried, moves.of);
        let lends = |o: &ovenbell::week::Offer| matches!(o.what, Move::Lend(_));
        assert!(moves.offers.iter().all(lends), "what is held was moved: {:?}", moves.offers);
        moves.offers.len()
    };
    assert_eq!(lending(&text), 1);
    assert_eq!(lending(&text.replace("\"electric whisk\": 8", "\"electric whisk\": 7")), 0);
    // A lesson in that room that wants them keeps them.
    let there = EIGHT.replace("9C", "7B").replace("Room 2", "Room 3");
    let wants = text.replace(OTHER, &there).replace("(name: \"Room 3\",", "(name: \"Room 3\", ovens: [(name: \"Oven\", count: 4, kind: Fan, shelves: 2, shelf_mm: (420, 360))],");
    assert_eq!(lending(&wants), 0);
}

#[test]
fn two_lessons_change_rooms_where_no_other_hour_is_free() {
    let folder = department();
    let two = SCONES.replace("count: 10, recipe", "count: 2, recipe");
    fs::write(folder.path().join("two.ron"), two).unwrap();
    let many = r#"(file: "scones.ron", class: "9C", on: Thu, at: "P3", room: "Room 2"),"#;
    let few = r#"(file: "two.ron", class: "8A", on: Thu, at: "P3", room: "Room 1"),"#;
    let text = week_of(&[many, few]);
    let text = text.replace(r#""P1": ("09:00", "10:00"), "P2": ("10:00", "11:00"), "#, "");
    let text = text.replace("count: 4, kind", "count: 1, kind");
    let week = sound(folder.path(), &text);
    let report = told(&week);
    let [moves] = report.moves.as_slice() else { panic!("{:#?}", report.moves) };
    assert!(matches!(moves.trouble, Trouble::NotAllOut { entry: EntryNo(0), .. }));
    let [offer] = moves.offers.as_slice() else { panic!("{moves:#?}") };
    let change = Move::ChangePlaces(EntryNo(0), EntryNo(1));
    assert_eq!((&offer.what, offer.effort), (&change, 4));
    assert!(told_troubles(&change.made(&week).unwrap()).is_empty());
    let words = text_of(&week, &report);
    let sentence = "9C and 8A change rooms on Thursday P3: 9C to Room 1, 8A to Room 2";
    assert!(words.contains(sentence), "{words}");
    // Not where one of them is to stay.
    for held in [many, few] {
        let text = text.replace(held, &held.replace("),", ", held: true),"));
        let report = told(&sound(folder.path(), &text));
        assert!(report.moves[0].offers.is_empty(), "{:#?}", report.moves[0]);
    }
}

fn text_of(week: &Week, report: &Report) -> String {
    text(week, report).split_whitespace().collect::<Vec<_>>().join(" ")
}

#[test]
fn an_oven_out_breaks_what_planning_without_it_breaks() {
    let folder = department();
    let entries = [
        r#"(file: "ten.ron", class: "8A", on: Mon, at: "P1", room: "Room 1"),"#,
        r#"(file: "eight.ron", class: "8B", on: Mon, at: "P2", room: "Room 1"),"#,
        r#"(file: "scones.ron", class: "8C", on: Tue, at: "P1", room: "Room 1"),"#,
        r#"(file: "ten.ron", class: "8A", on: Wed, at: "P1", room: "Room 1"),"#,
        r#"(file: "eight.ron", class: "9C", on: Mon, at: "P1", room: "Room 2"),"#,
    ];
    let week = sound(folder.path(), &week_of(&entries));
    let mut out = week.clone();
    out.out.push(out_of_order(&week, "Room 1/Oven 4=2026-11-30..2026-12-01").unwrap());
    let report = told(&out);
    let found: Vec<_> =
        report.broken[0].breaks.iter().map(|b| (b.entry, b.before, b.now)).collect();
    let mut expected = Vec::new();
    for entry in &week.entries {
        let served = |without: bool| {
            let mut file = put(&week, &entry.lesson().unwrap().shapes, &entry.slot).unwrap();
            if without {
                file.room.out_of_order.push("Oven 4".to_owned());
            }
            let lesson = lesson_of_shapes(&file, &[]).unwrap();
            let budget = Budget { within: None, decodings: Some(FEW), seed: 1 };
            let plan = plan_lesson(&lesson, &budget, &GO_ON, judge_of(&lesson), |_| {}).unwrap();
            plan.judged.objective().served
        };
        let there = entry.slot.date <= day(&week, "tue") && entry.number != EntryNo(4);
        let (before, now) = (served(false), served(there));
        if now < before {
            expected.push((entry.number, before, now));
        }
    }
    assert_eq!(found, expected);
    assert_eq!(found, [(EntryNo(0), 10, 8)], "two pairs stand in an oven");
    assert_eq!(report.broken[0].keeps, [EntryNo(1), EntryNo(2)]);
    // What is out that day is not counted as there.
    let oven = &report.lessons.iter().find(|t| t.entry == EntryNo(0)).unwrap();
    assert_eq!(oven.ovens, Some(4));
    for wrong in [
        "Room 1/Oven 6=mon",
        "Room 9/Oven 4=mon",
        "Room 1/Oven 4",
        "Room 1/Oven 4=2026-12-24",
        "whisk=wed..mon",
    ] {
        assert!(out_of_order(&week, wrong).is_err(), "{wrong}");
    }
}

#[test]
fn the_fewest_ovens_are_enough_and_one_fewer_is_not() {
    let folder = department();
    let week = sound(folder.path(), &week_of(&[TEN, EIGHT, OTHER]));
    let report = told(&week);
    let served = |entry: EntryNo, ovens: u32| {
        let of = report.lessons.iter().find(|t| t.entry == entry).unwrap();
        let mut parts = of.alone.as_ref().unwrap().lesson.clone().into_parts();
        parts.ovens.iter_mut().skip(ovens as usize).for_each(|oven| oven.out_of_order = true);
        let lesson = ovenbell::model::Lesson::new(parts).unwrap();
        let budget = Budget { within: None, decodings: Some(FEW), seed: 1 };
        let found = plan_lesson(&lesson, &budget, &GO_ON, judge_of(&lesson), |_| {}).unwrap();
        found.judged.objective().served
    };
    for told in &report.lessons {
        let (needs, of) = (told.needs.unwrap(), told.alone.as_ref().unwrap().of());
        assert_eq!(served(told.entry, needs.ovens), of, "{:?}", told.entry);
        assert!(served(told.entry, needs.ovens - 1) < of, "{:?}", told.entry);
    }
    let tightest: Vec<EntryNo> = report.tightest().iter().map(|t| t.entry).collect();
    assert_eq!(tightest[2], EntryNo(2), "scones have more time to spare");
    let needs = |t: usize| report.tightest()[t].needs.unwrap();
    assert_eq!((needs(0).ovens + needs(1).ovens, needs(0).proved), (9, true));
    // With one oven fewer the last two pairs whisk when a place is free: the bake's
    // 12 minutes and one to take out, less the 3 that are spare.
    assert!(needs(0).late.unwrap().get() >= 8, "{:?}", needs(0));
}

/// What is told, without names of rooms and places in the file.
fn told_of(week: &Week, rename: impl Fn(&str) -> String) -> Vec<String> {
    let report = told(week);
    let answer: Value = serde_json::from_str(&json(week, &report, Vec::new()).unwrap()).unwrap();
    let mut all = Vec::new();
    for lesson in answer["lessons"].as_array().unwrap() {
        let rooms = rename(&lesson["rooms"].to_string());
        let of = ["file", "date", "class", "served", "ovens", "needs_ovens", "late_with_one_fewer"];
        let of: Vec<String> = of.iter().map(|field| lesson[*field].to_string()).collect();
        all.push(format!("{rooms} {}", of.join(" ")));
    }
    for of in answer["contention"].as_array().unwrap() {
        all.push(format!("{} {} {}", rename(&of["what"].to_string()), of["date"], of["spans"]));
    }
    for of in answer["troubles"].as_array().unwrap() {
        let efforts: Vec<_> =
            of["moves"].as_array().unwrap().iter().map(|m| &m["effort"]).collect();
        all.push(format!("{} {} {efforts:?} {}", of["kind"], of["wanted"], of["to_try"]));
    }
    all.sort();
    all
}

#[test]
fn order_in_the_file_and_names_of_rooms_change_nothing() {
    let folder = department();
    let text = week_of(&[TEN, EIGHT, OTHER]);
    let as_is = told_of(&sound(folder.path(), &text), str::to_owned);
    let turned = sound(folder.path(), &week_of(&[OTHER, EIGHT, TEN]));
    assert_eq!(told_of(&turned, str::to_owned), as_is);
    let renamed = text.replace("Room 1", "Zebra").replace("Room 2", "Attic");
    let back = |name: &str| name.replace("Zebra", "Room 1").replace("Attic", "Room 2");
    assert_eq!(told_of(&sound(folder.path(), &renamed), back), as_is);
}

#[test]
fn days_apart_never_influence_each_other() {
    let folder = department();
    let tuesday = EIGHT.replace("Thu", "Tue");
    let on = |week: &Week, name: &str| {
        let planner = Planner::new(&[], FEW, &GO_ON);
        let of = wanted(week, &planner, day(week, name)).into_iter();
        of.map(|c| (c.what, c.there, c.wanted.clone(), c.excess())).collect::<Vec<_>>()
    };
    let both = sound(folder.path(), &week_of(&[TEN, &tuesday]));
    let one = sound(folder.path(), &week_of(&[TEN]));
    assert_eq!(on(&both, "thu"), on(&one, "thu"));
    assert!(!on(&both, "thu").is_empty() && !on(&both, "tue").is_empty());
    assert!(told_troubles(&both).is_empty());
    // A day by itself is told as it is among the others.
    let all = told(&both);
    let thu = report(&both, &Planner::new(&[], FEW, &GO_ON), Some(day(&both, "thu")));
    assert_eq!(thu.lessons.len(), 1);
    assert!(thu.contention.iter().all(|c| all.contention.contains(c)));
}

#[test]
fn more_of_a_thing_never_makes_it_worse() {
    let folder = department();
    let mut before = i64::MAX;
    for whisks in [8, 10, 14, 18] {
        let text = week_of(&[TEN, EIGHT]).replace("whisk\": 10", &format!("whisk\": {whisks}"));
        let week = sound(folder.path(), &text);
        let planner = Planner::new(&[], FEW, &GO_ON);
        let of = wanted(&week, &planner, day(&week, "thu"));
        let excess = of.iter().find(|c| c.what == Thing::Moving(0)).unwrap().excess();
        assert!(excess <= before, "{whisks} whisks: {excess}, with fewer {before}");
        before = excess;
    }
    assert_eq!(before, 0);
}

#[test]
fn a_booking_takes_what_it_takes_and_kit_out_of_order_is_not_there() {
    let folder = department();
    let booking = r#"(booking: "open day", on: Thu, time: ("11:30", "11:40"), room: "Room 2", takes: {"electric whisk": 2}),"#;
    let week = sound(folder.path(), &week_of(&[TEN, booking]));
    let found = told_troubles(&week);
    let [Trouble::Clash(clash)] = found.as_slice() else { panic!("{found:#?}") };
    assert_eq!((clash.span.count, clash.there, clash.by.len()), (12, 10, 2));
    // From when both want some until one of them has done.
    assert_eq!(clash.span.from_clock().to_string(), "11:36");
    assert_eq!(clash.span.until_clock().to_string(), "11:40");
    let mut out = sound(folder.path(), &week_of(&[TEN]));
    out.out.push(out_of_order(&out, "electric whisk=thu").unwrap());
    let report = told(&out);
    let whisks = report.contention.iter().find(|c| c.what == Thing::Moving(0)).unwrap();
    assert_eq!(whisks.there, 9);
    assert_eq!(report.broken[0].breaks.iter().map(|b| b.entry).collect::<Vec<_>>(), [EntryNo(0)]);
}

#[test]
fn an_adult_is_wanted_once_at_a_time_and_only_within_their_hours() {
    let folder = department();
    let own = |name: &str| {
        let path = folder.path().join(name);
        let text = fs::read_to_string(&path).unwrap();
        let text = text.replace("adults: [\"teacher\"]", "adults: [\"technician\"]");
        let both = "adults: [(name: \"teacher\"), (name: \"technician\")],";
        fs::write(&path, text.replace("adults: [(name: \"teacher\")],", both)).unwrap();
    };
    own("ten.ron");
    own("eight.ron");
    let hours = "adults: [(name: \"technician\", hours: [(on: Thu, from: \"08:00\", until: \"13:00\")])],\n    lessons:";
    let text = week_of(&[TEN, EIGHT]).replace("whisk\": 10", "whisk\": 18");
    let text = text.replacen("lessons:", hours, 1);
    let found = told_troubles(&sound(folder.path(), &text));
    let [Trouble::Clash(clash)] = found.as_slice() else { panic!("{found:#?}") };
    assert_eq!((clash.what, clash.span.count, clash.there), (Thing::Adult(0), 2, 1));
    // The demo, after register and hands.
    assert_eq!(clash.span.from_clock().to_string(), "11:27");
    assert_eq!(clash.span.length().get(), 5);
    // On a day off there is nobody to give the demo.
    let away = loaded(folder.path(), &text.replace("(on: Thu, from", "(on: Fri, from"));
    let found: Vec<&str> = codes(&away.findings).into_iter().map(|(code, _)| code).collect();
    assert_eq!(found, ["outside-period", "outside-period"]);
    assert!(away.week.entries.iter().all(|entry| entry.lesson().is_none()));
}

#[test]
fn a_double_period_is_one_stretch_and_rooms_of_a_lesson_go_in_turn() {
    let folder = department();
    let double = r#"(file: "ten.ron", on: Mon, at: ("P1", "P2"), room: "Room 2"),"#;
    let loaded = loaded(folder.path(), &week_of(&[double]));
    // An hour's lesson has two: told, and planned.
    assert_eq!(codes(&loaded.findings), [("period-length", 12)]);
    let (week, entry) = (&loaded.week, &loaded.week.entries[0]);
    let there = put(week, &entry.lesson().unwrap().shapes, &entry.slot).unwrap();
    assert_eq!((there.period.start.as_str(), there.period.end.as_str()), ("09:00", "11:00"));
    assert_eq!((there.room.name(), there.date.as_deref()), ("Room 2", Some("2026-11-30")));
    assert_eq!(there.room.ovens[0].count, Some(4));
    // Two periods and two rooms of a lesson are taken in turn.
    let two = read_lesson(include_str!("../cases/good/two_rooms.ron")).unwrap().file;
    let day = &week.days[1];
    let bells = vec![day.bells[0].clone(), day.bells[2].clone()];
    let slot = Slot { date: day.date, bells, rooms: vec![RoomNo(1), RoomNo(0)] };
    let there = put(week, &two, &slot).unwrap();
    let bells: Vec<&str> =
        there.periods().flat_map(|p| [p.start.as_str(), p.end.as_str()]).collect();
    assert_eq!(bells, ["09:00", "10:00", "11:20", "12:20"]);
    assert_eq!(there.rooms().map(|room| room.name()).collect::<Vec<_>>(), ["Room 2", "Room 1"]);
    // Its own "Room 5", the second, is Room 1 now.
    assert_eq!(there.groups[2].room.as_deref(), Some("Room 1"));
    assert_eq!(there.adults[1].room.as_deref(), Some("Room 1"));
    for slot in [&Slot { rooms: vec![RoomNo(0)], ..slot.clone() }, &entry.slot] {
        assert!(put(week, &two, slot).is_err());
    }
}

#[test]
fn a_week_cut_short_says_so_and_claims_nothing() {
    static STOP: AtomicBool = AtomicBool::new(true);
    let folder = department();
    let week = sound(folder.path(), &week_of(&[TEN, EIGHT, OTHER]));
    let report = report(&week, &Planner::new(&[], FEW, &STOP), None);
    assert!(!report.whole && report.lessons.iter().all(|told| told.needs.is_none()));
    let not_all = |m: &ovenbell::week::Moves| matches!(m.trouble, Trouble::NotAllOut { .. });
    assert!(!report.moves.iter().any(not_all), "{:#?}", report.moves);
    assert!(text(&week, &report).contains("Time was up"));
}

#[test]
fn no_text_of_a_week_is_too_odd_to_be_read() {
    let folder = department();
    let path = folder.path().join("week.ron");
    let text = week_of(&[TEN, EIGHT]);
    let mut read = 0;
    let mut look = |text: &str| {
        fs::write(&path, text).unwrap();
        match load(&path, &[]) {
            Ok(loaded) => read += usize::from(loaded.week.days.len() == 7),
            Err(findings) => assert!(!findings.is_empty()),
        }
    };
    let cuts = (0..text.len()).step_by(37).filter(|at| text.is_char_boundary(*at));
    cuts.for_each(|at| look(&text[..at]));
    let most = i64::MAX.to_string();
    for odd in ["0", "-1", most.as_str(), "-9223372036854775808", "1e999", "\"\"", "()"] {
        for figure in ["10}", "4,", "1,"] {
            look(&text.replacen(figure, &figure.replace(char::is_numeric, odd), 1));
        }
        look(&text.replace("\"P3\", room", &format!("{odd}, room")));
        look(&text.replace("\"2026-11-30\"", odd));
    }
    for date in ["0000-01-03", "9999-12-27", "+262142-12-29", "-0001-01-01"] {
        look(&text.replace("2026-11-30", date));
    }
    assert!(read > 3, "only {read} were weeks");
}

fn codes(findings: &[Finding]) -> Vec<(&str, usize)> {
    findings.iter().map(|f| (f.code, f.place.map_or(0, |p| p.line))).collect()
}

#[test]
fn a_file_missing_moved_broken_or_there_twice_is_told_and_the_rest_goes_on() {
    let folder = department();
    let point = |file: &str, id: &str, at: &str| {
        format!(r#"(file: "{file}", id: "{id}", on: Fri, at: "{at}", room: "Room 1"),"#)
    };
    fs::write(folder.path().join("broken.ron"), "(format: 2, title: ").unwrap();
    let entries = [
        TEN.to_owned(),
        point("none.ron", "wren-91ab", "P1"),
        point("broken.ron", "lark-55d0", "P2"),
        point("eight.ron", "finch-07d3", "P3"),
    ];
    let text = week_of(&entries.iter().map(String::as_str).collect::<Vec<_>>());
    let line = |n: usize| text.lines().position(|l| l.contains(&entries[n])).unwrap() + 1;
    let planned = |week: &Week| {
        let planner = Planner::new(&[], FEW, &GO_ON);
        week.entries.iter().filter(|e| planner.alone(week, e).is_some()).count()
    };
    let found = loaded(folder.path(), &text);
    assert_eq!(codes(&found.findings), [("pointer", line(1)), ("broken-lesson", line(2))]);
    assert_eq!((found.week.entries.len(), planned(&found.week)), (4, 2));
    assert!(!told(&found.week).is_well(&found.week), "what is not planned is not well");
    // Another with the id of the one at its path: that is taken.
    let (at, twin) = (folder.path().join("eight.ron"), folder.path().join("twin.ron"));
    fs::copy(&at, &twin).unwrap();
    let found = loaded(folder.path(), &text);
    let all = [("pointer", line(1)), ("broken-lesson", line(2)), ("pointer", line(3))];
    assert_eq!(codes(&found.findings), all);
    assert_eq!(planned(&found.week), 2);
    // Renamed: told where it is now, and left aside.
    fs::remove_file(&at).unwrap();
    let found = loaded(folder.path(), &text);
    assert_eq!(codes(&found.findings), all);
    assert!(found.findings[2].hint.contains("twin.ron"), "{}", found.findings[2].hint);
    assert_eq!(planned(&found.week), 1);
    // The folder as a whole goes anywhere.
    fs::rename(&twin, &at).unwrap();
    let other = tempfile::tempdir().unwrap();
    let moved = other.path().join("elsewhere");
    fs::create_dir(&moved).unwrap();
    for file in fs::read_dir(folder.path()).unwrap().map(|f| f.unwrap().path()) {
        fs::copy(&file, moved.join(file.file_name().unwrap())).unwrap();
    }
    assert_eq!(
        codes(&loaded(&moved, &text).findings),
        [("pointer", line(1)), ("broken-lesson", line(2))]
    );
}

#[test]
fn what_is_wrong_with_a_week_is_told_at_its_line() {
    let folder = department();
    for (from, to, code) in [
        ("at: \"P3\"", "at: \"P7\"", "unknown-bell"),
        ("at: \"P3\"", "at: (\"P3\", \"P1\")", "period-order"),
        (
            "on: Thu, at: \"P3\", room: \"Room 2\"",
            "on: Wed, at: \"P3\", room: \"Room 2\"",
            "closed-room",
        ),
        ("on: Thu", "on: Thu, date: \"2026-12-04\"", "date"),
        ("room: \"Room 1\"", "room: \"Room 4\"", "unknown-name"),
        ("room: \"Room 1\"", "room: (\"Room 1\", \"Room 2\")", "outside-period"),
        ("class: \"9C\", on: Thu", "class: \"8A\", on: Thu", "class-twice"),
        ("\"P3\", room: \"Room 2\"", "\"P3\", room: \"Room 1\"", "room-twice"),
        ("(\"11:20\", \"12:20\")", "(\"11:20\", \"11:30\")", "outside-period"),
        ("(\"11:20\", \"12:20\")", "(\"11:20\", \"12:25\")", "period-length"),
        ("(file: \"ten.ron\"", "(booking: \"exam\", file: \"ten.ron\"", "lesson-or-booking"),
        ("whisk\": 10", "whisk\": -1", "count"),
        ("\"2026-11-30\"", "\"2026-12-01\"", "date"),
        ("(\"11:20\", \"12:20\")", "(\"11:20\", \"11:10\")", "bells"),
        ("name: \"Room 2\"", "name: \"Room 1\"", "duplicate-name"),
        ("count: 4, kind", "count: 4000, kind", "count"),
        ("week:", "weak:", "no-week"),
    ] {
        let text = week_of(&[TEN, EIGHT]);
        assert!(text.contains(from), "{from}");
        let path = folder.path().join("week.ron");
        fs::write(&path, text.replacen(from, to, 1)).unwrap();
        let findings = match load(&path, &[]) {
            Ok(loaded) => loaded.findings,
            Err(findings) => {
                assert!(findings.iter().any(|f| f.severity == Severity::Error));
                findings
            }
        };
        assert!(
            codes(&findings).iter().any(|(c, line)| *c == code && *line > 0),
            "{to}: {findings:#?}"
        );
    }
}

#[test]
fn a_bell_that_the_clocks_skip_is_told() {
    let folder = department();
    let path = folder.path().join("ten.ron");
    let text = fs::read_to_string(&path).unwrap();
    let zoned = text.replacen("title:", "zone: \"Europe/London\",\n    title:", 1);
    fs::write(&path, zoned).unwrap();
    let of = |week: &str, on: &str| {
        let night = week_of(&[&TEN.replace("on: Thu", on)]);
        let night = night.replace("2026-11-30", week);
        let night = night.replace("(\"11:20\", \"12:20\")", "(\"01:30\", \"02:30\")");
        codes(&loaded(folder.path(), &night).findings).len()
    };
    // The clocks go from 01:00 to 02:00 on 28 March.
    assert_eq!((of("2027-03-22", "on: Sun"), of("2027-03-22", "on: Sat")), (1, 0));
    assert_eq!(of("2027-03-29", "on: Sun"), 0);
}

/// A week of these lessons in which something rests.
fn resting(lessons: &[&str], rest: &str) -> String {
    let text = week_of(lessons).replace("whisk\": 10", "whisk\": 10, \"fridge tray\": 20");
    format!("{}    rests: [{rest}],\n)", text.strip_suffix(')').unwrap())
}

fn dough(hours: &str, place: &str) -> String {
    let (from, to) = ("heron-4c2f", "finch-07d3");
    format!("(what: \"dough\", from: \"{from}\", to: \"{to}\", hours: {hours}{place})")
}

#[test]
fn what_rests_between_lessons_rests_long_enough_and_has_a_place() {
    let folder = department();
    let of = |lessons: &[&str], rest: &str| {
        let findings = loaded(folder.path(), &resting(lessons, rest)).findings;
        codes(&findings)
            .into_iter()
            .map(|(code, line)| format!("{code} {line}"))
            .collect::<Vec<_>>()
    };
    let entry = |(file, id): (&str, &str), class: &str, day: &str, at: &str, room: u32| {
        format!(
            "(file: \"{file}.ron\", id: \"{id}\", class: \"{class}\", on: {day}, at: \"{at}\", \
             room: \"Room {room}\"),"
        )
    };
    let made = |class: &str, day: &str, at: &str| entry(("ten", "heron-4c2f"), class, day, at, 1);
    let used = |class: &str, at: &str| entry(("eight", "finch-07d3"), class, "Tue", at, 2);
    let tray = ", place: \"fridge tray\"";
    // From 12:20 to 10:00 the next day are 21 hours and 40 minutes.
    let (first, second) = (made("8A", "Mon", "P3"), used("8A", "P2"));
    let both = [&*first, &*second];
    assert!(of(&both, &dough("(21, 22)", tray)).is_empty());
    assert_eq!(of(&both, &dough("(0, 21)", "")), ["rest-hours 13"]);
    assert_eq!(of(&both, &dough("(22, 24)", "")), ["rest-hours 13"]);
    // The first comes before, and is of the same class.
    let late = made("8A", "Wed", "P3");
    assert_eq!(of(&[&late, &second], &dough("(0, 24)", "")), ["rest-order 13"]);
    let other = used("9C", "P2");
    assert_eq!(of(&[&first, &other], &dough("(0, 24)", "")), ["rest-order 13"]);
    // Ten pairs of three classes want thirty of twenty trays.
    let more =
        [made("9C", "Mon", "P2"), used("9C", "P1"), made("7B", "Mon", "P1"), used("7B", "P3")];
    let all: Vec<&str> = both.into_iter().chain(more.iter().map(|entry| &**entry)).collect();
    assert!(of(&all, &dough("(20, 27)", "")).is_empty());
    assert_eq!(of(&all, &dough("(20, 27)", tray)), ["rest-places 19"]);
    assert!(of(&all[..4], &dough("(20, 27)", tray)).is_empty());
    // What is not possible or not known is told at its place.
    assert_eq!(of(&both, &dough("(24, 12)", "")), ["hours 15"]);
    assert_eq!(of(&both, &dough("(12, 24)", ", place: \"shelf\"")), ["unknown-name 15"]);
    let nobody = dough("(12, 24)", "").replace("heron-4c2f", "heron-0000");
    assert_eq!(of(&both, &nobody), ["unknown-name 15"]);
}

#[test]
fn a_move_that_breaks_a_rest_is_not_offered() {
    let folder = department();
    let scones = SCONES.replace("count: 10, recipe", "count: 8, recipe");
    fs::write(folder.path().join("scones.ron"), with_id(&scones, "lark-55d0")).unwrap();
    let id =
        |entry: &str, id: &str| entry.replacen(".ron\",", &format!(".ron\", id: \"{id}\","), 1);
    let (eight, other) = (id(EIGHT, "finch-07d3"), id(OTHER, "lark-55d0"));
    let swaps = |rest: &str| {
        let week = sound(folder.path(), &resting(&[TEN, &eight, &other], rest));
        let moves = told(&week).moves;
        moves.iter().flat_map(|m| &m.offers).filter(|o| matches!(o.what, Move::Swap(..))).count()
    };
    assert!(swaps("") > 0);
    // What the class made on Monday is used on Thursday, and not before.
    let rest = dough("(0, 168)", "").replace("heron-4c2f", "lark-55d0");
    assert_eq!(swaps(&rest), 0);
}

#[test]
fn who_teaches_is_there() {
    let folder = department();
    let adults = "adults: [(name: \"KB\", hours: [(on: Thu, from: \"11:00\", until: \"12:20\")])],";
    let taught = TEN.replace("on: Thu", "adult: \"KB\", on: Thu");
    let text = week_of(&[&taught]).replace("lessons: [", &format!("{adults}\n    lessons: ["));
    assert!(loaded(folder.path(), &text).findings.is_empty());
    let away = text.replace("until: \"12:20\"", "until: \"12:00\"");
    assert_eq!(codes(&loaded(folder.path(), &away).findings), [("adult-away", 13)]);
    let other = text.replace("on: Thu, from", "on: Fri, from");
    assert_eq!(codes(&loaded(folder.path(), &other).findings), [("adult-away", 13)]);
}

#[test]
fn the_worked_week_of_a_dough_has_a_rest_that_comes_out() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let loaded = load(&root.join("lessons/week/dough.ron"), &[]).unwrap();
    assert!(loaded.findings.is_empty(), "{:#?}", loaded.findings);
    assert_eq!((loaded.week.rests.len(), loaded.week.entries.len()), (1, 4));
    let report = told(&loaded.week);
    assert!(report.lessons.iter().all(|lesson| lesson.alone.as_ref().unwrap().not_out() == 0));
}

#[test]
fn the_worked_week_has_something_of_everything() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let loaded = load(&root.join("lessons/week/week.ron"), &[]).unwrap();
    assert!(loaded.findings.is_empty(), "{:#?}", loaded.findings);
    let week = &loaded.week;
    assert_eq!((week.entries.len(), week.rooms.len()), (21, 3));
    let planner = Planner::new(&[], FEW, &GO_ON);
    let on = |name: &str| report(week, &planner, Some(day(week, name)));
    let clash = |report: &Report, of: &str| {
        report.moves.iter().any(|m| {
            matches!(&m.trouble, Trouble::Clash(c) if c.what.name(week) == of)
                && !m.offers.is_empty()
        })
    };
    let thursday = on("thu");
    assert!(clash(&thursday, "electric whisk"), "{}", text(week, &thursday));
    let friday = on("fri");
    assert!(clash(&friday, "18 cm sandwich tin"), "{}", text(week, &friday));
    let monday = on("mon");
    assert_eq!(monday.broken[0].breaks.len(), 1, "{}", text(week, &monday));
    let tuesday = setting_up(week, &planner, day(week, "tue")).unwrap();
    // Ten sets and eight, five minutes each; an hour is there before nine.
    assert_eq!(tuesday.lacks(), 30);
    let thursday = &thursday.setting_up[0];
    assert_eq!(thursday.start_by.unwrap().to_string(), "09:50");
    for report in [&monday, &friday] {
        text(week, report).lines().for_each(|l| assert!(l.chars().count() <= 100, "{l}"));
    }
}
