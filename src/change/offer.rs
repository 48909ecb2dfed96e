//! What is offered: sets of changes that are enough, the least first.

use std::sync::Arc;

use super::item::Item;
use crate::check::CheckedPlan;
use crate::file::format::LessonFile;
use crate::model::Lesson;

/// What a change is to bring about.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Goal {
    /// Everyone is out by the bell: some are not now.
    Everyone,
    /// Everyone has the wanted spare: all are out, some are tight.
    Spare,
    /// Nothing: every group fits.
    Nothing,
}

impl Goal {
    /// What is wanting in a plan.
    pub fn of(lesson: &Lesson, plan: &CheckedPlan) -> Self {
        let now = plan.objective();
        if usize::try_from(now.served).unwrap_or(usize::MAX) < lesson.attending().count() {
            Goal::Everyone
        } else if now.shortfall > 0 {
            Goal::Spare
        } else {
            Goal::Nothing
        }
    }

    /// Whether a plan has it.
    pub fn is_met(self, lesson: &Lesson, plan: &CheckedPlan) -> bool {
        match (self, Goal::of(lesson, plan)) {
            (Goal::Everyone, wanting) => wanting != Goal::Everyone,
            (Goal::Spare, wanting) => wanting == Goal::Nothing,
            (Goal::Nothing, _) => true,
        }
    }
}

/// A set of changes and what comes of it.
#[derive(Debug, Clone)]
pub struct Offer {
    /// One change, or two.
    pub items: Vec<Item>,
    /// Their costs together.
    pub cost: f64,
    /// The lesson's file with them.
    pub file: LessonFile,
    /// The lesson with them.
    pub lesson: Arc<Lesson>,
    /// Its plan.
    pub plan: Arc<CheckedPlan>,
}

impl Offer {
    /// Groups out by the bell.
    pub fn served(&self) -> u32 {
        self.plan.objective().served
    }

    /// Groups that take part.
    pub fn of(&self) -> usize {
        self.lesson.attending().count()
    }

    /// No arrangement of the changed lesson serves more groups.
    pub fn is_proved(&self) -> bool {
        let bounds = self.plan.plan().bounds;
        let all = usize::try_from(self.served()).is_ok_and(|served| served == self.of());
        all || bounds.is_some_and(|b| b.served_at_most == self.served())
    }

    /// No arrangement of the changed lesson serves all groups.
    pub fn leaves_some_out(&self) -> bool {
        let most = |n: u32| usize::try_from(n).unwrap_or(usize::MAX);
        self.plan.plan().bounds.is_some_and(|b| most(b.served_at_most) < self.of())
    }

    /// In words: "weigh done beforehand; bake ginger traybake in 12 buns".
    pub fn words(&self) -> String {
        let all: Vec<&str> = self.items.iter().map(|i| i.words.as_str()).collect();
        all.join("; ")
    }

    /// What it asks of others, each once.
    pub fn asks(&self) -> Vec<&str> {
        let mut asks: Vec<&str> = Vec::new();
        for ask in self.items.iter().flat_map(|i| &i.asks) {
            if !asks.contains(&ask.as_str()) {
                asks.push(ask);
            }
        }
        asks
    }
}

/// Whether the menu has anything that is enough.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Enough {
    /// Nothing need change.
    AsItIs,
    /// The changes offered are.
    Offered,
    /// No one or two of its changes are, and that is proved.
    NothingProved,
    /// None was found to be; that there is none is not proved.
    NothingFound,
    /// Not all of the menu has been tried yet.
    NotYet,
}

/// What the search for changes came to.
#[derive(Debug, Clone)]
pub struct Offers {
    /// What a change is to bring about.
    pub goal: Goal,
    /// Sets of changes that are enough, the cheapest first.
    pub offers: Vec<Offer>,
    /// Changes that help without being enough, the most helpful first; only
    /// where nothing is enough.
    pub helps: Vec<Offer>,
    /// Whether anything is enough.
    pub enough: Enough,
    /// Changes on the menu.
    pub menu: usize,
    /// Sets of them looked at, planned or ruled out.
    pub tried: usize,
    /// Time did not run out, nor was it stopped, before all that would cost no
    /// more than what is offered was looked at.
    pub all_tried: bool,
}
