//! Another plan laid over the board: what a change would come to, or the plan
//! before the last change.

use std::sync::Arc;

use super::better_odds::BetterPlan;
use super::{Event, Planned, Revision, Session};
use crate::change::Offer;
use crate::model::Lesson;
use crate::view::overlay::{Ghosts, Tense, later};

/// The plan before the last change.
#[derive(Debug, Clone)]
pub struct PlanBefore {
    name: String,
    planned: Planned,
}

impl PlanBefore {
    /// The lesson it is of.
    pub fn lesson(&self) -> &Arc<Lesson> {
        &self.planned.lesson
    }
}

/// Of what a plan laid over the board is the plan.
#[derive(Debug)]
pub enum Laid {
    /// The lesson before the last change.
    Before,
    /// The lesson with a change.
    Offer(Box<Offer>),
    /// The lesson as it is, with better odds.
    BetterOdds(Arc<BetterPlan>),
}

/// Another plan laid over the board.
#[derive(Debug)]
pub struct Overlay {
    /// What it is, in words.
    pub name: String,
    /// Of what it is the plan.
    pub of: Laid,
    /// The other plan's bars, matched with rows and ovens of the board.
    pub ghosts: Arc<Ghosts>,
    /// The state of the lesson it is laid over.
    revision: Revision,
    other: Planned,
}

impl Overlay {
    /// Whether it is the plan before.
    pub fn is_before(&self) -> bool {
        matches!(self.of, Laid::Before)
    }

    /// Whether it is offered: it can be kept or dropped.
    pub fn is_offered(&self) -> bool {
        !self.is_before()
    }
}

/// What is laid over, and what could be.
#[derive(Debug, Default)]
pub(super) struct LaidOver {
    pub overlay: Option<Overlay>,
    pub before: Option<PlanBefore>,
    /// The choice whose plan is to be laid over once it is there, in words.
    pub awaited: Option<String>,
}

impl LaidOver {
    /// Whether a plan with better odds is laid over.
    pub fn is_better_odds(&self) -> bool {
        self.overlay.as_ref().is_some_and(|o| matches!(o.of, Laid::BetterOdds(_)))
    }
}

fn over(now: &Planned, other: &Planned, tense: Tense) -> Arc<Ghosts> {
    let later = later(&now.lesson, &other.lesson);
    Arc::new(Ghosts::of(&now.board, &other.board, later, tense))
}

impl Session {
    /// Remembers the plan on screen as the plan before the change called `what`.
    /// It takes the place of an older one, laid over the board or not.
    pub(super) fn plan_before_is(&mut self, what: &str) {
        if let Some(planned) = &self.planned {
            let name = format!("The plan before: {what}");
            self.laid.before = Some(PlanBefore { name, planned: planned.clone() });
        }
        let was_before = self.laid.overlay.as_ref().is_some_and(Overlay::is_before);
        self.put_away();
        if was_before {
            self.lay_before();
        }
    }

    /// What is laid over is laid over the board as it now is.
    pub(super) fn lay_again(&mut self) {
        if let (Some(overlay), Some(now)) = (&mut self.laid.overlay, &self.planned) {
            overlay.ghosts = over(now, &overlay.other, overlay.ghosts.tense);
        }
    }

    pub(super) fn put_away(&mut self) {
        self.laid.awaited = None;
        if self.laid.overlay.take().is_some_and(|o| o.is_offered()) {
            self.events.push(Event::OfferPutAway);
        }
    }

    pub(super) fn ghost(&mut self, words: Option<&str>) {
        let shown = self.laid.overlay.as_ref().filter(|o| o.is_offered());
        match words {
            Some(words) if shown.is_none_or(|o| o.name != words) => self.lay_offer(words),
            _ => self.put_away(),
        }
    }

    fn lay_offer(&mut self, words: &str) {
        let Some(now) = &self.planned else { return };
        if let Some(better) = self.better_plan().filter(|b| b.words.what == words) {
            let (better, revision) = (Arc::clone(better), now.revision);
            let other = Planned::new(revision, &now.lesson, Arc::clone(&better.plan));
            self.lay(words, Laid::BetterOdds(better), other);
            self.events.push(Event::OfferLaid(words.to_owned()));
            return;
        }
        let Some(revision) = self.offering.of else { return };
        let Some(offer) = self.offering.find(words).cloned() else { return };
        self.lay_change(revision, offer);
        self.events.push(Event::OfferLaid(words.to_owned()));
    }

    /// Lays the plan of a change of the lesson in this state over the board.
    pub(super) fn lay_change(&mut self, revision: Revision, offer: Offer) {
        let other = Planned::new(revision, &offer.lesson, Arc::clone(&offer.plan));
        let words = offer.words();
        self.lay(&words, Laid::Offer(Box::new(offer)), other);
    }

    /// Lays a plan that is offered over the one on screen.
    fn lay(&mut self, words: &str, of: Laid, other: Planned) {
        let Some(now) = &self.planned else { return };
        let (ghosts, revision) = (over(now, &other, Tense::Then), other.revision);
        self.laid.overlay = Some(Overlay { name: words.to_owned(), of, ghosts, revision, other });
    }

    /// A better plan for the change that is shown takes its place.
    pub(super) fn lay_better_offer(&mut self) {
        let is_offer = |o: &&Overlay| matches!(o.of, Laid::Offer(_));
        let Some(overlay) = self.laid.overlay.as_ref().filter(is_offer) else { return };
        let name = overlay.name.clone();
        let found = self.offering.find(&name);
        if found.is_some_and(|offer| !Arc::ptr_eq(&overlay.other.plan, &offer.plan)) {
            self.lay_offer(&name);
        }
    }

    pub(super) fn toggle_before(&mut self) {
        let is_laid = self.laid.overlay.as_ref().is_some_and(Overlay::is_before);
        self.put_away();
        if !is_laid {
            self.lay_before();
        }
    }

    fn lay_before(&mut self) {
        let (Some(before), Some(now)) = (&self.laid.before, &self.planned) else { return };
        let ghosts = over(now, &before.planned, Tense::Before);
        let (name, other) = (before.name.clone(), before.planned.clone());
        let revision = other.revision;
        self.laid.overlay = Some(Overlay { name, of: Laid::Before, ghosts, revision, other });
    }

    /// The change that is shown becomes the lesson, as one step of undo.
    pub(super) fn keep_offer(&mut self) {
        let Some((overlay, doc)) = self.laid.overlay.as_ref().zip(self.doc.as_ref()) else {
            return;
        };
        if overlay.is_before() {
            return;
        }
        if overlay.revision != doc.revision() {
            self.tell("The lesson has changed since; look for changes anew.");
            return;
        }
        let (name, plan) = (overlay.name.clone(), Arc::clone(&overlay.other.plan));
        match &overlay.of {
            Laid::Offer(offer) => {
                let file = offer.file.clone();
                // Where a better plan of it is still looked for, the search goes on.
                let is_best = !self.studies.choice.is_busy();
                self.become_file(&name, file, is_best.then_some(plan));
            }
            _ => self.become_plan(&name, plan),
        }
    }

    /// The change that is shown is no longer offered for this lesson; a choice is
    /// not made.
    pub(super) fn drop_offer(&mut self) {
        let Some(overlay) = self.laid.overlay.as_ref().filter(|o| o.is_offered()) else {
            return;
        };
        if self.laid.is_better_odds() {
            self.drop_better_odds();
            let next = self.offering.chips.last().map(|chip| chip.words.clone());
            self.events.push(Event::OfferDropped(next));
        } else if self.offering.find(&overlay.name).is_some() {
            let next = self.offering.drop_named(&overlay.name.clone());
            self.events.push(Event::OfferDropped(next));
        }
        self.put_away();
    }
}
