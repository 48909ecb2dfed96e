//! `adults`: there when asked for, and in one place at a time.

use super::breach::Breaches;
use super::fault::{AdultFault, Duty};
use super::span::{Busy, Span, clashes, first_uncovered, to_minute, wide};
use super::view::{Placed, Served, View};
use crate::model::{AdultId, AdultNeed};
use crate::plan::Rule;

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
        let (first, second) = ((a.by, a.span), (b.by, b.span));
        let fault = AdultFault::Twice { adult: a.thing, first, second };
        out.add(Rule::Adults, None, b.span.start, fault);
    });
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
    let (of, span) = (group.step_of(step.id), step.span);
    let mut add = |minute: i64, fault| out.add(Rule::Adults, group.id, minute, fault);
    let asks = need(step) == AdultNeed::With;
    let Some(adult) = step.placement.adult else {
        if asks {
            add(span.start, AdultFault::Unnamed { step: of, span });
        }
        return;
    };
    if !asks {
        add(span.start, AdultFault::NotAskedFor { step: of, span, adult });
    }
    if !group.group.may_have(group.id, adult, &view.lesson.adults) {
        add(span.start, AdultFault::CannotServe { step: of, span, adult });
    }
    if let Some(first) = first_uncovered(span, &view.hours[adult.0]) {
        let minute = to_minute(first);
        add(first, AdultFault::Away { step: of, span, adult, minute });
    }
    duties.push(Busy { thing: adult, span, by: Duty::Step(of) });
}

/// A step that only wants some adult in the room.
fn nearby(group: &Served<'_>, step: Placed<'_>, there: &[Span], out: &mut Breaches) {
    if let Some(first) = first_uncovered(step.span, there) {
        let (of, minute) = (group.step_of(step.id), to_minute(first));
        let fault = AdultFault::NobodyNear { step: of, span: step.span, minute };
        out.add(Rule::Adults, group.id, first, fault);
    }
}

fn class_steps(view: &View<'_>, duties: &mut Duties, out: &mut Breaches) {
    for placed in &view.plan.class_steps {
        let span = Span::of(placed.start, placed.end);
        let step = &view.lesson.class_steps[placed.step.0];
        for &adult in &step.adults {
            duties.push(Busy { thing: adult, span, by: Duty::Class(placed.step) });
            if let Some(first) = first_uncovered(span, &view.hours[adult.0]) {
                let (step, minute) = (placed.step, to_minute(first));
                let fault = AdultFault::AwayFromClass { step, span, adult, minute };
                out.add(Rule::Adults, None, first, fault);
            }
        }
    }
}
