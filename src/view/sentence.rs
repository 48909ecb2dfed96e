//! The outcome in one sentence, and the most useful thing to know next.

use super::words::{capital, list, minutes, number};
use crate::check::{CheckedPlan, Verdict};
use crate::model::{GroupId, Lesson};
use crate::plan::NotServed;

/// "Seven of eight groups are out by the bell."
pub fn outcome(lesson: &Lesson, plan: &CheckedPlan) -> String {
    let of = lesson.attending().count();
    let served = usize::try_from(plan.objective().served).unwrap_or(usize::MAX);
    match (served, of) {
        (_, 0) => "No group takes part.".to_owned(),
        (0, 1) => "The one group is not out by the bell.".to_owned(),
        (1, 1) => "The one group is out by the bell.".to_owned(),
        (0, of) => format!("None of the {} groups is out by the bell.", number(of)),
        (served, of) if served == of => {
            format!("All {} groups are out by the bell.", number(of))
        }
        (served, of) => {
            let are = if served == 1 { "is" } else { "are" };
            format!("{} of {} groups {are} out by the bell.", capital(&number(served)), number(of))
        }
    }
}

/// What to know next: why groups are not served, which depart from their
/// first choice, who is tight; else how much is to spare.
pub fn next(lesson: &Lesson, plan: &CheckedPlan) -> String {
    let unserved: Vec<&NotServed> = plan
        .plan()
        .not_served
        .iter()
        .filter(|n| plan.group_outcomes()[n.group.0].verdict != Verdict::LeftOut)
        .collect();
    if let Some(first) = unserved.first() {
        let alike: Vec<String> = unserved
            .iter()
            .filter(|n| n.reason == first.reason)
            .map(|n| lesson.group(n.group).name.clone())
            .collect();
        return format!("{}: {}", names(&alike), first.reason);
    }
    let departed: Vec<GroupId> = lesson
        .attending()
        .filter(|&g| plan.group_outcomes()[g.0].departure.is_some_and(|d| d > 0))
        .collect();
    if let Some(&group) = departed.first() {
        return departure(lesson, plan, group, departed.len());
    }
    let tight: Vec<String> = lesson
        .attending()
        .filter(|&g| plan.group_outcomes()[g.0].verdict == Verdict::Tight)
        .map(|g| lesson.group(g).name.clone())
        .collect();
    let least = lesson.attending().filter_map(|g| plan.group_outcomes()[g.0].spare).min();
    let spare = least.map_or(0, |s| s.get());
    match tight.len() {
        0 if spare == 0 => String::new(),
        0 => format!("The last has {} to spare.", minutes(spare)),
        n if n == lesson.attending().count() => {
            format!(
                "All are tight: {} to spare.",
                if spare == 0 { "nothing".into() } else { minutes(spare) }
            )
        }
        _ => format!("Tight: {}.", names(&tight)),
    }
}

/// Several names, cut short where they are many.
fn names(all: &[String]) -> String {
    const SHOWN: usize = 4;
    if all.len() <= SHOWN {
        return list(all);
    }
    let rest = all.len() - (SHOWN - 1);
    format!("{} and {} more", all[..SHOWN - 1].join(", "), number(rest))
}

fn departure(lesson: &Lesson, plan: &CheckedPlan, group: GroupId, of: usize) -> String {
    let name = &lesson.group(group).name;
    let Some(choice) = plan.plan().choice(group) else { return String::new() };
    let method = &lesson.method_of(group, choice.method).name;
    let tin = choice.tin.map(|t| lesson.tin_choice_of(group, t).label.as_str());
    let first = lesson.group(group).tins.first();
    let first = first.map(|&t| lesson.tin_choice_of(group, t).label.as_str());
    let what = match (tin, first) {
        (Some(tin), Some(first)) if tin != first => format!("in {tin} instead of {first}"),
        _ => format!("by {method}"),
    };
    let others = match of - 1 {
        0 => String::new(),
        1 => "; one more is not by its first choice".to_owned(),
        n => format!("; {} more are not by their first choice", number(n)),
    };
    format!("{name} bakes {what}{others}.")
}
