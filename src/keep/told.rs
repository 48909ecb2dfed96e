//! The plan kept with a lesson beside the lesson as it is now: whether it still
//! holds, and if not, what of it does.

use super::taken_over::{keep_only, leave_doors};
use crate::check::{Breach, CheckedPlan, check};
use crate::file::told::Told;
use crate::finding::Finding;
use crate::model::{Attendance, GroupId, Lesson};
use crate::plan::Plan;
use crate::planner::told_anew;

/// A kept plan that no longer holds.
#[derive(Debug, Clone)]
pub struct NoLonger {
    /// The reasons, placed in the lesson's file.
    pub findings: Vec<Finding>,
    /// What still holds of it: the lesson without the groups it fails, and a
    /// plan of that. `None` if that is nothing.
    pub rest: Option<(Lesson, CheckedPlan)>,
}

/// The plan that is kept with a lesson, checked by the lesson as it is now. It
/// holds as long as it keeps every rule and speaks of every group that takes
/// part; those who take part no longer are left out of it. That groups are
/// not served is told with what pencil and paper prove.
///
/// # Errors
/// Why it no longer holds.
pub fn told(lesson: &Lesson, told: &Told) -> Result<CheckedPlan, Box<NoLonger>> {
    let (mut plan, mut findings) = told
        .read(lesson)
        .map_err(|finding| Box::new(NoLonger { findings: vec![finding], rest: None }))?;
    let speaks_of =
        |g: &GroupId| plan.choice(*g).is_some() || plan.not_served.iter().any(|n| n.group == *g);
    let unknown: Vec<GroupId> = lesson.attending().filter(|g| !speaks_of(g)).collect();
    let as_written = plan.clone();
    leave_out_the_absent(lesson, &mut plan);
    if findings.is_empty() {
        let breaches = match check(lesson, told_anew(lesson, plan.clone())) {
            Ok(plan) if unknown.is_empty() => return Ok(plan),
            Ok(_) => Vec::new(),
            Err(breaches) => breaches,
        };
        let broken =
            |b: &Breach| told.finding(&as_written, (b.group, b.minute), b.by_the_clock(lesson));
        findings.extend(breaches.iter().map(broken));
        findings.extend(unknown.iter().map(|&g| {
            let message = format!("{} is not in it", lesson.group(g).name);
            told.finding(&as_written, (None, None), message)
        }));
    }
    let rest = what_holds(lesson, plan, unknown);
    Err(Box::new(NoLonger { findings, rest }))
}

fn leave_out_the_absent(lesson: &Lesson, plan: &mut Plan) {
    let attends = |g: GroupId| lesson.group(g).attendance == Attendance::TakesPart;
    if !plan.choices.iter().all(|c| attends(c.group)) {
        keep_only(plan, attends);
        leave_doors(lesson, plan);
    }
}

/// The plan without the groups in whose part of it a rule is broken, as often
/// as that helps.
fn what_holds(
    lesson: &Lesson,
    mut plan: Plan,
    unknown: Vec<GroupId>,
) -> Option<(Lesson, CheckedPlan)> {
    let mut out = unknown;
    let chosen: Vec<GroupId> = plan.choices.iter().map(|c| c.group).collect();
    keep_only(&mut plan, |g| chosen.contains(&g));
    while !plan.choices.is_empty() {
        let mut parts = lesson.clone().into_parts();
        for group in &out {
            parts.groups[group.0].attendance = Attendance::LeftOut;
        }
        let without = Lesson::new(parts).ok()?;
        match check(&without, told_anew(&without, plan.clone())) {
            Ok(plan) => return Some((without, plan)),
            Err(breaches) => {
                let failed = |g: GroupId| breaches.iter().any(|b: &Breach| b.group == Some(g));
                let fails: Vec<GroupId> =
                    plan.choices.iter().map(|c| c.group).filter(|&g| failed(g)).collect();
                if fails.is_empty() {
                    return None;
                }
                keep_only(&mut plan, |g| !fails.contains(&g));
                leave_doors(lesson, &mut plan);
                out.extend(fails);
            }
        }
    }
    None
}
