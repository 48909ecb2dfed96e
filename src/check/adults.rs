//! `adults`: there when asked for, and in one place at a time.

use super::rule::{Breaches, Rule};
use super::span::{Busy, Span, clashes, first_uncovered, wide};
use super::view::{Placed, Served, View, shown};
use crate::model::{AdultId, AdultNeed, ClassStepId, GroupId, OvenId, StepId};

/// What keeps an adult busy.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Duty {
    Step(GroupId, StepId),
    Class(ClassStepId),
    Door(OvenId),
}

type Duties = Vec<Busy<AdultId, Duty>>;

pub(super) fn check(view: &View<'_>, out: &mut Breaches) {
    let mut duties = Duties::new();
    let near = near_by_room(view);
    for group in &view.served {
        for step in group.steps() {
            with(view, group, step, &mut duties, out);
            if need(step) == AdultNeed::Near {
                nearby(group, step, &near[group.group.room.0], out);
            }
        }
    }
    class_steps(view, &mut duties, out);
    for watch in &view.plan.door_watches {
        let minute = wide(watch.minute);
        let span = Span { start: minute, end: minute + 1 };
        duties.push(Busy { thing: watch.adult, span, by: Duty::Door(watch.oven) });
    }
    // The same watch twice is a breach of `door-hands`, not of this rule.
    duties.sort_by_key(|d| (d.thing, d.span, d.by));
    duties.dedup_by_key(|d| (d.thing, d.span, d.by));
    clashes(duties, |a, b| {
        let message = format!(
            "{} is wanted {} {} and {} {}",
            name(view, a.thing),
            duty(view, a.by),
            a.span,
            duty(view, b.by),
            b.span
        );
        out.add(Rule::Adults, None, b.span.start, message);
    });
}

fn name(view: &View<'_>, adult: AdultId) -> String {
    shown(&view.lesson.adults[adult.0].name)
}

fn duty(view: &View<'_>, duty: Duty) -> String {
    match duty {
        Duty::Step(group, step) => {
            let step = view.served(group).map(|g| shown(&g.method.steps[step.0].name));
            format!("by {} for \"{}\"", view.group_name(group), step.unwrap_or_default())
        }
        Duty::Class(step) => {
            format!("for \"{}\"", shown(&view.lesson.class_steps[step.0].name))
        }
        Duty::Door(oven) => format!("at the door of {}", view.oven_name(oven)),
    }
}

/// By room: when some adult is there, sorted.
fn near_by_room(view: &View<'_>) -> Vec<Vec<Span>> {
    let rooms = 0..view.lesson.rooms.len();
    let in_room = |room| {
        let adults = view.lesson.adults.iter().zip(&view.hours);
        let mut spans: Vec<Span> = adults
            .filter(|(a, _)| a.room.is_none_or(|r| r.0 == room))
            .flat_map(|(_, hours)| hours.iter().copied())
            .collect();
        spans.sort_unstable();
        spans
    };
    rooms.map(in_room).collect()
}

/// Who does a step before the start bell or after the end bell is an adult
/// already, outside the lesson's hours.
fn need(step: Placed<'_>) -> AdultNeed {
    if step.beforehand || step.collected { AdultNeed::None } else { step.step.adult }
}

/// A step that occupies an adult.
fn with(
    view: &View<'_>,
    group: &Served<'_>,
    step: Placed<'_>,
    duties: &mut Duties,
    out: &mut Breaches,
) {
    let what = format!("{}: \"{}\" {}", group.name(), shown(&step.step.name), step.span);
    let mut add = |minute: i64, said: String| {
        out.add(Rule::Adults, group.id, minute, format!("{what} {said}"));
    };
    let asks = need(step) == AdultNeed::With;
    let Some(adult) = step.placement.adult else {
        if asks {
            add(step.span.start, "asks for an adult with it and names none".into());
        }
        return;
    };
    if !asks {
        add(step.span.start, format!("names {}, whom it does not ask for", name(view, adult)));
    }
    if !group.group.may_have(group.id, adult, &view.lesson.adults) {
        add(step.span.start, format!("names {}, who cannot serve it", name(view, adult)));
    }
    if let Some(minute) = first_uncovered(step.span, &view.hours[adult.0]) {
        add(minute, format!("names {}, who is not there at minute {minute}", name(view, adult)));
    }
    let by = Duty::Step(group.id, step.id);
    duties.push(Busy { thing: adult, span: step.span, by });
}

/// A step that only wants some adult in the room.
fn nearby(group: &Served<'_>, step: Placed<'_>, there: &[Span], out: &mut Breaches) {
    if let Some(minute) = first_uncovered(step.span, there) {
        let message = format!(
            "{}: \"{}\" {} wants an adult near; none is in the room at minute {minute}",
            group.name(),
            shown(&step.step.name),
            step.span
        );
        out.add(Rule::Adults, group.id, minute, message);
    }
}

fn class_steps(view: &View<'_>, duties: &mut Duties, out: &mut Breaches) {
    for placed in &view.plan.class_steps {
        let span = Span::of(placed.start, placed.end);
        let step = &view.lesson.class_steps[placed.step.0];
        for &adult in &step.adults {
            duties.push(Busy { thing: adult, span, by: Duty::Class(placed.step) });
            if let Some(minute) = first_uncovered(span, &view.hours[adult.0]) {
                let message = format!(
                    "\"{}\" {span} takes {}, who is not there at minute {minute}",
                    shown(&step.name),
                    name(view, adult)
                );
                out.add(Rule::Adults, None, minute, message);
            }
        }
    }
}
