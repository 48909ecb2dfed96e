//! What is asked once a lesson is over, answered beforehand where facts tell it.

use super::observed::baked_for;
use super::{GroupDay, Observed};
use crate::check::CheckedPlan;
use crate::model::{FactKind, GroupId, Lesson, PastBake};
use crate::units::{ClockTime, Minute, Minutes, plain_number};
use crate::view::day::Bake;
use crate::view::words::{clock, list};

/// A time that is asked for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct TimeAsked {
    /// As planned.
    pub planned: ClockTime,
    /// As answered, or as facts tell it.
    pub answer: Option<ClockTime>,
}

/// A bake as it was planned, and how long it took.
#[derive(Debug, Clone, PartialEq)]
pub struct BakeAsked {
    /// Of which recipe, in which tin and oven; its minutes are the planned ones.
    pub planned: PastBake,
    /// Minutes, as facts tell them or as they are noted.
    pub took: Vec<f64>,
    /// What is noted of it, where no fact tells it.
    pub noted: Vec<PastBake>,
}

impl BakeAsked {
    /// "plain muffins, 12 muffin cases, Oven 2".
    pub fn name(&self) -> String {
        let PastBake { recipe, tin, oven, .. } = &self.planned;
        format!("{recipe}, {tin}, {oven}")
    }

    /// "20 planned; took 22 and 24".
    pub fn words(&self) -> String {
        let planned = plain_number(self.planned.minutes.get());
        match self.took.as_slice() {
            [] => format!("{planned} min planned"),
            took => {
                let took: Vec<String> = took.iter().map(|took| plain_number(*took)).collect();
                format!("{planned} min planned, took {}", list(&took))
            }
        }
    }
}

/// What is asked of a lesson that is over.
#[derive(Debug, Clone, PartialEq)]
pub struct Asked {
    /// When groups set to work; nothing where none did in the lesson.
    pub set_to_work: Option<TimeAsked>,
    /// The last group that was ready, by the plan or as told, and when.
    pub last: Option<(GroupId, TimeAsked)>,
    /// Bakes, each recipe, tin and oven once.
    pub bakes: Vec<BakeAsked>,
}

impl Asked {
    /// What is asked of a plan and its day; of bakes what is noted of them counts too.
    pub fn of(
        (lesson, plan): (&Lesson, &CheckedPlan),
        observed: &Observed,
        noted: &[PastBake],
    ) -> Self {
        Self {
            set_to_work: set_to_work(lesson, observed),
            last: last(lesson, observed),
            bakes: bakes((lesson, plan), observed, noted),
        }
    }
}

/// The middle one of several.
fn middle(mut all: Vec<Minute>) -> Option<Minute> {
    all.sort();
    all.get(all.len() / 2).copied()
}

fn set_to_work(lesson: &Lesson, observed: &Observed) -> Option<TimeAsked> {
    let went = || observed.groups.iter().filter_map(|day| day.moment(FactKind::Go));
    let planned = middle(went().map(|went| went.planned).collect())?;
    let told = middle(went().filter_map(|went| went.told).collect());
    let today = lesson.today.as_ref().and_then(|today| today.afterwards.as_ref());
    let said = today.and_then(|after| after.set_to_work);
    let answer = said.or_else(|| told.map(|told| clock(lesson, told)));
    Some(TimeAsked { planned: clock(lesson, planned), answer })
}

fn last(lesson: &Lesson, observed: &Observed) -> Option<(GroupId, TimeAsked)> {
    let ready = |day: &GroupDay| {
        day.moment(FactKind::Ready).map(|ready| (day.group, ready.planned, ready.told))
    };
    let all: Vec<_> = observed.groups.iter().filter_map(ready).collect();
    let told = all.iter().filter_map(|of| Some((*of, of.2?))).max_by_key(|(_, told)| *told);
    let planned = all.iter().max_by_key(|(_, planned, _)| *planned).map(|of| (*of, of.1));
    let ((group, planned, told), _) = told.or(planned)?;
    let answer = told.map(|told| clock(lesson, told));
    Some((group, TimeAsked { planned: clock(lesson, planned), answer }))
}

fn bakes(
    (lesson, plan): (&Lesson, &CheckedPlan),
    observed: &Observed,
    noted: &[PastBake],
) -> Vec<BakeAsked> {
    let mut all: Vec<BakeAsked> = Vec::new();
    for day in &observed.groups {
        let planned = day.between(FactKind::In, FactKind::Out);
        let bake = planned
            .and_then(|(planned, _)| baked_for((lesson, plan), day.group, lesson.date, planned));
        let Some(bake) = bake else { continue };
        let is_it = |other: &&PastBake| {
            (&other.recipe, &other.tin, &other.oven) == (&bake.recipe, &bake.tin, &bake.oven)
        };
        let that_day = |other: &&PastBake| other.date == bake.date && is_it(other);
        let told: Vec<f64> = observed.bakes.iter().filter(is_it).map(minutes).collect();
        let noted = noted.iter().filter(|_| told.is_empty()).filter(that_day).cloned();
        let noted: Vec<PastBake> = noted.collect();
        let took = if told.is_empty() { noted.iter().map(minutes).collect() } else { told };
        let asked = BakeAsked { planned: bake, took, noted };
        if !all.iter().any(|other| other.name() == asked.name()) {
            all.push(asked);
        }
    }
    all
}

fn minutes(bake: &PastBake) -> f64 {
    bake.minutes.get()
}

/// Bakes along the clock: as told, with the planned ones over them; those of which
/// nothing was told as planned.
pub fn bakes_of_day(observed: &Observed) -> Vec<Bake> {
    let of = |day: &GroupDay| {
        let (load, out) = (day.moment(FactKind::In)?, day.moment(FactKind::Out)?);
        let planned = (load.called, out.planned);
        let span = match (load.late, out.late) {
            (None, None) => planned,
            (was_in, was_out) => {
                let late = |first: Option<Minutes>, or| first.or(or).unwrap_or_default();
                (load.called + late(was_in, was_out), out.planned + late(was_out, was_in))
            }
        };
        let real = load.told.is_some() || out.told.is_some();
        let span = if span.0 < span.1 { span } else { planned };
        Some(Bake { group: day.group, span, real, other: real.then_some(planned) })
    };
    observed.groups.iter().filter_map(of).collect()
}
