//! What a plan points at must be there before anything else can be judged.

use super::breach::Breaches;
use super::fault::{Missing, Names, Nowhere};
use crate::model::{AdultId, GroupId, Lesson, OvenId};
use crate::plan::{Plan, Rule, Stock};

/// Reports every position in the plan that the lesson does not have.
/// Steps and pupils are looked at with their group.
pub(super) fn check(lesson: &Lesson, plan: &Plan, out: &mut Breaches) {
    Ids { lesson, out }.all(plan);
}

struct Ids<'a> {
    lesson: &'a Lesson,
    out: &'a mut Breaches,
}

impl Ids<'_> {
    fn all(&mut self, plan: &Plan) {
        self.choices(plan);
        for s in &plan.steps {
            self.group(s.group, Names::Step);
            if let Some(adult) = s.adult {
                self.adult(adult, Rule::Adults, Names::Step);
            }
        }
        self.loads(plan);
        self.uses(plan);
        for c in &plan.class_steps {
            if c.step.0 >= self.lesson.class_steps.len() {
                self.nowhere(Rule::ClassStep, Names::ClassStep, Missing::ClassStep, c.step.0);
            }
        }
        for s in &plan.settings {
            self.oven(s.oven, Rule::Temperature, Names::Temperature);
        }
        for w in &plan.door_watches {
            self.oven(w.oven, Rule::DoorHands, Names::AdultAtDoor);
            self.adult(w.adult, Rule::DoorHands, Names::Door);
        }
        for n in &plan.not_served {
            self.group(n.group, Names::Refusal);
        }
    }

    fn choices(&mut self, plan: &Plan) {
        for c in &plan.choices {
            if !self.group(c.group, Names::Choice) {
                continue;
            }
            let recipe = self.lesson.recipe_of(c.group);
            if c.method.0 >= recipe.methods.len() {
                self.nowhere(Rule::WholeGroup, Names::Choice, Missing::Method, c.method.0);
            }
            if let Some(tin) = c.tin.filter(|t| t.0 >= recipe.tins.len()) {
                self.nowhere(Rule::Tin, Names::Choice, Missing::Tin, tin.0);
            }
        }
    }

    fn loads(&mut self, plan: &Plan) {
        for l in &plan.loads {
            self.group(l.group, Names::LoadedTin);
            let there = self.oven(l.oven, Rule::OneOven, Names::Tin);
            if there && l.shelf.0 >= self.lesson.ovens[l.oven.0].shelves.len() {
                self.nowhere(Rule::Shelf, Names::Tin, Missing::Shelf, l.shelf.0);
            }
        }
    }

    fn uses(&mut self, plan: &Plan) {
        for u in &plan.uses {
            self.group(u.group, Names::Kit);
            match u.of {
                Stock::Kit(pool) if pool.0 >= self.lesson.kit_pools.len() => {
                    self.nowhere(Rule::Kit, Names::Kit, Missing::Stock, pool.0);
                }
                Stock::Tin(tin) if tin.0 >= self.lesson.tins.len() => {
                    self.nowhere(Rule::Tin, Names::TinInUse, Missing::TinKind, tin.0);
                }
                Stock::Kit(_) | Stock::Tin(_) => {}
            }
        }
    }

    fn group(&mut self, group: GroupId, of: Names) -> bool {
        let there = group.0 < self.lesson.groups.len();
        if !there {
            self.nowhere(Rule::WholeGroup, of, Missing::Group, group.0);
        }
        there
    }

    fn adult(&mut self, adult: AdultId, rule: Rule, of: Names) {
        if adult.0 >= self.lesson.adults.len() {
            self.nowhere(rule, of, Missing::Adult, adult.0);
        }
    }

    fn oven(&mut self, oven: OvenId, rule: Rule, of: Names) -> bool {
        let there = oven.0 < self.lesson.ovens.len();
        if !there {
            self.nowhere(rule, of, Missing::Oven, oven.0);
        }
        there
    }

    fn nowhere(&mut self, rule: Rule, by: Names, at: Missing, position: usize) {
        self.out.add(rule, None, None, Nowhere { by, at, position });
    }
}
