//! Why groups are not served, as it is written into a plan: the sums at quick
//! minutes, what was worked through, the sums as planned. Soon told; the longer
//! work is `explain`'s.

use super::bounds::{Bounder, Pace};
use super::explain::{LeftOut, Paper, Reason, at_pace};
use super::prover::Proof;
use crate::graph::problem::GroupTask;
use crate::model::{Attendance, GroupId};
use crate::plan::why::By;
use crate::plan::{NotServed, Refusal, Rule};
use crate::words::{capital, number};

/// The rules by which not all groups are served, where no sum tells which.
const ALL_TOGETHER: [Rule; 6] =
    [Rule::Order, Rule::Pupils, Rule::Kit, Rule::Adults, Rule::Shelf, Rule::Bell];

/// The reasons of all groups in `not_served` (positions in the problem), and
/// of those the teacher has left out. `whole` says that time did not run out
/// before a plan was whole; `proof` is what was proved beyond pencil and paper.
pub(super) fn reasons(
    bounder: Bounder<'_>,
    not_served: &[usize],
    whole: bool,
    proof: &Proof,
) -> Vec<NotServed> {
    let problem = bounder.problem;
    let most = usize::try_from(proof.bounds.served_at_most).unwrap_or(usize::MAX);
    let left = LeftOut { not_served, alone: &proof.refuted.alone, served_at_most: most };
    let [quick, planned] = [Pace::Quick, Pace::Planned].map(|pace| Paper::new(bounder, pace, left));
    let of = |&g: &usize| {
        let group = &problem.groups[g];
        let told = |reason: Reason| NotServed {
            group: group.group,
            refusal: reason.refusal,
            by: reason.by,
            rules: reason.rules.clone(),
            reason: reason.in_words(),
        };
        (quick.alone(group).map(told))
            .or_else(|| by_itself(group, proof.refuted.alone.contains(&g)))
            .or_else(|| quick.together(g).map(told))
            .or_else(|| worked_through(bounder, g, proof))
            .or_else(|| planned.reason(g).map(told))
            .or_else(|| no_time(group))
            .or_else(|| as_planned(bounder, group, not_served.len(), most))
            .unwrap_or_else(|| not_found(bounder, group, whole))
    };
    let mut all: Vec<NotServed> = not_served.iter().map(of).collect();
    let left_out = (0..bounder.lesson.groups.len())
        .map(GroupId)
        .filter(|&g| bounder.lesson.group(g).attendance == Attendance::LeftOut);
    all.extend(left_out.map(|group| NotServed {
        group,
        refusal: Refusal::LeftOut,
        by: By::Nothing,
        rules: Vec::new(),
        reason: "left out by the teacher".to_owned(),
    }));
    all
}

/// That a group cannot be served even by itself, though no short sum shows it.
fn by_itself(group: &GroupTask, refuted: bool) -> Option<NotServed> {
    let reason = "Even by itself and at the quickest no \
                  order of its steps with its pupils, the kit and the ovens ends before the \
                  closing. There is no short sum for it: every running order was tried."
        .to_owned();
    let rules = vec![Rule::Order, Rule::Pupils, Rule::Kit, Rule::OneOven, Rule::Bell];
    let (refusal, by) = (Refusal::Cannot, By::Orders);
    refuted.then_some(NotServed { group: group.group, refusal, by, rules, reason })
}

/// That not all groups can be served even at the quickest, though no short sum
/// shows it.
fn worked_through(bounder: Bounder<'_>, position: usize, proof: &Proof) -> Option<NotServed> {
    let set = proof.refuted.together.iter().find(|set| set.contains(&position))?;
    let problem = bounder.problem;
    let group = &problem.groups[position];
    let here = super::bounds::beside(problem, group.period).len();
    let who = if set.len() < here {
        format!("all {} groups that could be by themselves", number(set.len()))
    } else {
        format!("all {} groups", number(set.len()))
    };
    let most = usize::try_from(proof.bounds.served_at_most).unwrap_or(usize::MAX);
    let usual = if set.len() == problem.groups.len() && most < set.len() - 1 {
        let pace = at_pace(bounder.lesson, Pace::Planned);
        format!("; {pace} it gets no more than {}", number(most))
    } else {
        String::new()
    };
    let reason = format!(
        "Even at the quickest no arrangement of pupils, kit, adults and ovens gets {who} out by \
         the bell{usual}. There is no short sum for it: every running order was tried."
    );
    let (refusal, by, rules) = (Refusal::CannotAll, By::Orders, ALL_TOGETHER.to_vec());
    Some(NotServed { group: group.group, refusal, by, rules, reason })
}

/// That no plan serves more groups, where it is proved at planned minutes only.
fn as_planned(
    bounder: Bounder<'_>,
    group: &GroupTask,
    not_served: usize,
    most: usize,
) -> Option<NotServed> {
    let all = bounder.problem.groups.len();
    if most > all - not_served {
        return None;
    }
    let pace = capital(at_pace(bounder.lesson, Pace::Planned));
    let reason = match (most, all) {
        (_, 1) => format!(
            "{pace} no order of its steps ends before the closing; were all quicker, one might."
        ),
        (0, _) => format!(
            "{pace} no arrangement gets any of the {} groups out by the bell; were all quicker, \
             one might.",
            number(all)
        ),
        (most, _) => format!(
            "{pace} no arrangement gets more than {} of the {} groups out by the bell; were all \
             quicker, one might.",
            number(most),
            number(all)
        ),
    };
    let (refusal, by, rules) = (Refusal::NotFound, By::Orders, ALL_TOGETHER.to_vec());
    Some(NotServed { group: group.group, refusal, by, rules, reason })
}

/// That its own steps, locks and bells leave a group no time, as planned.
fn no_time(group: &GroupTask) -> Option<NotServed> {
    let reason = "As planned, the steps with their gaps, what is locked and the bells leave no \
                  time for it all, even without the other groups."
        .to_owned();
    let rules = vec![Rule::Order, Rule::Locked, Rule::Bell];
    let (refusal, by) = (Refusal::NotFound, By::Chain);
    let possible = group.options.iter().any(|o| o.windows.possible());
    (!possible).then_some(NotServed { group: group.group, refusal, by, rules, reason })
}

fn not_found(bounder: Bounder<'_>, group: &GroupTask, whole: bool) -> NotServed {
    let others = if bounder.problem.groups.len() > 1 { " beside the others" } else { "" };
    let reason = if whole {
        format!("No room was found{others}; that there is none is not proved.")
    } else {
        "Time ran out before one whole plan was made.".to_owned()
    };
    let (refusal, by, rules) = (Refusal::NotFound, By::Nothing, Vec::new());
    NotServed { group: group.group, refusal, by, rules, reason }
}
