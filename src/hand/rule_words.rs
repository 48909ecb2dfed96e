//! What the checker found, rule by rule, in plain words.

use super::alone::only;
use super::lift::Lift;
use super::refusal_words::{Teller, held, own_place};
use super::shelves::{possessive, together};
use crate::check::fault::{DoorHandsFault, Fault};
use crate::graph::expand;
use crate::graph::footprint::{Footprint, Together, stand};
use crate::graph::packing::Space;
use crate::model::{
    AdultNeed, GroupId, KitId, LockedTo, Phase, PoolId, RoomId, Step, StepId, StepKind, UnitId,
};
use crate::plan::{ClassPlacement, Load, Rule, StepPlacement, Stock};
use crate::units::{Celsius, ExactMinutes, Minute, plain_number};
use crate::view::words::{list, minutes};
use crate::words::counted;

impl<'a> Teller<'a> {
    /// What the checker found, in plain words.
    pub(super) fn by_rule(&self) -> String {
        let told = match self.reason.rule {
            Rule::Shelf => self.shelf(),
            Rule::Order => self.order(),
            Rule::Bell | Rule::Period => self.bells(),
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
        told.unwrap_or_else(|| {
            let breach = self.reason.breach.as_ref();
            breach.map_or_else(String::new, |b| b.by_the_clock(self.lesson))
        })
    }

    pub(super) fn oven(&self) -> Option<String> {
        let (oven, _) = own_place(self.lesson, self.group)?;
        let of = &self.lesson.ovens[oven.0];
        if of.out_of_order {
            return Some(format!("{} is out of order", of.name));
        }
        let group = self.lesson.group(self.group);
        let room = |r: RoomId| &self.lesson.rooms[r.0].name;
        if of.room != group.room {
            return Some(format!(
                "{} stands in {}, and {} works in {}",
                of.name,
                room(of.room),
                group.name,
                room(group.room)
            ));
        }
        let unit = |u: Option<UnitId>| u.map(|u| self.lesson.units[u.0].name.clone());
        Some(format!(
            "{} belongs to {}, {} works at {}, and units do not share",
            of.name,
            unit(of.unit)?,
            group.name,
            unit(group.unit)?
        ))
    }

    fn shelf(&self) -> Option<String> {
        let pairs = self.staying.iter().filter_map(|&g| together(self.lesson, self.plan, g));
        pairs.into_iter().next()
    }

    /// Whether two groups, each of one choice, are held to one shelf at times
    /// that overlap, and two of their tins do not go there together.
    pub(super) fn is_all_held(&self) -> bool {
        let held = |g: GroupId| {
            let only = only(self.lesson, &[g])?;
            let problem = expand(&only);
            let [option] = &problem.groups.first()?.options[..] else { return None };
            let bake = option.bake.as_ref()?;
            let (oven, shelf) = own_place(self.lesson, g)?;
            let glued = [bake.load, bake.bake, bake.out];
            glued.iter().find_map(|&t| option.tasks[t].locked)?;
            Some((oven, shelf?, bake.footprint))
        };
        let load = |g: GroupId| self.load(g).map(|l| (l.start, l.end));
        let pairs = self.staying.iter().enumerate();
        pairs.into_iter().any(|(i, &a)| {
            self.staying[i + 1..].iter().any(|&b| {
                let (Some(first), Some(second)) = (held(a), held(b)) else { return false };
                let (Some(x), Some(y)) = (load(a), load(b)) else { return false };
                let oven = &self.lesson.ovens[first.0.0];
                let Some(shelf) = oven.shelves.get(first.1.0) else { return false };
                let space = Space {
                    width: shelf.width.get(),
                    depth: shelf.depth.get(),
                    gap: oven.gap.value.get(),
                };
                (first.0, first.1) == (second.0, second.1)
                    && x.0 < y.1
                    && y.0 < x.1
                    && do_not_stand([first.2, second.2], space)
            })
        })
    }

    fn placed(&self, group: GroupId) -> impl Iterator<Item = (&'a StepPlacement, &'a Step)> + 'a {
        let (lesson, plan) = (self.lesson, self.plan);
        let method = plan.choice(group).map(|c| lesson.method_of(group, c.method));
        let all = plan.steps.iter().filter(move |s| s.group == group);
        all.filter_map(move |s| Some((s, method?.steps.get(s.step.0)?)))
    }

    /// A link that there is no time to keep.
    fn order(&self) -> Option<String> {
        self.staying.iter().find_map(|&g| {
            let choice = self.plan.choice(g)?;
            let method = self.lesson.method_of(g, choice.method);
            let placed = |step: StepId| {
                let own = self.plan.steps.iter().find(|s| s.group == g && s.step == step);
                own.map(|s| (&method.steps[step.0].name, s.start, s.end))
            };
            method.links.iter().find_map(|link| {
                let ((from, _, end), (to, start, _)) = (placed(link.from)?, placed(link.to)?);
                let longest = link.longest.map(|l| l.value.get());
                let gap = f64::from((start - end).get());
                if start < end + link.least.rounded_up() {
                    return Some(format!(
                        "{from} would end at {}, and {to}, which comes after it, begin at {}",
                        self.at(end),
                        self.at(start)
                    ));
                }
                longest.filter(|l| gap > *l + 1e-6).map(|longest| {
                    format!(
                        "{from} would end at {} and {to} begin at {}, and no more than {} may \
                         lie between",
                        self.at(end),
                        self.at(start),
                        minutes_of(longest)
                    )
                })
            })
        })
    }

    /// A step too near to a bell.
    fn bells(&self) -> Option<String> {
        self.staying.iter().find_map(|&g| {
            let problem = expand(&only(self.lesson, &[g])?);
            let period = &problem.periods[self.lesson.group(g).period.0];
            let (open, close) =
                (Minute::new(period.opening_end), Minute::new(period.closing_start));
            let of = self.lesson.group(g);
            let inside = |(_, step): &(&StepPlacement, &Step)| {
                !of.beforehand.contains(&step.name) && !of.collected.contains(&step.name)
            };
            let last = self.placed(g).filter(inside).max_by_key(|(s, _)| s.end)?;
            if last.0.end > close {
                return Some(format!(
                    "{} of {} would end at {}, and the closing begins at {}",
                    last.1.name,
                    of.name,
                    self.at(last.0.end),
                    self.at(close)
                ));
            }
            let hands = self.placed(g).filter(inside).filter(|(_, s)| s.kind.is_hand());
            let first = hands.min_by_key(|(s, _)| s.start)?;
            (first.0.start < open).then(|| {
                format!(
                    "{} of {} would have to begin at {}, and the opening ends at {}",
                    first.1.name,
                    of.name,
                    self.at(first.0.start),
                    self.at(open)
                )
            })
        })
    }

    fn class_step(&self) -> Option<String> {
        let during = |c: &&ClassPlacement| self.lesson.class_steps[c.step.0].phase == Phase::During;
        for class in self.plan.class_steps.iter().filter(during) {
            for &g in self.staying {
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
        let wants = |l: &Load| -> Celsius {
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
        let opener = self.reason.breach.as_ref()?.group?;
        for &g in self.staying {
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
        let pools = (0..self.lesson.kit_pools.len()).map(PoolId);
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
        let group = self.reason.breach.as_ref()?.group?;
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
        let breach = self.reason.breach.as_ref()?;
        let (minute, group) = (breach.minute?, breach.group);
        let nobody = |f: &Fault| matches!(f, Fault::DoorHands(DoorHandsFault::NobodyThere { .. }));
        let at_door = breach.rule == Rule::DoorHands;
        if at_door && !nobody(&breach.fault) {
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
            s.start <= minute && minute < s.end && step.adult != AdultNeed::None
        })?;
        Some(format!(
            "{} of {name} wants an adult from {} to {}, and none is there and free",
            step.1.name,
            self.at(step.0.start),
            self.at(step.0.end)
        ))
    }

    fn apart(&self) -> Option<String> {
        let kept = self.staying.iter().find(|g| self.lesson.group(**g).keep_apart)?;
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

/// A longest gap in words.
fn minutes_of(longest: f64) -> String {
    format!("{} minutes", plain_number(longest))
}

/// Whether it is plain that two tins do not stand on a shelf together.
fn do_not_stand(tins: [Footprint; 2], space: Space) -> bool {
    if tins.iter().any(|t| t.is_circle()) {
        return stand(&tins, space) == Together::Refuted;
    }
    let side = tins[0].short() + tins[1].short() + space.gap;
    side > space.width && side > space.depth
}
