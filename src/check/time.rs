//! `order`, `period` and `bell`: when steps may be.

use super::rule::{Breaches, Rule};
use super::view::{Placed, Served, View, shown};
use crate::model::{Link, StepId};
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
    let name = |step: StepId| shown(&group.method.steps[step.0].name);
    let mut parted = Vec::new();
    if let Some((load, bake, take_out)) = group.method.bake_steps() {
        for (a, b) in [(load, bake), (bake, take_out)] {
            let (end, start) = (group.span(a).end, group.span(b).start);
            if end != start {
                parted.push((a, b));
                let message = format!(
                    "{}: \"{}\" ends at minute {end} and \"{}\" starts at {start}; they follow one \
                     another without a gap",
                    group.name(),
                    name(a),
                    name(b)
                );
                out.add(Rule::Order, group.id, start, message);
            }
        }
    }
    for link in &group.method.links {
        if !parted.contains(&(link.from, link.to)) {
            check_link(group, link, out);
        }
    }
}

fn check_link(group: &Served<'_>, link: &Link, out: &mut Breaches) {
    let (end, start) = (group.span(link.from).end, group.span(link.to).start);
    let gap = start - end;
    let least = i64::from(link.least.rounded_up().get());
    let longest = link.longest.map(|l| rounded_down(l.value));
    let wanted = if gap < least && least == 0 {
        "it comes after it".to_owned()
    } else if gap < least {
        format!("at least {least} min lie between them")
    } else if let Some(longest) = longest.filter(|&l| gap > l) {
        format!("at most {longest} min lie between them")
    } else {
        return;
    };
    let name = |step: StepId| shown(&group.method.steps[step.0].name);
    let message = format!(
        "{}: \"{}\" ends at minute {end} and \"{}\" starts at {start}; {wanted}",
        group.name(),
        name(link.from),
        name(link.to)
    );
    out.add(Rule::Order, group.id, start, message);
}

fn period(view: &View<'_>, group: &Served<'_>, step: Placed<'_>, out: &mut Breaches) {
    let bells = view.bells_of(group.id);
    let mut add = |wanted: String| {
        let what = shown(&step.step.name);
        let message = format!("{}: \"{what}\" is {}; {wanted}", group.name(), step.span);
        out.add(Rule::Period, group.id, step.span.start, message);
    };
    if step.beforehand && step.span.end > bells.start {
        add(format!("it is to be done before the start bell at minute {}", bells.start));
    }
    if step.collected && step.step.kind.is_hand() && step.span.start < bells.end {
        add(format!("it is to be done after the end bell at minute {}", bells.end));
    }
    if step.beforehand || step.collected || !step.step.kind.is_hand() {
        return;
    }
    if step.span.start < bells.opening_end {
        add(format!("the opening steps last until minute {}", bells.opening_end));
    }
    if step.span.end > bells.closing_start {
        add(format!("the closing steps begin at minute {}", bells.closing_start));
    }
}

fn bell(view: &View<'_>, group: &Served<'_>, out: &mut Breaches) {
    let closing = view.bells_of(group.id).closing_start;
    let last = group.steps().filter(|s| !s.collected).max_by_key(|s| s.span.end);
    if let Some(step) = last.filter(|s| s.span.end > closing) {
        let end = step.span.end;
        let message = format!(
            "{} is ready at minute {end}, with the end of \"{}\"; the closing steps begin at \
             minute {closing}: {} min late",
            group.name(),
            shown(&step.step.name),
            end - closing
        );
        out.add(Rule::Bell, group.id, end, message);
    }
}
