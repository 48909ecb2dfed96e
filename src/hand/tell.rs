//! The sentence that goes with a refusal: the rule in plain words, with the sum
//! a teacher can check.

use super::alone::only;
use super::drop::Drop;
use super::lift::Lift;
use super::path::{Bound, Paths};
use super::shelves::{place, possessive, together, too_small};
use super::why::{Case, Reason};
use crate::check::Rule;
use crate::graph::problem::{Choice, GroupTask};
use crate::graph::{Problem, expand};
use crate::model::{
    Attendance, GroupId, KitId, Lesson, LockedTo, Method, OvenId, Phase, ShelfId, Step, StepKind,
};
use crate::plan::{Load, Plan, StepPlacement, Stock};
use crate::units::{ExactMinutes, Minute};
use crate::view::words::{capital, clock, list, minutes};
use crate::words::counted;

/// A reason in words.
pub(super) struct Told {
    /// What was put where, as a sentence's subject and verb: "Rub in of Unit 3
    /// cannot begin at 10:13".
    lead: Lead,
    /// The sum.
    text: String,
    /// It is proved by pencil and paper.
    pub(super) proved: bool,
    /// The rule, where the sum says so.
    pub(super) rule: Option<Rule>,
}

struct Lead {
    thing: String,
    cannot: String,
}

impl Told {
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
    lesson: &'a Lesson,
    drop: &'a Drop,
    reason: &'a Reason,
    group: GroupId,
    must: &'a [GroupId],
    plan: &'a Plan,
}

impl<'a> Teller<'a> {
    pub(super) fn new(case: &'a Case<'a>, reason: &'a Reason) -> Self {
        let (lesson, must, plan) = (&*case.after, &case.must[..], &reason.witness);
        Self { lesson, drop: case.drop, reason, group: case.drop.group, must, plan }
    }

    pub(super) fn told(&self) -> Told {
        let lead = self.lead();
        if self.lesson.group(self.group).attendance == Attendance::LeftOut {
            let text = format!("{} is left out of this lesson", self.name());
            return Told { lead, text, proved: true, rule: Some(Rule::WholeGroup) };
        }
        if let Some(text) = self.by_shelf() {
            return Told { lead, text, proved: true, rule: None };
        }
        if let Some(text) = self.by_path() {
            return Told { lead, text, proved: true, rule: None };
        }
        let proved = self.reason.rule == Rule::OneOven;
        Told { lead, text: self.by_rule(), proved, rule: None }
    }

    /// The sum alone, for reasons that are not about something moved.
    pub(super) fn sum(&self) -> (String, bool) {
        if let Some(text) = self.by_shelf().or_else(|| self.by_path()) {
            return (text, true);
        }
        (self.by_rule(), false)
    }

    fn name(&self) -> &str {
        &self.lesson.group(self.group).name
    }

    fn at(&self, minute: Minute) -> String {
        clock(self.lesson, minute).to_string()
    }

    fn lead(&self) -> Lead {
        let name = self.name();
        let on = self.drop.place().map(|(oven, shelf)| place(self.lesson, oven, shelf));
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
            (true, Some(on)) => Lead {
                thing: format!("{} bake", possessive(name)),
                cannot: format!("go into {on}{at}"),
            },
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
            if let Some(text) = text.next_back().filter(|t| !told.contains(t)) {
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
        let (_, bound, option) = nearest.min_by_key(|(by, _, _)| *by)?;
        let several = group.options.len() > 1;
        let with = option.tin.filter(|_| several).map(|tin| {
            format!(
                " (with {}, the quickest choice)",
                self.lesson.tin_choice_of(self.group, tin).label
            )
        });
        Some(format!("{}{}", bound.words, with.unwrap_or_default()))
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

    /// What the checker found, in plain words.
    fn by_rule(&self) -> String {
        let told = match self.reason.rule {
            Rule::OneOven => self.oven(),
            Rule::Shelf => self.shelf(),
            Rule::ClassStep => self.class_step(),
            Rule::WarmUp | Rule::Temperature => self.heat(),
            Rule::Door => self.door(),
            Rule::Kit => self.kit(),
            Rule::Pupils => self.pupils(),
            Rule::Locked => self.locked(),
            Rule::Adults | Rule::DoorHands => self.adults(),
            Rule::KeepApart => self.apart(),
            _ => None,
        };
        told.unwrap_or_else(|| by_the_clock(self.lesson, &self.reason.breach.message))
    }

    fn oven(&self) -> Option<String> {
        let (oven, _) = own_place(self.lesson, self.group)?;
        let of = &self.lesson.ovens[oven.0];
        if of.out_of_order {
            return Some(format!("{} is out of order", of.name));
        }
        let group = self.lesson.group(self.group);
        let room = |r: crate::model::RoomId| &self.lesson.rooms[r.0].name;
        if of.room != group.room {
            return Some(format!(
                "{} stands in {}, and {} works in {}",
                of.name,
                room(of.room),
                group.name,
                room(group.room)
            ));
        }
        let unit = |u: Option<crate::model::UnitId>| u.map(|u| self.lesson.units[u.0].name.clone());
        Some(format!(
            "{} belongs to {}, {} works at {}, and units do not share",
            of.name,
            unit(of.unit)?,
            group.name,
            unit(group.unit)?
        ))
    }

    fn shelf(&self) -> Option<String> {
        let pairs = self.must.iter().filter_map(|&g| together(self.lesson, self.plan, g));
        pairs.into_iter().next()
    }

    fn placed(&self, group: GroupId) -> impl Iterator<Item = (&'a StepPlacement, &'a Step)> + 'a {
        let (lesson, plan) = (self.lesson, self.plan);
        let method = plan.choice(group).map(|c| lesson.method_of(group, c.method));
        let all = plan.steps.iter().filter(move |s| s.group == group);
        all.filter_map(move |s| Some((s, method?.steps.get(s.step.0)?)))
    }

    fn class_step(&self) -> Option<String> {
        let during = |c: &&crate::plan::ClassPlacement| {
            self.lesson.class_steps[c.step.0].phase == Phase::During
        };
        for class in self.plan.class_steps.iter().filter(during) {
            for &g in self.must {
                let meets = |(s, step): &(&StepPlacement, &Step)| {
                    step.kind.is_hand() && s.start < class.end && class.start < s.end
                };
                let Some((s, step)) = self.placed(g).find(meets) else { continue };
                return Some(format!(
                    "the whole class is at {} from {} to {}, and {} would go on from {} to {}",
                    self.lesson.class_steps[class.step.0].name,
                    self.at(class.start),
                    self.at(class.end),
                    step.name,
                    self.at(s.start),
                    self.at(s.end)
                ));
            }
        }
        None
    }

    fn load(&self, group: GroupId) -> Option<&'a Load> {
        self.plan.loads.iter().find(|l| l.group == group)
    }

    fn heat(&self) -> Option<String> {
        let own = self.load(self.group)?;
        let oven = &self.lesson.ovens[own.oven.0];
        let wants = |l: &Load| -> crate::units::Celsius {
            let tin = self.plan.choice(l.group).and_then(|c| c.tin);
            tin.map_or(l.celsius, |t| self.lesson.tin_choice_of(l.group, t).celsius)
        };
        let all = self.plan.loads.iter().filter(|l| l.oven == own.oven && l.group != own.group);
        let near = all.filter(|l| wants(l) != wants(own)).min_by_key(|l| {
            let apart = if l.end <= own.start { own.start - l.end } else { l.start - own.end };
            apart.get()
        });
        let Some(near) = near else {
            let on = self.lesson.periods.iter().map(|p| p.ovens_on_from).min()?;
            let warm = oven.change_minutes(None, wants(own)).rounded_up();
            return Some(format!(
                "{} may be switched on at {} and takes {} to {}: nothing goes in before {}",
                oven.name,
                self.at(on),
                minutes(warm.get()),
                wants(own),
                self.at(on + warm)
            ));
        };
        let (first, second) = if near.start <= own.start { (near, own) } else { (own, near) };
        let change = oven.change_minutes(Some(wants(first)), wants(second)).rounded_up();
        Some(format!(
            "{} bake is in {} at {} from {} to {}; this one wants {}, from {} to {}, and the oven \
             takes {} to change",
            possessive(&self.lesson.group(near.group).name),
            oven.name,
            wants(near),
            self.at(near.start),
            self.at(near.end),
            wants(own),
            self.at(own.start),
            self.at(own.end),
            minutes(change.get())
        ))
    }

    fn bake(&self, group: GroupId) -> Option<[&'a StepPlacement; 3]> {
        let of = |kind| self.placed(group).find(|(_, s)| s.kind == kind).map(|(p, _)| p);
        Some([of(StepKind::Load)?, of(StepKind::Bake)?, of(StepKind::TakeOut)?])
    }

    fn door(&self) -> Option<String> {
        let opener = self.reason.breach.group?;
        for &g in self.must {
            let recipe = self.lesson.recipe_of(g);
            let (Some(shut), Some([load, bake, _])) = (recipe.bake.shut, self.bake(g)) else {
                continue;
            };
            let share = f64::from((bake.end - bake.start).get()) * recipe.bake.shut_share;
            let least = ExactMinutes::new(shut.value.get().min(share)).unwrap_or_default();
            let from = load.end.max(load.start + self.lesson.rules.call.value);
            let until = load.end + least.rounded_up();
            let [put_in, _, out] = self.bake(opener)?;
            let meets = |s: &&StepPlacement| s.start < until && from < s.end;
            let Some(open) = [put_in, out].into_iter().find(meets) else { continue };
            let oven = &self.lesson.ovens[self.load(g)?.oven.0].name;
            return Some(format!(
                "the door of {oven} stays shut from {} to {} for the bake of {}, and {} would open \
                 it at {}",
                self.at(from),
                self.at(until),
                self.lesson.group(g).name,
                self.lesson.group(opener).name,
                self.at(open.start)
            ));
        }
        None
    }

    fn lifted_kit(&self) -> Option<KitId> {
        self.reason.lifts.iter().find_map(|l| match l {
            Lift::Kit(kit) => Some(*kit),
            _ => None,
        })
    }

    fn kit(&self) -> Option<String> {
        let kit = self.lifted_kit()?;
        let kind = &self.lesson.kit_kinds[kit.0].name;
        let is = |of: Stock| match of {
            Stock::Kit(pool) => self.lesson.kit_pools[pool.0].kit == kit,
            Stock::Tin(_) => false,
        };
        let uses = || self.plan.uses.iter().filter(|u| is(u.of));
        let at_once = |m: Minute| -> usize {
            uses().filter(|u| u.start <= m && m < u.end).map(|u| u.items.len()).sum()
        };
        let peak = uses().map(|u| u.start).max_by_key(|&m| (at_once(m), std::cmp::Reverse(m)))?;
        let pools = (0..self.lesson.kit_pools.len()).map(crate::model::PoolId);
        let own = pools.filter(|&p| {
            let pool = &self.lesson.kit_pools[p.0];
            pool.kit == kit && self.lesson.may_use_pool(self.group, p)
        });
        let there: u32 = own.map(|p| self.lesson.kit_pools[p.0].count).sum();
        let there = usize::try_from(there).unwrap_or(0);
        Some(format!(
            "{} would be in use at {}, and there {} {there}",
            counted(at_once(peak), kind),
            self.at(peak),
            if there == 1 { "is" } else { "are" }
        ))
    }

    fn pupils(&self) -> Option<String> {
        let group = self.reason.breach.group?;
        let there = self.lesson.group(group).pupils;
        let hand = |m: Minute| {
            self.placed(group)
                .filter(move |(s, _)| s.start <= m && m < s.end && !s.pupils.is_empty())
                .map(|(s, step)| (step.name.clone(), s.pupils.len()))
                .collect::<Vec<_>>()
        };
        let wanted = |m: Minute| hand(m).iter().map(|(_, n)| n).sum::<usize>();
        let starts = self.placed(group).map(|(s, _)| s.start);
        let peak = starts.max_by_key(|&m| (wanted(m), std::cmp::Reverse(m)))?;
        let names: Vec<String> = hand(peak).into_iter().map(|(name, _)| name).collect();
        Some(format!(
            "{} would go on at {} and take {}, and {} has {there}",
            list(&names),
            self.at(peak),
            counted(wanted(peak), "pupil"),
            self.lesson.group(group).name
        ))
    }

    /// What is held and would not be kept.
    fn locked(&self) -> Option<String> {
        let broken = self.lesson.locks.iter().find(|l| match &l.to {
            LockedTo::Start(name, at) => self
                .placed(l.group)
                .find(|(_, s)| s.name == *name)
                .map_or(self.plan.choice(l.group).is_some(), |(s, _)| s.start != *at),
            LockedTo::Tin(tin) => self.plan.choice(l.group).is_some_and(|c| c.tin != Some(*tin)),
            LockedTo::Method(method) => {
                self.plan.choice(l.group).is_some_and(|c| c.method != *method)
            }
            LockedTo::Oven(oven, shelf) => self.plan.loads.iter().any(|load| {
                load.group == l.group
                    && (load.oven != *oven || shelf.is_some_and(|s| s != load.shelf))
            }),
        })?;
        Some(format!("{}; both cannot be kept", held(self.lesson, broken)))
    }

    fn adults(&self) -> Option<String> {
        let minute = self.reason.breach.minute?;
        let group = self.reason.breach.group;
        let at_door = self.reason.rule == Rule::DoorHands;
        if at_door && !self.reason.breach.message.contains("no adult") {
            return None;
        }
        let name = self.lesson.group(group.unwrap_or(self.group)).name.clone();
        if at_door {
            return Some(format!(
                "at {} {name} would open an oven door, and no adult is there and free to stand at \
                 it",
                self.at(minute)
            ));
        }
        let step = self.placed(group?).find(|(s, step)| {
            s.start <= minute && minute < s.end && step.adult != crate::model::AdultNeed::None
        })?;
        Some(format!(
            "{} of {name} wants an adult from {} to {}, and none is there and free",
            step.1.name,
            self.at(step.0.start),
            self.at(step.0.end)
        ))
    }

    fn apart(&self) -> Option<String> {
        let kept = self.must.iter().find(|g| self.lesson.group(**g).keep_apart)?;
        let own = self.load(*kept)?;
        let beside = self.plan.loads.iter().find(|l| {
            l.group != *kept && l.oven == own.oven && l.start < own.end && own.start < l.end
        })?;
        Some(format!(
            "{} is kept apart, and {} tins would stand in {} with its own from {} to {}",
            self.lesson.group(*kept).name,
            possessive(&self.lesson.group(beside.group).name),
            self.lesson.ovens[own.oven.0].name,
            self.at(own.start.max(beside.start)),
            self.at(own.end.min(beside.end))
        ))
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
fn own_place(lesson: &Lesson, group: GroupId) -> Option<(OvenId, Option<ShelfId>)> {
    lesson.locks.iter().filter(|l| l.group == group).find_map(|l| match l.to {
        LockedTo::Oven(oven, shelf) => Some((oven, shelf)),
        _ => None,
    })
}

/// A message with its minutes told by the clock.
fn by_the_clock(lesson: &Lesson, message: &str) -> String {
    let mut told = String::new();
    let mut rest = message;
    while let Some(at) = rest.find("minute ") {
        let (before, after) = rest.split_at(at + "minute ".len());
        let digits = |t: &str| {
            t.char_indices()
                .take_while(|&(i, c)| c.is_ascii_digit() || i == 0 && c == '-')
                .map(|(i, c)| i + c.len_utf8())
                .last()
                .unwrap_or(0)
        };
        let end = digits(after);
        let Ok(minute) = after[..end].parse::<i32>() else {
            told += before;
            rest = after;
            continue;
        };
        told += before.strip_suffix("minute ").unwrap_or(before);
        told += &clock(lesson, Minute::new(minute)).to_string();
        rest = &after[end..];
        if let Some(until) = rest.strip_prefix(" to ")
            && let end = digits(until)
            && let Ok(minute) = until[..end].parse::<i32>()
        {
            told += &format!(" to {}", clock(lesson, Minute::new(minute)));
            rest = &until[end..];
        }
    }
    told + rest
}
