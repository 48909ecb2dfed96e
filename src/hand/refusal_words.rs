//! The sentence that goes with a refusal: the rule in plain words, with the sum
//! a teacher can check.

use super::alone::only;
use super::drop::LockChange;
use super::path::{Bound, Paths};
use super::shelves::{place, possessive, too_small};
use super::why::{Case, Reason};
use crate::graph::problem::{Choice, GroupTask};
use crate::graph::{Problem, expand};
use crate::model::{Attendance, GroupId, Lesson, LockedTo, Method, OvenId, ShelfId};
use crate::plan::{Plan, Rule};
use crate::units::{Minute, Minutes};
use crate::view::words::{capital, clock};

/// A reason in words.
pub(super) struct ReasonTold {
    /// What was put where, as a sentence's subject and verb: "Rub in of Unit 3
    /// cannot begin at 10:13".
    lead: Lead,
    /// The sum.
    text: String,
    /// It is proved by pencil and paper.
    pub(super) proved: bool,
}

struct Lead {
    thing: String,
    cannot: String,
}

impl ReasonTold {
    /// All of it; `proved` if that it cannot be is known otherwise.
    pub(super) fn sentence(&self, proved: bool) -> String {
        let Lead { thing, cannot } = &self.lead;
        let text = capital(&self.text);
        let stop = if text.ends_with('.') || text.is_empty() { "" } else { "." };
        if proved || self.proved {
            return format!("{} cannot {cannot}. {text}{stop}", capital(thing));
        }
        format!("No plan was found in which {thing} may {cannot}. {text}{stop}")
    }
}

/// Tells of one case.
pub(super) struct Teller<'a> {
    pub(super) lesson: &'a Lesson,
    drop: &'a LockChange,
    pub(super) reason: &'a Reason,
    pub(super) group: GroupId,
    pub(super) staying: &'a [GroupId],
    pub(super) plan: &'a Plan,
}

impl<'a> Teller<'a> {
    pub(super) fn new(case: &'a Case<'a>, reason: &'a Reason) -> Self {
        let (lesson, staying, plan) = (&*case.after, &case.staying[..], &reason.witness);
        Self { lesson, drop: case.drop, reason, group: case.drop.group, staying, plan }
    }

    pub(super) fn told(&self) -> ReasonTold {
        let lead = self.lead();
        if self.lesson.group(self.group).attendance == Attendance::LeftOut {
            let text = format!("{} is left out of this lesson", self.name());
            return ReasonTold { lead, text, proved: true };
        }
        let (text, proved) = self.sum();
        ReasonTold { lead, text, proved }
    }

    /// The sum alone, and whether it proves that it cannot be.
    pub(super) fn sum(&self) -> (String, bool) {
        let by_paper = match self.reason.rule {
            Rule::OneOven => self.oven(),
            Rule::Shelf => self.by_shelf(),
            _ => self.by_path(),
        };
        match by_paper {
            Some(text) => (text, true),
            None => (self.by_rule(), self.reason.rule == Rule::Shelf && self.is_all_held()),
        }
    }

    fn name(&self) -> &str {
        &self.lesson.group(self.group).name
    }

    pub(super) fn at(&self, minute: Minute) -> String {
        clock(self.lesson, minute).to_string()
    }

    fn lead(&self) -> Lead {
        let name = self.name();
        let on = self.drop.place().map(|(oven, shelf)| {
            let way = if shelf.is_some() { "onto" } else { "into" };
            format!("{way} {}", place(self.lesson, oven, shelf))
        });
        let (start, several) = (self.drop.start(), self.drop.method);
        if several {
            let first = self.drop.locks.iter().filter_map(|l| match l {
                LockedTo::Start(_, at) => Some(*at),
                _ => None,
            });
            let at = first.min().map_or(String::new(), |at| format!(" begin at {}", self.at(at)));
            let verb = if at.is_empty() { " be so" } else { "" };
            let thing = format!("the row of {name}");
            return Lead { thing, cannot: format!("{at}{verb}").trim_start().to_owned() };
        }
        let bake = self.drop.oven || start.is_none();
        let at = start.map_or(String::new(), |(_, at)| format!(" at {}", self.at(at)));
        match (bake, on) {
            (true, Some(on)) => {
                Lead { thing: format!("{} bake", possessive(name)), cannot: format!("go {on}{at}") }
            }
            (true, None) => {
                Lead { thing: format!("{} bake", possessive(name)), cannot: format!("be put{at}") }
            }
            _ => {
                let step = start.map_or("", |(step, _)| step);
                Lead { thing: format!("{step} of {name}"), cannot: format!("begin{at}") }
            }
        }
    }

    /// The group by itself, expanded with all its locks.
    fn bare(&self) -> Option<Problem> {
        only(self.lesson, &[self.group]).map(|l| expand(&l))
    }

    fn method(&self, option: &Choice) -> &Method {
        self.lesson.method_of(self.group, option.method)
    }

    /// That no option has a place on the shelf or in the oven, be it empty.
    fn by_shelf(&self) -> Option<String> {
        let problem = self.bare()?;
        let group = problem.groups.first()?;
        let (oven, shelf) = own_place(self.lesson, self.group)?;
        let working = problem.ovens.iter().position(|o| o.oven == oven)?;
        let shelves = 0..self.lesson.ovens[oven.0].shelves.len();
        let meant: Vec<usize> = shelves.filter(|s| shelf.is_none_or(|on| on.0 == *s)).collect();
        let room = |o: &Choice| {
            let Some(bake) = &o.bake else { return true };
            let places: usize = meant.iter().map(|&s| bake.at_most[working][s]).sum();
            places >= usize::try_from(bake.tins).unwrap_or(0)
        };
        if group.options.is_empty() || group.options.iter().any(room) {
            return None;
        }
        let mut told: Vec<String> = Vec::new();
        for tin in group.options.iter().filter_map(|o| o.tin) {
            let choice = self.lesson.tin_choice_of(self.group, tin);
            // Of several shelves the one that comes nearest.
            let mut text =
                meant.iter().filter_map(|&s| too_small(self.lesson, choice, (oven, ShelfId(s))));
            if let Some(text) = text.rfind(|t| !told.contains(t)) {
                told.push(text);
            }
        }
        told.truncate(3);
        (!told.is_empty()).then(|| told.join("; "))
    }

    /// That bells, links and locks leave no way, whatever the others do.
    fn by_path(&self) -> Option<String> {
        let problem = self.bare()?;
        let group = problem.groups.first()?;
        if group.options.is_empty() || group.options.iter().any(|o| o.windows.possible()) {
            return None;
        }
        let nearest = group.options.iter().filter_map(|o| self.missed(&problem, group, o));
        let (by, bound, option) = nearest.min_by_key(|(by, _, _)| *by)?;
        let several = group.options.len() > 1;
        let with = option.tin.filter(|_| several).map(|tin| {
            format!(
                " (with {}, the quickest choice)",
                self.lesson.tin_choice_of(self.group, tin).label
            )
        });
        let with = with.unwrap_or_default();
        let begins = self.drop.names().len() > 1;
        let first = self.drop.locks.iter().filter_map(|l| match l {
            LockedTo::Start(_, at) => Some(*at),
            _ => None,
        });
        let (Some(first), true) = (first.min(), begins) else {
            return Some(format!("{}{with}", bound.words));
        };
        // Its steps keep their distances: told of the first of them.
        let bounds = if bound.late { first - Minutes::new(by) } else { first + Minutes::new(by) };
        let limit = if bound.late { "latest" } else { "earliest" };
        let at = self.at(bounds);
        Some(format!("{}{with}; so its first step is at {at} at the {limit}", bound.words))
    }

    /// By how much a choice misses the minutes something was put to, and why.
    fn missed<'o>(
        &self,
        problem: &'o Problem,
        group: &'o GroupTask,
        option: &'o Choice,
    ) -> Option<(i32, Bound, &'o Choice)> {
        let method = self.method(option);
        let bells = (self.lesson.group(self.group).period, &problem.periods[group.period]);
        let moved = self.drop.names();
        let look = |paths: &Paths<'_>, (task, at): (usize, i32)| {
            let early = paths.earliest(task).map(|b| (b.at - at, b));
            let late = paths.latest(task).map(|b| (at - b.at, b));
            early.into_iter().chain(late).filter(|(by, _)| *by > 0).max_by_key(|(by, _)| *by)
        };
        let locked = |names: &[&str]| -> Vec<(usize, i32)> {
            let name = |t: usize| method.steps[option.tasks[t].step.0].name.as_str();
            let all = option.tasks.iter().enumerate();
            all.filter(|(t, _)| names.is_empty() || names.contains(&name(*t)))
                .filter_map(|(t, task)| Some((t, task.locked?)))
                .collect()
        };
        let paths = Paths::new(self.lesson, method, bells, option, &moved);
        let of_moved = locked(&moved).into_iter().filter_map(|l| look(&paths, l));
        let worst = of_moved.max_by_key(|(by, _)| *by).or_else(|| {
            // Held steps against each other, one at a time.
            let against = |l: (usize, i32)| {
                let name = method.steps[option.tasks[l.0].step.0].name.as_str();
                look(&Paths::new(self.lesson, method, bells, option, &[name]), l)
            };
            locked(&[]).into_iter().filter_map(against).max_by_key(|(by, _)| *by)
        });
        worst.map(|(by, bound)| (by, bound, option))
    }
}

/// A lock in words: "wash up of Unit 1 is held at 10:41".
pub(super) fn held(lesson: &Lesson, lock: &crate::model::Lock) -> String {
    let name = &lesson.group(lock.group).name;
    match &lock.to {
        LockedTo::Start(step, at) => format!("{step} of {name} is held at {}", clock(lesson, *at)),
        LockedTo::Tin(tin) => {
            format!("{name} is held to {}", lesson.tin_choice_of(lock.group, *tin).label)
        }
        LockedTo::Method(method) => {
            format!("{name} is held to {}", lesson.method_of(lock.group, *method).name)
        }
        LockedTo::Oven(oven, shelf) => {
            format!("{} bake is held on {}", possessive(name), place(lesson, *oven, *shelf))
        }
    }
}

/// The oven, and shelf, a group is locked to.
pub(super) fn own_place(lesson: &Lesson, group: GroupId) -> Option<(OvenId, Option<ShelfId>)> {
    lesson.locks.iter().filter(|l| l.group == group).find_map(|l| match l.to {
        LockedTo::Oven(oven, shelf) => Some((oven, shelf)),
        _ => None,
    })
}
