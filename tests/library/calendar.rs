//! Calendars of lessons: read by another program, entry by entry the plan's own
//! times, in both halves of the year.

use std::path::Path;

use chrono::{DateTime, Duration, NaiveDateTime, SecondsFormat, TimeZone, Utc};
use ovenbell::check::CheckedPlan;
use ovenbell::export::calendar::{CalendarFault, calendar, is_ours};
use ovenbell::file::read_lesson;
use ovenbell::model::Lesson;
use ovenbell::play::{Job, Task, jobs};
use ovenbell::units::Minute;
use ovenbell::view::technicians_day::ForLesson;

use crate::common::planned::planned;

fn now() -> DateTime<Utc> {
    Utc.with_ymd_and_hms(2026, 9, 1, 8, 0, 0).unwrap()
}

fn lesson_on(date: &str, zone: &str) -> Lesson {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/demo.ron");
    let text = std::fs::read_to_string(path).unwrap();
    let from = text.find("date: \"").unwrap() + 7;
    let text = format!("{}{date}{}", &text[..from], &text[from + 10..]);
    let text = match zone {
        "" => text,
        zone => text.replacen("date: ", &format!("zone: \"{zone}\", date: "), 1),
    };
    read_lesson(&text).unwrap().lesson
}

fn alone<'a>(lesson: &'a Lesson, plan: &'a CheckedPlan) -> ForLesson<'a> {
    ForLesson { lesson, plan, set_out: None }
}

fn of(lesson: &Lesson, plan: &CheckedPlan) -> String {
    calendar(&[(alone(lesson, plan), Some("heron-4c2f"))], now()).unwrap()
}

/// Unfolded lines of each entry.
fn entries(text: &str) -> Vec<Vec<String>> {
    let text = text.replace("\r\n ", "");
    let mut all = Vec::new();
    for part in text.split("BEGIN:VEVENT\r\n").skip(1) {
        let part = part.split("END:VEVENT").next().unwrap();
        all.push(part.split("\r\n").map(str::to_owned).collect());
    }
    all
}

fn value<'a>(entry: &'a [String], key: &str) -> &'a str {
    let line = entry.iter().find(|l| l.starts_with(key)).unwrap();
    line.split_once(':').unwrap().1
}

/// A calendar up to the end of its first entry, which is the lesson itself.
fn up_to_first(text: &str) -> &str {
    &text[..text.find("END:VEVENT").unwrap()]
}

/// The calendars kept beside were read by the Python package icalendar, which
/// wrote down the instants of their entries (`tests/differential/read_calendar.py`).
/// What is written of the zone and of the lesson must be what it has read.
#[test]
fn another_program_reads_the_same_instants_in_summer_and_winter() {
    let kept = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/data/calendar");
    // The days before and after the clocks change; hours that the clocks are ahead.
    for (date, zone, ahead) in [
        ("2026-03-27", "Europe/London", 0),
        ("2026-03-30", "Europe/London", 1),
        ("2026-10-23", "Europe/London", 1),
        ("2026-10-26", "Europe/London", 0),
        ("2026-11-02", "America/New_York", -5),
    ] {
        let lesson = lesson_on(date, zone);
        let text = of(&lesson, &planned(&lesson, 50));
        let name = format!("{date}-{}", zone.replace('/', "-"));
        let ics = kept.join(format!("{name}.ics"));
        if std::env::var_os("OVENBELL_KEEP").is_some() {
            std::fs::create_dir_all(&kept).unwrap();
            std::fs::write(&ics, &text).unwrap();
            continue;
        }
        let read = std::fs::read_to_string(&ics).unwrap();
        assert_eq!(up_to_first(&text), up_to_first(&read), "{name} is another text");
        let instants = std::fs::read_to_string(kept.join(format!("{name}.csv"))).unwrap();
        let first: Vec<&str> = instants.lines().next().unwrap().split(',').collect();
        let at = |clock| {
            let at: DateTime<Utc> = format!("{date}T{clock}:00Z").parse().unwrap();
            (at - Duration::hours(ahead)).to_rfc3339_opts(SecondsFormat::Secs, true)
        };
        assert_eq!(first, ["heron-4c2f-lesson-1@ovenbell", &at("10:05"), &at("11:10")], "{name}");
    }
}

#[test]
fn every_call_and_every_setting_of_the_plan_is_in_it_once() {
    let lesson = lesson_on("2026-11-26", "");
    let plan = planned(&lesson, 200);
    let text = of(&lesson, &plan);
    let minutes = |kind: &str| {
        let all = entries(&text);
        let of_kind = all.iter().filter(|e| value(e, "UID").contains(kind));
        let minute = |entry: &Vec<String>| {
            let format = "%Y%m%dT%H%M%S";
            let at = NaiveDateTime::parse_from_str(value(entry, "DTSTART"), format).unwrap();
            let bell = NaiveDateTime::parse_from_str("20261126T100500", format).unwrap();
            i32::try_from((at - bell).num_minutes()).unwrap()
        };
        let mut minutes: Vec<i32> = of_kind.map(minute).collect();
        minutes.sort_unstable();
        minutes
    };
    let mut calls: Vec<(usize, i32)> =
        plan.plan().loads.iter().map(|l| (l.oven.0, l.start.get())).collect();
    calls.sort_unstable();
    calls.dedup();
    let mut calls: Vec<i32> = calls.into_iter().map(|(_, minute)| minute).collect();
    calls.sort_unstable();
    assert_eq!(minutes("-call-"), calls);
    let mut on: Vec<i32> = plan.plan().settings.iter().map(|s| s.set_at.get()).collect();
    on.sort_unstable();
    assert_eq!(minutes("-set-"), on);
    assert_eq!(text.matches("BEGIN:VALARM").count(), on.len());
}

/// Sets weighed one after another are one entry, which says for whom, what and where.
#[test]
fn steps_of_one_job_in_a_row_are_one_entry() {
    let lesson = lesson_on("2026-11-26", "");
    let plan = planned(&lesson, 50);
    let text = of(&lesson, &plan);
    let all = entries(&text);
    let before: Vec<_> = all.iter().filter(|e| value(e, "UID").contains("-before-")).collect();
    let told = jobs(&lesson, &plan).jobs.into_iter();
    let single: Vec<Job> = told.filter(|j| matches!(j.task, Task::Beforehand(..))).collect();
    assert!(before.len() < single.len() && !before.is_empty(), "{before:#?}");
    let at = |entry: &Vec<String>, key: &str| {
        NaiveDateTime::parse_from_str(value(entry, key), "%Y%m%dT%H%M%S").unwrap()
    };
    let minutes = |entry: &&Vec<String>| (at(entry, "DTEND") - at(entry, "DTSTART")).num_minutes();
    let asked: i32 = single.iter().map(|job| (job.until - job.start_by).get()).sum();
    assert_eq!(before.iter().map(minutes).sum::<i64>(), i64::from(asked));
    for entry in &before {
        let title = value(entry, "SUMMARY");
        assert!(title.contains(" beforehand: ") && title.ends_with("9 Harbour"), "{title}");
        let is_made = |recipe: &ovenbell::model::Recipe| title.contains(&recipe.name);
        assert!(lesson.recipes.iter().any(is_made), "{title}");
        assert_eq!(value(entry, "LOCATION"), "Room 4");
        assert!(value(entry, "DESCRIPTION").contains("for Unit "), "{entry:?}");
    }
    let is_of_class = |e: &Vec<String>| value(e, "SUMMARY").ends_with("9 Harbour");
    assert!(all.iter().all(is_of_class), "{all:#?}");
}

/// One technician sets out for two lessons: in a calendar, too, one after the other.
#[test]
fn what_is_set_out_for_several_lessons_is_not_at_once() {
    let lesson = |class: &str| {
        let mut parts = lesson_on("2026-11-26", "").into_parts();
        let technician = parts.adults.iter_mut().find(|a| a.name == "technician").unwrap();
        technician.hours = vec![(Minute::new(-120), Minute::new(30))];
        parts.class.name = class.to_owned();
        Lesson::new(parts).unwrap()
    };
    let (one, other) = (lesson("9A"), lesson("9B"));
    let plan = planned(&one, 50);
    let text =
        calendar(&[(alone(&one, &plan), Some("a")), (alone(&other, &plan), Some("b"))], now());
    let text = text.unwrap();
    let all = entries(&text);
    let before = all.iter().filter(|e| value(e, "UID").contains("-before-"));
    let mut spans: Vec<(&str, &str)> =
        before.map(|e| (value(e, "DTSTART"), value(e, "DTEND"))).collect();
    spans.sort_unstable();
    assert_eq!(
        spans,
        [("20261126T081500", "20261126T091000"), ("20261126T091000", "20261126T100500")]
    );
}

#[test]
fn without_a_zone_times_are_those_on_the_wall() {
    let lesson = lesson_on("2026-11-26", "");
    let text = of(&lesson, &planned(&lesson, 50));
    let first = &entries(&text)[0];
    assert_eq!(value(first, "DTSTART"), "20261126T100500");
    assert!(!text.contains("VTIMEZONE") && !text.contains("TZID"));
}

#[test]
fn entries_keep_their_names_when_a_lesson_is_planned_for_another_day() {
    let names = |date| {
        let lesson = lesson_on(date, "Europe/London");
        let text = of(&lesson, &planned(&lesson, 50));
        assert!(is_ours(&text));
        let all = entries(&text);
        let mut names: Vec<String> = all.iter().map(|e| value(e, "UID").to_owned()).collect();
        names.sort();
        let before = names.len();
        names.dedup();
        assert_eq!(names.len(), before, "two entries of one name");
        names
    };
    assert_eq!(names("2026-11-26"), names("2026-12-03"));
}

#[test]
fn long_lines_are_folded_and_commas_are_no_ends() {
    let mut parts = lesson_on("2026-11-26", "").into_parts();
    parts.title = "Buns, tarts; a \\ and pâté ".repeat(6);
    let lesson = Lesson::new(parts).unwrap();
    let text = of(&lesson, &planned(&lesson, 50));
    // RFC 5545, 3.1: no more than 75 octets without the line break.
    assert!(text.split("\r\n").all(|line| line.len() <= 75));
    let first = entries(&text).swap_remove(0);
    // 3.3.11: commas, semicolons and backslashes are escaped.
    assert!(value(&first, "SUMMARY").starts_with(r"Buns\, tarts\; a \\ and pâté Buns"));
}

#[test]
fn a_bell_that_the_clocks_leap_over_is_told_of() {
    let mut parts = lesson_on("2026-03-29", "Europe/London").into_parts();
    // The clocks go from 1:00 to 2:00.
    parts.periods[0].start_clock = ovenbell::units::ClockTime::parse("01:10").unwrap();
    let lesson = Lesson::new(parts).unwrap();
    let fault = calendar(&[(alone(&lesson, &planned(&lesson, 50)), None)], now()).unwrap_err();
    assert_eq!(fault.0, 0);
    assert!(matches!(fault.1, CalendarFault::NoSuchTime { zone: "Europe/London", .. }));
    let mut parts = lesson.into_parts();
    parts.date = None;
    let lesson = Lesson::new(parts).unwrap();
    let fault = calendar(&[(alone(&lesson, &planned(&lesson, 50)), None)], now()).unwrap_err();
    assert_eq!(fault, (0, CalendarFault::NoDate));
}
