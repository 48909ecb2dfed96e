//! What a plan points at must be there before anything else can be judged.

use super::rule::{Breaches, Rule};
use crate::model::{AdultId, GroupId, Lesson, OvenId};
use crate::plan::{Plan, Stock};

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
            self.group(s.group, "a step");
            if let Some(adult) = s.adult {
                self.adult(adult, Rule::Adults, "a step");
            }
        }
        self.loads(plan);
        self.uses(plan);
        for c in &plan.class_steps {
            if c.step.0 >= self.lesson.class_steps.len() {
                self.nowhere(Rule::ClassStep, "a step of the class", "step", c.step.0);
            }
        }
        for s in &plan.settings {
            self.oven(s.oven, Rule::Temperature, "a temperature");
        }
        for w in &plan.door_watches {
            self.oven(w.oven, Rule::DoorHands, "an adult at a door");
            self.adult(w.adult, Rule::DoorHands, "a door");
        }
        for n in &plan.not_served {
            self.group(n.group, "a refusal");
        }
    }

    fn choices(&mut self, plan: &Plan) {
        for c in &plan.choices {
            if !self.group(c.group, "a choice") {
                continue;
            }
            let recipe = self.lesson.recipe_of(c.group);
            if c.method.0 >= recipe.methods.len() {
                self.nowhere(Rule::WholeGroup, "a choice", "method", c.method.0);
            }
            if let Some(tin) = c.tin.filter(|t| t.0 >= recipe.tins.len()) {
                self.nowhere(Rule::Tin, "a choice", "tin", tin.0);
            }
        }
    }

    fn loads(&mut self, plan: &Plan) {
        for l in &plan.loads {
            self.group(l.group, "a tin in an oven");
            let there = self.oven(l.oven, Rule::OneOven, "a tin");
            if there && l.shelf.0 >= self.lesson.ovens[l.oven.0].shelves.len() {
                self.nowhere(Rule::Shelf, "a tin", "shelf", l.shelf.0);
            }
        }
    }

    fn uses(&mut self, plan: &Plan) {
        for u in &plan.uses {
            self.group(u.group, "kit in use");
            match u.of {
                Stock::Kit(pool) if pool.0 >= self.lesson.kit_pools.len() => {
                    self.nowhere(Rule::Kit, "kit in use", "stock", pool.0);
                }
                Stock::Tin(tin) if tin.0 >= self.lesson.tins.len() => {
                    self.nowhere(Rule::Tin, "a tin in use", "kind of tin", tin.0);
                }
                Stock::Kit(_) | Stock::Tin(_) => {}
            }
        }
    }

    fn group(&mut self, group: GroupId, of: &str) -> bool {
        let there = group.0 < self.lesson.groups.len();
        if !there {
            self.nowhere(Rule::WholeGroup, of, "group", group.0);
        }
        there
    }

    fn adult(&mut self, adult: AdultId, rule: Rule, of: &str) {
        if adult.0 >= self.lesson.adults.len() {
            self.nowhere(rule, of, "adult", adult.0);
        }
    }

    fn oven(&mut self, oven: OvenId, rule: Rule, of: &str) -> bool {
        let there = oven.0 < self.lesson.ovens.len();
        if !there {
            self.nowhere(rule, of, "oven", oven.0);
        }
        there
    }

    fn nowhere(&mut self, rule: Rule, of: &str, what: &str, number: usize) {
        // Positions count from 0, people from 1.
        let number = number.saturating_add(1);
        let message = format!("{of} names {what} number {number}, which the lesson does not have");
        self.out.add(rule, None, None, message);
    }
}
