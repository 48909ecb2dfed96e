//! Judges plans. Written from the rules in `src/check/rules.md` and the data model
//! alone, apart from whatever makes plans, so that a slip there is found here.
//!
//! [`check`] reports every breach at once and is the only way to a
//! [`CheckedPlan`], which is all that may be shown or stored as a plan.

mod adults;
mod bake;
mod breach;
mod class_steps;
mod door;
mod door_hands;
pub mod fault;
mod ids;
mod keep_apart;
mod locks;
mod outcome;
mod oven;
mod pupils;
mod shelf;
mod span;
mod stock;
mod time;
mod tin;
mod view;
mod whole;

use crate::model::{GroupId, Lesson};
use crate::plan::Plan;

pub use crate::plan::Rule;
pub use breach::Breach;
pub use outcome::{GroupOutcome, Objective, Verdict};
pub use shelf::in_each_others_place;
pub use span::Span;

/// A plan that keeps every rule, and what it comes to. Only [`check`] makes
/// one.
#[derive(Debug, Clone, PartialEq)]
pub struct CheckedPlan {
    plan: Plan,
    outcome: outcome::Outcome,
}

impl CheckedPlan {
    /// The plan as it was handed over.
    pub fn plan(&self) -> &Plan {
        &self.plan
    }

    /// The plan again, no longer vouched for.
    pub fn into_plan(self) -> Plan {
        self.plan
    }

    /// What it is compared by with other plans.
    pub fn objective(&self) -> Objective {
        self.outcome.objective
    }

    /// What it comes to for one group; `None` for a group the lesson has not.
    pub fn group_outcome(&self, group: GroupId) -> Option<&GroupOutcome> {
        self.outcome.groups.get(group.0)
    }

    /// What it comes to for each group, in the lesson's order.
    pub fn group_outcomes(&self) -> &[GroupOutcome] {
        &self.outcome.groups
    }

    /// The verdict on the lesson: its worst group's. `LeftOut` only if every
    /// group is left out.
    pub fn verdict(&self) -> Verdict {
        self.outcome.verdict
    }
}

/// Judges a plan by every rule.
///
/// # Errors
/// All breaches, in the order of the rules and within one in the order in
/// which they are found. If the plan points at things the lesson does not
/// have, only that is reported: the rest cannot be judged.
pub fn check(lesson: &Lesson, plan: Plan) -> Result<CheckedPlan, Vec<Breach>> {
    let outcome = judge(lesson, &plan)?;
    Ok(CheckedPlan { plan, outcome })
}

/// [`check`] as the planner wants it: all breaches in one line.
pub fn judge_of(lesson: &Lesson) -> impl Fn(Plan) -> Result<CheckedPlan, String> {
    move |plan| {
        check(lesson, plan).map_err(|breaches| {
            breaches.iter().map(|b| b.told(lesson).to_string()).collect::<Vec<_>>().join("; ")
        })
    }
}

fn judge(lesson: &Lesson, plan: &Plan) -> Result<outcome::Outcome, Vec<Breach>> {
    let mut out = breach::Breaches::default();
    ids::check(lesson, plan, &mut out);
    if out.0.is_empty() {
        let mut view = view::View::new(lesson, plan);
        whole::check(&mut view, &mut out);
        for rule in [
            time::check,
            pupils::check,
            class_steps::check,
            stock::check,
            adults::check,
            oven::check,
            shelf::check,
            door::check,
            door_hands::check,
            tin::check,
            bake::check,
            keep_apart::check,
            locks::check,
        ] {
            rule(&view, &mut out);
        }
        if out.0.is_empty() {
            return Ok(outcome::Outcome::of(&view));
        }
    }
    out.0.sort_by_key(|b| b.rule); // stable: within a rule as found
    Err(out.0)
}
