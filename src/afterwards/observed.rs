//! What the day's facts say that parts of the lesson took. What is only presumed
//! never counts.

use chrono::NaiveDate;

use crate::check::CheckedPlan;
use crate::model::{
    Fact, FactKind, GroupId, Lesson, LessonPart, Method, PastBake, PastMinutes, StepId, ThreePoint,
};
use crate::today::{IN_ORDER, minute_of, planned_minutes};
use crate::units::{ExactMinutes, Minute, Minutes};

/// Nothing takes more than so many times what was planned, and a quarter of an hour.
const MOST_TIMES: f64 = 4.0;
/// Minutes beyond which it is unlikely at all.
const UNLIKELY_BY: f64 = 15.0;
/// Facts may be told so many minutes after the end bell.
const AFTER_THE_BELL: i32 = 10;

/// How a group's day went against its plan: each moment as planned and as told.
#[derive(Debug, Clone, PartialEq)]
pub struct GroupDay {
    /// Which.
    pub group: GroupId,
    /// The moments, in their order.
    pub moments: Vec<Moment>,
}

/// A moment of a group's day.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Moment {
    /// What.
    pub what: FactKind,
    /// The minute for which it is called by the plan.
    pub called: Minute,
    /// The minute by which it is done by the plan.
    pub planned: Minute,
    /// As told.
    pub told: Option<Minute>,
    /// By how much it was later than planned, negative if it was sooner; `None` if it was
    /// not told. Between its call and its end it is as late as what was told before it.
    pub late: Option<Minutes>,
}

/// What one part took, with the spread that the lesson states for it.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    /// What it took.
    pub minutes: PastMinutes,
    /// Quick and slow, as factors on the usual minutes.
    pub spread: (f64, f64),
}

/// Minutes that are kept in the day's notes and not learned from.
#[derive(Debug, Clone, PartialEq)]
pub struct Unlikely {
    /// Of whom, and what: "Unit 3, making up".
    pub what: String,
    /// Minutes.
    pub took: i32,
    /// Why it is not learned from.
    pub why: &'static str,
}

/// What the day's facts say.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Observed {
    /// Groups that were served, in the lesson's order.
    pub groups: Vec<GroupDay>,
    /// What parts took, one of each.
    pub parts: Vec<Part>,
    /// What bakes took.
    pub bakes: Vec<PastBake>,
    /// What is not learned from.
    pub unlikely: Vec<Unlikely>,
}

/// One group's stretch: planned and taken minutes.
struct Stretch {
    part: LessonPart,
    planned: i32,
    took: i32,
    spread: (f64, f64),
}

/// Reads the facts of a day against the plan that groups were told, as of the day.
pub fn observed(lesson: &Lesson, plan: &CheckedPlan, date: NaiveDate) -> Observed {
    let mut found = Observed::default();
    let Some(today) = &lesson.today else { return found };
    let set_to_work = today.afterwards.as_ref().and_then(|a| a.set_to_work);
    let set_to_work = set_to_work.map(|at| minute_of(lesson, at));
    let mut stretches: Vec<Stretch> = Vec::new();
    for choice in &plan.plan().choices {
        let group = choice.group;
        let day = GroupDay { group, moments: moments(lesson, plan, &today.facts, group) };
        for stretch in of_group(lesson, plan, &day, set_to_work) {
            match unlikely(lesson, group, &stretch) {
                Some(unlikely) => found.unlikely.push(unlikely),
                None => stretches.push(stretch),
            }
        }
        found.bakes.extend(bake(lesson, plan, &day, date, &mut found.unlikely));
        found.groups.push(day);
    }
    found.groups.sort_by_key(|day| day.group);
    if !lesson.class.name.trim().is_empty() {
        found.parts = in_the_middle(lesson, stretches, date);
    }
    found
}

/// Parts of a lesson as they are planned, as though they had taken so long.
pub(super) fn as_planned(lesson: &Lesson, plan: &CheckedPlan) -> Vec<Part> {
    if lesson.class.name.trim().is_empty() {
        return Vec::new();
    }
    let mut stretches = Vec::new();
    for group in plan.plan().choices.iter().map(|choice| choice.group) {
        let mut moments = moments(lesson, plan, &[], group);
        moments.iter_mut().for_each(|moment| moment.told = Some(moment.planned));
        set_late(&mut moments);
        stretches.extend(of_group(lesson, plan, &GroupDay { group, moments }, None));
    }
    in_the_middle(lesson, stretches, lesson.date.unwrap_or_default())
}

/// Of each part the group in the middle; of two the slower.
fn in_the_middle(lesson: &Lesson, mut all: Vec<Stretch>, date: NaiveDate) -> Vec<Part> {
    let factor = |s: &Stretch| f64::from(s.took) / f64::from(s.planned);
    all.sort_by(|a, b| a.part.cmp(&b.part).then(factor(a).total_cmp(&factor(b))));
    let parts = all.chunk_by(|a, b| a.part == b.part).filter_map(|of_part| {
        let middle = of_part.get(of_part.len() / 2)?;
        let exact = |minutes: i32| ExactMinutes::new(f64::from(minutes)).ok();
        let minutes = PastMinutes {
            date,
            class: lesson.class.name.clone(),
            part: middle.part.clone(),
            planned: exact(middle.planned)?,
            took: exact(middle.took)?,
        };
        Some(Part { minutes, spread: middle.spread })
    });
    parts.collect()
}

/// What was planned and what was told of a group; the last fact of a kind counts.
fn moments(lesson: &Lesson, plan: &CheckedPlan, facts: &[Fact], group: GroupId) -> Vec<Moment> {
    let told = |what: FactKind| {
        let fact = facts.iter().rfind(|f| f.group == group && f.what == what);
        fact.map(|f| minute_of(lesson, f.at))
    };
    let moment = |what: FactKind| {
        let (called, planned) = planned_minutes(lesson, plan, group, what)?;
        Some(Moment { what, called, planned, told: told(what), late: None })
    };
    let mut moments: Vec<Moment> = IN_ORDER.into_iter().filter_map(moment).collect();
    set_late(&mut moments);
    moments
}

/// Sets by how much each moment was late.
fn set_late(moments: &mut [Moment]) {
    let mut late = Minutes::ZERO;
    for moment in moments {
        if let Some(told) = moment.told {
            let on_plan = told - late;
            late += on_plan - on_plan.clamp(moment.called, moment.planned.max(moment.called));
            moment.late = Some(late);
        }
    }
}

impl GroupDay {
    pub(super) fn moment(&self, what: FactKind) -> Option<Moment> {
        self.moments.iter().find(|m| m.what == what).copied()
    }

    /// Planned and told minutes from one moment to another. Those of the bake are the
    /// recipe's: from the end of loading until it is called out.
    pub(super) fn between(&self, from: FactKind, to: FactKind) -> Option<(i32, Option<i32>)> {
        let (from, to) = (self.moment(from)?, self.moment(to)?);
        let until = if to.what == FactKind::Out { to.called } else { to.planned };
        let planned = until - from.planned;
        let told = from.late.zip(to.late).map(|(from, to)| (planned + to - from).get());
        Some((planned.get(), told))
    }
}

fn of_group(
    lesson: &Lesson,
    plan: &CheckedPlan,
    day: &GroupDay,
    set_to_work: Option<Minute>,
) -> Vec<Stretch> {
    let group = lesson.group(day.group);
    let Some(choice) = plan.plan().choice(day.group) else { return Vec::new() };
    let method = lesson.method_of(day.group, choice.method);
    let names = || (lesson.recipe_of(day.group).name.clone(), method.name.clone());
    let mut day = day.clone();
    for moment in day.moments.iter_mut().filter(|m| m.what == FactKind::Go) {
        moment.told = moment.told.or(set_to_work);
    }
    set_late(&mut day.moments);
    let mut all = Vec::new();
    if let Some(Moment { planned, told: Some(told), .. }) = day.moment(FactKind::Go) {
        let bell = lesson.periods[group.period.0].start;
        all.push(Stretch {
            part: LessonPart::Opening,
            planned: (planned - bell).get(),
            took: (told - bell).get(),
            spread: opening_spread(lesson, day.group),
        });
    }
    let load = method.bake_steps().map(|(load, _, out)| (load, out));
    let parts = [(FactKind::Go, FactKind::In, true), (FactKind::Out, FactKind::Ready, false)];
    for (from, to, before) in parts {
        let Some((planned, Some(took))) = day.between(from, to) else { continue };
        let (recipe, method_name) = names();
        let part = if before {
            LessonPart::MakingUp(recipe, method_name)
        } else {
            LessonPart::Finishing(recipe, method_name)
        };
        let within = |step: StepId| {
            let at = |id: StepId| {
                plan.plan().steps.iter().find(|s| s.group == day.group && s.step == id)
            };
            let ends = load.and_then(|(load, out)| at(if before { load } else { out }));
            match (at(step), ends) {
                (Some(step), Some(end)) if before => step.end <= end.start,
                (Some(step), Some(end)) => step.start >= end.end,
                _ => false,
            }
        };
        all.push(Stretch { part, planned, took, spread: spread(method, within) });
    }
    all.retain(|s| s.planned > 0);
    all
}

/// Quick and slow of hand steps together, as factors on their usual minutes.
fn spread(method: &Method, within: impl Fn(StepId) -> bool) -> (f64, f64) {
    let steps = method.steps.iter().enumerate();
    let steps = steps.filter(|(i, step)| step.kind.is_hand() && within(StepId(*i)));
    together(steps.filter_map(|(_, step)| step.minutes))
}

fn opening_spread(lesson: &Lesson, group: GroupId) -> (f64, f64) {
    use crate::model::Phase;
    let period = lesson.group(group).period;
    together(lesson.class_steps_in(period, Phase::Opening).map(|(_, step)| step.minutes))
}

/// Of several three-point minutes together; without any as where only one figure is
/// given.
fn together(all: impl Iterator<Item = ThreePoint>) -> (f64, f64) {
    let (mut quick, mut usual, mut slow) = (0.0, 0.0, 0.0);
    for minutes in all {
        quick += minutes.quick().get();
        usual += minutes.usual().get();
        slow += minutes.slow().get();
    }
    if usual > 0.0 { (quick / usual, slow / usual) } else { (0.75, 1.5) }
}

/// Why minutes are not learned from, if they are not.
fn unlikely(lesson: &Lesson, group: GroupId, stretch: &Stretch) -> Option<Unlikely> {
    let why = why_unlikely(lesson, group, stretch.planned, stretch.took)?;
    let what = format!("{}, {}", lesson.group(group).name, stretch.part.names().0);
    Some(Unlikely { what, took: stretch.took, why })
}

fn why_unlikely(lesson: &Lesson, group: GroupId, planned: i32, took: i32) -> Option<&'static str> {
    let period = &lesson.periods[lesson.group(group).period.0];
    let (planned, minutes) = (f64::from(planned), f64::from(took));
    if took <= 0 {
        Some("it would have been over before it began")
    } else if took > (period.end - period.start).get() + AFTER_THE_BELL {
        Some("it is longer than the lesson")
    } else if minutes > planned * MOST_TIMES && minutes > planned + UNLIKELY_BY {
        Some("it is more than four times what was planned")
    } else if minutes * MOST_TIMES < planned {
        Some("it is less than a quarter of what was planned")
    } else {
        None
    }
}

/// What the group's bake took, if both its ends were told.
fn bake(
    lesson: &Lesson,
    plan: &CheckedPlan,
    day: &GroupDay,
    date: NaiveDate,
    left_aside: &mut Vec<Unlikely>,
) -> Option<PastBake> {
    let (planned, took) = day.between(FactKind::In, FactKind::Out)?;
    let took = took?;
    if let Some(why) = why_unlikely(lesson, day.group, planned, took) {
        let what = format!("{}, the bake", lesson.group(day.group).name);
        left_aside.push(Unlikely { what, took, why });
        return None;
    }
    baked_for((lesson, plan), day.group, Some(date), took)
}

/// A group's bake where the plan has it, if it took so many minutes.
pub(super) fn baked_for(
    (lesson, plan): (&Lesson, &CheckedPlan),
    group: GroupId,
    date: Option<NaiveDate>,
    minutes: i32,
) -> Option<PastBake> {
    let choice = plan.plan().choice(group)?;
    let tin = lesson.tin_choice_of(group, choice.tin?);
    let load = plan.plan().loads.iter().find(|load| load.group == group)?;
    Some(PastBake {
        date,
        recipe: lesson.recipe_of(group).name.clone(),
        tin: tin.label.clone(),
        oven: lesson.ovens[load.oven.0].name.clone(),
        celsius: (load.celsius != tin.celsius).then_some(load.celsius),
        minutes: ExactMinutes::new(f64::from(minutes)).ok()?,
        note: String::new(),
    })
}
