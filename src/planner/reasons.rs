//! Why groups are not served, as it is written into a plan: the sums at quick
//! minutes, what was worked through, the sums as planned. Soon told; the longer
//! work is `explain`'s.

use super::bounds::{Bounder, Pace};
use super::exact::lesson::Refuted;
use super::explain::Paper;
use crate::graph::problem::GroupTask;
use crate::model::{Attendance, GroupId};
use crate::plan::{NotServed, Refusal, Rule};

/// The reasons of all groups in `not_served` (positions in the problem), and
/// of those the teacher has left out. `tries` is how many plans were built,
/// `None` if time ran out before one was whole; `refuted` is what was worked
/// through beyond pencil and paper.
pub(super) fn reasons(
    bounder: Bounder<'_>,
    not_served: &[usize],
    tries: Option<u64>,
    refuted: &Refuted,
) -> Vec<NotServed> {
    let problem = bounder.problem;
    let [quick, planned] =
        [Pace::Quick, Pace::Planned].map(|pace| Paper::new(bounder, pace, not_served));
    let of = |&g: &usize| {
        let group = &problem.groups[g];
        let told = |paper: &Paper<'_>| {
            paper.reason(g).map(|reason| NotServed {
                group: group.group,
                refusal: reason.refusal,
                rules: reason.rules.clone(),
                reason: reason.in_words(),
            })
        };
        told(&quick)
            .or_else(|| worked_through(bounder, group, g, refuted))
            .or_else(|| told(&planned))
            .unwrap_or_else(|| not_found(bounder, group, tries))
    };
    let mut all: Vec<NotServed> = not_served.iter().map(of).collect();
    let left_out = (0..bounder.lesson.groups.len())
        .map(GroupId)
        .filter(|&g| bounder.lesson.group(g).attendance == Attendance::LeftOut);
    all.extend(left_out.map(|group| NotServed {
        group,
        refusal: Refusal::LeftOut,
        rules: Vec::new(),
        reason: "left out by the teacher".to_owned(),
    }));
    all
}

/// A refusal that no short sum shows, if it is proved.
fn worked_through(
    bounder: Bounder<'_>,
    group: &GroupTask,
    position: usize,
    refuted: &Refuted,
) -> Option<NotServed> {
    if refuted.alone.contains(&position) {
        let reason = "Even by itself and at the quickest no \
                      order of its steps with its pupils, the kit and the ovens ends before the \
                      closing. There is no short sum for it: every running order was tried."
            .to_owned();
        let rules = vec![Rule::Order, Rule::Pupils, Rule::Kit, Rule::OneOven, Rule::Bell];
        return Some(NotServed { group: group.group, refusal: Refusal::Cannot, rules, reason });
    }
    if !refuted.together.contains(&group.period) {
        return None;
    }
    let alone = &refuted.alone;
    let of = bounder.problem.groups.iter().enumerate();
    let groups = of.filter(|(g, o)| o.period == group.period && !alone.contains(g)).count();
    let reason = format!(
        "Even at the quickest no arrangement of pupils, kit, adults and ovens gets all {groups} \
         groups out by the bell. There is no short sum for it: every running order was tried."
    );
    let rules = vec![Rule::Order, Rule::Pupils, Rule::Kit, Rule::Adults, Rule::Shelf, Rule::Bell];
    Some(NotServed { group: group.group, refusal: Refusal::CannotAll, rules, reason })
}

fn not_found(bounder: Bounder<'_>, group: &GroupTask, tries: Option<u64>) -> NotServed {
    let told = |rules: &[Rule], reason: String| NotServed {
        group: group.group,
        refusal: Refusal::NotFound,
        rules: rules.to_vec(),
        reason,
    };
    if group.options.iter().all(|o| !o.windows.possible()) {
        let text = "As planned, the steps with their gaps, what is locked and the bells leave no \
                    time for it all, even without the other groups.";
        return told(&[Rule::Order, Rule::Locked, Rule::Bell], text.to_owned());
    }
    let Some(tries) = tries else {
        let text = "Time ran out before one whole plan was made.";
        return told(&[], text.to_owned());
    };
    if tries == 0 {
        let text = "No other arrangement was tried; that there is no room is not proved.";
        return told(&[], text.to_owned());
    }
    let others = if bounder.problem.groups.len() > 1 { " beside the others" } else { "" };
    told(
        &[],
        format!(
            "No room was found{others} in the arrangements tried ({tries}); that there is none \
             is not proved."
        ),
    )
}
