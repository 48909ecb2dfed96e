//! What a group's own way costs, as a sum a teacher can check: one pupil who
//! has nobody to share with, a group that keeps an oven to itself.

use super::words::{clock, minutes};
use crate::check::CheckedPlan;
use crate::model::{GroupId, Lesson, Method, PupilsNeeded, Step};
use crate::units::plain_number;

/// What it costs that a pupil bakes alone: "17 minutes of hands one after the
/// other; two could have done them in 9 at best". `None` for others, and
/// where two would be no quicker.
pub fn alone(lesson: &Lesson, plan: &CheckedPlan, id: GroupId) -> Option<String> {
    let group = lesson.group(id);
    if group.pupils != 1 {
        return None;
    }
    let first = || group.methods.first().copied();
    let method = plan.plan().choice(id).map(|c| c.method).or_else(first)?;
    let method = lesson.method_of(id, method);
    // What somebody else does, or nobody yet, is not theirs to share.
    let outside =
        |s: &Step| group.beforehand.contains(&s.name) || group.collected.contains(&s.name);
    let is_theirs = |s: &&Step| s.kind.is_hand() && !outside(s);
    let hands: f64 = method.steps.iter().filter(is_theirs).map(usual).sum::<f64>() * group.pace;
    let two = two_at_best(method, outside) * group.pace;
    (two < hands).then(|| {
        format!(
            "{} minutes of hands, one after the other; two could do them in {} at best",
            plain_number(hands.ceil()),
            plain_number(two.ceil())
        )
    })
}

fn usual(step: &Step) -> f64 {
    step.minutes.map_or(0.0, |m| m.usual().get())
}

/// The minutes for which two have their hands full at the least: half of all
/// work, and the longest chain of steps that wait for each other.
fn two_at_best(method: &Method, outside: impl Fn(&Step) -> bool) -> f64 {
    let work = |i: usize| {
        let step = &method.steps[i];
        if step.kind.is_hand() && !outside(step) { usual(step) } else { 0.0 }
    };
    let takes = |i: usize| match method.steps[i].pupils {
        PupilsNeeded::Count(n) => f64::from(n.min(2)),
        PupilsNeeded::All => 2.0,
    };
    let all: f64 = (0..method.steps.len()).map(|i| work(i) * takes(i)).sum();
    let mut ends: Vec<f64> = (0..method.steps.len()).map(work).collect();
    // Links may be written in any order; no chain is longer than all steps.
    for _ in 0..method.steps.len() {
        for link in &method.links {
            ends[link.to.0] = ends[link.to.0].max(ends[link.from.0] + work(link.to.0));
        }
    }
    ends.into_iter().fold(all / 2.0, f64::max)
}

/// What it costs that a group is kept apart: "has Oven 3 to itself from 10:30
/// to 10:52, 22 minutes for 1 tin". `None` where it does not bake.
pub fn apart(lesson: &Lesson, plan: &CheckedPlan, id: GroupId) -> Option<String> {
    if !lesson.group(id).keep_apart {
        return None;
    }
    let loads: Vec<_> = plan.plan().loads.iter().filter(|l| l.group == id).collect();
    let first = loads.first()?;
    let start = loads.iter().map(|l| l.start).min()?;
    let end = loads.iter().map(|l| l.end).max()?;
    let ovens: Vec<&str> = {
        let mut ids: Vec<_> = loads.iter().map(|l| l.oven).collect();
        ids.sort_unstable();
        ids.dedup();
        ids.into_iter().map(|o| lesson.ovens[o.0].name.as_str()).collect()
    };
    let shelves = lesson.ovens[first.oven.0].shelves.len();
    let tins = if loads.len() == 1 { "1 tin".to_owned() } else { format!("{} tins", loads.len()) };
    let of = if shelves > 1 { format!(", on {shelves} shelves") } else { String::new() };
    Some(format!(
        "has {} to itself from {} to {}: {} for {tins}{of}",
        ovens.join(" and "),
        clock(lesson, start),
        clock(lesson, end),
        minutes((end - start).get())
    ))
}

/// What open doors take of an adult who stands at each for a minute. `None`
/// where there are none.
pub fn at_doors(openings: usize) -> Option<String> {
    let taken = i32::try_from(openings).ok().filter(|&n| n > 0)?;
    Some(format!("{} at open doors, free for nothing else meanwhile", minutes(taken)))
}
