//! Order in the file, names and other days change nothing; nor does a lack of time claim anything.

use std::sync::atomic::AtomicBool;

use ovenbell::export::week::{json, text};
use ovenbell::week::{Planner, Trouble, Week, report, wanted};
use serde_json::Value;

use super::{EIGHT, FEW, GO_ON, OTHER, TEN, day, department, sound, told, told_troubles, week_of};

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
