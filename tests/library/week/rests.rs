//! What rests from one lesson to another.

use std::fs;
use std::path::Path;

use ovenbell::week::{Move, load};

use super::{EIGHT, OTHER, SCONES, TEN, codes, department, loaded, sound, told, week_of, with_id};

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
fn the_worked_week_of_a_dough_has_a_rest_that_comes_out() {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    let loaded = load(&root.join("lessons/week/dough.ron"), &[]).unwrap();
    assert!(loaded.findings.is_empty(), "{:#?}", loaded.findings);
    assert_eq!((loaded.week.rests.len(), loaded.week.entries.len()), (1, 4));
    let report = told(&loaded.week);
    assert!(report.lessons.iter().all(|lesson| lesson.alone.as_ref().unwrap().not_out() == 0));
}
