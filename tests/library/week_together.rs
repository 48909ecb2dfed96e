//! Lessons that clash planned together: over tins, over an adult, by other rules, with
//! a booking, with all that hang on them.

use std::fs;
use std::path::Path;

use ovenbell::week::{EntryNo, Stretch, Thing, Together, Trouble, Week};

use crate::week::{EIGHT, TEN, department, loaded, sound, told, week_of};

/// Without the demo there is time for a second turn of whisking.
fn without_demo(folder: &Path) {
    each_lesson(folder, |text| {
        text.replace("(name: \"demo\", minutes: (4, 5, 7), adults: [\"teacher\"]),", "")
    });
}

fn each_lesson(folder: &Path, change: impl Fn(&str) -> String) {
    for name in ["ten.ron", "eight.ron"] {
        let path = folder.join(name);
        let text = fs::read_to_string(&path).unwrap();
        let changed = change(&text);
        assert_ne!(changed, text);
        fs::write(&path, changed).unwrap();
    }
}

/// What came of planning together what clashes over a thing: the one clash there is.
fn over(week: &Week, what: Thing) -> Together {
    let report = told(week);
    let is_it = |trouble: &Trouble| matches!(trouble, Trouble::Clash(c) if c.what == what);
    let mut found = report.moves.iter().filter(|m| is_it(&m.trouble));
    let first = found.next().unwrap_or_else(|| panic!("no clash: {:#?}", report.moves));
    assert!(found.next().is_none(), "{:#?}", report.moves);
    first.together.clone().unwrap_or_else(|| panic!("not planned together"))
}

fn minutes((from, until): Stretch) -> i32 {
    until.minutes_since(from).get()
}

#[test]
fn tins_of_two_rooms_are_lent_one_another_in_turn() {
    let folder = department();
    without_demo(folder.path());
    // The second lesson fills its tins three minutes before the first has its own back.
    let text =
        week_of(&[TEN, EIGHT]).replace("whisk\": 10", "whisk\": 18, \"18 cm sandwich tin\": 24");
    let text = text.replace("\"P3\":", "\"late\": (\"11:45\", \"12:45\"), \"P3\":");
    let text = text.replace("at: \"P3\", room: \"Room 2\"", "at: \"late\", room: \"Room 2\"");
    let found = over(&sound(folder.path(), &text), Thing::Moving(1));
    assert_eq!((found.served, found.of, found.is_enough), (18, 18, true));
    let [(first, one), (second, other)] = found.when.as_slice() else { panic!("{found:?}") };
    assert_eq!((*first, *second), (EntryNo(0), EntryNo(1)));
    // Twenty of 24 are in use to the end of the first, so that two pairs at most begin
    // before.
    assert!(one.1.minutes_since(other.0).get() <= 3 || minutes(*other) > 28, "{found:?}");
    // With twenty there, nobody does.
    let fewer = text.replace("tin\": 24", "tin\": 20");
    let found = over(&sound(folder.path(), &fewer), Thing::Moving(1));
    assert!(found.is_enough, "{found:?}");
    assert!(found.when[1].1.0 >= found.when[0].1.1, "{found:?}");
}

#[test]
fn what_hangs_on_a_clash_is_planned_with_it() {
    let folder = department();
    without_demo(folder.path());
    // A third room whisks just when the others' second turn would be.
    let third = r#"(file: "eight.ron", class: "7B", on: Thu, at: "late", room: "Room 3"),"#;
    let text = week_of(&[TEN, EIGHT, third]);
    let text = text.replace("\"P3\":", "\"late\": (\"11:26\", \"12:26\"), \"P3\":");
    let room = r#"(name: "Room 3", ovens: [(name: "Oven", count: 4, kind: Fan, shelves: 2, shelf_mm: (420, 360))]),
    ],
    moves"#;
    let text = text.replacen("],\n    moves", room, 1);
    let found = over(&sound(folder.path(), &text), Thing::Moving(0));
    assert_eq!((found.served, found.of, found.is_enough), (26, 26, true), "{found:?}");
    assert_eq!(found.when.len(), 3, "{found:?}");
    // Three turns of six minutes.
    let first = found.when.iter().map(|(_, when)| when.0).min().unwrap();
    let last = found.when.iter().map(|(_, when)| when.1).max().unwrap();
    assert!(last.minutes_since(first).get() >= 16, "{found:?}");
    // Another day's do not hang on it.
    let apart = text.replace("class: \"7B\", on: Thu", "class: \"7B\", on: Fri");
    let found = over(&sound(folder.path(), &apart), Thing::Moving(0));
    assert_eq!((found.of, found.when.len()), (18, 2));
}

#[test]
fn lessons_of_other_rules_are_planned_together_by_their_own() {
    let folder = department();
    without_demo(folder.path());
    let path = folder.path().join("eight.ron");
    let text = fs::read_to_string(&path).unwrap();
    let rules = "rules: (wanted_spare: 3, call: 5, tins_per_opening: 6, washed_is_unused: true,";
    let other = text.replace("rules: (wanted_spare: 3,", rules);
    assert_ne!(other, text);
    fs::write(&path, other).unwrap();
    let week = sound(folder.path(), &week_of(&[TEN, EIGHT]));
    let found = over(&week, Thing::Moving(0));
    assert_eq!((found.served, found.of, found.is_enough), (18, 18, true), "{found:?}");
}

#[test]
fn a_booking_keeps_what_it_takes() {
    let folder = department();
    without_demo(folder.path());
    let of = |takes: u32| {
        let booking = format!(
            r#"(booking: "fair", on: Thu, time: ("11:20", "12:20"), room: "Room 2", takes: {{"electric whisk": {takes}}}),"#
        );
        over(&loaded(folder.path(), &week_of(&[TEN, &booking])).week, Thing::Moving(0))
    };
    // Eight whisks are left for ten pairs: two turns.
    let found = of(2);
    assert_eq!((found.served, found.of, found.is_enough), (10, 10, true), "{found:?}");
    assert!(minutes(found.when[0].1) >= 12, "{found:?}");
    // One is left: no more than two or three turns of one pair.
    let found = of(9);
    assert!(!found.is_enough && found.served < 4, "{found:?}");
}

#[test]
fn an_adult_is_shared_in_turn() {
    let folder = department();
    each_lesson(folder.path(), |text| {
        let text = text.replace("(name: \"demo\", minutes: (4, 5, 7), adults: [\"teacher\"]),", "");
        let during = "],\n        during: [(name: \"demo\", minutes: 5, between: (7, 24), adults: [\"technician\"])],\n        closing";
        let text = text.replacen("],\n        closing", during, 1);
        text.replace(
            "adults: [(name: \"teacher\")],",
            "adults: [(name: \"teacher\"), (name: \"technician\")],",
        )
    });
    let hours = "adults: [(name: \"technician\", hours: [(on: Thu, from: \"08:00\", until: \"13:00\")])],\n    lessons:";
    let text = week_of(&[TEN, EIGHT]).replace("whisk\": 10", "whisk\": 18");
    let week = sound(folder.path(), &text.replacen("lessons:", hours, 1));
    let found = over(&week, Thing::Adult(0));
    assert!(found.served > 0 && found.when.len() == 2, "{found:?}");
    let [(_, one), (_, other)] = found.when.as_slice() else { panic!("{found:?}") };
    assert!(one.1 <= other.0, "the technician is in two rooms: {found:?}");
}
