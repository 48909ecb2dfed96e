//! The menu: every change of a lesson that might help, with its cost.

pub(super) mod class;
mod hands;
pub(super) mod library;
pub(super) mod outside;
mod people;
mod recipes;
mod stock;
mod things;
mod tins;

use super::alteration::Alteration;
use super::item::Item;
use super::offer::Goal;
use crate::check::CheckedPlan;
use crate::file::format::LessonFile;
use crate::model::{ChangeKind, GroupId, Lesson, PastBake};

/// What the menu is made from.
pub(super) struct Menu<'a> {
    file: &'a LessonFile,
    lesson: &'a Lesson,
    past: &'a [PastBake],
    plan: &'a CheckedPlan,
    goal: Goal,
    items: Vec<Item>,
    ladders: usize,
}

/// All changes that may be made to a lesson that has this plan. Kinds the
/// lesson rules out are not among them, nor on the day what is no longer
/// possible.
pub fn menu(
    (file, lesson): (&LessonFile, &Lesson),
    past: &[PastBake],
    plan: &CheckedPlan,
    goal: Goal,
) -> Vec<Item> {
    let mut menu = Menu { file, lesson, past, plan, goal, items: Vec::new(), ladders: 0 };
    menu.unlock();
    menu.ovens_earlier();
    menu.beforehand();
    menu.demo();
    menu.shorten();
    menu.side_by_side();
    menu.share();
    menu.kit();
    menu.stock();
    menu.tins();
    menu.methods();
    menu.join();
    menu.pairs();
    menu.collect();
    menu.ovens();
    menu.other_recipe();
    menu.longer();
    menu.two_lessons();
    menu.items
}

impl Menu<'_> {
    /// Adds a change at the cost of its kind.
    fn add(&mut self, kind: ChangeKind, what: Alteration, words: String, asks: Vec<String>) {
        self.add_at(kind, 1.0, what, words, asks);
    }

    /// Adds a change at so many times the cost of its kind.
    fn add_at(
        &mut self,
        kind: ChangeKind,
        times: f64,
        what: Alteration,
        words: String,
        asks: Vec<String>,
    ) {
        if self.lesson.today.is_some() && !kind.is_of_the_day() {
            return;
        }
        if let Some(cost) = self.lesson.change_costs.of(kind) {
            self.items.push(Item { kind, what, cost: cost * times, words, asks, ladder: None });
        }
    }

    /// The changes added since `from` are one ladder, rung by rung.
    fn ladder(&mut self, from: usize) {
        for (rung, item) in (0..).zip(&mut self.items[from..]) {
            item.ladder = Some((self.ladders, rung));
        }
        self.ladders += 1;
    }

    /// Groups that take part.
    fn groups(&self) -> impl Iterator<Item = GroupId> + '_ {
        self.lesson.attending()
    }

    /// Groups that are not out by the bell, or not with the wanted spare.
    fn in_need(&self) -> impl Iterator<Item = GroupId> + '_ {
        let wanted = self.lesson.rules.wanted_spare.value;
        self.groups().filter(move |g| {
            self.plan.group_outcomes()[g.0].spare.is_none_or(|spare| spare < wanted)
        })
    }

    /// Periods that have a group in need, each once.
    fn periods_in_need(&self) -> Vec<usize> {
        let mut periods: Vec<usize> =
            self.in_need().map(|g| self.lesson.group(g).period.0).collect();
        periods.sort_unstable();
        periods.dedup();
        periods
    }
}
