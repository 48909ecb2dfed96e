//! What all lessons of the week need, worked out beside the session: what is bought, and
//! what labels say.

use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use super::super::ids::Revision;
use super::super::study::Heard;
use super::Session;
use crate::model::PastBake;
use crate::speech::English;
use crate::speech::allergens;
use crate::stores::{Extra, IngredientsPage, PageOf, Stores};
use crate::week::{EntryNo, InSlot, Report, Stage, ToldOf, Week, planned_in_slots};

/// What lessons of a week need.
#[derive(Debug, Clone, PartialEq)]
pub struct WeekNeeds {
    /// All of them together.
    pub page: IngredientsPage,
    /// Each by itself, in the order of time.
    pub lessons: Vec<(EntryNo, IngredientsPage)>,
}

/// What is asked of.
pub(in super::super) struct ToNeed {
    week: Arc<Week>,
    report: Arc<Report>,
    past: Arc<[PastBake]>,
    of: ToldOf,
    english: English,
}

/// By which it is known whether what is needed is still that of the week: its state, and
/// whether all its lessons are planned.
type Asked = (Revision, bool, ToldOf, English);

/// What is known of what is needed.
#[derive(Default)]
pub(in super::super) struct Needed {
    /// What is wanted.
    asked: Option<Asked>,
    known: Option<(Asked, Arc<WeekNeeds>)>,
    /// What could not be worked out, by a fault of the program.
    faulted: Option<Asked>,
}

/// Works out what a week needs.
pub(in super::super) fn work_out(
    question: ToNeed,
    _stop: &AtomicBool,
    tell: &dyn Fn(Arc<WeekNeeds>),
) -> Result<(), String> {
    let ToNeed { week, report, past, of, english } = question;
    let law = allergens::list(english);
    let lessons = planned_in_slots((&week, &report), of, &past);
    let stores = |(of, plan): &(InSlot, _)| {
        Stores::of(&of.lesson, Option::as_ref(plan), Extra::usual(&of.lesson))
    };
    let stores: Vec<Stores> = lessons.iter().map(stores).collect();
    let of_all: Vec<PageOf<'_>> = lessons
        .iter()
        .zip(&stores)
        .map(|((of, _), stores)| PageOf {
            lesson: &of.lesson,
            stores,
            class: &of.lesson.class.name,
        })
        .collect();
    let page = IngredientsPage::of_all(&of_all, law);
    let each = lessons.iter().zip(&of_all);
    let lessons = each.map(|((of, _), page)| (of.entry, IngredientsPage::of_all(&[*page], law)));
    tell(Arc::new(WeekNeeds { page, lessons: lessons.collect() }));
    Ok(())
}

impl Session {
    /// What the week on screen needs as it is wanted, once that is known.
    pub fn week_needs(&self) -> Option<&WeekNeeds> {
        let now = self.week_on_screen()?.revision;
        let (of, known) = self.weeks.needed.known.as_ref()?;
        (of.0 == now && self.weeks.needed.asked == Some(*of)).then_some(known)
    }

    /// Has what the week on screen needs worked out, unless it is or its lessons are not
    /// all planned yet.
    pub fn want_week_needs(&mut self, of: ToldOf, english: English) {
        let Some(at_work) = self.week_on_screen() else { return };
        let Some(report) = at_work.settled(self.is_planning_week()) else { return };
        let asked = (at_work.revision, report.stage > Stage::Lessons, of, english);
        let needed = &self.weeks.needed;
        let is_known = needed.known.as_ref().is_some_and(|(of, _)| *of == asked);
        let is_coming = needed.asked == Some(asked) && self.studies.week_needs.is_busy();
        let is_asked_for = !is_known && !is_coming && needed.faulted != Some(asked);
        let (week, past) = (Arc::clone(at_work.week()), Arc::clone(at_work.past()));
        let question = ToNeed { week, report: Arc::clone(report), past, of, english };
        if self.weeks.needed.asked != Some(asked) {
            // What was asked before would be taken for the answer to this.
            self.studies.week_needs.forget();
            self.weeks.needed.asked = Some(asked);
        }
        if is_asked_for {
            self.studies.week_needs.ask(asked.0, question);
        }
    }

    /// Takes in what the week needs.
    pub(in super::super) fn hear_of_week_needs(&mut self) {
        let now = self.weeks.open.as_ref().map(|week| week.revision);
        for heard in self.studies.week_needs.hear(now) {
            match (heard, self.weeks.needed.asked) {
                (Heard::Answer(needs), Some(asked)) => {
                    self.weeks.needed.known = Some((asked, needs));
                }
                (Heard::Fault(fault), asked) => {
                    self.weeks.needed.faulted = asked;
                    self.tell_of_fault(&fault);
                }
                (Heard::Answer(_), None) | (Heard::Ended, _) => {}
            }
        }
    }
}
