//! `order`, `period` and `bell`: when steps may be.

use super::breach::Breaches;
use super::fault::{BellFault, Bound, Gap, OrderFault, PeriodFault};
use super::span::{to_minute, to_minutes};
use super::view::{Placed, Served, View};
use crate::model::{Link, StepId};
use crate::plan::Rule;
use crate::units::ExactMinutes;

pub(super) fn check(view: &View<'_>, out: &mut Breaches) {
    for group in &view.served {
        order(group, out);
        for step in group.steps() {
            period(view, group, step, out);
        }
        bell(view, group, out);
    }
}

/// A longest gap in whole minutes: rounded down, with the same forgiveness of
/// a millionth as the rounding up.
#[allow(clippy::cast_possible_truncation)] // at most ExactMinutes::LONGEST
fn rounded_down(gap: ExactMinutes) -> i64 {
    (gap.get() + 1e-6).floor() as i64
}

fn order(group: &Served<'_>, out: &mut Breaches) {
    let mut parted = Vec::new();
    if let Some((load, bake, take_out)) = group.method.bake_steps() {
        for (a, b) in [(load, bake), (bake, take_out)] {
            if group.span(a).end != group.span(b).start {
                parted.push((a, b));
                apart(group, (a, b), Gap::Nothing, out);
            }
        }
    }
    for link in &group.method.links {
        if !parted.contains(&(link.from, link.to)) {
            check_link(group, link, out);
        }
    }
}

/// Two steps with the wrong gap between them.
fn apart(group: &Served<'_>, (a, b): (StepId, StepId), gap: Gap, out: &mut Breaches) {
    let fault = OrderFault {
        first: (group.step_of(a), group.span(a).over()),
        second: (group.step_of(b), group.span(b).first()),
        gap,
    };
    out.add(Rule::Order, group.id, group.span(b).start, fault);
}

fn check_link(group: &Served<'_>, link: &Link, out: &mut Breaches) {
    let gap = group.span(link.to).start - group.span(link.from).end;
    let least = i64::from(link.least.rounded_up().get());
    let longest = link.longest.map(|l| rounded_down(l.value));
    let wanted = if gap < least && least == 0 {
        Gap::Any
    } else if gap < least {
        Gap::AtLeast(to_minutes(least))
    } else if let Some(longest) = longest.filter(|&l| gap > l) {
        Gap::AtMost(to_minutes(longest))
    } else {
        return;
    };
    apart(group, (link.from, link.to), wanted, out);
}

fn period(view: &View<'_>, group: &Served<'_>, step: Placed<'_>, out: &mut Breaches) {
    let bells = view.bells_of(group.id);
    let mut add = |bound| {
        let fault = PeriodFault { step: group.step_of(step.id), span: step.span, bound };
        out.add(Rule::Period, group.id, step.span.start, fault);
    };
    if step.beforehand && step.span.end > bells.start {
        add(Bound::StartBell(to_minute(bells.start)));
    }
    if step.collected && step.step.kind.is_hand() && step.span.start < bells.end {
        add(Bound::EndBell(to_minute(bells.end)));
    }
    if step.beforehand || step.collected || !step.step.kind.is_hand() {
        return;
    }
    if step.span.start < bells.opening_end {
        add(Bound::Opening(to_minute(bells.opening_end)));
    }
    if step.span.end > bells.closing_start {
        add(Bound::Closing(to_minute(bells.closing_start)));
    }
}

fn bell(view: &View<'_>, group: &Served<'_>, out: &mut Breaches) {
    let closing = view.bells_of(group.id).closing_start;
    let last = group.steps().filter(|s| !s.collected).max_by_key(|s| s.span.end);
    if let Some(step) = last.filter(|s| s.span.end > closing) {
        let end = step.span.end;
        let fault = BellFault {
            step: group.step_of(step.id),
            ready: to_minute(end),
            closing: to_minute(closing),
            late: to_minutes(end - closing),
        };
        out.add(Rule::Bell, group.id, end, fault);
    }
}
