//! What an adult's help would have to bring. How much sooner a group is with it nobody
//! knows. By how many minutes it must be, and by when, so that all are out, can be worked
//! out, and so can who is free for so long.

use super::jobs::{Task, jobs, occupied};
use super::network::{Network, PlayedGroup, Work, minutes as time};
use super::outlook::{DUST, FromHere, whole};
use super::standing::Standing;
use crate::check::CheckedPlan;
use crate::model::{AdultId, FactKind, GroupId, Lesson};
use crate::units::{Minute, Minutes};

/// Help that would be enough, and who could give it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Help {
    /// What would be made up.
    pub made_up: MadeUp,
    /// By when.
    pub by: Minute,
    /// Adults who are free until then for as long or longer, in the lesson's order.
    pub free: Vec<Free>,
}

/// Minutes that a group that is behind makes up by the work of hands.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct MadeUp {
    /// Which group.
    pub group: GroupId,
    /// At this minute of its plan, where something begins that no hands make quicker, or
    /// it is ready, it is late by so much less.
    pub at: Minute,
    /// By how much.
    pub gain: Minutes,
}

/// An adult whom a plan leaves free, from one minute until another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Free {
    /// Who.
    pub adult: AdultId,
    /// From.
    pub from: Minute,
    /// Until.
    pub until: Minute,
}

/// For each group that is behind the least it would have to make up so that all are out,
/// where hands may do so and an adult is free for as many minutes: as soon as that can be.
pub fn helps(lesson: &Lesson, plan: &CheckedPlan, standing: &Standing) -> Vec<Help> {
    if standing.all_out() {
        return Vec::new();
    }
    let network = Network::new(lesson, plan);
    let here = FromHere::of(&network, &standing.slips, standing.now);
    let behind = |group: &&PlayedGroup| standing.behind().any(|g| g.group == group.group);
    let groups = network.groups.iter().filter(behind);
    groups.filter_map(|group| help(lesson, plan, standing, (&here, group))).collect()
}

impl MadeUp {
    /// Whether all are out that were to be, be so much made up at once or at the last moment:
    /// who is sooner may find a door shut that would have been open later.
    pub fn is_enough(&self, lesson: &Lesson, plan: &CheckedPlan, standing: &Standing) -> bool {
        let network = Network::new(lesson, plan);
        self.is_enough_from(&FromHere::of(&network, &standing.slips, standing.now), standing)
    }

    fn is_enough_from(&self, here: &FromHere<'_>, standing: &Standing) -> bool {
        let is_ready = |group: GroupId| {
            let told = standing.groups.iter().find(|g| g.group == group);
            let is = |(what, _)| what == FactKind::Ready;
            told.is_some_and(|g| g.told.is_some_and(is) && g.ready.is_out())
        };
        [true, false].into_iter().all(|at_once| {
            let expected = self.laid_over(here, at_once).expected();
            expected.iter().all(|group| group.is_out() || is_ready(group.group))
        })
    }

    /// The rest of the lesson with it: hands have done before then what they would have
    /// done after; nothing else is quicker.
    fn laid_over<'n>(&self, here: &FromHere<'n>, at_once: bool) -> FromHere<'n> {
        let (mut over, gain) = (here.clone(), time(Minute::BELL + self.gain));
        let at = time(self.at);
        let (from, by) = (hands_from(here, self.group, self.at), self.reached(here) - gain);
        let sooner = |minute: f64| match at_once {
            true if minute <= from => minute,
            true => (minute - gain).max(from),
            false => minute.min(by),
        };
        for &node in nodes(here, self.group) {
            let of = &here.network.nodes[node];
            let (start, end) = (here.starts[node], here.end(node));
            if at <= of.start + DUST {
                over.starts[node] = (start - gain).max(of.start.min(start));
                continue;
            }
            let earlier = sooner(start);
            let over_by = match of.work {
                Work::Hands if of.end <= at + DUST => sooner(end),
                Work::Hands => end - gain,
                _ => earlier + (end - start),
            };
            over.starts[node] = earlier;
            over.longer[node] = over_by.max(earlier) - earlier - (of.end - of.start);
        }
        over
    }

    /// When the group is so far, as late as it is.
    fn reached(&self, here: &FromHere<'_>) -> f64 {
        let (at, all) = (time(self.at), nodes(here, self.group));
        let next = all.iter().filter(|n| at <= here.network.nodes[**n].start + DUST);
        let starts = next.map(|&n| here.starts[n] + at - here.network.nodes[n].start);
        let ends = all.iter().map(|&n| here.end(n)).fold(f64::NEG_INFINITY, f64::max);
        starts.reduce(f64::min).unwrap_or(ends)
    }
}

fn nodes<'n>(here: &FromHere<'n>, group: GroupId) -> &'n [usize] {
    let played = here.network.groups.iter().find(|g| g.group == group);
    played.map_or(&[], |played| &played.nodes)
}

fn help(
    lesson: &Lesson,
    plan: &CheckedPlan,
    standing: &Standing,
    (here, group): (&FromHere<'_>, &PlayedGroup),
) -> Option<Help> {
    points(here, group).into_iter().find_map(|at| {
        let made_up = |gain: i32| MadeUp { group: group.group, at, gain: Minutes::new(gain) };
        let reached = made_up(0).reached(here);
        let late = whole(reached - time(at));
        let least = least(late, |gain| made_up(gain).is_enough_from(here, standing))?;
        let from = hands_from(here, group.group, at);
        let by = Minute::new(whole((reached + DUST).floor())) - Minutes::new(least);
        // The last of their minutes nobody takes away.
        if hands(here, group, (from, reached)) <= least || by <= standing.now {
            return None;
        }
        let within = (Minute::new(whole((from - DUST).ceil())), by);
        let free = free(lesson, plan, standing, group.group, within);
        let free: Vec<Free> =
            free.into_iter().filter(|f| Minutes::new(least) <= f.until - f.from).collect();
        (!free.is_empty()).then(|| Help { made_up: made_up(least), by, free })
    })
}

/// Minutes of a group's plan that are still to come and at which something begins that no
/// hands make quicker; and the last, when it is ready.
fn points(here: &FromHere<'_>, group: &PlayedGroup) -> Vec<Minute> {
    let all = || group.nodes.iter().map(|&n| (n, &here.network.nodes[n]));
    let by_itself = |work: Work| matches!(work, Work::Alone | Work::Load);
    let to_come = all().filter(|(n, of)| by_itself(of.work) && here.now < here.starts[*n] - DUST);
    let mut points: Vec<Minute> =
        to_come.map(|(_, of)| Minute::new(whole(of.start.round()))).collect();
    points.extend(all().map(|(_, of)| Minute::new(whole(of.end.round()))).max());
    points.sort_unstable();
    points.dedup();
    points
}

/// The least minutes, from 1 to the most, from which on it is so up to the most. Where it
/// is so with fewer and not with more in between, those fewer are no help.
fn least(most: i32, is_so: impl Fn(i32) -> bool) -> Option<i32> {
    (1..=most).rev().take_while(|&minutes| is_so(minutes)).last()
}

/// From when on a group's way to a minute of its plan is work of hands.
fn hands_from(here: &FromHere<'_>, group: GroupId, at: Minute) -> f64 {
    let before = nodes(here, group).iter().filter(|&&n| {
        let of = &here.network.nodes[n];
        of.work != Work::Hands && of.start < time(at) - DUST
    });
    before.map(|&n| here.end(n)).fold(here.now, f64::max)
}

/// How many minutes of a stretch are a group's work of hands.
fn hands(here: &FromHere<'_>, group: &PlayedGroup, (from, until): (f64, f64)) -> i32 {
    let at_work = |minute: f64| {
        group.nodes.iter().any(|&n| {
            let is_hands = here.network.nodes[n].work == Work::Hands;
            is_hands && here.starts[n] <= minute + DUST && minute + 1.0 <= here.end(n) + DUST
        })
    };
    let minutes = whole((from - DUST).ceil())..whole((until + DUST).floor());
    let count = minutes.filter(|&minute| at_work(f64::from(minute))).count();
    i32::try_from(count).unwrap_or(i32::MAX)
}

/// The longest stretch for which each adult who may serve a group is free: in the room, with
/// no group, at no door and not with the class, as planned or as late as groups are.
fn free(
    lesson: &Lesson,
    plan: &CheckedPlan,
    standing: &Standing,
    group: GroupId,
    (from, until): (Minute, Minute),
) -> Vec<Free> {
    let all = jobs(lesson, plan).jobs;
    let adults = (0..lesson.adults.len()).map(AdultId);
    let may = adults.filter(|&adult| lesson.group(group).may_have(group, adult, &lesson.adults));
    let stretch = |adult: AdultId| {
        let assumed = all.iter().filter(|job| matches!(job.task, Task::Class(_)) && job.assumed);
        let assumed = assumed.filter(|job| job.adult == Some(adult)).copied();
        let mut busy = occupied((lesson, plan), &[], adult);
        busy.extend(occupied((lesson, plan), &standing.slips, adult));
        busy.extend(assumed);
        let is_free = |minute: Minute| {
            lesson.adults[adult.0].is_there(minute)
                && !busy.iter().any(|job| job.start_by <= minute && minute < job.until)
        };
        let mut longest: Option<Free> = None;
        let mut since = from;
        for minute in (from.get()..until.get()).map(Minute::new) {
            if !is_free(minute) {
                since = minute + Minutes::new(1);
                continue;
            }
            let now = Free { adult, from: since, until: minute + Minutes::new(1) };
            if longest.is_none_or(|was| was.until - was.from < now.until - now.from) {
                longest = Some(now);
            }
        }
        longest
    };
    may.filter_map(stretch).collect()
}
