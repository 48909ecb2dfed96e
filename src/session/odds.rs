//! The odds of the plan on screen, played beside the session: switched on and off,
//! and played again whenever the plan is another, on the same luck.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use super::study::Heard;
use super::{Event, Revision, Session};
use crate::check::CheckedPlan;
use crate::model::Lesson;
use crate::play::{GroupToGive, Odds, Settings, Spread, odds, to_give};
use crate::view::odds::{OddsCard, OddsOfBoard, WorkedOut};

/// With which spread odds are told.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub enum ToldWith {
    /// As a range: as listed and with half of that.
    #[default]
    Range,
    /// As one figure.
    One(Spread),
}

impl ToldWith {
    /// The spreads, the widest first.
    pub fn spreads(self) -> Vec<Spread> {
        match self {
            ToldWith::Range => vec![Spread::LISTED, Spread::HALF],
            ToldWith::One(spread) => vec![spread],
        }
    }
}

/// A lesson and its plan, to be played.
pub(super) struct ToPlay {
    pub lesson: Arc<Lesson>,
    pub plan: Arc<CheckedPlan>,
    pub with: ToldWith,
    pub runs: u32,
}

/// What the odds of a plan are, as they are shown.
#[derive(Debug)]
pub struct ToldOdds {
    /// The plan they are of.
    plan: Arc<CheckedPlan>,
    /// The spreads they are told with, and the odds with each.
    pub played: Vec<(Spread, Odds)>,
    /// What its groups have to give.
    pub gives: Vec<GroupToGive>,
    /// What they add to the board.
    pub board: Arc<OddsOfBoard>,
    /// What the card says.
    pub card: OddsCard,
}

pub(super) fn play(
    of: ToPlay,
    stop: &AtomicBool,
    tell: &dyn Fn(Arc<ToldOdds>),
) -> Result<(), String> {
    if of.plan.objective().served == 0 {
        return Ok(());
    }
    let gives = to_give(&of.lesson, &of.plan);
    let mut played = Vec::new();
    for spread in of.with.spreads() {
        if stop.load(Ordering::Relaxed) {
            return Ok(());
        }
        let settings = Settings { spread, runs: of.runs, ..Settings::default() };
        let odds = odds(&of.lesson, &of.plan, &settings, &gives).map_err(|e| e.to_string())?;
        played.push((spread, odds));
    }
    let (board, card) = {
        let (lesson, plan) = (&*of.lesson, &*of.plan);
        let odds = WorkedOut { lesson, plan, played: &played, gives: &gives };
        (Arc::new(OddsOfBoard::of(&odds)), OddsCard::of(&odds))
    };
    if !stop.load(Ordering::Relaxed) {
        tell(Arc::new(ToldOdds { plan: of.plan, played, gives, board, card }));
    }
    Ok(())
}

/// The odds and how they are told.
pub(super) struct OddsAtWork {
    /// How often a plan is played.
    pub runs: u32,
    /// They are switched on.
    on: bool,
    with: ToldWith,
    /// What was asked for last.
    asked: Option<(Revision, Arc<CheckedPlan>, ToldWith)>,
    told: Option<Arc<ToldOdds>>,
    /// What the board shows while they are worked out.
    unknown: Arc<OddsOfBoard>,
}

impl OddsAtWork {
    /// Switched off; plans are played so often, or as often as usual.
    pub fn new(runs: Option<u32>) -> Self {
        Self {
            runs: runs.unwrap_or(Settings::default().runs),
            on: false,
            with: ToldWith::default(),
            asked: None,
            told: None,
            unknown: Arc::default(),
        }
    }
}

impl Session {
    /// Whether odds are switched on.
    pub fn shows_odds(&self) -> bool {
        self.odds.on
    }

    /// With which spread odds are told.
    pub fn odds_told_with(&self) -> ToldWith {
        self.odds.with
    }

    /// The odds of the plan on screen, if they are switched on and known.
    pub fn told_odds(&self) -> Option<&Arc<ToldOdds>> {
        let shown = self.planned.as_ref()?;
        let told = self.odds.told.as_ref().filter(|told| Arc::ptr_eq(&told.plan, &shown.plan));
        told.filter(|_| self.odds.on)
    }

    /// What odds add to the board, if they are switched on.
    pub fn odds_of_board(&self) -> Option<&Arc<OddsOfBoard>> {
        let known = self.told_odds().map_or(&self.odds.unknown, |told| &told.board);
        self.odds.on.then_some(known)
    }

    /// What makes lessons by the plan on screen late, the likeliest first, if it is known.
    pub fn likeliest_causes(&self) -> Vec<&str> {
        let shown = self.planned.as_ref().map(|planned| &planned.plan);
        let is_of = |told: &&Arc<ToldOdds>| shown.is_some_and(|plan| Arc::ptr_eq(&told.plan, plan));
        let told = self.odds.told.as_ref().filter(is_of);
        told.map_or(Vec::new(), |told| told.card.causes.iter().map(|c| c.words.as_str()).collect())
    }

    pub(super) fn toggle_odds(&mut self) {
        if self.planned.is_none() {
            return;
        }
        self.odds.on = !self.odds.on;
        self.events.push(Event::Odds(self.odds.on));
        if self.odds.on {
            self.ask_for_odds();
        } else {
            self.studies.odds.forget();
            self.put_away_better_odds();
            (self.odds.asked, self.odds.told) = (None, None);
        }
    }

    /// Tells odds with another spread.
    pub(super) fn tell_odds_with(&mut self, with: ToldWith) {
        self.odds.with = with;
        self.ask_for_odds();
    }

    /// Once a plan stands, has it played, unless it has been.
    pub(super) fn ask_for_odds(&mut self) {
        let wanted = self.odds.on || self.day_over().is_some();
        if !wanted || self.is_planning() {
            return;
        }
        let Some(planned) = self.planned.as_ref().filter(|p| Some(p.revision) == self.revision())
        else {
            return;
        };
        let same = |(revision, plan, with): &(Revision, Arc<CheckedPlan>, ToldWith)| {
            *revision == planned.revision
                && Arc::ptr_eq(plan, &planned.plan)
                && *with == self.odds.with
        };
        if self.odds.asked.as_ref().is_some_and(same) {
            return;
        }
        let (lesson, plan) = (Arc::clone(&planned.lesson), Arc::clone(&planned.plan));
        let with = self.odds.with;
        self.odds.asked = Some((planned.revision, Arc::clone(&plan), with));
        self.studies
            .odds
            .ask(planned.revision, ToPlay { lesson, plan, with, runs: self.odds.runs });
    }

    pub(super) fn hear_odds(&mut self) {
        let now = self.revision();
        for heard in self.studies.odds.hear(now) {
            match heard {
                Heard::Answer(told) => self.odds.told = Some(told),
                Heard::Ended => {}
                Heard::Fault(fault) => self.tell_of_fault(&fault),
            }
        }
        self.ask_for_odds();
    }
}
