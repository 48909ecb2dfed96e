//! Why something cannot be where it was put: families of rules are lifted one
//! after another until there is a plan with the thing in that place, and the
//! checker says what that breaks.

use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use super::alone::{only, possible, told_of_all};
use super::drop::LockChange;
use super::lift::{Lift, LiftQuestion, without};
use super::refusal_words::Teller;
use super::{Refused, Spot};
use crate::check::{Breach, check};
use crate::graph::expand;
use crate::model::{
    Attendance, GroupId, Lesson, LockedTo, Method, OvenId, ShelfId, StepId, TinChoiceId,
};
use crate::plan::{Choice, Load, Place, Plan, Rule, StepPlacement};
use crate::units::{Celsius, Minute, Minutes};

/// A lesson with the locks of a thing that cannot be kept.
pub(super) struct Case<'a> {
    pub(super) after: Arc<Lesson>,
    pub(super) drop: &'a LockChange,
    /// The group, and others that keep their places in any case.
    pub(super) staying: Vec<GroupId>,
    pub(super) stop: &'a AtomicBool,
}

/// What stands in the way, as the checker names it.
pub(super) struct Reason {
    pub(super) rule: Rule,
    /// The breach it is told by; `None` if the checker finds none.
    pub(super) breach: Option<Breach>,
    pub(super) witness: Plan,
    /// What had to be lifted.
    pub(super) lifts: Vec<Lift>,
}

impl Case<'_> {
    fn asked(&self) -> LiftQuestion<'_> {
        LiftQuestion {
            lesson: &self.after,
            groups: &self.staying,
            drop: self.drop,
            stop: self.stop,
        }
    }

    /// What the checker finds wrong with a plan in which everything is where
    /// it was put; first the rules that were lifted.
    fn judged(&self, plan: Plan, lifts: &[Lift]) -> Option<Reason> {
        let witness = told_of_all(&self.after, plan);
        let breaches = check(&self.after, witness.clone()).err()?;
        // Of several the one that says most plainly what is wrong.
        let all = Lift::all(&self.after);
        let rules = all.iter().filter(|l| lifts.contains(l)).flat_map(|l| l.rules());
        let named = |rule: &Rule| breaches.iter().find(|b| b.rule == *rule).cloned();
        let breach = rules.filter_map(named).next()?;
        Some(Reason { rule: breach.rule, breach: Some(breach), witness, lifts: lifts.to_vec() })
    }

    fn lifted(&self, lifts: &[Lift]) -> Option<Reason> {
        self.judged(without(self.asked(), lifts)?, lifts)
    }

    /// Whether these families are enough for a plan.
    pub(super) fn is_enough(&self, lifts: &[Lift]) -> bool {
        without(self.asked(), lifts).is_some()
    }

    /// One family that is enough, or else a smallest set of them.
    pub(super) fn reason(&self) -> Option<Reason> {
        self.reason_of(Lift::all(&self.after))
    }

    /// The same with all that is held kept.
    pub(super) fn reason_kept(&self) -> Option<Reason> {
        let mut all = Lift::all(&self.after);
        all.retain(|l| !matches!(l, Lift::OwnLocks | Lift::OtherLocks));
        self.reason_of(all)
    }

    fn reason_of(&self, mut all: Vec<Lift>) -> Option<Reason> {
        // Links and bells stand in the way of anything; where they alone would
        // leave a way they are told last.
        let bare = only(&self.after, &self.staying).map(|l| expand(&l));
        if bare.is_some_and(|problem| possible(&problem)) {
            all.sort_by_key(|l| l.is_of_time());
        }
        if let Some(one) = all.iter().find_map(|&l| self.lifted(&[l])) {
            return Some(one);
        }
        // What a person would rather not hear is lifted last.
        let last = |l: &Lift| matches!(l, Lift::OwnLocks | Lift::OtherLocks | Lift::Oven);
        let (late, mut order): (Vec<Lift>, Vec<Lift>) = all.into_iter().partition(last);
        order.extend(late);
        let mut lifts: Vec<Lift> = Vec::new();
        let mut found = None;
        for lift in order {
            lifts.push(lift);
            // Two at least, since none is enough by itself.
            if lifts.len() > 1 && without(self.asked(), &lifts).is_some() {
                found = Some(());
                break;
            }
        }
        found?;
        for i in (0..lifts.len()).rev() {
            let mut fewer = lifts.clone();
            fewer.remove(i);
            if without(self.asked(), &fewer).is_some() {
                lifts = fewer;
            }
        }
        self.lifted(&lifts)
    }

    /// The steps one after the other, each for its minutes, and the thing put
    /// where it was wanted whatever that breaks.
    fn forced(&self) -> Reason {
        let witness = told_of_all(&self.after, one_after_another(&self.after, self.drop));
        let breaches = check(&self.after, witness.clone()).err().unwrap_or_default();
        let breach = breaches.into_iter().next();
        let rule = breach.as_ref().map_or(Rule::Locked, |b| b.rule);
        Reason { rule, breach, witness, lifts: Vec::new() }
    }
}

/// Tells why the thing cannot be there; `proved` if that it cannot is known
/// already.
pub(super) fn refuse(case: &Case<'_>, proved: bool) -> Refused {
    let left_out = case.after.group(case.drop.group).attendance == Attendance::LeftOut;
    let found = if left_out { None } else { case.reason() };
    let reason = found.unwrap_or_else(|| case.forced());
    let told = Teller::new(case, &reason).told();
    Refused {
        rule: reason.rule,
        sentence: told.sentence(proved),
        proved: proved || told.proved,
        witness: reason.witness,
        lesson: Arc::clone(&case.after),
    }
}

/// Refuses to put the tins of a group that bakes nothing anywhere.
pub(super) fn nothing_to_bake(
    lesson: &Lesson,
    now: Plan,
    (group, spot): (GroupId, Spot),
) -> Refused {
    let mut witness = told_of_all(lesson, now);
    let (oven, shelf) = spot.place.unwrap_or((OvenId(0), None));
    let start = spot.at.unwrap_or(lesson.periods[lesson.group(group).period.0].start);
    witness.loads.push(Load {
        group,
        number: 0,
        oven,
        shelf: shelf.unwrap_or(ShelfId(0)),
        start,
        end: start + Minutes::new(1),
        celsius: Celsius::BAKING,
        place: Place::FIRST,
    });
    let sentence = format!("{} bakes nothing.", lesson.group(group).name);
    let lesson = Arc::new(lesson.clone());
    Refused { rule: Rule::OneOven, sentence, witness, lesson, proved: true }
}

/// A plan of the group that heeds nothing but its locks: with its first method
/// and tin, each step when the one before is over.
fn one_after_another(lesson: &Lesson, drop: &LockChange) -> Plan {
    let id = drop.group;
    let group = lesson.group(id);
    let mut taking_part = lesson.clone().into_parts();
    taking_part.groups[id.0].attendance = Attendance::TakesPart;
    let problem = Lesson::new(taking_part).ok().map(|l| expand(&l));
    let period = group.period.0;
    let opening = problem.as_ref().map_or(0, |p| p.periods[period].opening_end);
    let locked = |f: &dyn Fn(&LockedTo) -> bool| {
        let own = lesson.locks.iter().filter(|l| l.group == id).map(|l| &l.to);
        drop.locks.iter().chain(own).find(|to| f(to)).cloned()
    };
    let method = match locked(&|to| matches!(to, LockedTo::Method(_))) {
        Some(LockedTo::Method(method)) => method,
        _ => group.methods[0],
    };
    let of = lesson.method_of(id, method);
    let tin = match locked(&|to| matches!(to, LockedTo::Tin(_))) {
        Some(LockedTo::Tin(tin)) => Some(tin),
        _ => group.tins.iter().copied().find(|t| lesson.tin_choice_of(id, *t).goes_with(method)),
    };
    let tin = tin.filter(|_| of.bake_steps().is_some());
    let mut at = Minute::new(opening);
    let mut plan = Plan { choices: vec![Choice { group: id, method, tin }], ..Plan::default() };
    for (i, step) in of.steps.iter().enumerate() {
        let minutes = lesson.minutes_of(step, tin.map(|t| lesson.tin_choice_of(id, t)));
        let minutes = minutes.map_or(Minutes::new(1), |m| m.usual().rounded_up());
        let is = |to: &LockedTo| matches!(to, LockedTo::Start(name, _) if *name == step.name);
        if let Some(LockedTo::Start(_, start)) = locked(&is) {
            at = start;
        }
        let (group, step, pupils) = (id, StepId(i), Vec::new());
        plan.steps.push(StepPlacement {
            group,
            step,
            start: at,
            end: at + minutes,
            pupils,
            adult: None,
        });
        at = at + minutes;
    }
    plan.loads = loads(lesson, id, tin, of, &plan, drop);
    plan
}

fn loads(
    lesson: &Lesson,
    id: GroupId,
    tin: Option<TinChoiceId>,
    of: &Method,
    plan: &Plan,
    drop: &LockChange,
) -> Vec<Load> {
    let own = lesson.locks.iter().filter(|l| l.group == id).map(|l| &l.to);
    let place = drop.place().or_else(|| {
        own.filter_map(|to| match to {
            LockedTo::Oven(oven, shelf) => Some((*oven, *shelf)),
            _ => None,
        })
        .next()
    });
    let oven = place.map(|(oven, _)| oven).or((!lesson.ovens.is_empty()).then_some(OvenId(0)));
    let (Some(oven), Some((load, _, out))) = (oven, of.bake_steps()) else { return Vec::new() };
    let shelf = place.and_then(|(_, shelf)| shelf).unwrap_or(ShelfId(0));
    let count = tin.map_or(1, |t| lesson.tin_choice_of(id, t).count);
    let celsius = tin.map_or(Celsius::BAKING, |t| lesson.tin_choice_of(id, t).celsius);
    (0..count)
        .map(|number| Load {
            group: id,
            number,
            oven,
            shelf,
            start: plan.steps[load.0].start,
            end: plan.steps[out.0].end,
            celsius,
            place: Place::FIRST,
        })
        .collect()
}
