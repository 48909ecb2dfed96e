//! What is printed is the checked plan's, and no more than its reader may know.

use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

use chrono::NaiveDate;
use ovenbell::check::{CheckedPlan, Verdict};
use ovenbell::file::read_lesson;
use ovenbell::model::{Lesson, LessonParts, OvenId};
use ovenbell::papers::layout::lay_out;
use ovenbell::papers::paper::Print;
use ovenbell::papers::plain_text::plain_text;
use ovenbell::papers::sheet::Block;
use ovenbell::papers::typeface::Typeface;
use ovenbell::papers::{self, Part};
use ovenbell::plan::{KitUse, Stock};
use ovenbell::units::{ClockTime, Minute};
use ovenbell::view::rows::verdict_words;
use ovenbell::view::technicians_day::{ForLesson, TechniciansDay};
use ovenbell::view::words::clock;

use super::{
    DECODINGS, as_it_is, head, lesson, matter, pages, plan_json, printed, run_together, times,
    words_of,
};
use crate::common::planned::planned;

/// The times of a plan by its JSON, and what each is of, with the bells, when
/// ovens are set, and when a bake is first looked at, from the lesson's own
/// figures.
fn planned_times(lesson: &Lesson, plan: &CheckedPlan) -> BTreeMap<String, Vec<String>> {
    let json = plan_json(lesson, plan);
    let mut known: BTreeMap<String, Vec<String>> = BTreeMap::new();
    let mut add = |minute: i64, what: String| {
        let minute = Minute::new(i32::try_from(minute).unwrap());
        known.entry(clock(lesson, minute).to_string()).or_default().push(what);
    };
    for (list, name, ends) in [
        ("steps", "step", ["start", "end"]),
        ("class_steps", "name", ["start", "end"]),
        ("loads", "group", ["in", "out"]),
        ("jobs", "what", ["start_by", "until"]),
    ] {
        for entry in json[list].as_array().unwrap() {
            for end in ends {
                add(entry[end].as_i64().unwrap(), format!("{} {end}", entry[name]));
            }
        }
    }
    for period in &lesson.periods {
        add(i64::from(period.start.get()), "bell".to_owned());
        add(i64::from(period.end.get()), "bell".to_owned());
    }
    for setting in &plan.plan().settings {
        for minute in [setting.set_at, setting.hot_from, setting.until] {
            add(i64::from(minute.get()), "oven".to_owned());
        }
    }
    for load in &plan.plan().loads {
        let choice = plan.plan().choice(load.group).unwrap();
        let method = lesson.method_of(load.group, choice.method);
        let (_, bake, _) = method.bake_steps().unwrap();
        let baking = plan.plan().steps.iter().find(|s| s.group == load.group && s.step == bake);
        let (start, end) = (baking.unwrap().start.get(), baking.unwrap().end.get());
        let tin = lesson.tin_choice_of(load.group, choice.tin.unwrap());
        let quick = tin.minutes_at(load.celsius).unwrap().quick().rounded_up().get();
        let rules = lesson.recipe_of(load.group).bake;
        let shut = rules.shut.map_or(0, |shut| {
            let share = rules.shut_share * f64::from(end - start);
            let shut = shut.value.get().min(share);
            (shut - 1e-6).ceil() as i32
        });
        add(i64::from(start + shut), "shut".to_owned());
        add(i64::from(start + quick.max(shut).min(end - start)), "check".to_owned());
    }
    known
}

#[test]
fn every_time_on_paper_is_the_plans() {
    for name in ["demo.ron", "a-scones-hour.ron", "b-rolls-double.ron"] {
        let lesson = lesson(name);
        let plan = planned(&lesson, DECODINGS);
        let known = planned_times(&lesson, &plan);
        let parts = [Part::RunningOrder, Part::OvenSheet, Part::TimePlans, Part::Requisition];
        let made = printed(&lesson, &plan, &parts, Print::default());
        let all = pages(&made.bytes);
        for text in &all {
            for time in times(text) {
                let issued = time == "03:33";
                assert!(issued || known.contains_key(&time), "{name}: {time} in {text}");
            }
        }
        assert!(all.iter().all(|text| times(text).contains("03:33")), "issued is on every page");
    }
}

#[test]
fn every_bake_and_call_is_told() {
    let lesson = lesson("demo.ron");
    let plan = planned(&lesson, DECODINGS);
    let json = plan_json(&lesson, &plan);
    let text = |part| pages(&printed(&lesson, &plan, &[part], Print::default()).bytes).join(" ");
    let (order, ovens) = (text(Part::RunningOrder), text(Part::OvenSheet));
    let at = |minute: &serde_json::Value| {
        clock(&lesson, Minute::new(i32::try_from(minute.as_i64().unwrap()).unwrap())).to_string()
    };
    let steps = json["steps"].as_array().unwrap();
    for load in json["loads"].as_array().unwrap() {
        let out = steps.iter().find(|s| s["group"] == load["group"] && s["step"] == "take out");
        for time in [at(&load["in"]), at(&out.unwrap()["start"])] {
            assert!(times(&ovens).contains(&time), "{time} of {load} is not on the oven sheet");
            assert!(times(&order).contains(&time), "{time} of {load} is not in the running order");
        }
        let name = load["group"].as_str().unwrap();
        assert!(run_together(&ovens).contains(&run_together(name)), "{name} has no oven");
    }
    for step in json["class_steps"].as_array().unwrap() {
        assert!(times(&order).contains(&at(&step["start"])), "{step} is not called");
    }
    assert!(order.contains("CHECK FROM") && ovens.contains("DONE WHEN"));
    let plans = pages(&printed(&lesson, &plan, &[Part::TimePlans], Print::default()).bytes);
    assert_eq!(plans.len(), 8, "one for each unit");
    for (group, text) in lesson.groups.iter().zip(&plans) {
        let own = steps.iter().filter(|s| s["group"] == group.name.as_str());
        let own = own.filter(|s| s["step"] != "weigh" && s["step"] != "zest and juice");
        for step in own {
            assert!(times(text).contains(&at(&step["start"])), "{step}");
        }
    }
}

/// What nothing that hangs on a wall or leaves with a pupil may tell.
#[test]
fn walls_tell_of_no_need_pace_or_verdict() {
    let mut parts = lesson("demo.ron").into_parts();
    for group in &mut parts.groups {
        group.needs = vec!["xylophone-free".to_owned()];
    }
    parts.groups[2].pace = 1.37;
    let lesson = Lesson::new(parts).unwrap();
    let plan = planned(&lesson, DECODINGS);
    let matter = matter(&lesson, Some(&plan));
    let mut open: Vec<Part> = Part::ALL.into_iter().filter(|part| part.is_open()).collect();
    assert!(open.len() >= 6);
    // What goes to the office tells nothing of them either.
    open.push(Part::OrderList);
    let (sheets, _) = papers::sheets(&matter, &open, "");
    let mut told = 0;
    let typeface = Typeface::new().unwrap();
    for sheet in &sheets {
        let mut text = plain_text(sheet, &head(&lesson), &as_it_is);
        let laid = lay_out(sheet, &head(&lesson), Print::default(), (&typeface, &as_it_is));
        let words = laid.pages.iter().flat_map(words_of).map(|w| w.text.clone());
        text.push_str(&words.collect::<Vec<_>>().join(" "));
        let text = text.to_lowercase();
        let verdicts = [
            Verdict::LeftOut,
            Verdict::Tight,
            Verdict::NotRealistically,
            Verdict::CannotAll,
            Verdict::Cannot,
        ];
        let words = verdicts.map(verdict_words).map(str::to_lowercase);
        let mut never: Vec<&str> = words.iter().map(String::as_str).collect();
        never.extend(["xylophone", "1.37", "137", "pace", "to spare", "kept apart", "verdict"]);
        for word in never {
            assert!(!text.contains(word), "\"{word}\" stands on {}", sheet.title());
        }
        told += text.len();
    }
    assert!(told > 2_000, "the sheets were not found");
    let for_staff = papers::sheets(&matter, &[Part::Requisition], "").0;
    let text = plain_text(&for_staff[0], &head(&lesson), &as_it_is);
    assert!(text.contains("xylophone-free"), "whoever weighs out must know");
}

#[test]
fn without_a_plan_the_rest_is_printed() {
    let lesson = lesson("demo.ron");
    let matter = matter(&lesson, None);
    let (sheets, left_out) = papers::sheets(&matter, &Part::ALL, "there is no plan of it");
    let printed: Vec<Part> = sheets.iter().map(|sheet| sheet.part).collect();
    let left: Vec<Part> = left_out.iter().map(|l| l.part).collect();
    assert_eq!(left, Part::ALL.into_iter().filter(|p| p.wants_plan()).collect::<Vec<_>>());
    assert!(left_out.iter().all(|l| l.why == "there is no plan of it"));
    assert!(
        [Part::Requisition, Part::Labels, Part::LetterHome].iter().all(|p| printed.contains(p))
    );
}

/// Sets have their own minutes, one after another, that which is kept apart
/// first; and where the day is too short for them, it says so.
#[test]
fn the_technicians_day_is_in_the_order_of_time() {
    for from in [-30, -60] {
        let mut parts = lesson("demo.ron").into_parts();
        let technician = parts.adults.iter_mut().find(|a| a.name == "technician").unwrap();
        technician.hours = vec![(Minute::new(from), Minute::new(30))];
        let lesson = Lesson::new(parts).unwrap();
        the_technicians_day_from(&lesson, from == -30);
    }
}

fn the_technicians_day_from(lesson: &Lesson, is_late: bool) {
    let plan = planned(lesson, DECODINGS);
    let of_it = matter(lesson, Some(&plan));
    let (sheets, _) = papers::sheets(&of_it, &[Part::TechniciansDay], "");
    let text = plain_text(&sheets[0], &head(lesson), &as_it_is);
    // Eight times five minutes and three for five units, from 10:05 back.
    let first = "09:10\t5\tWeigh beforehand for Unit 8: kept apart, on a covered tray\tRoom 4";
    assert!(text.contains(first), "{text}");
    let table = sheets[0].blocks.iter().find_map(|block| match block {
        Block::Table(table) => Some(table),
        _ => None,
    });
    let starts: Vec<&str> = table.unwrap().rows.iter().map(|row| row.cells[0].words()).collect();
    assert!(starts.is_sorted() && starts[0] == "09:10", "{starts:?}");
    assert_eq!(text.contains("Cannot be as it stands"), is_late, "{text}");
    assert_eq!(text.contains("the technician is there 09:35 to 10:35"), is_late, "{text}");
}

/// Two lessons at once want one technician in two rooms: one is set out before the
/// other, and where there is no time for both, that is told; of two days nothing of the
/// kind.
#[test]
fn what_several_lessons_want_at_once_is_set_out_one_after_the_other() {
    let demo_from = |from: i32, more: &dyn Fn(&mut LessonParts)| {
        let mut parts = lesson("demo.ron").into_parts();
        let technician = parts.adults.iter_mut().find(|a| a.name == "technician").unwrap();
        technician.hours = vec![(Minute::new(from), Minute::new(30))];
        more(&mut parts);
        Lesson::new(parts).unwrap()
    };
    let other = |parts: &mut LessonParts| parts.title = "The other one".to_owned();
    let next_day = |parts: &mut LessonParts| {
        parts.title = "The other one".to_owned();
        parts.date = NaiveDate::from_ymd_opt(2026, 11, 27);
    };
    // Each takes 55 minutes before 10:05.
    let lacks = "Thursday 26 November, by 10:05, Weigh";
    for (from, other, lacking, starts) in [
        (-60, demo_from(-60, &other), true, ["09:05", "09:10"]),
        (-110, demo_from(-110, &other), false, ["08:15", "09:10"]),
        (-60, demo_from(-60, &next_day), false, ["09:10", "09:10"]),
    ] {
        let one = demo_from(from, &|_| {});
        let plan = planned(&one, DECODINGS);
        let both = [matter(&one, Some(&plan)), matter(&other, Some(&plan))];
        let (sheets, left_out) = papers::common_sheets(&both, &Part::ALL, "");
        assert!(left_out.is_empty());
        let parts: Vec<Part> = sheets.iter().map(|sheet| sheet.part).collect();
        assert_eq!(parts, [Part::TechniciansDay, Part::OrderList]);
        let text = |i: usize| plain_text(&sheets[i], &head(&one), &as_it_is);
        assert_eq!(text(0).contains(lacks), lacking, "{}", text(0));
        assert_eq!(text(0).contains("there is time for 5 of its 55 min"), lacking);
        assert_eq!(text(0).contains("Friday 27 November 2026"), other.date != one.date);
        let weighs = text(0);
        let weighs = weighs
            .lines()
            .filter(|line| line.contains("covered tray\t") || line.contains("covered tray;"));
        let begun: Vec<&str> = weighs.filter(|line| line.contains('\t')).map(|l| &l[..5]).collect();
        assert_eq!(begun, starts, "{}", text(0));
        // Twice what one of them orders: 4 sets of 100 g, and a spare one, of each.
        assert!(text(1).contains("lemon bake (Lemon bakes and a sponge, The other one)"));
    }
}

/// Whoever the technician's day has for the ovens, the oven sheet has too: a teacher who
/// is there is not made to come before the bell.
#[test]
fn the_oven_sheet_and_the_technicians_day_name_the_same() {
    for (name, is_theirs, by) in [
        ("demo.ron", true, "(technician)"),
        ("a-scones-hour.ron", false, "(nobody is named for it)"),
    ] {
        let lesson = lesson(name);
        let plan = planned(&lesson, DECODINGS);
        let day = ForLesson { lesson: &lesson, plan: &plan, set_out: None };
        let duties = TechniciansDay::of(&[day]).duties;
        let on: Vec<_> = duties.iter().filter(|duty| duty.what.starts_with("Switch")).collect();
        assert!(!on.is_empty() && on.iter().all(|duty| duty.is_theirs == is_theirs), "{on:?}");
        let of_it = matter(&lesson, Some(&plan));
        let (sheets, _) = papers::sheets(&of_it, &[Part::OvenSheet], "");
        let text = plain_text(&sheets[0], &head(&lesson), &as_it_is);
        assert!(text.contains("On at "), "{text}");
        for line in text.lines().filter(|line| line.contains("On at ")) {
            let on = line.split("On at ").nth(1).unwrap();
            assert!(on[5..].trim_start().starts_with(by), "{line}");
        }
    }
}

/// A set too many is counted for a pair that is not out, and the requisition says why it
/// has more of them than are weighed beforehand.
#[test]
fn the_requisition_says_whose_sets_are_not_weighed() {
    for broken in [0, 4] {
        let mut parts = lesson("week/sponge.ron").into_parts();
        parts.ovens.iter_mut().take(broken).for_each(|oven| oven.out_of_order = true);
        let lesson = Lesson::new(parts).unwrap();
        let plan = planned(&lesson, DECODINGS);
        let left: Vec<String> = lesson
            .attending()
            .filter(|&group| plan.plan().choice(group).is_none())
            .map(|group| lesson.group(group).name.clone())
            .collect();
        assert_eq!(left.is_empty(), broken == 0, "{left:?}");
        let of_it = matter(&lesson, Some(&plan));
        let (sheets, _) = papers::sheets(&of_it, &[Part::Requisition], "");
        let text = plain_text(&sheets[0], &head(&lesson), &as_it_is);
        let said = text.lines().find(|line| line.contains("Not out by the plan: "));
        assert_eq!(said.is_some(), broken > 0, "{text}");
        if let (Some(said), [first, .., last]) = (said, left.as_slice()) {
            assert!(said.contains(first.as_str()) && said.contains(last.as_str()), "{said}");
            assert!(said.contains("is for the others"), "{said}");
        }
    }
}

#[test]
fn a_bake_is_done_by_the_recipes_test_and_not_by_what_is_done_at_loading() {
    let told = |bake: &str| {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/a-scones-hour.ron");
        let text = fs::read_to_string(path).unwrap();
        let own = text.lines().find(|line| line.contains("(name: \"bake\", kind: Bake")).unwrap();
        let text = text.replace(own, &format!("{bake},"));
        let lesson = read_lesson(&text).unwrap().lesson;
        let plan = planned(&lesson, DECODINGS);
        let parts = [Part::OvenSheet, Part::TimePlans];
        let text = pages(&printed(&lesson, &plan, &parts, Print::default()).bytes).concat();
        run_together(&text)
    };
    let with_words = "(name: \"bake\", kind: Bake, pupil_words: \"Door shut.\"";
    let tested = told(&format!("{with_words}, done_when: \"Sides spring back.\")"));
    let by_the_test = |words: &str| format!("Donewhen:{}.", run_together(words));
    assert!(tested.contains(&by_the_test("Sides spring back")), "{tested}");
    let untested = told(&format!("{with_words})"));
    assert!(untested.contains(&by_the_test("the recipe's done test")), "{untested}");
    for told in [tested, untested] {
        assert!(!told.contains("Donewhen:Door"), "{told}");
    }
}

#[test]
fn the_requisition_lists_the_kit_that_is_used_and_no_other() {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/demo.ron");
    let text = fs::read_to_string(path).unwrap();
    let with_more = text.replacen("kit: {", "kit: {\"jam pan\": 3, ", 1);
    assert_ne!(with_more, text);
    let lesson = read_lesson(&with_more).unwrap().lesson;
    let plan = planned(&lesson, DECODINGS);
    let matter = matter(&lesson, Some(&plan));
    let (sheets, _) = papers::sheets(&matter, &[Part::Requisition], "no plan");
    let is_of_kit = |b: &&Block<'_>| matches!(b, Block::Prose(words) if words.contains("cloths"));
    let Some(Block::Prose(words)) = sheets[0].blocks.iter().find(is_of_kit) else { panic!() };
    assert!(!words.contains("jam pan"), "{words}");
    // So many are in use at once at some time, and no more than are there.
    for (i, kind) in lesson.kit_kinds.iter().enumerate() {
        let is_it = |used: &&KitUse| matches!(used.of, Stock::Kit(pool) if lesson.kit_pools[pool.0].kit.0 == i);
        let uses: Vec<&KitUse> = plan.plan().uses.iter().filter(is_it).collect();
        let at = |minute| {
            let now = uses.iter().filter(|u| u.start <= minute && minute < u.end);
            now.map(|u| u.items.len()).sum::<usize>()
        };
        let most = uses.iter().map(|u| at(u.start)).max().unwrap_or(0);
        let there: u32 = lesson.kit_pools.iter().filter(|p| p.kit.0 == i).map(|p| p.count).sum();
        let ends = format!(" × {}", kind.name);
        let listed = words.split([',', ';']).flat_map(|part| part.split(" and "));
        let listed = listed.map(str::trim).find_map(|part| part.strip_suffix(&ends));
        let listed: usize = listed.map_or(0, |n| n.parse().unwrap());
        assert!(most <= listed && listed <= there as usize, "{}: {most}, {words}", kind.name);
        assert_eq!(listed == 0, uses.is_empty(), "{}: {words}", kind.name);
    }
}

#[test]
fn the_oven_sheet_names_every_oven() {
    let lesson = lesson("demo.ron");
    let plan = planned(&lesson, DECODINGS);
    let of_it = matter(&lesson, Some(&plan));
    let (sheets, _) = papers::sheets(&of_it, &[Part::OvenSheet], "");
    let text = plain_text(&sheets[0], &head(&lesson), &as_it_is);
    for oven in (0..lesson.ovens.len()).map(OvenId) {
        assert!(text.contains(&lesson.ovens[oven.0].name));
    }
    let first = lesson.periods[0].start_clock;
    assert!(times(&text).iter().all(|t| ClockTime::parse(t).is_ok()));
    assert!(text.contains(&first.to_string()), "the bell stands at the head");
}
