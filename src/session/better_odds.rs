//! A plan with better odds than the one on screen: looked for where that is asked,
//! laid over the board like a change, kept or dropped like one.

use std::sync::Arc;
use std::sync::atomic::AtomicBool;
use std::time::{Duration, Instant};

use super::odds::ToldWith;
use super::study::Heard;
use super::{Chip, Revision, Session};
use crate::better::{self, Better, Effort, Search};
use crate::check::CheckedPlan;
use crate::export::better as words;
use crate::model::Lesson;
use crate::play::Settings;

/// How long to look.
const FOR_BETTER: Duration = Duration::from_secs(12);

/// A lesson and its plan, to look for a better one.
pub(super) struct ToBetter {
    pub lesson: Arc<Lesson>,
    pub plan: Arc<CheckedPlan>,
    pub with: ToldWith,
    pub runs: u32,
}

pub(super) fn look(of: ToBetter, stop: &AtomicBool, tell: &dyn Fn(Search)) -> Result<(), String> {
    let effort = Effort { until: Instant::now().checked_add(FOR_BETTER), ..Effort::default() };
    let settings = Settings { runs: of.runs, ..Settings::default() };
    let how = (&settings, &*of.with.spreads());
    let found = better::better(&of.lesson, &of.plan, how, &effort, stop);
    tell(found.map_err(|e| e.to_string())?);
    Ok(())
}

/// A plan with better odds, beside the one it is better than.
#[derive(Debug)]
pub struct BetterPlan {
    /// What it is, and what it gains and costs, in words.
    pub words: words::GainWords,
    /// The plan.
    pub plan: Arc<CheckedPlan>,
}

/// What is known of better odds.
#[derive(Default)]
pub(super) struct BetterOdds {
    /// The revision for which it was asked.
    asked: Option<Revision>,
    found: Option<Arc<BetterPlan>>,
    /// It was looked for and nothing was found, or that was dropped.
    nothing: bool,
}

/// How far the search for better odds is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LookedForBetter {
    /// Nobody has asked.
    NotAsked,
    /// It is under way.
    Looking,
    /// A plan was found.
    Found,
    /// None was.
    Nothing,
}

impl Session {
    /// How far the search for a plan with better odds is.
    pub fn looked_for_better_odds(&self) -> LookedForBetter {
        if self.better.asked.is_none() || self.better.asked != self.revision() {
            LookedForBetter::NotAsked
        } else if self.studies.better.is_busy() {
            LookedForBetter::Looking
        } else if self.better.found.is_some() {
            LookedForBetter::Found
        } else if self.better.nothing {
            LookedForBetter::Nothing
        } else {
            LookedForBetter::NotAsked
        }
    }

    /// All that is on the strip: changes of the lesson, then a plan with better
    /// odds.
    pub fn chips(&self) -> Vec<Chip> {
        let mut chips = self.offering.chips.clone();
        if let Some(found) = self.better_plan() {
            let (place, words) = (chips.len() + 1, &found.words);
            let spoken = words.spoken(place);
            chips.push(Chip {
                place,
                words: words.what.clone(),
                outcome: words.gain.clone(),
                cost: words.cost.clone(),
                whole: format!("{spoken}\n{}", words.more.join("\n")),
                spoken,
            });
        }
        chips
    }

    pub(super) fn better_plan(&self) -> Option<&Arc<BetterPlan>> {
        self.better.found.as_ref().filter(|_| self.better.asked == self.revision())
    }

    /// Looks for a plan with better odds than the one on screen.
    pub(super) fn look_for_better_odds(&mut self) {
        let state = self.looked_for_better_odds();
        if !self.shows_odds() || self.is_planning() || state != LookedForBetter::NotAsked {
            return;
        }
        let Some((doc, lesson, plan)) = self.at_hand() else { return };
        let (lesson, plan) = (Arc::clone(lesson), Arc::clone(plan));
        let (revision, with, runs) = (doc.revision(), self.odds_told_with(), self.odds.runs);
        self.better = BetterOdds { asked: Some(revision), ..BetterOdds::default() };
        self.studies.better.ask(revision, ToBetter { lesson, plan, with, runs });
    }

    pub(super) fn hear_better_odds(&mut self) {
        for heard in self.studies.better.hear(self.revision()) {
            match heard {
                Heard::Answer(Search { found: Some(found), .. }) => self.found_better(found),
                Heard::Answer(_) => self.better.nothing = true,
                Heard::Ended => {}
                Heard::Fault(fault) => self.tell_of_fault(&fault),
            }
        }
    }

    fn found_better(&mut self, found: Better) {
        let Some((_, lesson, plan)) = self.at_hand() else { return };
        let words = words::GainWords::of(lesson, plan, &found);
        self.better.found = Some(Arc::new(BetterPlan { words, plan: Arc::new(found.plan) }));
    }

    /// The plan with better odds is no longer offered for this lesson.
    pub(super) fn drop_better_odds(&mut self) {
        self.better.found = None;
        self.better.nothing = true;
    }

    /// Nothing is known of better odds any more, nor looked for.
    pub(super) fn put_away_better_odds(&mut self) {
        self.studies.better.forget();
        if self.laid.is_better_odds() {
            self.put_away();
        }
        self.better = BetterOdds::default();
    }

    /// The plan on screen gives way to another of the same lesson, as one step of
    /// undo.
    pub(super) fn become_plan(&mut self, label: &str, plan: Arc<CheckedPlan>) {
        let Some(doc) = &mut self.doc else { return };
        doc.plan_goes(label.to_owned());
        doc.has_plan(plan);
        self.changed(label);
    }
}
