//! The outcome in one sentence, and the most useful thing to know next.

use super::collected::collected_words;
use super::words::{capital, clock, in_short, list, minutes, number};
use crate::check::{CheckedPlan, Verdict};
use crate::model::{GroupId, Lesson, Measure, Recipe, TinChoice};
use crate::units::Minute;

/// "Seven of eight groups are out by the bell." If bakes are fetched later: "All six groups
/// are out by the bell, bakes collected later."
pub fn outcome(lesson: &Lesson, plan: &CheckedPlan) -> String {
    let (out, later) = (out_by_the_bell(lesson, plan), collected_words(lesson, plan));
    if later.is_empty() { out } else { format!("{}, {later}.", out.trim_end_matches('.')) }
}

fn out_by_the_bell(lesson: &Lesson, plan: &CheckedPlan) -> String {
    let of = lesson.attending().count();
    let served = usize::try_from(plan.objective().served).unwrap_or(usize::MAX);
    match (served, of) {
        (_, 0) => "No group takes part.".to_owned(),
        (0, 1) => "The one group is not out by the bell.".to_owned(),
        (1, 1) => "The one group is out by the bell.".to_owned(),
        (0, of) => format!("None of the {} groups is out by the bell.", number(of)),
        (served, of) if served == of && of < lesson.groups.len() => {
            format!("All {} groups that take part are out by the bell.", number(of))
        }
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
    if let Some((reason, alike)) = reasons(lesson, plan).first() {
        return format!("{}: {reason}", names(alike));
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

/// When ovens are to be switched on: "Ovens on: Oven 2 at 10:11, Oven 1 and Oven
/// 3 at 10:13"; empty where none is.
pub fn ovens_on(lesson: &Lesson, plan: &CheckedPlan) -> String {
    let mut on: Vec<(Minute, Vec<String>)> = Vec::new();
    for (id, oven) in lesson.ovens.iter().enumerate() {
        let settings = plan.plan().settings.iter().filter(|s| s.oven.0 == id);
        let Some(first) = settings.map(|s| s.set_at).min() else { continue };
        match on.iter_mut().find(|(at, _)| *at == first) {
            Some((_, names)) => names.push(oven.name.clone()),
            None => on.push((first, vec![oven.name.clone()])),
        }
    }
    on.sort_by_key(|(at, _)| *at);
    let each = |(at, names): &(Minute, Vec<String>)| {
        format!("{} at {}", list(&in_short(names)), clock(lesson, *at))
    };
    match on.as_slice() {
        [] => String::new(),
        on => format!("Ovens on: {}", on.iter().map(each).collect::<Vec<_>>().join(", ")),
    }
}

/// Why groups that take part are not served: each reason once, with the names
/// of those it is the reason for.
pub fn reasons(lesson: &Lesson, plan: &CheckedPlan) -> Vec<(String, Vec<String>)> {
    let mut reasons: Vec<(String, Vec<String>)> = Vec::new();
    for refused in &plan.plan().not_served {
        if plan.group_outcomes()[refused.group.0].verdict == Verdict::LeftOut {
            continue;
        }
        let name = lesson.group(refused.group).name.clone();
        match reasons.iter_mut().find(|(reason, _)| *reason == refused.reason) {
            Some((_, names)) => names.push(name),
            None => reasons.push((refused.reason.clone(), vec![name])),
        }
    }
    reasons
}

/// Several names, cut short where they are many.
fn names(all: &[String]) -> String {
    const SHOWN: usize = 4;
    let short = in_short(all);
    if short.len() <= SHOWN {
        return list(&short);
    }
    let rest = all.len() - (SHOWN - 1);
    format!("{} and {} more", all[..SHOWN - 1].join(", "), number(rest))
}

fn departure(lesson: &Lesson, plan: &CheckedPlan, group: GroupId, of: usize) -> String {
    let name = &lesson.group(group).name;
    let Some(choice) = plan.plan().choice(group) else { return String::new() };
    let method = &lesson.method_of(group, choice.method).name;
    let tin = choice.tin.map(|t| lesson.tin_choice_of(group, t));
    let first = lesson.group(group).tins.first();
    let first = first.map(|&t| lesson.tin_choice_of(group, t));
    let what = match (tin, first) {
        (Some(tin), Some(first)) if tin.label != first.label => {
            let recipe = &lesson.recipes[lesson.group(group).recipe.0];
            let (now, then) = (eggs(recipe, tin), eggs(recipe, first));
            let said = |eggs: &str| if now == then { String::new() } else { eggs.to_owned() };
            let (made, not) = (made(lesson, tin), made(lesson, first));
            format!("makes {made}{}, not {not}{}", said(&now), said(&then))
        }
        _ => format!("bakes by {method}"),
    };
    let others = match of - 1 {
        0 => String::new(),
        1 => "; one more is not by its first choice".to_owned(),
        n => format!("; {} more are not by their first choice", number(n)),
    };
    format!("{name} {what}{others}.")
}

/// "a 20 cm square" of the tin of that name; else what it is called.
fn made(lesson: &Lesson, tin: &TinChoice) -> String {
    let label = &tin.label;
    if *label != lesson.tins[tin.tin.0].name || tin.count > 1 {
        return lesson.tin_in_words(tin);
    }
    let label = label.strip_suffix(" tin").unwrap_or(label);
    let vowel = label.starts_with(['8', 'a', 'e', 'i', 'o', 'u', 'A', 'E', 'I', 'O', 'U']);
    let article =
        if vowel || label.starts_with("18 ") || label.starts_with("11 ") { "an" } else { "a" };
    format!("{article} {label}")
}

/// " (2 eggs)" of what goes into a tin; empty where it is no whole number, or
/// none.
fn eggs(recipe: &Recipe, tin: &TinChoice) -> String {
    let eggs = recipe.ingredients.iter().filter(|i| i.measure == Measure::Egg);
    let eggs = eggs.map(|i| i.amount).sum::<f64>() * tin.batch;
    match eggs.round() {
        whole if whole < 1.0 || (whole - eggs).abs() > 0.05 => String::new(),
        1.0 => " (1 egg)".to_owned(),
        whole => format!(" ({whole:.0} eggs)"),
    }
}
