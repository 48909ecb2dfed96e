//! Changes that would help, and other plans laid over the board: what the
//! application knows of them and does with them.

use std::sync::Arc;

use super::command::Command;
use super::document::Document;
use super::shell::App;
use super::state::Selection;
use super::worker::{Job, ToChange};
use crate::change::{Enough, Goal, Offer, Offers};
use crate::check::CheckedPlan;
use crate::export::changes as words;
use crate::model::Lesson;
use crate::view::board::Board;
use crate::view::overlay::{Ghosts, Tense, later};

/// A change on the strip, in words.
#[derive(Debug, Clone, PartialEq)]
pub struct Chip {
    /// Its place among the offers, from 1.
    pub place: usize,
    /// What it is; the same for the same change.
    pub words: String,
    /// What comes of it, in few words.
    pub outcome: String,
    /// "cost 6".
    pub cost: String,
    /// What a screen reader says.
    pub spoken: String,
    /// All of it, with what it asks of others.
    pub whole: String,
}

/// Changes that would help.
#[derive(Default)]
pub struct Changes {
    /// The strip is there: not every group fits.
    pub wanted: bool,
    /// The search is under way.
    pub looking: bool,
    /// What is known.
    pub offers: Option<Arc<Offers>>,
    /// The chips, in order.
    pub chips: Vec<Chip>,
    /// What the verdict hangs on, in sentences.
    pub hangs_on: Vec<String>,
    /// That is still to be told.
    pub weighing: bool,
    /// The revision of the lesson that was looked at.
    of: Option<u64>,
    /// Changes dropped from the strip, by their words.
    dropped: Vec<String>,
}

impl Changes {
    /// What the strip says beside its title.
    pub fn heading(&self) -> String {
        match &self.offers {
            Some(offers) if offers.offers.len() + offers.helps.len() > 0 || !self.looking => {
                words::heading(offers)
            }
            _ if self.looking => "looking for changes…".to_owned(),
            _ => "not looked for yet".to_owned(),
        }
    }

    fn find(&self, words: &str) -> Option<&Offer> {
        let offers = self.offers.as_ref()?;
        offers.offers.iter().chain(&offers.helps).find(|o| o.words() == words)
    }

    fn heard(&mut self, offers: Arc<Offers>) {
        let of = |all: &[Offer], enough: bool| -> Vec<Chip> {
            let numbered = (1..).zip(all);
            numbered.map(|(place, offer)| chip(place, offer, enough)).collect()
        };
        self.chips = of(&offers.offers, true);
        self.chips.extend(of(&offers.helps, false));
        self.chips.retain(|chip| !self.dropped.contains(&chip.words));
        self.offers = Some(offers);
    }

    /// Nothing is known of the lesson as it now is; the strip stays until it
    /// is known to be of no use.
    fn forget(&mut self) {
        *self = Self { wanted: self.wanted, ..Self::default() };
    }
}

fn chip(place: usize, offer: &Offer, is_enough: bool) -> Chip {
    let spoken = words::spoken(place, offer, is_enough);
    let mut whole = spoken.clone();
    for more in words::for_whom(offer).iter().map(String::as_str).chain(offer.asks()) {
        whole.push('\n');
        whole.push_str(more);
    }
    let mut outcome = words::short_outcome(offer);
    if !is_enough {
        outcome.push_str(": helps, not enough");
    }
    Chip { place, words: offer.words(), outcome, cost: words::cost(offer), spoken, whole }
}

/// Another plan laid over the board.
pub struct Overlay {
    /// What it is, in words.
    pub name: String,
    /// The change it is of; `None` for the plan before.
    pub offer: Option<Box<Offer>>,
    /// Against the board.
    pub ghosts: Ghosts,
    /// The revision of the lesson it is laid over.
    revision: u64,
    other: Other,
}

/// A plan with its lesson and its board.
#[derive(Clone)]
pub struct Other {
    name: String,
    lesson: Arc<Lesson>,
    plan: Arc<CheckedPlan>,
    board: Arc<Board>,
}

impl Other {
    /// The lesson it is of.
    pub(super) fn lesson(&self) -> &Arc<Lesson> {
        &self.lesson
    }

    fn over(&self, now: &Lesson, board: &Board, tense: Tense) -> Ghosts {
        Ghosts::of(board, &self.board, later(now, &self.lesson), tense)
    }
}

impl App {
    /// Whether changes, or what the verdict hangs on, are being looked for.
    pub fn is_looking(&self) -> bool {
        self.changes.looking || self.changes.weighing
    }

    /// The name of what is laid over the board, if anything is.
    pub fn laid_over(&self) -> Option<&str> {
        self.overlay.as_ref().map(|o| o.name.as_str())
    }

    /// Once a plan stands, looks for what would help and what it hangs on.
    pub(super) fn look_for_changes(&mut self) {
        let (Some(doc), Some((revision, plan))) = (&self.doc, &self.plan) else { return };
        if self.planning || *revision != doc.revision || self.changes.of == Some(*revision) {
            return;
        }
        let Some(lesson) = doc.lesson() else { return };
        let goal = Goal::of(lesson, plan);
        self.changes.forget();
        self.changes.of = Some(*revision);
        self.changes.wanted = goal != Goal::Nothing;
        self.changes.looking = self.changes.wanted;
        self.changes.weighing = true;
        self.changer.begin(Job::Changes(Box::new(ToChange {
            revision: *revision,
            file: doc.file().clone(),
            lesson: Arc::clone(lesson),
            past: Arc::clone(&doc.past),
            plan: Arc::clone(plan),
        })));
    }

    pub(super) fn heard_offers(&mut self, offers: Arc<Offers>, ended: bool) {
        if ended {
            self.changes.looking = false;
        }
        if offers.enough == Enough::AsItIs {
            return;
        }
        self.changes.heard(offers);
        // A better plan for the change that is shown takes its place.
        let shown = self.overlay.as_ref().and_then(|o| o.offer.as_ref().map(|_| o.name.clone()));
        if let Some(name) = shown
            && let Some(offer) = self.changes.find(&name)
            && self.overlay.as_ref().is_some_and(|o| !Arc::ptr_eq(&o.other.plan, &offer.plan))
        {
            self.lay_offer(&name);
        }
    }

    /// Stops looking for changes; what was found so far stays.
    pub(super) fn stop_looking(&mut self) {
        self.changer.stop();
        (self.changes.looking, self.changes.weighing) = (false, false);
    }

    /// The lesson is another one, by what is named; what was on screen is the
    /// plan before.
    pub(super) fn changed(&mut self, what: &str) {
        self.changer.stop();
        self.changes.forget();
        if let (Some((_, plan)), Some(lesson), Some(board)) =
            (&self.plan, &self.planned, &self.board)
        {
            self.before = Some(Other {
                name: format!("The plan before: {what}"),
                lesson: Arc::clone(lesson),
                plan: Arc::clone(plan),
                board: Arc::clone(board),
            });
        }
        let was_before = self.overlay.as_ref().is_some_and(|o| o.offer.is_none());
        self.put_away();
        if was_before {
            self.lay_before();
        }
        self.replan();
    }

    /// What is laid over is laid over the board as it now is.
    pub(super) fn lay_again(&mut self) {
        if let (Some(overlay), Some(lesson), Some(board)) =
            (&mut self.overlay, &self.planned, &self.board)
        {
            overlay.ghosts = overlay.other.over(lesson, board, overlay.ghosts.tense);
        }
    }

    pub(super) fn put_away(&mut self) {
        if self.overlay.take().is_some_and(|o| o.offer.is_some()) {
            self.view.chip_now = self.view.chip.is_some();
            if self.view.selection == Selection::Offer {
                self.view.selection = Selection::Nothing;
            }
        }
    }

    pub(super) fn ghost(&mut self, words: Option<&str>) {
        let shown = self.overlay.as_ref().filter(|o| o.offer.is_some());
        match words {
            Some(words) if shown.is_none_or(|o| o.name != words) => self.lay_offer(words),
            _ => self.put_away(),
        }
    }

    fn lay_offer(&mut self, words: &str) {
        let Some(revision) = self.changes.of else { return };
        let (Some(offer), Some(now), Some(board)) =
            (self.changes.find(words), &self.planned, &self.board)
        else {
            return;
        };
        let other = Other {
            name: words.to_owned(),
            lesson: Arc::clone(&offer.lesson),
            plan: Arc::clone(&offer.plan),
            board: Arc::new(Board::of(&offer.lesson, &offer.plan)),
        };
        let ghosts = other.over(now, board, Tense::Then);
        let offer = Some(Box::new(offer.clone()));
        self.overlay = Some(Overlay { name: words.to_owned(), offer, ghosts, revision, other });
        self.view.chip = Some(words.to_owned());
        self.view.selection = Selection::Offer;
    }

    pub(super) fn toggle_before(&mut self) {
        if self.overlay.as_ref().is_some_and(|o| o.offer.is_none()) {
            self.put_away();
        } else {
            self.put_away();
            self.lay_before();
        }
    }

    fn lay_before(&mut self) {
        let (Some(before), Some(now), Some(board)) = (&self.before, &self.planned, &self.board)
        else {
            return;
        };
        let ghosts = before.over(now, board, Tense::Before);
        let (name, other) = (before.name.clone(), before.clone());
        self.overlay = Some(Overlay { name, offer: None, ghosts, revision: 0, other });
    }

    /// The change that is shown becomes the lesson, as one step of undo.
    pub(super) fn keep(&mut self) {
        let Some((overlay, doc)) = self.overlay.as_ref().zip(self.doc.as_mut()) else { return };
        let Some(offer) = &overlay.offer else { return };
        if overlay.revision != doc.revision {
            self.message = Some("The lesson has changed since; look for changes anew.".to_owned());
            return;
        }
        let name = overlay.name.clone();
        match doc.change_to(name.clone(), offer.file.clone()) {
            Ok(()) => self.changed(&name),
            Err(findings) => {
                let why = findings.first().map(|f| f.message.clone()).unwrap_or_default();
                self.message = Some(format!("Cannot: {name}. {why}"));
            }
        }
    }

    /// The change that is shown is no longer offered for this lesson.
    pub(super) fn drop_shown(&mut self) {
        let Some(overlay) = self.overlay.as_ref().filter(|o| o.offer.is_some()) else { return };
        let name = overlay.name.clone();
        let at = self.changes.chips.iter().position(|c| c.words == name).unwrap_or(0);
        self.changes.chips.retain(|c| c.words != name);
        self.changes.dropped.push(name);
        let next = self.changes.chips.get(at).or(self.changes.chips.last());
        self.view.chip = next.map(|c| c.words.clone());
        self.put_away();
    }

    pub(super) fn step_back(&mut self, command: &Command) {
        let Some(doc) = &mut self.doc else { return };
        let before = doc.revision;
        let (what, way): (_, fn(&mut Document)) = match command {
            Command::Redo => (doc.can_redo().map(str::to_owned), Document::redo),
            _ => (doc.can_undo().map(|w| format!("taking back {w}")), Document::undo),
        };
        way(doc);
        if doc.revision != before {
            self.changed(&what.unwrap_or_default());
        }
    }
}
