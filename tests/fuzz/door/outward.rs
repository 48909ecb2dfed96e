//! All that is told of a plan: to people, to programs, on paper.

use std::time::Duration;

use chrono::{DateTime, Utc};
use ovenbell::check::{CheckedPlan, Verdict};
use ovenbell::export::json::PlanningTime;
use ovenbell::export::why::{self, WhyReport};
use ovenbell::export::{calendar, json, problem, table, text};
use ovenbell::graph::expand;
use ovenbell::model::{GroupId, Lesson};
use ovenbell::papers::head::Head;
use ovenbell::papers::paper::Print;
use ovenbell::papers::{Matter, Part, print, sheets};
use ovenbell::planner::explain::{ExplainLimits, explain};
use ovenbell::speech::English;
use ovenbell::speech::allergens::list;
use ovenbell::stores::{Extra, Stores};
use ovenbell::view::technicians_day::ForLesson;
use serde_json::Value;

use crate::input::Input;

/// Everything that is told of a plan; what is dear, of one in so many.
pub fn told(input: &Input<'_>, (lesson, plan): (&Lesson, &CheckedPlan)) {
    assert!(!text::answer(lesson, plan).is_empty());
    // It plays the plan many times.
    if input.is_one_in(4) {
        let timing = PlanningTime { decodings: 1, ..PlanningTime::default() };
        is_json(&json::answer(lesson, (plan, false), timing).unwrap());
    }
    is_json(&problem::problem(lesson, &expand(lesson)).unwrap());
    let table = table::table(lesson, plan).unwrap();
    let rows = csv::Reader::from_reader(&*table).into_records();
    assert!(rows.map(Result::unwrap).count() > 0 || plan.objective().served == 0);
    // A lesson without a day has no calendar, and says so.
    match calendar::calendar(
        &[(ForLesson { lesson, plan, set_out: None }, None)],
        DateTime::<Utc>::UNIX_EPOCH,
    ) {
        Ok(text) => assert!(text.ends_with("END:VCALENDAR\r\n"), "{text}"),
        Err((_, fault)) => assert!(!fault.to_string().is_empty()),
    }
    if input.is_one_in(4) {
        explained((lesson, plan));
    }
    if input.is_one_in(64) {
        on_paper((lesson, plan));
    }
}

fn is_json(text: &str) {
    serde_json::from_str::<Value>(text).unwrap_or_else(|e| panic!("{e}\n{text}"));
}

fn explained((lesson, plan): (&Lesson, &CheckedPlan)) {
    let is_out = |g: &GroupId| match plan.group_outcomes()[g.0].verdict {
        Verdict::Fits | Verdict::Tight | Verdict::LeftOut => false,
        Verdict::Cannot | Verdict::CannotAll | Verdict::NotRealistically => true,
    };
    let groups: Vec<GroupId> = lesson.attending().filter(is_out).collect();
    let limits = ExplainLimits { within: Duration::from_millis(200), conflicts: 200, stop: None };
    let explained = explain(lesson, &groups, limits);
    assert_eq!(explained.len(), groups.len());
    let report = WhyReport {
        lesson,
        plan,
        groups: &groups,
        tin: None,
        explained: &explained,
        hangs_on: &[],
        time_ran_out: true,
    };
    is_json(&why::json(report).unwrap());
    assert!(!why::text(report).is_empty());
}

fn on_paper((lesson, plan): (&Lesson, &CheckedPlan)) {
    let matter = Matter {
        lesson,
        plan: Some(plan),
        stores: Stores::of(lesson, Some(plan), Extra::usual(lesson)),
        set_out: None,
        allergens: list(English::British),
    };
    let head = Head::of(lesson, DateTime::<Utc>::UNIX_EPOCH.naive_utc());
    let (all, _) = sheets(&matter, &Part::ALL, "no plan");
    let printed = print(&all, &head, Print::default(), ("en-GB", &str::to_owned)).unwrap();
    assert!(printed.bytes.starts_with(b"%PDF"));
}
