//! What changed from the plan of the lesson to that of the day, in sentences.

use super::lost::failed_oven;
use super::stand_ins::stand_ins;
use crate::check::CheckedPlan;
use crate::keep::{Keeps, Served, keeps, later};
use crate::model::{Attendance, GroupId, Lesson, OvenId, Phase};
use crate::plan::Refusal;
use crate::units::{ClockTime, Minute};
use crate::view::ovens::dial_words;
use crate::view::words::{capital, clock, clock_in, list, shelf};

/// What changed.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Differences {
    /// One thing each, groups in the lesson's order.
    pub changes: Vec<Difference>,
    /// "All others keep their times."; empty if nobody does.
    pub others: String,
}

/// Something that changed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Difference {
    /// Whose; `None` for what is not a group's.
    pub group: Option<String>,
    /// What, in a sentence.
    pub words: String,
}

impl Differences {
    /// All sentences, one after the other.
    pub fn sentences(&self) -> Vec<String> {
        let others = Some(self.others.clone()).filter(|o| !o.is_empty());
        self.changes.iter().map(|c| c.words.clone()).chain(others).collect()
    }
}

/// What changed from one plan to another, things being matched by name.
pub fn differences(before: (&Lesson, &CheckedPlan), after: (&Lesson, &CheckedPlan)) -> Differences {
    let (was, is) = (before.0, after.0);
    let mut changes = Vec::new();
    let mut same = 0;
    for (g, group) in is.groups.iter().enumerate() {
        let id = GroupId(g);
        let old = was.groups.iter().position(|o| o.name == group.name).map(GroupId);
        match told((before, old), (after, id)) {
            Some(words) => changes.push(Difference { group: Some(group.name.clone()), words }),
            None => same += usize::from(after.1.plan().choice(id).is_some()),
        }
    }
    for old in &was.groups {
        if old.attendance == Attendance::TakesPart && is.groups.iter().all(|g| g.name != old.name) {
            let words = format!("{} is no group of its own any more.", old.name);
            changes.push(Difference { group: Some(old.name.clone()), words });
        }
    }
    let others = match (changes.is_empty(), same) {
        (_, 0) => "",
        (true, 1) => "Its times stay.",
        (true, _) => "All keep their times.",
        (false, 1) => "The other group keeps its times.",
        (false, _) => "All others keep their times.",
    };
    let class = class_steps(before, after).into_iter().chain(ovens(before, after));
    let class = class.chain(stand_ins(before, after));
    changes.extend(class.map(|words| Difference { group: None, words }));
    Differences { changes, others: others.to_owned() }
}

pub(super) type Planned<'a> = (&'a Lesson, &'a CheckedPlan);

/// What changed for one group, if anything.
fn told(
    (before, old): (Planned<'_>, Option<GroupId>),
    (after, id): (Planned<'_>, GroupId),
) -> Option<String> {
    let group = after.0.group(id);
    let name = &group.name;
    let was = old.and_then(|old| Served::of((before.0, before.1, old)));
    let takes_part = group.attendance == Attendance::TakesPart;
    let Some(is) = Served::of((after.0, after.1, id)) else {
        let took_part = old.is_none_or(|o| before.0.group(o).attendance == Attendance::TakesPart);
        if !takes_part {
            let with = after.0.today.as_ref().and_then(|t| t.works_with(id));
            let words = match with {
                Some(with) => format!("{name} works with {}.", after.0.group(with).name),
                None => format!("{name} takes no part."),
            };
            return took_part.then_some(words);
        }
        if was.is_none() && took_part {
            return None;
        }
        if let Some((oven, from)) =
            failed_oven(before, after.0, id).and_then(|o| Some((o, o.out_from?)))
        {
            let failed = clock(after.0, from);
            let oven = &oven.name;
            return Some(format!(
                "{name} loses its bake: its tins are in {oven}, which failed at {failed}."
            ));
        }
        let out = if was.is_some() { "no longer" } else { "not" };
        return Some(format!("{name} is {out} out by the bell{}", reason(after.1, id)));
    };
    let Some(was) = was else {
        let mut parts = Vec::new();
        parts.extend(
            goes_in(after, &is).map(|(at, ovens)| format!("it goes in at {at} in {ovens}")),
        );
        parts.extend(ready(after, id).map(|at| format!("ready {at}")));
        return Some(format!("{name} is out by the bell now: {}.", parts.join("; ")));
    };
    let old = old?;
    let kept = keeps((before.0, before.1, old), (after.0, after.1, id));
    if kept == Some(Keeps::All) && ready(before, old) == ready(after, id) {
        return None;
    }
    let mut parts = choice(&was, &is);
    parts.extend(bake(before, &was, after, &is));
    if let (Some(then), Some(now)) = (ready(before, old), ready(after, id))
        && then != now
    {
        parts.push(format!("ready {now} instead of {then}"));
    }
    if parts.is_empty() {
        parts.extend(steps(before, &was, after, &is));
    }
    (!parts.is_empty()).then(|| format!("{name} {}.", parts.join("; ")))
}

/// Why a group is not served, as the end of a sentence.
fn reason(plan: &CheckedPlan, group: GroupId) -> String {
    let refused = plan.plan().not_served.iter().find(|n| n.group == group);
    match refused {
        None => ".".to_owned(),
        Some(n) if n.refusal == Refusal::NotFound => ": no room was found for it.".to_owned(),
        Some(n) => format!(": {}.", n.reason.trim().trim_end_matches('.')),
    }
}

fn ready((lesson, plan): Planned<'_>, group: GroupId) -> Option<ClockTime> {
    let at = plan.group_outcome(group)?.ready?;
    Some(clock_in(lesson, lesson.group(group).period, at))
}

/// "makes scones instead of buns", "bakes in 12 buns instead of a square".
fn choice(was: &Served<'_>, is: &Served<'_>) -> Vec<String> {
    if was.recipe() != is.recipe() {
        return vec![format!("makes {} instead of {}", is.recipe(), was.recipe())];
    }
    let mut parts = Vec::new();
    if was.method() != is.method() {
        parts.push(format!("works by {} instead of {}", is.method(), was.method()));
    }
    if let (Some(then), Some(now)) = (was.tin(), is.tin())
        && then != now
    {
        parts.push(format!("bakes in {now} instead of {then}"));
    }
    parts
}

/// When its tins go in, and the ovens.
fn goes_in((lesson, _): Planned<'_>, served: &Served<'_>) -> Option<(ClockTime, String)> {
    let loads = served.loads();
    let first = loads.iter().map(|l| l.start).min()?;
    let mut names: Vec<String> = Vec::new();
    for (oven, _) in served.places() {
        if !names.iter().any(|n| n == oven) {
            names.push(oven.to_owned());
        }
    }
    Some((clock(lesson, first), list(&names)))
}

/// "top shelf", where all its tins stand on one.
fn on_shelf((lesson, _): Planned<'_>, served: &Served<'_>) -> Option<String> {
    let loads = served.loads();
    let first = loads.first()?;
    let one = loads.iter().all(|l| (l.oven, l.shelf) == (first.oven, first.shelf));
    one.then(|| shelf(first.shelf.0, lesson.ovens[first.oven.0].shelves.len()))
}

fn bake(
    before: Planned<'_>,
    was: &Served<'_>,
    after: Planned<'_>,
    is: &Served<'_>,
) -> Option<String> {
    let (now, oven) = goes_in(after, is)?;
    let Some((then, old_oven)) = goes_in(before, was) else {
        return Some(format!("goes in at {now} in {oven}"));
    };
    let (same_time, same_oven) = (now == then, oven == old_oven);
    Some(match (same_time, same_oven) {
        (false, false) => {
            format!("goes in at {now} in {oven} instead of {then} in {old_oven}")
        }
        (false, true) => format!("goes in at {now} instead of {then}"),
        (true, false) => format!("bakes in {oven} instead of {old_oven}"),
        (true, true) => {
            let (now, then) = (on_shelf(after, is)?, on_shelf(before, was)?);
            if now != then {
                return Some(format!("stands on the {now} of {oven} instead of the {then}"));
            }
            let out = |(lesson, _): Planned<'_>, served: &Served<'_>| {
                let last = served.loads().iter().map(|l| l.end).max()?;
                Some(clock(lesson, last))
            };
            let (now, then) = (out(after, is)?, out(before, was)?);
            if now == then {
                return None;
            }
            format!("comes out at {now} instead of {then}")
        }
    })
}

/// Where only other steps are at other times: the first of them, and how many
/// there are.
fn steps(
    (was_lesson, _): Planned<'_>,
    was: &Served<'_>,
    (is_lesson, _): Planned<'_>,
    is: &Served<'_>,
) -> Option<String> {
    let old = was.steps();
    let at =
        |name: &str| old.iter().find(|(n, _, _)| *n == name).map(|&(_, start, end)| (start, end));
    let by = later(was_lesson, is_lesson);
    let moved: Vec<(&str, Minute, Minute)> = is
        .steps()
        .into_iter()
        .filter_map(|(name, start, end)| {
            let (then, ended) = at(name)?;
            ((start + by, end + by) != (then, ended)).then_some((name, start, then))
        })
        .collect();
    let &(name, now, then) = moved.first()?;
    let (now, then) = (clock(is_lesson, now), clock(was_lesson, then));
    let first = if now == then {
        format!("takes another time over \"{name}\" at {now}")
    } else {
        format!("does \"{name}\" at {now} instead of {then}")
    };
    Some(match moved.len() {
        1 => format!("{first}; its bake stays"),
        _ => format!("{first}, and other steps beside the bake move too"),
    })
}

/// Steps in the course of the lesson that are at another time.
fn class_steps(before: Planned<'_>, after: Planned<'_>) -> Vec<String> {
    let mut all = Vec::new();
    for placed in &after.1.plan().class_steps {
        let step = &after.0.class_steps[placed.step.0];
        let period = &after.0.periods[step.period.0].name;
        let same = |p: &&crate::plan::ClassPlacement| {
            let was = &before.0.class_steps[p.step.0];
            was.name == step.name && before.0.periods[was.period.0].name == *period
        };
        let Some(was) = before.1.plan().class_steps.iter().find(same) else { continue };
        let (now, then) = (clock(after.0, placed.start), clock(before.0, was.start));
        if step.phase == Phase::During && now != then {
            all.push(format!("{} is at {now} instead of {then}.", capital(&step.name)));
        }
    }
    all
}

/// Ovens that are needed now and were not before, or at another temperature, with
/// what they are to be set to; and those no longer needed.
fn ovens(before: Planned<'_>, after: Planned<'_>) -> Vec<String> {
    let used = |(lesson, plan): Planned<'_>, name: &str| {
        let of = lesson.ovens.iter().position(|o| o.name == name).map(OvenId)?;
        let loaded = plan.plan().loads.iter().any(|l| l.oven == of);
        let first = plan.plan().settings.iter().filter(|s| s.oven == of).min_by_key(|s| s.set_at);
        loaded.then(|| first.map(|s| (s.set_at, s.celsius))).flatten()
    };
    let mut all = Vec::new();
    for oven in &after.0.ovens {
        let (was, is) = (used(before, &oven.name), used(after, &oven.name));
        if let (None, Some((on, celsius))) = (was, is) {
            let (on, dial) = (clock(after.0, on), dial_words(oven, celsius));
            all.push(format!("{} is needed as well: on at {on}, {dial}.", oven.name));
        }
        if let (Some((_, then)), Some((_, now))) = (was, is)
            && then != now
        {
            let (now, then) = (dial_words(oven, now), dial_words(oven, then));
            all.push(format!("{} is set to {now} instead of {then}.", oven.name));
        }
        if was.is_some() && is.is_none() && !oven.out_of_order && oven.out_from.is_none() {
            all.push(format!("{} is not needed.", oven.name));
        }
    }
    all
}
