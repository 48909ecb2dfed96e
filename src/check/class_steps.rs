//! `class-step`: the class's own steps are in their places, and nobody works
//! meanwhile.

use super::breach::Breaches;
use super::fault::{ClassStepFault, ClassStepPlace};
use super::span::{Busy, Span, clashes, to_minutes, wide};
use super::view::{View, class_minutes};
use crate::model::{ClassStepId, Phase, Timing};
use crate::plan::Rule;

pub(super) fn check(view: &View<'_>, out: &mut Breaches) {
    let mut placed: Vec<Option<Span>> = vec![None; view.lesson.class_steps.len()];
    for p in &view.plan.class_steps {
        if placed[p.step.0].replace(Span::of(p.start, p.end)).is_some() {
            let fault = ClassStepFault::PlacedTwice { step: p.step };
            out.add(Rule::ClassStep, None, wide(p.start), fault);
        }
    }
    let expected = in_turn(view);
    for (i, (span, expected)) in placed.iter().zip(&expected).enumerate() {
        let id = ClassStepId(i);
        match span {
            None => {
                out.add(Rule::ClassStep, None, None, ClassStepFault::NotPlaced { step: id });
            }
            Some(span) => place(view, id, *span, *expected, out),
        }
    }
    apart(view, &placed, out);
    hands(view, &placed, out);
}

/// Where each step of an opening or a closing must be, by its turn.
fn in_turn(view: &View<'_>) -> Vec<Option<Span>> {
    let lesson = view.lesson;
    let mut next_opening: Vec<i64> = view.bells.iter().map(|b| b.start).collect();
    let mut next_closing: Vec<i64> = view.bells.iter().map(|b| b.closing_start).collect();
    let turn = |step: &crate::model::ClassStep| {
        let next = match step.phase {
            Phase::Opening => &mut next_opening[step.period.0],
            Phase::Closing => &mut next_closing[step.period.0],
            Phase::During => return None,
        };
        let span = Span { start: *next, end: *next + class_minutes(lesson, step) };
        *next = span.end;
        Some(span)
    };
    lesson.class_steps.iter().map(turn).collect()
}

fn place(view: &View<'_>, id: ClassStepId, span: Span, expected: Option<Span>, out: &mut Breaches) {
    let step = &view.lesson.class_steps[id.0];
    let minutes = class_minutes(view.lesson, step);
    let ought = match (expected, step.timing) {
        _ if span.length() != minutes => ClassStepPlace::Lasting(to_minutes(minutes)),
        (Some(turn), _) if span != turn => ClassStepPlace::Turn(turn),
        (None, Timing::At(at)) if span.start != wide(at) => ClassStepPlace::At(at),
        (None, Timing::Between(from, until)) if !span.within(Span::of(from, until)) => {
            ClassStepPlace::Within(Span::of(from, until))
        }
        _ => return,
    };
    let fault = ClassStepFault::Elsewhere { step: id, span, ought };
    out.add(Rule::ClassStep, None, span.start, fault);
}

/// Each takes every pupil of its period, so no two are at once.
fn apart(view: &View<'_>, placed: &[Option<Span>], out: &mut Breaches) {
    let busy = placed.iter().zip(&view.lesson.class_steps).enumerate();
    let busy = busy
        .filter_map(|(i, (span, step))| {
            Some(Busy { thing: step.period, span: (*span)?, by: ClassStepId(i) })
        })
        .collect();
    clashes(busy, |a, b| {
        let fault = ClassStepFault::Together { first: (a.by, a.span), second: (b.by, b.span) };
        out.add(Rule::ClassStep, None, b.span.start, fault);
    });
}

/// No hand step overlaps a step in the course of the lesson. That none lies
/// in the opening or the closing is the rule `period`, and is said there.
fn hands(view: &View<'_>, placed: &[Option<Span>], out: &mut Breaches) {
    for group in &view.served {
        for step in group.steps().filter(|s| s.step.kind.is_hand()) {
            for (i, (span, class)) in placed.iter().zip(&view.lesson.class_steps).enumerate() {
                let of_group = class.period == group.group.period && class.phase == Phase::During;
                let Some(span) = span.filter(|s| of_group && s.meets(step.span)) else {
                    continue;
                };
                let fault = ClassStepFault::GroupAtWork {
                    step: group.step_of(step.id),
                    span: step.span,
                    class: (ClassStepId(i), span),
                };
                out.add(Rule::ClassStep, group.id, step.span.start.max(span.start), fault);
            }
        }
    }
}
