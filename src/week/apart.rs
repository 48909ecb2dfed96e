//! A plan of lessons that were joined, taken apart again: each lesson's part is judged
//! by itself, as the plan of that lesson by its own rules, and what they share is
//! counted over, with what all others of the day want of it. So a plan of several
//! lessons is believed for the same reasons as that of one, and not because they
//! were joined as they should be.

use chrono::NaiveDate;

use super::alone::{Alone, Planner};
use super::join::{Joined, Part};
use super::model::{EntryNo, Week};
use super::profile::Profile;
use super::wanted::{Thing, want, wanted};
use crate::check::check;
use crate::model::AtOvens;
use crate::plan::{
    Choice, ClassPlacement, DoorWatch, KitUse, Load, NotServed, OvenSetting, Plan, Refusal,
    StepPlacement, Stock, why::By,
};

/// The plan of each lesson; `None` if one of them is no plan of its lesson.
pub(super) fn apart(joined: &Joined<'_>, plan: &Plan) -> Option<Vec<(EntryNo, Alone)>> {
    let one = |part: &Part<'_>| {
        let lesson = part.alone.lesson.clone();
        let plan = check(&lesson, own_plan(part, plan)?).ok()?;
        Some((part.entry.number, Alone { lesson, plan, whole: true }))
    };
    joined.parts.iter().map(one).collect()
}

/// A lesson's own part of a plan; `None` if it rests on something of another's.
fn own_plan(part: &Part<'_>, plan: &Plan) -> Option<Plan> {
    let (shift, lesson) = (&part.shift, &part.alone.lesson);
    let group = |group| shift.own_group(lesson, group);
    let minute = |minute| shift.own_minute(minute);
    let mut own = Plan::default();
    for choice in &plan.choices {
        let Some(group) = group(choice.group) else { continue };
        own.choices.push(Choice { group, ..*choice });
    }
    for step in &plan.steps {
        let Some(group) = group(step.group) else { continue };
        let adult = match step.adult {
            Some(adult) => Some(shift.own_adult(adult)?),
            None => None,
        };
        let (start, end) = (minute(step.start), minute(step.end));
        own.steps.push(StepPlacement { group, adult, start, end, ..step.clone() });
    }
    for load in &plan.loads {
        let Some(group) = group(load.group) else { continue };
        let oven = shift.own_oven(lesson, load.oven)?;
        let (start, end) = (minute(load.start), minute(load.end));
        own.loads.push(Load { group, oven, start, end, ..load.clone() });
    }
    for used in &plan.uses {
        let Some(group) = group(used.group) else { continue };
        let of = match used.of {
            // Tins that go from room to room are held as kit besides.
            Stock::Kit(pool) => match shift.own_pool(pool) {
                Some(pool) => Stock::Kit(pool),
                None => continue,
            },
            Stock::Tin(tin) => Stock::Tin(shift.own_tin(lesson, tin)?),
        };
        let (start, end) = (minute(used.start), minute(used.end));
        own.uses.push(KitUse { group, of, start, end, items: used.items.clone() });
    }
    for placed in &plan.class_steps {
        let Some(step) = shift.own_class_step(lesson, placed.step) else { continue };
        let (start, end) = (minute(placed.start), minute(placed.end));
        own.class_steps.push(ClassPlacement { step, start, end });
    }
    for setting in &plan.settings {
        let Some(oven) = shift.own_oven(lesson, setting.oven) else { continue };
        own.settings.push(OvenSetting {
            oven,
            set_at: minute(setting.set_at),
            hot_from: minute(setting.hot_from),
            until: minute(setting.until),
            ..*setting
        });
    }
    // Where others ask for it an adult stands at every door; not asked for is not told.
    let is_watched = lesson.rules.at_ovens == AtOvens::AtDoor;
    for watch in plan.door_watches.iter().filter(|_| is_watched) {
        let Some(oven) = shift.own_oven(lesson, watch.oven) else { continue };
        let adult = shift.own_adult(watch.adult)?;
        own.door_watches.push(DoorWatch { oven, adult, minute: minute(watch.minute) });
    }
    for left in &plan.not_served {
        let Some(group) = group(left.group) else { continue };
        own.not_served.push(NotServed { group, ..without_proof(left) });
    }
    Some(own)
}

/// What was proved of all lessons together is not proved of one.
fn without_proof(left: &NotServed) -> NotServed {
    match left.refusal {
        Refusal::LeftOut => left.clone(),
        Refusal::Cannot | Refusal::CannotAll | Refusal::NotFound => NotServed {
            group: left.group,
            refusal: Refusal::NotFound,
            by: By::Nothing,
            rules: left.rules.clone(),
            reason: "no plan of all these lessons serves it".to_owned(),
        },
    }
}

/// Whether what is shared is there for these plans beside what all others of the day
/// want of it, each as if it were alone.
pub(super) fn suffices(
    week: &Week,
    planner: &Planner<'_>,
    date: NaiveDate,
    parts: &[(EntryNo, Alone)],
) -> bool {
    wanted(week, planner, date).iter().all(|of| {
        if matches!(of.what, Thing::Ovens(_)) {
            return true; // each in its own room
        }
        let mut these = Profile::default();
        for (number, alone) in parts {
            let entry = week.entry(*number);
            entry.iter().for_each(|e| these.join(&want(week, (e, Some(alone)), of.what)));
        }
        let is_other = |entry: &EntryNo| parts.iter().all(|(part, _)| part != entry);
        let mut all = these.clone();
        of.by.iter().filter(|(by, _)| is_other(by)).for_each(|(_, profile)| all.join(profile));
        let over = all.above(of.there);
        let meets = |a: &super::Span, b: &super::Span| a.from < b.until && b.from < a.until;
        !over.spans().iter().any(|a| these.spans().iter().any(|b| meets(a, b)))
    })
}

#[cfg(test)]
mod tests {
    use std::path::Path;
    use std::sync::Arc;
    use std::sync::atomic::AtomicBool;

    use super::*;
    use crate::units::Minutes;
    use crate::week::join::{Asks, join};
    use crate::week::{Entry, load};

    /// A plan bent in one place, of which it is told what is bent.
    type Bend = (&'static str, fn(&mut Plan));

    const BENDS: [Bend; 5] = [
        ("a load is moved to an oven of the other room", |plan| {
            let oven = plan.loads.iter().map(|l| l.oven).max();
            plan.loads[0].oven = oven.unwrap_or(plan.loads[0].oven);
        }),
        ("a step is later", |plan| plan.steps[0].start = plan.steps[0].start + Minutes::new(1)),
        ("a step is left out", |plan| drop(plan.steps.pop())),
        ("kit is not named", |plan| drop(plan.uses.pop())),
        ("a class step is missing", |plan| plan.class_steps.clear()),
    ];

    #[test]
    fn only_what_is_a_plan_of_each_lesson_is_one_of_all() {
        static GO_ON: AtomicBool = AtomicBool::new(false);
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("lessons/week/week.ron");
        let loaded = load(&path, &[]).unwrap_or_else(|findings| panic!("{findings:#?}"));
        let (week, planner) = (&loaded.week, Planner::new(&[], 60, &GO_ON));
        let date = week.day_called("thu").unwrap_or_else(|why| panic!("{why}"));
        let on: Vec<&Entry> = week.on(date).filter(|e| e.slot.period() == "P3").collect();
        let alone = |e: &&'_ Entry| planner.alone(week, e);
        let alone: Vec<Arc<Alone>> = on.iter().filter_map(alone).collect();
        let lessons: Vec<_> = on.into_iter().zip(alone).collect();
        assert_eq!(lessons.len(), 2);
        let joined = join(week, &lessons, &[], Asks::Least);
        let joined = joined.unwrap_or_else(|| panic!("they cannot be joined"));
        let all = planner.joined(&joined.lesson);
        let plan = all.map(|all| all.plan.plan().clone()).unwrap_or_default();
        let parts = apart(&joined, &plan).unwrap_or_else(|| panic!("not taken apart"));
        let served: u32 = parts.iter().map(|(_, alone)| alone.served()).sum();
        assert_eq!(served as usize, plan.choices.len());
        assert!(suffices(week, &planner, date, &parts));
        for (what, bend) in BENDS {
            let mut bent = plan.clone();
            bend(&mut bent);
            assert!(apart(&joined, &bent).is_none(), "{what}: taken for a plan");
        }
        // Each as if it were alone, they whisk at once.
        let at_once = lessons.iter().map(|(entry, alone)| {
            let (lesson, plan) = (alone.lesson.clone(), alone.plan.clone());
            (entry.number, Alone { lesson, plan, whole: true })
        });
        assert!(!suffices(week, &planner, date, &at_once.collect::<Vec<_>>()));
    }
}
