//! The sentence about a smallest set of groups and rules.

use super::family::needs;
use super::shrink::Contradiction;
use super::stage::Stage;
use super::sums::{at_pace, clock, in_room};
use crate::graph::Problem;
use crate::graph::problem::{BakeTask, PoolOf};
use crate::model::Phase;
use crate::plan::why::Family;
use crate::planner::bounds::{Bounder, Pace};
use crate::words::{capital, counted, in_short, list, number, plural};

/// More rules than this are told only if each is known to be needed.
const TELLING: usize = 6;

/// Why some groups cannot all be served, told of one of them.
pub(super) fn set(
    bounder: Bounder<'_>,
    stage: &Stage<'_>,
    asked: usize,
    of: &Contradiction,
) -> String {
    let teller = Teller { bounder, problem: &stage.problem, pace: stage.pace, of };
    teller.sentence(asked)
}

struct Teller<'a> {
    bounder: Bounder<'a>,
    problem: &'a Problem,
    pace: Pace,
    of: &'a Contradiction,
}

impl Teller<'_> {
    fn sentence(&self, asked: usize) -> String {
        let lesson = self.bounder.lesson;
        let names: Vec<String> = (self.of.groups.iter())
            .map(|&g| lesson.group(self.problem.groups[g].group).name.clone())
            .collect();
        let who = match &names[..] {
            [_] if self.of.groups == [asked] => {
                "this group is not out by the bell even by itself".to_owned()
            }
            [one] => format!("{one} is not out by the bell even by itself"),
            [a, b] => format!("{a} and {b} cannot both be out by the bell"),
            _ => format!("{} cannot all be out by the bell", list(&in_short(&names))),
        };
        let pace = at_pace(lesson, self.pace);
        // A long list of what may not be needed tells nobody anything.
        let told = self.of.smallest || self.of.families.len() <= TELLING;
        let obstacles = if told {
            format!(": {}", self.obstacles())
        } else if self.of.families.contains(&Family::Bell) {
            self.window()
        } else {
            String::new()
        };
        let mut text = format!("{} {who}{obstacles}.", capital(pace));
        if !self.of.groups.contains(&asked) {
            text += " One of them has to be left out, or this group in its place.";
        }
        if self.of.smallest {
            text += &self.remedies();
        } else if told {
            text += " Perhaps not all of that stands in the way.";
        } else {
            text +=
                " That much is certain; what of it stands in the way was not found out in time.";
        }
        text += match self.pace {
            Pace::Quick => " There is no short sum for it: every running order was tried.",
            Pace::Planned => " If all went quicker than usual it might be done.",
        };
        text
    }

    /// "there are only 2 whisks and 4 shelf places between 10:12 and 10:55, with
    /// the order of the steps as it is".
    fn obstacles(&self) -> String {
        let families = || self.of.families.iter().copied();
        let things: Vec<String> = families().filter_map(|f| self.thing(f)).collect();
        let mut kept: Vec<String> = families().filter_map(|f| self.kept(f)).collect();
        let window = if self.of.families.contains(&Family::Bell) {
            self.window()
        } else {
            " however long the lesson".to_owned()
        };
        let as_it_is = if kept.len() == 1 { "as it is" } else { "as they are" };
        let with = if kept.is_empty() {
            String::new()
        } else {
            format!(" with {} {as_it_is}", list(&std::mem::take(&mut kept)))
        };
        if things.is_empty() {
            return format!("there is no way{window}{with}");
        }
        format!("there are only {}{window}{with}", list(&things))
    }

    /// From the end of the opening to the start of the closing.
    fn window(&self) -> String {
        let lesson = self.bounder.lesson;
        let Some(&first) = self.of.groups.first() else { return String::new() };
        let period = self.problem.groups[first].period;
        let length = f64::from(lesson.periods[period].length().get());
        let class = |phase| self.bounder.class_minutes(period, phase, self.pace);
        let from = clock(lesson, period, class(Phase::Opening));
        let until = clock(lesson, period, length - class(Phase::Closing));
        format!(" between {from} and {until}")
    }

    /// Something counted, with its number.
    fn thing(&self, family: Family) -> Option<String> {
        let lesson = self.bounder.lesson;
        match family {
            Family::Kit(kit) => {
                let is = |of: PoolOf| match of {
                    PoolOf::Kit(pool) => lesson.kit_pools[pool.0].kit == kit,
                    _ => false,
                };
                Some(self.counted(&lesson.kit_kinds[kit.0].name, is))
            }
            Family::Tin(tin) => {
                let is = |of: PoolOf| matches!(of, PoolOf::Tin(t, _) if t == tin);
                Some(self.counted(&lesson.tins[tin.0].name, is))
            }
            Family::Adults => Some(counted(lesson.adults.len(), "adult")),
            Family::Shelf => Some(self.shelves()),
            Family::DoorHands => {
                let tins = usize::try_from(self.problem.tins_per_opening).unwrap_or(0);
                let adult = if self.problem.adult_at_doors { " with an adult at it" } else { "" };
                Some(format!("{} to one opening of an oven door{adult}", counted(tins, "tin")))
            }
            _ => None,
        }
    }

    /// How many there are of what the groups may use, and where.
    fn counted(&self, name: &str, is: impl Fn(PoolOf) -> bool) -> String {
        let pools = &self.problem.pools;
        let options = self.of.groups.iter().flat_map(|&g| self.problem.groups[g].options.iter());
        let mut used: Vec<usize> =
            options.flat_map(needs).flat_map(|n| &n.pools).copied().collect();
        used.sort_unstable();
        used.dedup();
        used.retain(|&p| is(pools[p].of));
        let there = used.iter().map(|&p| usize::try_from(pools[p].count).unwrap_or(0)).sum();
        let kept = used.iter().map(|&p| pools[p].of);
        format!("{}{}", counted(there, name), in_room(self.bounder.lesson, kept))
    }

    /// Places, where all tins are of one kind; else ovens.
    fn shelves(&self) -> String {
        let groups = || self.of.groups.iter().map(|&g| &self.problem.groups[g]);
        let mut ovens: Vec<usize> = groups().flat_map(|g| &g.ovens).copied().collect();
        ovens.sort_unstable();
        ovens.dedup();
        let bakes: Vec<&BakeTask> =
            groups().flat_map(|g| g.options.iter()).filter_map(|o| o.bake.as_ref()).collect();
        let size = |b: &BakeTask| (b.footprint.lying(), b.height);
        match bakes.first() {
            Some(&first) if bakes.iter().all(|b| size(b) == size(first)) => {
                let places = ovens.iter().flat_map(|&o| &first.at_most[o]).sum();
                counted(places, "shelf place")
            }
            _ => format!("the shelves of {}", counted(ovens.len(), "oven")),
        }
    }

    /// Something that is to be kept.
    fn kept(&self, family: Family) -> Option<String> {
        let lesson = self.bounder.lesson;
        match family {
            Family::Order => Some("the order of the steps".to_owned()),
            Family::Pupils => match self.of.groups[..] {
                [one] => {
                    let pupils = usize::try_from(self.problem.groups[one].pupils).unwrap_or(0);
                    Some(format!("{} {}", number(pupils), plural(pupils, "pupil")))
                }
                _ => Some("the number of pupils in each group".to_owned()),
            },
            Family::ClassStep => Some("the class's own steps in between".to_owned()),
            Family::Temperature => Some("the temperatures and warming up of the ovens".to_owned()),
            Family::Door => Some("the doors that stay shut".to_owned()),
            Family::KeepApart => {
                let apart = self.of.groups.iter().filter(|&&g| self.problem.groups[g].keep_apart);
                let name = |&g: &usize| lesson.group(self.problem.groups[g].group).name.clone();
                Some(format!("{} kept apart", list(&apart.map(name).collect::<Vec<_>>())))
            }
            Family::Locked => Some("what is locked".to_owned()),
            _ => None,
        }
    }

    /// "With one of the three left out or with enough whisks nothing of this
    /// would stand in the way."
    fn remedies(&self) -> String {
        let lesson = self.bounder.lesson;
        let mut all: Vec<String> = Vec::new();
        match self.of.groups.len() {
            0 | 1 => {}
            n => all.push(format!("with one of the {} left out", number(n))),
        }
        let families = self.of.families.iter().map(|&family| match family {
            Family::Kit(kit) => format!("with enough {}", plural(2, &lesson.kit_kinds[kit.0].name)),
            Family::Tin(tin) => format!("with enough {}", plural(2, &lesson.tins[tin.0].name)),
            Family::Shelf => "with enough room on the shelves".to_owned(),
            Family::Adults => "with enough adults".to_owned(),
            Family::DoorHands => "with more hands at the oven doors".to_owned(),
            Family::Pupils => "with more pupils to a group".to_owned(),
            Family::Bell => "with a longer lesson".to_owned(),
            Family::Temperature => "with ovens always at the right temperature".to_owned(),
            Family::Door => "with doors that may be opened".to_owned(),
            Family::KeepApart => "with nobody kept apart".to_owned(),
            Family::Locked => "with nothing locked".to_owned(),
            Family::ClassStep => "without the class's own steps in between".to_owned(),
            Family::Order => String::new(),
        });
        all.extend(families.filter(|f| !f.is_empty()));
        match &all[..] {
            [] => String::new(),
            [one] => format!(" {} nothing of this would stand in the way.", capital(one)),
            [front @ .., last] => format!(
                " {} or {last} nothing of this would stand in the way.",
                capital(&front.join(", "))
            ),
        }
    }
}
