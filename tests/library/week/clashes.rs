//! What is wanted twice, and the moves that clear it.

use std::fs;
use std::path::Path;

use ovenbell::export::week::text;
use ovenbell::file::read_lesson;
use ovenbell::finding::Severity;
use ovenbell::week::{
    EntryNo, LoadedWeek, Move, Moves, Planner, Report, RoomNo, Slot, Thing, Told, Trouble, Week,
    load, out_of_order, put, report, setting_up,
};

use super::{
    EIGHT, FEW, GO_ON, OTHER, SCONES, TEN, codes, day, department, loaded, sound, text_of, told,
    told_troubles, week_of,
};

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
    let two = read_lesson(include_str!("../../cases/good/two_rooms.ron")).unwrap().file;
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

/// Lessons whose groups are not all out, planned anew.
fn not_all_out(week: &Week) -> Vec<EntryNo> {
    let is_left = |t: &&Told| t.alone.as_ref().is_some_and(|alone| alone.not_out() > 0);
    let mut left: Vec<EntryNo> =
        told(week).lessons.iter().filter(is_left).map(|t| t.entry).collect();
    left.sort();
    left
}

#[test]
fn a_move_that_helps_another_lesson_is_no_way_out_for_this_one() {
    let folder = department();
    let ten = TEN.replace("on: Thu, at: \"P3\"", "on: Mon, at: \"P1\"");
    let scones = OTHER.replace("at: \"P1\"", "at: \"P2\"");
    let elsewhere = EIGHT.replace("eight.ron", "scones.ron").replace("9C", "7B");
    let text = week_of(&[&ten, &scones, &elsewhere]);
    // Three whisks are too few for ten pairs whenever they come; scones are out where they
    // have the hour.
    let text = text.replace("whisk\": 10", "whisk\": 3").replace("\"11:00\"", "\"10:35\"");
    // It is remarked on how short that period is, and no more.
    let LoadedWeek { week, findings } = loaded(folder.path(), &text);
    assert!(findings.iter().all(|f| f.severity == Severity::Warning), "{findings:#?}");
    assert_eq!(not_all_out(&week), [EntryNo(0), EntryNo(1)]);
    let report = told(&week);
    let of = |number: usize| {
        let is_it = |m: &&Moves| m.trouble.entries() == [EntryNo(number)];
        &report.moves.iter().find(is_it).unwrap().offers
    };
    assert_eq!(of(0), &[]);
    assert!(!of(1).is_empty());
    for offer in of(1) {
        let mut left = offer.not_all_out.clone();
        left.sort();
        assert_eq!(left, not_all_out(&offer.what.made(&week).unwrap()), "{:?}", offer.what);
        assert!(left.contains(&EntryNo(0)), "{:?}", offer.what);
    }
    let words = text_of(&week, &report);
    assert!(words.contains("only 8A on Monday is still not all out"), "{words}");
    assert!(!words.contains("all are out then"), "{words}");
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
