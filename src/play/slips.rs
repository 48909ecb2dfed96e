//! By how much groups are late, from when on, by what was told of them.
//!
//! What was told of a bake stays told, whatever is told of its group later: tins that went
//! in late are not out before they have baked. A late bake that nobody has told out is in.

use super::standing::{minute_of, off_plan, planned_minutes};
use crate::check::CheckedPlan;
use crate::model::{Fact, FactKind, GroupId, Lesson, Slip};
use crate::units::{Minute, Minutes};

/// By the facts told, in the order in which they were. Of several slips of one group each
/// holds from its minute on.
pub(super) fn slips(lesson: &Lesson, plan: &CheckedPlan, facts: &[Fact], now: Minute) -> Vec<Slip> {
    let mut all: Vec<(FactKind, Slip)> = Vec::new();
    for (i, fact) in facts.iter().enumerate().filter(|(_, fact)| !fact.settled) {
        let Some(slip) = slip(lesson, plan, fact) else { continue };
        let before = of_bake(&facts[..i], fact.group);
        let stays = |what: FactKind| match fact.what {
            FactKind::Go | FactKind::In => false,
            FactKind::Out => what == FactKind::In,
            FactKind::Late(_) | FactKind::Ready => is_of_bake(what),
        };
        // Where it is now says all of what it was late before, but of its tins.
        all.retain(|(what, s)| s.group != fact.group || stays(*what));
        let slip = match (fact.what, before) {
            (FactKind::Late(_) | FactKind::Ready, Some(told)) => {
                let over = planned_minutes(lesson, plan, fact.group, told);
                let from = over.map_or(slip.from, |(_, over)| slip.from.max(over));
                let late = all.iter().rfind(|(_, s)| s.group == fact.group).map(|(_, s)| s.late);
                Slip { from, late: late.map_or(slip.late, |late| slip.late.max(late)), ..slip }
            }
            _ => slip,
        };
        all.push((fact.what, slip));
    }
    let mut slips: Vec<Slip> = all.into_iter().map(|(_, slip)| slip).collect();
    for choice in &plan.plan().choices {
        let last = slips.iter().rfind(|s| s.group == choice.group).copied();
        slips.extend(last.and_then(|last| still_in(lesson, plan, facts, (last, now))));
    }
    slips
}

/// How late a group is at a minute of its plan: by the last of its slips from then or before.
pub fn late_by(slips: &[Slip], group: GroupId, is_before: impl Fn(Minute) -> bool) -> Minutes {
    let of_group = slips.iter().filter(|slip| slip.group == group);
    of_group.filter(|slip| is_before(slip.from)).last().map_or(Minutes::ZERO, |slip| slip.late)
}

fn is_of_bake(what: FactKind) -> bool {
    matches!(what, FactKind::In | FactKind::Out)
}

/// What was told last of a group's tins.
fn of_bake(facts: &[Fact], group: GroupId) -> Option<FactKind> {
    facts.iter().filter(|f| f.group == group).map(|f| f.what).rfind(|what| is_of_bake(*what))
}

/// A late bake is in until it is told out, for longer if need be.
fn still_in(
    lesson: &Lesson,
    plan: &CheckedPlan,
    facts: &[Fact],
    (last, now): (Slip, Minute),
) -> Option<Slip> {
    let (load, loaded) = planned_minutes(lesson, plan, last.group, FactKind::In)?;
    let (out, over) = planned_minutes(lesson, plan, last.group, FactKind::Out)?;
    let told_in = of_bake(facts, last.group);
    let is_in =
        load < last.from && last.from < over || last.from == load && told_in == Some(FactKind::In);
    // Who is taking out may be done by now, and is not done before.
    let (from, late) = (last.from.max(loaded), now - if last.from <= out { out } else { over });
    let goes_on = is_in && told_in != Some(FactKind::Out) && Minutes::ZERO < last.late;
    (goes_on && last.late < late).then_some(Slip { from, late, ..last })
}

/// By how much a fact says that a group is late, and from when on.
fn slip(lesson: &Lesson, plan: &CheckedPlan, fact: &Fact) -> Option<Slip> {
    let at = minute_of(lesson, fact.at);
    let (from, late) = match fact.what {
        FactKind::Late(late) => {
            plan.plan().choice(fact.group)?;
            (at - late, late)
        }
        what => {
            // By the plan it would have been at a minute of a stretch.
            let (from, _) = planned_minutes(lesson, plan, fact.group, what)?;
            (from, off_plan(lesson, plan, fact)?)
        }
    };
    // Nothing is expected sooner than planned, but tins that are out are.
    let late = if fact.what == FactKind::Out { late } else { late.max(Minutes::ZERO) };
    Some(Slip { group: fact.group, from, late })
}
