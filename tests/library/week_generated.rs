//! Generated weeks: what nothing may hang on, what more of a thing never does, and the
//! fewest ovens confirmed by planning.

use std::collections::BTreeMap;
use std::sync::atomic::AtomicBool;

use ovenbell::check::judge_of;
use ovenbell::model::{Lesson, Oven};
use ovenbell::planner::{Budget, plan_lesson};
use ovenbell::week::{
    Asked, CoupledSet, EntryNo, Planner, Week, coupled_sets, load, report_as_it_comes, setting_up,
};

use crate::common::generate_week::{GeneratedWeek, week};
use crate::common::how_many::how_many_lessons;

static GO_ON: AtomicBool = AtomicBool::new(false);
const FEW: u64 = 60;

fn planner() -> Planner<'static> {
    Planner::new(&[], FEW, &GO_ON)
}

fn read_as(of: &GeneratedWeek, rename: impl Fn(String) -> String) -> Week {
    let folder = tempfile::tempdir().unwrap();
    let path = of.write(folder.path());
    std::fs::write(&path, rename(of.text())).unwrap();
    let loaded = load(&path, &[]).unwrap_or_else(|findings| panic!("{findings:#?}"));
    loaded.week
}

fn read(of: &GeneratedWeek) -> Week {
    read_as(of, |text| text)
}

/// The class of an entry, which is its lesson's own name.
fn class(week: &Week, entry: EntryNo) -> String {
    week.entry(entry).unwrap().class.clone()
}

fn classes(week: &Week, set: &CoupledSet) -> Vec<String> {
    let mut all: Vec<String> = set.entries.iter().map(|e| class(week, *e)).collect();
    all.sort();
    all
}

/// All that is told of each day, by class.
fn told(week: &Week) -> BTreeMap<String, Vec<String>> {
    let planner = planner();
    let report = report_as_it_comes(week, &planner, Asked::default(), &|_| {});
    let mut days: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for told in &report.lessons {
        let entry = week.entry(told.entry).unwrap();
        let alone = told.alone.as_ref().map(|a| (a.served(), a.of(), a.plan.objective()));
        let line = format!("{}: {alone:?} {:?} {:?}", entry.class, told.needs, told.ovens);
        days.entry(entry.slot.date.to_string()).or_default().push(line);
    }
    for of in &report.contention {
        let mut by: Vec<String> = of.by.iter().map(|(e, _)| class(week, *e)).collect();
        by.sort();
        let what = match of.what {
            ovenbell::week::Thing::Ovens(_) => continue,
            what => what.name(week),
        };
        let line = format!("{what}: {} there, {:?} by {by:?}", of.there, of.wanted);
        days.entry(of.date.to_string()).or_default().push(line);
    }
    for setup in &report.setting_up {
        let line = format!("set out {:?}, lacking {}", setup.start_by, setup.lacks());
        days.entry(setup.date.to_string()).or_default().push(line);
    }
    for day in &week.days {
        for set in coupled_sets(week, &planner, day.date) {
            let found = set.found.as_ref().map(|f| (f.served, f.of, f.at_most, f.is_enough));
            let line = format!("together {:?}: {found:?}", classes(week, &set));
            days.entry(day.date.to_string()).or_default().push(line);
        }
    }
    days.values_mut().for_each(|lines| lines.sort());
    days
}

#[test]
fn order_names_and_other_days_change_nothing() {
    let mut together = 0;
    for seed in 0..how_many_lessons(1) {
        let of = week(seed, 4);
        let as_is = told(&read(&of));
        together += as_is.values().flatten().filter(|line| line.starts_with("together")).count();
        assert_eq!(told(&read(&of.clone().turned())), as_is, "week {seed} in another order");
        let rename = |text: String| text.replace("Room 1", "Zebra").replace("Room 3", "Attic");
        assert_eq!(told(&read_as(&of, rename)), as_is, "week {seed} with other names");
        for day in ["Tue", "Thu"] {
            let alone = told(&read(&of.clone().only(day)));
            for (date, lines) in &alone {
                assert_eq!(Some(lines), as_is.get(date), "week {seed}, {day} by itself");
            }
        }
    }
    assert!(together > 0, "nothing hung together");
}

/// The sets of two weeks that are of the same lessons: what was found, and what is
/// proved with more of something.
fn never_worse(fewer: &Week, more: &Week, what: &str) -> usize {
    let (before, after) = (planner(), planner());
    let mut looked = 0;
    for day in &fewer.days {
        let sets = coupled_sets(more, &after, day.date);
        for set in coupled_sets(fewer, &before, day.date) {
            let Some(found) = &set.found else { continue };
            let same = sets.iter().find(|other| classes(more, other) == classes(fewer, &set));
            // With more nothing may clash any more.
            let Some(with_more) = same.and_then(|other| other.found.as_ref()) else { continue };
            assert!(
                with_more.at_most >= found.served,
                "{what}: no more than {} of {:?} are out: proved; with fewer {} were",
                with_more.at_most,
                classes(fewer, &set),
                found.served
            );
            looked += 1;
        }
        let lacks = |week: &Week, planner: &Planner<'_>| {
            setting_up(week, planner, day.date).map_or(0, |setup| setup.lacks())
        };
        assert!(lacks(more, &after) <= lacks(fewer, &before), "{what}: more to set out");
    }
    looked
}

#[test]
fn more_of_what_is_shared_never_makes_the_proved_best_worse() {
    let mut looked = 0;
    for seed in 2..2 + how_many_lessons(2) {
        let of = week(seed, 4);
        let as_is = read(&of);
        let whisk = read(&of.clone().with_more(1));
        looked += never_worse(&as_is, &whisk, &format!("week {seed}, one more of all that moves"));
        let mut longer = of.clone();
        longer.technician_until += 1;
        let hour = format!("week {seed}, an hour of the technician more");
        looked += never_worse(&as_is, &read(&longer), &hour);
    }
    assert!(looked > 0, "nothing was compared");
}

fn served(lesson: &Lesson) -> (u32, u32) {
    let budget = Budget { within: None, decodings: Some(FEW), seed: 1 };
    let found = plan_lesson(lesson, &budget, &GO_ON, judge_of(lesson), |_| {}).unwrap();
    let at_most = found.judged.plan().bounds.map_or(u32::MAX, |bounds| bounds.served_at_most);
    (found.judged.objective().served, at_most)
}

#[test]
fn the_fewest_ovens_are_confirmed_by_one_fewer_and_one_more() {
    let mut looked = (0, 0);
    for seed in 4..4 + how_many_lessons(2) {
        let week = read(&week(seed, 5));
        let planner = planner();
        for entry in &week.entries {
            let Some(alone) = planner.alone(&week, entry) else { continue };
            let Some(needs) = planner.needs(&week, entry) else { continue };
            let nameless = |oven: &Oven| Oven { name: String::new(), ..oven.clone() };
            let ovens = &alone.lesson.ovens;
            if ovens.iter().any(|oven| nameless(oven) != nameless(&ovens[0])) {
                continue;
            }
            let with = |count: usize| {
                let mut parts = alone.lesson.clone().into_parts();
                parts.ovens.iter_mut().skip(count).for_each(|oven| oven.out_of_order = true);
                served(&Lesson::new(parts).unwrap())
            };
            let (fewest, all) = (needs.ovens as usize, alone.of());
            assert_eq!(with(fewest).0, all, "week {seed}, {:?}", entry.number);
            if fewest < ovens.len() {
                assert_eq!(with(fewest + 1).0, all, "week {seed}, {:?}: one more", entry.number);
                looked.1 += 1;
            }
            if fewest > 0 {
                let (found, at_most) = with(fewest - 1);
                assert!(found < all, "week {seed}, {:?}: one fewer", entry.number);
                assert!(!needs.proved || at_most < all, "week {seed}, {:?}", entry.number);
                looked.0 += 1;
            }
        }
    }
    assert!(looked.0 > 0, "{looked:?}");
}
