//! The lesson and the plan side by side, as every rule looks at them.

use super::fault::{StepOf, TinOf};
use super::span::{Span, wide};
use crate::model::{
    ClassStep, Group, GroupId, Lesson, Method, OvenId, Phase, Recipe, Step, StepId, StepKind,
    TinChoice,
};
use crate::plan::{Choice, Load, Plan, StepPlacement};
use crate::units::Celsius;

/// The fixed points of a period, in minutes from the first start bell.
#[derive(Debug, Clone, Copy)]
pub(super) struct Bells {
    /// Start bell.
    pub(super) start: i64,
    /// End of the opening steps.
    pub(super) opening_end: i64,
    /// Start of the closing steps.
    pub(super) closing_start: i64,
    /// End bell.
    pub(super) end: i64,
}

/// A group that is served, with everything that was chosen for it.
#[derive(Debug)]
pub(super) struct Served<'a> {
    pub(super) id: GroupId,
    pub(super) group: &'a Group,
    pub(super) recipe: &'a Recipe,
    pub(super) method: &'a Method,
    pub(super) choice: &'a Choice,
    pub(super) tin: Option<&'a TinChoice>,
    /// By step: exactly one placement each.
    pub(super) placed: Vec<&'a StepPlacement>,
    /// By step: its planned minutes; `None` for a bake nobody knows them of.
    pub(super) planned: Vec<Option<i64>>,
    /// Its tins in ovens.
    pub(super) loads: Vec<&'a Load>,
}

/// One step of a served group.
#[derive(Debug, Clone, Copy)]
pub(super) struct Placed<'a> {
    pub(super) id: StepId,
    pub(super) step: &'a Step,
    pub(super) placement: &'a StepPlacement,
    pub(super) planned: Option<i64>,
    pub(super) span: Span,
    /// Done before the start bell by someone else.
    pub(super) beforehand: bool,
    /// Done after the end bell by someone else.
    pub(super) collected: bool,
}

impl<'a> Served<'a> {
    /// One of its steps, for a fault.
    pub(super) fn step_of(&self, step: StepId) -> StepOf {
        StepOf { group: self.id, method: self.choice.method, step }
    }

    /// When a step is under way.
    pub(super) fn span(&self, step: StepId) -> Span {
        let placement = self.placed[step.0];
        Span::of(placement.start, placement.end)
    }

    pub(super) fn is_beforehand(&self, step: StepId) -> bool {
        self.group.beforehand.contains(&self.method.steps[step.0].name)
    }

    pub(super) fn is_collected(&self, step: StepId) -> bool {
        self.group.collected.contains(&self.method.steps[step.0].name)
    }

    /// Its steps with their placements, in the method's order.
    pub(super) fn steps(&self) -> impl Iterator<Item = Placed<'a>> + '_ {
        self.method.steps.iter().enumerate().map(|(i, step)| Placed {
            id: StepId(i),
            step,
            placement: self.placed[i],
            planned: self.planned[i],
            span: self.span(StepId(i)),
            beforehand: self.is_beforehand(StepId(i)),
            collected: self.is_collected(StepId(i)),
        })
    }

    /// From the start of one step to the end of another, as far as kit of the
    /// room is concerned: what is done before the start bell or after the end
    /// bell is done with other kit.
    pub(super) fn held(&self, from: StepId, to: StepId, bells: Bells) -> Span {
        let start = if self.is_beforehand(from) { bells.start } else { self.span(from).start };
        let end = if self.is_collected(to) { bells.end } else { self.span(to).end };
        Span { start, end }
    }

    /// The ovens in which it has tins, each with how many.
    pub(super) fn ovens(&self) -> Vec<(OvenId, i64)> {
        let mut ovens: Vec<(OvenId, i64)> = Vec::new();
        for load in &self.loads {
            match ovens.iter_mut().find(|(oven, _)| *oven == load.oven) {
                Some((_, tins)) => *tins += 1,
                None => ovens.push((load.oven, 1)),
            }
        }
        ovens
    }
}

/// A door opened by a group to load or to take out.
#[derive(Debug, Clone, Copy)]
pub(super) struct Opening {
    pub(super) oven: OvenId,
    pub(super) group: GroupId,
    pub(super) span: Span,
    /// How many tins it moves, all its minutes together.
    pub(super) tins: i64,
    /// Loading, or else taking out.
    pub(super) loading: bool,
}

/// The lesson and the plan.
#[derive(Debug)]
pub(super) struct View<'a> {
    pub(super) lesson: &'a Lesson,
    pub(super) plan: &'a Plan,
    /// By period.
    pub(super) bells: Vec<Bells>,
    /// Groups served with every step placed once, by id.
    pub(super) served: Vec<Served<'a>>,
    /// Every group of the plan is among `served`.
    pub(super) complete: bool,
    /// Every opening of an oven door by them.
    pub(super) openings: Vec<Opening>,
    /// By adult: when they are there, sorted.
    pub(super) hours: Vec<Vec<Span>>,
}

impl<'a> View<'a> {
    pub(super) fn new(lesson: &'a Lesson, plan: &'a Plan) -> Self {
        let bells = (0..lesson.periods.len()).map(|p| bells(lesson, p)).collect();
        let hours = lesson.adults.iter().map(|a| sorted(a.hours.iter().copied())).collect();
        let (served, complete, openings) = (Vec::new(), false, Vec::new());
        View { lesson, plan, bells, served, complete, openings, hours }
    }

    /// Takes in the groups found whole.
    pub(super) fn serve(&mut self, served: Vec<Served<'a>>, complete: bool) {
        self.openings = served.iter().flat_map(openings).collect();
        self.served = served;
        self.complete = complete;
    }

    pub(super) fn bells_of(&self, group: GroupId) -> Bells {
        self.bells[self.lesson.group(group).period.0]
    }

    /// A served group by its id.
    pub(super) fn served(&self, group: GroupId) -> Option<&Served<'a>> {
        self.served.binary_search_by_key(&group, |s| s.id).ok().map(|i| &self.served[i])
    }
}

/// A tin in an oven, for a fault.
pub(super) fn tin_of(load: &Load) -> TinOf {
    TinOf { group: load.group, number: load.number }
}

/// Stretches as spans, by their start.
pub(super) fn sorted(
    stretches: impl Iterator<Item = (crate::units::Minute, crate::units::Minute)>,
) -> Vec<Span> {
    let mut spans: Vec<Span> = stretches.map(|(from, until)| Span::of(from, until)).collect();
    spans.sort_unstable();
    spans
}

/// Planned minutes of a step of the class.
pub(super) fn class_minutes(lesson: &Lesson, step: &ClassStep) -> i64 {
    i64::from(step.minutes.with_caution(lesson.rules.caution).rounded_up().get())
}

fn bells(lesson: &Lesson, period: usize) -> Bells {
    let id = crate::model::PeriodId(period);
    let total = |phase| -> i64 {
        lesson.class_steps_in(id, phase).map(|(_, s)| class_minutes(lesson, s)).sum()
    };
    let (start, end) = (wide(lesson.periods[period].start), wide(lesson.periods[period].end));
    Bells {
        start,
        opening_end: start + total(Phase::Opening),
        closing_start: end - total(Phase::Closing),
        end,
    }
}

/// Planned minutes of a step of a group: usual or cautious, times the pace if
/// hands do it, rounded up; loading and taking out no less than the openings
/// that the group's tins need. A bake is at the temperature given, and lasts what the
/// day has told of it.
pub(super) fn planned_minutes(
    lesson: &Lesson,
    group: &Group,
    (tin, celsius): (Option<&TinChoice>, Celsius),
    step: &Step,
) -> Option<i64> {
    if let Some(told) = group.baked_for.filter(|_| step.kind == StepKind::Bake) {
        return Some(i64::from(told.get()));
    }
    let mut exact = lesson.minutes_at(step, tin, celsius)?.with_caution(lesson.rules.caution);
    if step.kind.is_hand() {
        exact = exact.times(group.pace);
    }
    let minutes = i64::from(exact.rounded_up().get());
    if !matches!(step.kind, StepKind::Load | StepKind::TakeOut) {
        return Some(minutes);
    }
    let tins = tin.map_or(0, |t| t.count);
    let openings = tins.div_ceil(lesson.rules.tins_per_opening.value.max(1));
    Some(minutes.max(i64::from(openings)))
}

fn openings(served: &Served<'_>) -> Vec<Opening> {
    let Some((load, _, out)) = served.method.bake_steps() else {
        return Vec::new();
    };
    let mut openings = Vec::new();
    for (oven, tins) in served.ovens() {
        for (step, loading) in [(load, true), (out, false)] {
            let span = served.span(step);
            openings.push(Opening { oven, group: served.id, span, tins, loading });
        }
    }
    openings
}
