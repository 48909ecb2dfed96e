//! `whole-group`: every attending group is served whole or reported.

use super::rule::{Breaches, Rule};
use super::span::Span;
use super::view::{Served, View, planned_minutes, shown};
use crate::model::{Attendance, GroupId, Lesson, StepKind};
use crate::plan::{Choice, Load, Plan, Refusal, StepPlacement};
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
    let name = view.group_name(id);
    let attends = view.lesson.group(id).attendance == Attendance::TakesPart;
    let mut add = |message| out.add(Rule::WholeGroup, id, None, message);
    match (account.choices.len(), account.refusals.len()) {
        (1, 0) if attends => {}
        (0, 1) => {
            let left_out = account.refusals.contains(&Refusal::LeftOut);
            if attends && left_out {
                add(format!("{name} is reported as left out by the teacher, but takes part"));
            } else if !attends && !left_out {
                add(format!("{name} is left out by the teacher, but reported as refused"));
            }
        }
        (0, 0) if !attends => {}
        (0, 0) => add(format!("{name} is neither served nor reported as not served")),
        (0, n) => add(format!("{name} is reported as not served {n} times")),
        (_, 0) if !attends => add(format!("{name} is left out by the teacher, but served")),
        (n, 0) => add(format!("{name} has {n} choices of method and tin instead of one")),
        (..) => add(format!("{name} is both served and reported as not served")),
    }
    let placed = account.steps.len() + account.loads.len() + account.uses;
    if account.choices.is_empty() && placed > 0 {
        add(format!(
            "{name} is not served, yet the plan places {} of its steps, {} of its tins and {} uses \
             of kit",
            account.steps.len(),
            account.loads.len(),
            account.uses
        ));
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
    let name = shown(&group.name);
    let method = lesson.method_of(id, choice.method);
    let mut placed = vec![None; method.steps.len()];
    let before = out.0.len();
    for step in account.steps {
        let Some(slot) = placed.get_mut(step.step.0) else {
            let number = step.step.0.saturating_add(1);
            let message = format!("{name} has a step number {number}, which its method has not");
            out.add(Rule::WholeGroup, id, None, message);
            continue;
        };
        if slot.replace(step).is_some() {
            let what = shown(&method.steps[step.step.0].name);
            out.add(
                Rule::WholeGroup,
                id,
                i64::from(step.start.get()),
                format!("{name}: \"{what}\" is placed more than once"),
            );
        }
    }
    for (slot, step) in placed.iter().zip(&method.steps) {
        if slot.is_none() {
            let message = format!("{name}: \"{}\" is not placed", shown(&step.name));
            out.add(Rule::WholeGroup, id, None, message);
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
        let span: Span = s.span;
        if let Some(planned) = s.planned.filter(|&p| p != span.length()) {
            let message = format!(
                "{}: \"{}\" is given {} min {span}; it takes {planned} min",
                group.name(),
                shown(&s.step.name),
                span.length()
            );
            out.add(Rule::WholeGroup, group.id, span.start, message);
        }
    }
}
