//! Which steps begin and end each use of an item.

use crate::check::CheckedPlan;
use crate::model::{GroupId, KitId, Lesson, StepId, TinId};
use crate::plan::{KitUse, Stock};
use crate::units::Minute;

/// Of what an item is one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Kind {
    Kit(KitId),
    Tin(TinId),
}

/// One item in use from the start of one step to the end of another.
#[derive(Debug, Clone, Copy)]
pub(super) struct ItemUse {
    /// The heap and the item's number in it.
    pub(super) item: (Stock, u32, usize),
    pub(super) kind: Kind,
    pub(super) group: GroupId,
    pub(super) from: StepId,
    pub(super) to: StepId,
    pub(super) start: Minute,
    pub(super) end: Minute,
}

/// A need of a group that is not wholly met yet.
struct Need {
    kind: Kind,
    from: StepId,
    to: StepId,
    start: Minute,
    end: Minute,
    count: usize,
}

/// Every item in use, by the steps from and to which it is held.
pub(super) fn item_uses(lesson: &Lesson, plan: &CheckedPlan) -> Vec<ItemUse> {
    let mut found = Vec::new();
    for choice in &plan.plan().choices {
        let mut needs = needs(lesson, plan, choice.group);
        for used in plan.plan().uses.iter().filter(|u| u.group == choice.group) {
            share_out(lesson, used, &mut needs, &mut found);
        }
    }
    found
}

fn share_out(lesson: &Lesson, used: &KitUse, needs: &mut [Need], found: &mut Vec<ItemUse>) {
    let kind = match used.of {
        Stock::Kit(pool) => Kind::Kit(lesson.kit_pools[pool.0].kit),
        Stock::Tin(tin) => Kind::Tin(tin),
    };
    for &number in &used.items {
        let fits =
            |n: &&mut Need| n.count > 0 && (n.kind, n.start, n.end) == (kind, used.start, used.end);
        let Some(need) = needs.iter_mut().find(fits) else { continue };
        need.count -= 1;
        let (from, to) = (need.from, need.to);
        let room = lesson.group(used.group).room.0;
        let item = (used.of, number, if matches!(used.of, Stock::Tin(_)) { room } else { 0 });
        let (start, end) = (used.start, used.end);
        found.push(ItemUse { item, kind, group: used.group, from, to, start, end });
    }
}

/// What a served group needs, as the rules `kit` and `tin` read it.
fn needs(lesson: &Lesson, plan: &CheckedPlan, id: GroupId) -> Vec<Need> {
    let Some(choice) = plan.plan().choice(id) else { return Vec::new() };
    let (group, method) = (lesson.group(id), lesson.method_of(id, choice.method));
    let period = &lesson.periods[group.period.0];
    let beforehand = |s: StepId| group.beforehand.contains(&method.steps[s.0].name);
    let collected = |s: StepId| group.collected.contains(&method.steps[s.0].name);
    let placed = |s: StepId| plan.plan().steps.iter().find(|p| p.group == id && p.step == s);
    let mut needs = Vec::new();
    let mut need = |kind, (from, to): (StepId, StepId), count: u32| {
        let (Some(first), Some(last)) = (placed(from), placed(to)) else { return };
        let start = if beforehand(from) { period.start } else { first.start };
        let end = if collected(to) { period.end } else { last.end };
        needs.push(Need { kind, from, to, start, end, count: count as usize });
    };
    for (i, step) in method.steps.iter().enumerate() {
        let step_id = StepId(i);
        if !beforehand(step_id) && !collected(step_id) {
            for &(kit, count) in &step.kit {
                need(Kind::Kit(kit), (step_id, step_id), count);
            }
        }
    }
    for hold in &method.holds {
        need(Kind::Kit(hold.kit), (hold.from, hold.to), hold.count);
    }
    if let (Some(held), Some(tin)) = (method.tin_held, choice.tin) {
        let tin = lesson.tin_choice_of(id, tin);
        need(Kind::Tin(tin.tin), held, tin.count);
    }
    needs
}
