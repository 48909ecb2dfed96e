//! Kit and adults along the clock: how much is in use, with a line at what is
//! there.

use super::words::clock;
use crate::check::CheckedPlan;
use crate::model::{AtOvens, KitId, Lesson};
use crate::plan::Stock;
use crate::units::Minute;

/// A ribbon.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Ribbon {
    /// "electric whisk", "adults".
    pub name: String,
    /// How many there are.
    pub there: u32,
    /// Stretches with something in use: from, until, how many.
    pub used: Vec<(Minute, Minute, u32)>,
    /// The most in use at one time.
    pub most: u32,
    /// What a screen reader says.
    pub spoken: String,
}

/// Ribbons of the kit in use, in the lesson's order, and of the adults.
pub fn ribbons(lesson: &Lesson, plan: &CheckedPlan) -> Vec<Ribbon> {
    let kit = (0..lesson.kit_kinds.len()).map(KitId).filter_map(|k| kit(lesson, plan, k));
    kit.chain(adults(lesson, plan)).collect()
}

fn kit(lesson: &Lesson, plan: &CheckedPlan, kind: KitId) -> Option<Ribbon> {
    let there = lesson.kit_pools.iter().filter(|p| p.kit == kind).map(|p| p.count).sum();
    let spans: Vec<(Minute, Minute, u32)> = plan
        .plan()
        .uses
        .iter()
        .filter(|u| matches!(u.of, Stock::Kit(pool) if lesson.kit_pools[pool.0].kit == kind))
        .map(|u| (u.start, u.end, u32::try_from(u.items.len()).unwrap_or(u32::MAX)))
        .collect();
    ribbon(lesson, lesson.kit_kinds[kind.0].name.clone(), there, &spans)
}

fn adults(lesson: &Lesson, plan: &CheckedPlan) -> Option<Ribbon> {
    let steps = plan.plan().steps.iter().filter(|s| s.adult.is_some()).map(|s| (s.start, s.end, 1));
    let doors = plan
        .plan()
        .door_watches
        .iter()
        .map(|w| (w.minute, w.minute + crate::units::Minutes::new(1), 1));
    let class = plan.plan().class_steps.iter().map(|c| {
        let adults = lesson.class_steps[c.step.0].adults.len();
        (c.start, c.end, u32::try_from(adults).unwrap_or(u32::MAX))
    });
    let spans: Vec<(Minute, Minute, u32)> = steps.chain(doors).chain(class).collect();
    let there = u32::try_from(lesson.adults.len()).unwrap_or(u32::MAX);
    let mut ribbon = ribbon(lesson, "adults".to_owned(), there, &spans)?;
    if lesson.rules.at_ovens != AtOvens::Nobody {
        let asked = lesson.rules.at_ovens.words();
        ribbon.spoken = format!("{}; while ovens are open: {asked}", ribbon.spoken);
    }
    Some(ribbon)
}

/// `None` if nothing is ever in use.
fn ribbon(
    lesson: &Lesson,
    name: String,
    there: u32,
    spans: &[(Minute, Minute, u32)],
) -> Option<Ribbon> {
    let mut changes: Vec<Minute> = spans.iter().flat_map(|s| [s.0, s.1]).collect();
    changes.sort_unstable();
    changes.dedup();
    let mut used: Vec<(Minute, Minute, u32)> = Vec::new();
    for pair in changes.windows(2) {
        let count: u32 =
            spans.iter().filter(|s| s.0 <= pair[0] && pair[0] < s.1).map(|s| s.2).sum();
        match used.last_mut() {
            Some(last) if last.1 == pair[0] && last.2 == count => last.1 = pair[1],
            _ if count > 0 => used.push((pair[0], pair[1], count)),
            _ => {}
        }
    }
    let most = used.iter().map(|u| u.2).max()?;
    let peak = used.iter().find(|u| u.2 == most)?;
    let spoken = format!(
        "{name}, at most {most} of {there} in use, {} to {}",
        clock(lesson, peak.0),
        clock(lesson, peak.1)
    );
    Some(Ribbon { name, there, used, most, spoken })
}
