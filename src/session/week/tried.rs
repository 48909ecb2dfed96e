//! Changes of a week that are tried before they are kept, and undo.

use std::sync::Arc;

use super::Session;
use crate::view::week::words::a_change;
use crate::week::{Change, NotInTheFile, Offer, Report, Stage, Week};

/// A change that is tried: the week with it, planned.
#[derive(Debug, Clone)]
pub struct Tried {
    /// The change.
    pub change: Change,
    /// What it is, in a sentence.
    pub words: String,
    /// The week with it.
    pub week: Arc<Week>,
    /// What is told of that so far.
    pub report: Option<Arc<Report>>,
    /// The offer, if it was one.
    pub offer: Option<Offer>,
    /// Why it cannot be kept in the week's file, if it cannot.
    pub not_kept: Option<NotInTheFile>,
}

impl super::WeekDocument {
    /// Why a change cannot be written into the file, if it cannot.
    fn why_not_kept(&self, change: &Change) -> Option<NotInTheFile> {
        change.written(self.shapes(), self.week()).err()
    }
}

impl Session {
    pub(super) fn try_in_week(&mut self, change: &Change) {
        let Some(week) = &mut self.weeks.open else { return };
        let Some(made) = change.made(week.week()) else { return };
        let offer = week.report.as_ref().and_then(|report| {
            let offers = report.moves.iter().flat_map(|moves| &moves.offers);
            offers.into_iter().find(|o| Change::Move(o.what.clone()) == *change).cloned()
        });
        week.tried = Some(Tried {
            words: a_change(week.week(), change),
            not_kept: week.why_not_kept(change),
            change: change.clone(),
            week: Arc::new(made),
            report: None,
            offer,
        });
        self.ask_for_tried();
    }

    pub(super) fn drop_tried(&mut self) {
        self.studies.week_tried.forget();
        if let Some(week) = &mut self.weeks.open {
            week.tried = None;
        }
    }

    pub(super) fn keep_tried(&mut self) {
        let tried = self.weeks.open.as_mut().and_then(|week| week.tried.take());
        let Some(tried) = tried else { return };
        self.studies.week_tried.forget();
        if let Some(why) = tried.not_kept {
            self.tell(format!("Not kept: {why}."));
            return;
        }
        if self.make(&tried.change) {
            // What was found out by trying it holds of the very same week.
            let known = tried.report.filter(|report| report.stage == Stage::Whole);
            if let Some(week) = &mut self.weeks.open
                && *tried.week == **week.week()
            {
                week.report = known
                    .map(|report| Arc::new(Report { stage: Stage::Ovens, ..(*report).clone() }));
            }
        }
    }

    pub(super) fn make_in_week(&mut self, change: &Change) {
        self.make(change);
    }

    pub(super) fn make(&mut self, change: &Change) -> bool {
        let Some(week) = &mut self.weeks.open else { return false };
        let label = a_change(week.week(), change);
        let entries = week.week().entries.len();
        match week.make(change, label) {
            Ok(()) => {
                self.entries_may_be_others(entries);
                self.keep_week_copy();
                self.plan_week();
                true
            }
            Err(why) => {
                self.tell(format!("Not done: {why}."));
                false
            }
        }
    }

    pub(super) fn undo_in_week(&mut self) {
        self.step_in_week(true);
    }

    pub(super) fn redo_in_week(&mut self) {
        self.step_in_week(false);
    }

    fn step_in_week(&mut self, back: bool) {
        let Some(week) = &mut self.weeks.open else { return };
        let entries = week.week().entries.len();
        match week.step(back) {
            None => {}
            Some(Ok(_)) => {
                self.message = None;
                self.entries_may_be_others(entries);
                self.keep_week_copy();
                self.plan_week();
            }
            Some(Err(why)) => self.tell(format!("Not done: {why}.")),
        }
    }

    /// Entries are known by their numbers: where some came or went, it is no longer known
    /// of which one a lesson was opened.
    fn entries_may_be_others(&mut self, before: usize) {
        let now = self.weeks.open.as_ref().map_or(0, |week| week.week().entries.len());
        if now != before {
            self.weeks.of_week = None;
        }
    }
}
