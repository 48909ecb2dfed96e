//! Changes that would help, and the figures that the verdict hangs on.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use super::study::Heard;
use super::{Revision, Session};
use crate::change::{Care, Effort, Enough, Goal, HangsOn, Offer, Offers, changes, hangs_on};
use crate::check::CheckedPlan;
use crate::export::changes as words;
use crate::file::format::LessonFile;
use crate::model::{Lesson, PastBake};

/// How long to look for changes: large lessons have menus that take minutes.
const FOR_CHANGES: Duration = Duration::from_secs(30);

/// Plans built for a first look at each value of a figure the verdict may hang on.
const FOR_EACH_VALUE: u64 = 200;

/// A lesson with its plan.
pub(super) struct ToChange {
    pub file: LessonFile,
    /// As it was read.
    pub lesson: Arc<Lesson>,
    /// Bakes noted so far.
    pub past: Arc<[PastBake]>,
    pub plan: Arc<CheckedPlan>,
    pub effort: Effort,
}

/// A lesson with its plan, to see what the verdict hangs on.
pub(super) struct ToWeigh {
    pub lesson: Arc<Lesson>,
    pub plan: Arc<CheckedPlan>,
    pub care: Care,
}

pub(super) fn look(
    of: ToChange,
    stop: &AtomicBool,
    tell: &dyn Fn(Arc<Offers>),
) -> Result<(), String> {
    let each = |offers: &Offers| tell(Arc::new(offers.clone()));
    let until = Instant::now().checked_add(FOR_CHANGES);
    let effort = Effort { until, ..of.effort };
    let found = changes((&of.file, &*of.lesson), &of.past, &of.plan, &effort, stop, each);
    tell(Arc::new(found));
    Ok(())
}

pub(super) fn weigh(
    of: ToWeigh,
    stop: &AtomicBool,
    tell: &dyn Fn(Vec<String>),
) -> Result<(), String> {
    let hangs = hangs_on(&of.lesson, &of.plan, of.care, stop);
    if !stop.load(Ordering::Relaxed) {
        tell(hangs.iter().map(HangsOn::sentence).collect());
    }
    Ok(())
}

/// A change on the strip, in words.
#[derive(Debug, Clone, PartialEq)]
pub struct Chip {
    /// Its place among the offers, from 1.
    pub place: usize,
    /// What it is; the same for the same change.
    pub words: String,
    /// What comes of it, in few words.
    pub outcome: String,
    /// How large a change it is: "small".
    pub cost: String,
    /// What a screen reader says.
    pub spoken: String,
    /// All of it, with what it asks of others.
    pub whole: String,
}

/// Changes that would help.
#[derive(Default)]
pub struct Offering {
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
    /// Whether what the verdict hangs on is still to come.
    pub weighing: bool,
    /// The revision of the lesson that was looked at.
    pub(super) of: Option<Revision>,
    /// Changes dropped from the strip, by their words.
    dropped: Vec<String>,
}

impl Offering {
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

    pub(super) fn find(&self, words: &str) -> Option<&Offer> {
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
    pub(super) fn forget(&mut self) {
        *self = Self { wanted: self.wanted, ..Self::default() };
    }

    /// Nothing is looked for any more.
    pub(super) fn stopped(&mut self) {
        (self.looking, self.weighing) = (false, false);
    }

    /// A change is no longer offered; the one that follows it, by its words.
    pub(super) fn drop_named(&mut self, words: &str) -> Option<String> {
        let at = self.chips.iter().position(|c| c.words == words).unwrap_or(0);
        self.chips.retain(|c| c.words != words);
        self.dropped.push(words.to_owned());
        let next = self.chips.get(at).or(self.chips.last());
        next.map(|c| c.words.clone())
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
    Chip {
        place,
        words: offer.words(),
        outcome,
        cost: words::size(offer).to_owned(),
        spoken,
        whole,
    }
}

impl Session {
    /// Whether changes, or what the verdict hangs on, are being looked for.
    pub fn is_looking(&self) -> bool {
        self.offering.looking || self.offering.weighing
    }

    /// Once a plan stands, looks for what would help and what it hangs on.
    pub(super) fn look_for_changes(&mut self) {
        let (Some(doc), Some(planned)) = (&self.doc, &self.planned) else { return };
        let revision = doc.revision();
        let is_known = self.offering.of == Some(revision);
        // Once groups are at work only what belongs to the day is of use.
        if self.is_planning() || planned.revision != revision || is_known || self.is_being_taught()
        {
            return;
        }
        let Some(lesson) = doc.lesson() else { return };
        let wanted = Goal::of(lesson, &planned.plan) != Goal::Nothing;
        self.offering.forget();
        self.offering.of = Some(revision);
        self.offering.wanted = wanted;
        self.offering.looking = wanted;
        self.offering.weighing = true;
        let usual = Effort::default();
        let what = ToChange {
            file: doc.file().clone(),
            lesson: Arc::clone(lesson),
            past: Arc::clone(&doc.past),
            plan: Arc::clone(&planned.plan),
            effort: Effort {
                look: self.at_most(usual.look),
                polish: self.at_most(usual.polish),
                ..usual
            },
        };
        self.studies.offers.ask(revision, what);
    }

    pub(super) fn hear_offers(&mut self) {
        let was_stopped = self.studies.offers.is_stopped();
        for heard in self.studies.offers.hear(self.revision()) {
            match heard {
                Heard::Answer(offers) if offers.enough == Enough::AsItIs => {}
                Heard::Answer(offers) => {
                    self.offering.heard(offers);
                    self.lay_better_offer();
                }
                Heard::Ended => {
                    self.offering.looking = false;
                    // What it hangs on is of interest once nothing better is.
                    if !was_stopped {
                        self.ask_what_it_hangs_on();
                    }
                }
                Heard::Fault(fault) => {
                    self.offering.stopped();
                    self.tell_of_fault(&fault);
                }
            }
        }
    }

    fn ask_what_it_hangs_on(&mut self) {
        let Some(planned) = &self.planned else { return };
        let (lesson, plan) = (Arc::clone(&planned.lesson), Arc::clone(&planned.plan));
        let named = self.at_most(Care::default().named);
        let care = Care { look: self.at_most(FOR_EACH_VALUE), named };
        self.studies.hangs_on.ask(planned.revision, ToWeigh { lesson, plan, care });
    }

    pub(super) fn hear_hangs_on(&mut self) {
        for heard in self.studies.hangs_on.hear(self.revision()) {
            match heard {
                Heard::Answer(sentences) => self.offering.hangs_on = sentences,
                Heard::Ended => self.offering.weighing = false,
                Heard::Fault(fault) => {
                    self.offering.stopped();
                    self.tell_of_fault(&fault);
                }
            }
        }
    }

    /// Stops looking for changes; what was found so far stays.
    pub(super) fn stop_offers(&mut self) {
        self.studies.offers.stop();
        self.studies.hangs_on.stop();
        self.offering.stopped();
    }
}
