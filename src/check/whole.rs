//! `whole-group`: every attending group is served whole or reported.

use super::breach::Breaches;
use super::fault::{StepOf, WholeGroupFault};
use super::span::to_minutes;
use super::view::{Served, View, planned_minutes};
use crate::model::{Attendance, GroupId, Lesson, StepId, StepKind};
use crate::plan::{Choice, Load, Plan, Refusal, Rule, StepPlacement};
use crate::units::Celsius;

/// What the plan says of one group.
#[derive(Default)]
struct Account<'a> {
    choices: Vec<&'a Choice>,
    steps: Vec<&'a StepPlacement>,
    loads: Vec<&'a Load>,
    uses: usize,
    refusals: Vec<Refusal>,
}

/// Sorts the plan by groups and gives the view those that are whole, so that
/// the other rules need not ask.
pub(super) fn check<'a>(view: &mut View<'a>, out: &mut Breaches) {
    let (lesson, plan) = (view.lesson, view.plan);
    let accounts = accounts(lesson, plan);
    let mut served = Vec::new();
    let mut complete = true;
    for (i, account) in accounts.into_iter().enumerate() {
        let id = GroupId(i);
        let before = out.0.len();
        registered(view, id, &account, out);
        if let [choice] = account.choices[..] {
            served.extend(assemble(lesson, id, choice, account, out));
        }
        complete &= before == out.0.len();
    }
    for group in &served {
        durations(group, out);
    }
    view.serve(served, complete);
}

fn accounts<'a>(lesson: &Lesson, plan: &'a Plan) -> Vec<Account<'a>> {
    let mut accounts: Vec<Account<'a>> = Vec::new();
    accounts.resize_with(lesson.groups.len(), Account::default);
    for choice in &plan.choices {
        accounts[choice.group.0].choices.push(choice);
    }
    for step in &plan.steps {
        accounts[step.group.0].steps.push(step);
    }
    for load in &plan.loads {
        accounts[load.group.0].loads.push(load);
    }
    for kit in &plan.uses {
        accounts[kit.group.0].uses += 1;
    }
    for refused in &plan.not_served {
        accounts[refused.group.0].refusals.push(refused.refusal);
    }
    accounts
}

/// Whether a group is served or refused, and that once.
fn registered(view: &View<'_>, id: GroupId, account: &Account<'_>, out: &mut Breaches) {
    let group = id;
    let attends = view.lesson.group(id).attendance == Attendance::TakesPart;
    let mut add = |fault| out.add(Rule::WholeGroup, id, None, fault);
    match (account.choices.len(), account.refusals.len()) {
        (1, 0) if attends => {}
        (0, 1) => {
            let left_out = account.refusals.contains(&Refusal::LeftOut);
            if attends && left_out {
                add(WholeGroupFault::TakesPart { group });
            } else if !attends && !left_out {
                add(WholeGroupFault::LeftOutRefused { group });
            }
        }
        (0, 0) if !attends => {}
        (0, 0) => add(WholeGroupFault::Forgotten { group }),
        (0, times) => add(WholeGroupFault::Reported { group, times }),
        (_, 0) if !attends => add(WholeGroupFault::LeftOutServed { group }),
        (choices, 0) => add(WholeGroupFault::Choices { group, choices }),
        (..) => add(WholeGroupFault::Both { group }),
    }
    let placed = account.steps.len() + account.loads.len() + account.uses;
    if account.choices.is_empty() && placed > 0 {
        let (steps, tins, uses) = (account.steps.len(), account.loads.len(), account.uses);
        add(WholeGroupFault::PlacedUnserved { group, steps, tins, uses });
    }
}

/// The group with each step placed exactly once, if it is so.
fn assemble<'a>(
    lesson: &'a Lesson,
    id: GroupId,
    choice: &'a Choice,
    account: Account<'a>,
    out: &mut Breaches,
) -> Option<Served<'a>> {
    let group = lesson.group(id);
    let step_of = |step| StepOf { group: id, method: choice.method, step };
    let method = lesson.method_of(id, choice.method);
    let mut placed = vec![None; method.steps.len()];
    let before = out.0.len();
    for step in account.steps {
        let Some(slot) = placed.get_mut(step.step.0) else {
            let fault = WholeGroupFault::NoSuchStep { group: id, step: step.step };
            out.add(Rule::WholeGroup, id, None, fault);
            continue;
        };
        if slot.replace(step).is_some() {
            let fault = WholeGroupFault::PlacedTwice { step: step_of(step.step) };
            out.add(Rule::WholeGroup, id, i64::from(step.start.get()), fault);
        }
    }
    for (i, slot) in placed.iter().enumerate() {
        if slot.is_none() {
            let fault = WholeGroupFault::NotPlaced { step: step_of(StepId(i)) };
            out.add(Rule::WholeGroup, id, None, fault);
        }
    }
    let placed: Vec<&StepPlacement> = placed.into_iter().flatten().collect();
    let tin = choice.tin.map(|t| lesson.tin_choice_of(id, t));
    let recipe = lesson.recipe_of(id);
    let loads = account.loads;
    // Tins of one group in ovens of different temperatures: the first one's
    // counts here, and each of the others is held to it (`bake-time`).
    let celsius = loads.first().map(|l| l.celsius).or(tin.map(|t| t.celsius));
    let baked = (tin, celsius.unwrap_or(Celsius::BAKING));
    let planned = method.steps.iter().map(|s| planned_minutes(lesson, group, baked, s)).collect();
    (before == out.0.len()).then_some(Served {
        id,
        group,
        recipe,
        method,
        choice,
        tin,
        placed,
        planned,
        loads,
    })
}

/// Every step lasts its planned minutes; bakes and cooling have rules of
/// their own.
fn durations(group: &Served<'_>, out: &mut Breaches) {
    for s in group.steps() {
        if matches!(s.step.kind, StepKind::Bake | StepKind::Cool) {
            continue;
        }
        let span = s.span;
        if let Some(planned) = s.planned.filter(|&p| p != span.length()) {
            let (step, given) = (group.step_of(s.id), span.minutes());
            let fault = WholeGroupFault::Lasts { step, given, span, takes: to_minutes(planned) };
            out.add(Rule::WholeGroup, group.id, span.start, fault);
        }
    }
}
