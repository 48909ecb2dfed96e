//! Why a group is not served, in words a teacher can check.

use super::bounds::{Bounder, ChainBound, Pace, ShareBound, ShareOf, TurnBound};
use super::exact::lesson::Refuted;
use crate::graph::dag::Chain;
use crate::graph::problem::{Choice, GroupTask};
use crate::model::{Attendance, GroupId, PeriodId, Phase};
use crate::plan::{NotServed, Refusal};
use crate::units::plain_number;

/// The reasons of all groups in `not_served` (positions in the problem), and
/// of those the teacher has left out. `tries` is how many plans were built;
/// `refuted` is what was worked through beyond pencil and paper.
pub(super) fn reasons(
    bounder: Bounder<'_>,
    not_served: &[usize],
    tries: u64,
    refuted: &Refuted,
) -> Vec<NotServed> {
    let problem = bounder.problem;
    let turns: Vec<Option<TurnBound>> =
        (0..problem.periods.len()).map(|p| bounder.turns(p, Pace::Quick)).collect();
    let wanted = |p: usize| not_served.iter().any(|&g| problem.groups[g].period == p);
    let shares: Vec<Option<ShareBound>> = (0..problem.periods.len())
        .map(|p| {
            let all = if wanted(p) { bounder.shares(p, Pace::Quick) } else { Vec::new() };
            let short = |s: &ShareBound| s.at_most() < s.meets.len();
            all.into_iter().filter(short).min_by_key(ShareBound::at_most)
        })
        .collect();
    let of = |&g: &usize| {
        let group = &problem.groups[g];
        let found = reason(bounder, group, &turns, tries);
        if matches!(found.refusal, Refusal::Cannot | Refusal::CannotAll) {
            return found;
        }
        let shared = || by_share(bounder, group, &shares[group.period]);
        shared().or_else(|| worked_through(bounder, group, g, refuted)).unwrap_or(found)
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

/// A refusal because there is not enough of something for all.
fn by_share(
    bounder: Bounder<'_>,
    group: &GroupTask,
    share: &Option<ShareBound>,
) -> Option<NotServed> {
    let share = share.as_ref()?;
    let (what, rules) = match share.of {
        ShareOf::Kit(kit) => (bounder.lesson.kit_kinds[kit.0].name.as_str(), ["kit", "bell"]),
        ShareOf::Adults => ("adults", ["adults", "bell"]),
        ShareOf::Places => ("shelf places", ["shelf", "bell"]),
    };
    let wanted: usize = share.meets.iter().sum();
    let reason = format!(
        "{what}: there are {there}, of use from minute {first} to {last} at the quickest. Of every \
         {spacing} minutes one looked at, that is room for {room}; the {groups} groups take \
         {wanted}. Room for {at_most} groups.",
        there = share.there,
        first = plain_number(share.first),
        last = plain_number(share.last),
        spacing = plain_number(share.spacing),
        room = share.room(),
        groups = share.meets.len(),
        at_most = share.at_most(),
    );
    let rules = rules.to_vec();
    Some(NotServed { group: group.group, refusal: Refusal::CannotAll, rules, reason })
}

/// A refusal that no short sum shows, if it is proved.
fn worked_through(
    bounder: Bounder<'_>,
    group: &GroupTask,
    position: usize,
    refuted: &Refuted,
) -> Option<NotServed> {
    if refuted.alone.contains(&position) {
        let reason = "Even by itself and at the quickest, worked through in half minutes, no \
                      order of its steps with its pupils, the kit and the ovens ends before the \
                      closing. No short sum shows it."
            .to_owned();
        let rules = vec!["order", "pupils", "kit", "one-oven", "bell"];
        return Some(NotServed { group: group.group, refusal: Refusal::Cannot, rules, reason });
    }
    if !refuted.together.contains(&group.period) {
        return None;
    }
    let alone = &refuted.alone;
    let of = bounder.problem.groups.iter().enumerate();
    let groups = of.filter(|(g, o)| o.period == group.period && !alone.contains(g)).count();
    let reason = format!(
        "At the quickest, worked through in half minutes, no arrangement of pupils, kit, adults \
         and ovens serves all {groups} groups before the closing. No short sum shows it."
    );
    let rules = vec!["order", "pupils", "kit", "adults", "shelf", "bell"];
    Some(NotServed { group: group.group, refusal: Refusal::CannotAll, rules, reason })
}

fn reason(
    bounder: Bounder<'_>,
    group: &GroupTask,
    turns: &[Option<TurnBound>],
    tries: u64,
) -> NotServed {
    let not_served = |refusal, rules: &[&'static str], reason: String| NotServed {
        group: group.group,
        refusal,
        rules: rules.to_vec(),
        reason,
    };
    let Some(shortest) = bounder.shortest(group, Pace::Quick) else {
        return not_served(Refusal::Cannot, &["tin", "shelf"], no_choice(bounder, group));
    };
    if !shortest.fits() {
        let sum = chain_sum(bounder, group, &shortest, Pace::Quick);
        let only = if group.options.len() > 1 { ", the quickest choice" } else { "" };
        let choice = choice_name(bounder, group, &group.options[shortest.choice]);
        let text = format!(
            "{choice}{only}: {sum} at the quickest, and the period has {}. Each step waits for \
             the one before, so no order, oven or helper changes that.",
            plain_number(shortest.length),
        );
        return not_served(Refusal::Cannot, &["order", "bell"], text);
    }
    if let Some(turns) = &turns[group.period]
        && turns.at_most() < turns.groups
        && group.options.iter().all(|o| o.bake.is_some())
    {
        return not_served(
            Refusal::CannotAll,
            &["shelf", "one-oven", "bell"],
            turn_sum(bounder, group, turns),
        );
    }
    let usual = bounder.shortest(group, Pace::Planned);
    if let Some(usual) = usual.filter(|u| !u.fits()) {
        let text = format!(
            "{} as planned, and the period has {}; at the quickest {}, so it is not proved \
             impossible.",
            chain_sum(bounder, group, &usual, Pace::Planned),
            plain_number(usual.length),
            plain_number(shortest.total()),
        );
        return not_served(Refusal::NotFound, &["order", "bell"], text);
    }
    if group.options.iter().all(|o| !o.windows.possible()) {
        let text = "As planned, the steps with their gaps, what is locked and the bells leave no \
                    time for it all, even without the other groups.";
        return not_served(Refusal::NotFound, &["order", "locked", "bell"], text.to_owned());
    }
    let others = if bounder.problem.groups.len() > 1 { " beside the others" } else { "" };
    let text = format!(
        "No room was found{others} in the arrangements tried ({tries}); that there is none is not \
         proved."
    );
    not_served(Refusal::NotFound, &[], text)
}

fn no_choice(bounder: Bounder<'_>, group: &GroupTask) -> String {
    match group.options.first() {
        None => "No method and tin is left that the recipe, the tins and the locks allow.".into(),
        Some(choice) => {
            format!("No oven it may use has room for {}.", choice_name(bounder, group, choice))
        }
    }
}

fn choice_name(bounder: Bounder<'_>, group: &GroupTask, choice: &Choice) -> String {
    match choice.tin {
        Some(tin) => bounder.lesson.tin_choice_of(group.group, tin).label.clone(),
        None => bounder.lesson.method_of(group.group, choice.method).name.clone(),
    }
}

/// "register 1 + hands 2 + weigh 3 + … = 55".
fn chain_sum(bounder: Bounder<'_>, group: &GroupTask, bound: &ChainBound, pace: Pace) -> String {
    let mut terms = Vec::new();
    if bound.opening > 0.0 {
        terms = class_terms(bounder, group.period, Phase::Opening, pace);
    }
    terms.extend(steps_terms(bounder, group, &group.options[bound.choice], &bound.chain));
    terms.extend(class_terms(bounder, group.period, Phase::Closing, pace));
    format!("{} = {} minutes", terms.join(" + "), plain_number(bound.total()))
}

fn steps_terms(
    bounder: Bounder<'_>,
    group: &GroupTask,
    choice: &Choice,
    chain: &Chain,
) -> Vec<String> {
    let method = bounder.lesson.method_of(group.group, choice.method);
    let mut terms = Vec::new();
    for &(step, minutes, gap) in &chain.steps {
        if gap > 0.0 {
            terms.push(format!("wait {}", plain_number(gap)));
        }
        terms.push(format!("{} {}", method.steps[step.0].name, plain_number(minutes)));
    }
    terms
}

fn class_terms(bounder: Bounder<'_>, period: usize, phase: Phase, pace: Pace) -> Vec<String> {
    let caution = bounder.lesson.rules.caution;
    bounder
        .lesson
        .class_steps_in(PeriodId(period), phase)
        .map(|(_, step)| {
            let minutes = match pace {
                Pace::Quick => plain_number(step.minutes.quick().get()),
                Pace::Planned => step.minutes.with_caution(caution).rounded_up().get().to_string(),
            };
            format!("{} {minutes}", step.name)
        })
        .collect()
}

fn turn_sum(bounder: Bounder<'_>, group: &GroupTask, bound: &TurnBound) -> String {
    let places = match bound.tins {
        1 => format!("{} shelf places", bound.places),
        tins => format!("{} shelf places, {tins} tins to a group", bound.places),
    };
    let Some(turns) = bound.turns(bound.groups) else {
        return format!("{places} for {} groups: not one can bake.", bound.groups);
    };
    let last_out = bound.total(bound.groups) - bound.tail - bound.closing;
    let closing = class_terms(bounder, group.period, Phase::Closing, Pace::Quick).join(" + ");
    format!(
        "{places}, {groups} groups: {turns} turns. At the quickest the first goes in at minute \
         {first} and a turn takes {turn}, in and out included, so the last is out at {last}; \
         {tail} more until it is cool and boxed, then {closing} = {total}, and the period has \
         {length}.",
        groups = bound.groups,
        first = plain_number(bound.first_in),
        turn = plain_number(bound.turn),
        last = plain_number(last_out),
        tail = plain_number(bound.tail),
        total = plain_number(bound.total(bound.groups)),
        length = plain_number(bound.length),
    )
}
