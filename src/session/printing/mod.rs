//! The sheets of the lesson, or of the week that is on screen: laid out beside the
//! session, and printed to a file.

mod lay_out;

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;

use chrono::{DateTime, Local};

use self::lay_out::{Before, ToPrintOf, WeekToPrint};
pub use lay_out::LaidSheets;
pub(super) use lay_out::{ToPrint, lay_out};

use super::ids::Revision;
use super::study::Heard;
use super::{Document, Session};
use crate::check::CheckedPlan;
use crate::file::plain_words::{Doing, why};
use crate::file::{Access, Backup, are_same, in_the_way, own_words, write_new};
use crate::model::Lesson;
use crate::papers::paper::Print;
use crate::papers::{self, Part, pdf};
use crate::speech::{English, KeptNames};
use crate::units::local_now;
use crate::week::{self, Stage, ToldOf};

/// What sheets were laid out of, by which it is known whether they are still
/// those of the lesson or the week.
#[derive(Debug, Clone, PartialEq)]
struct Asked {
    revision: Revision,
    how: (Print, English),
    of: AskedOf,
}

#[derive(Debug, Clone, PartialEq)]
enum AskedOf {
    Lesson {
        /// The plan, by where it is.
        plan: Option<usize>,
        /// How often something came to be on paper.
        prints: usize,
    },
    /// Whether all its lessons are planned, and which sheets.
    Week(bool, WeekSheets),
}

/// Which sheets of a week are wanted.
#[derive(Debug, Clone, PartialEq)]
pub struct WeekSheets {
    /// The lessons they are of.
    pub of: ToldOf,
    /// The parts.
    pub parts: Vec<Part>,
}

/// What is known of the sheets.
#[derive(Default)]
pub(super) struct Sheets {
    /// What is wanted.
    asked: Option<(Asked, Option<OnPaper>)>,
    laid: Option<(Asked, Option<OnPaper>, Arc<LaidSheets>)>,
    /// What could not be laid out, by a fault of the program: it is not asked again.
    faulted: Option<Asked>,
    before: BTreeMap<Part, Before>,
    prints: usize,
}

/// A lesson and its plan as their sheets say it.
type OnPaper = (Arc<Lesson>, Option<Arc<CheckedPlan>>);

impl Session {
    /// The state of what is on screen, the week or the lesson.
    fn revision_on_screen(&self) -> Option<Revision> {
        match self.week_on_screen() {
            Some(week) => Some(week.revision()),
            None => self.revision(),
        }
    }

    /// The sheets, if they are laid out of the lesson as it now stands, or of the week as
    /// it is wanted.
    pub fn sheets(&self) -> Option<&LaidSheets> {
        let (of, _, laid) = self.sheets.laid.as_ref()?;
        let is_wanted = match of.of {
            AskedOf::Lesson { .. } => true,
            AskedOf::Week(..) => self.sheets.asked.as_ref().is_some_and(|(asked, _)| asked == of),
        };
        (Some(of.revision) == self.revision_on_screen() && is_wanted).then_some(laid)
    }

    /// Notes what sheets are wanted; whether they have yet to be asked for.
    fn note_wanted(&mut self, asked: &Asked, on_paper: Option<OnPaper>) -> bool {
        let is_new = self.sheets.asked.as_ref().is_none_or(|(of, _)| of != asked);
        let is_laid = self.sheets.laid.as_ref().is_some_and(|(of, ..)| of == asked);
        let is_coming = !is_new && self.studies.sheets.is_busy();
        if is_new {
            // What was asked before would be taken for the answer to this.
            self.studies.sheets.forget();
            self.sheets.asked = Some((asked.clone(), on_paper));
        }
        !is_laid && !is_coming && self.sheets.faulted.as_ref() != Some(asked)
    }

    /// Has the lesson's sheets laid out in this way, unless they are or will be. A plan
    /// that is still made better is gone by once it is the best.
    pub fn want_sheets(&mut self, print: Print, english: English) {
        let Some(lesson) = self.doc.as_ref().and_then(Document::lesson) else { return };
        let Some(revision) = self.revision() else { return };
        let current = self.planned.as_ref().filter(|planned| planned.revision == revision);
        let (lesson, plan) = match current {
            Some(planned) => (Arc::clone(&planned.lesson), Some(Arc::clone(&planned.plan))),
            None => (Arc::clone(lesson), None),
        };
        let at = plan.as_ref().map(|plan| Arc::as_ptr(plan) as usize);
        let document = self.doc.as_ref().map(Document::id);
        let mut before = self.sheets.before.clone();
        before.retain(|_, before| Some(before.of) == document);
        let of = AskedOf::Lesson { plan: at, prints: self.sheets.prints };
        let asked = Asked { revision, how: (print, english), of };
        let last = self.sheets.asked.as_ref().map(|(asked, ..)| asked);
        let waits = self.is_planning()
            && (plan.is_none() || last.is_some_and(|last| last.how == asked.how));
        let on_paper = Some((Arc::clone(&lesson), plan.clone()));
        if waits || !self.note_wanted(&asked, on_paper) {
            return;
        }
        let names = match (english, &self.doc) {
            (English::British, _) | (_, None) => KeptNames::default(),
            (_, Some(doc)) => KeptNames::new(own_words::of_lesson(doc.file())),
        };
        let issued = local_now().naive_local();
        let issued = self.clock.day.map_or(issued, |day| day.and_time(issued.time()));
        let of = ToPrintOf::Lesson { lesson, plan, before };
        let question = ToPrint { of, names, how: (print, english), issued };
        self.studies.sheets.ask(revision, question);
    }

    /// Has sheets of the week on screen laid out, unless they are or will be, or its
    /// lessons are not all planned yet.
    pub fn want_sheets_of_week(&mut self, wanted: WeekSheets, print: Print, english: English) {
        let Some(at_work) = self.week_on_screen() else { return };
        let Some(report) = at_work.settled(self.is_planning_week()) else { return };
        let stage = report.stage;
        let revision = at_work.revision();
        let (report, past) = (Arc::clone(report), Arc::clone(at_work.past()));
        let asked = Asked {
            revision,
            how: (print, english),
            of: AskedOf::Week(stage > Stage::Lessons, wanted.clone()),
        };
        let week = Arc::clone(at_work.week());
        if !self.note_wanted(&asked, None) {
            return;
        }
        let names = match english {
            English::British => KeptNames::default(),
            _ => KeptNames::new(week::own_words(&week)),
        };
        let WeekSheets { of: told_of, parts } = wanted;
        let of = ToPrintOf::Week(WeekToPrint { week, report, past, of: told_of, parts });
        let issued = local_now().naive_local();
        let question = ToPrint { of, names, how: (print, english), issued };
        self.studies.sheets.ask(revision, question);
    }

    /// What the lesson's file had when it was opened is what people may have on
    /// paper, unless it is known to be otherwise.
    pub(super) fn was_on_paper(&mut self, lesson: &Arc<Lesson>, plan: &Arc<CheckedPlan>) {
        let Some(doc) = &self.doc else { return };
        let of = doc.id();
        if self.sheets.before.values().any(|before| before.of == of) {
            return;
        }
        let Some(path) = &doc.path else { return };
        let Ok(written) = self.keeping.safe.disk.written_at(path) else { return };
        let since = DateTime::<Local>::from(written).naive_local();
        let (lesson, plan) = (Arc::clone(lesson), Some(Arc::clone(plan)));
        let before = Before { of, since, lesson, plan };
        self.sheets.before = Part::ALL.map(|part| (part, before.clone())).into();
        self.sheets.prints += 1;
    }

    pub(super) fn hear_sheets(&mut self) {
        let now = self.revision_on_screen();
        for heard in self.studies.sheets.hear(now) {
            match heard {
                Heard::Answer(laid) => {
                    let asked = self.sheets.asked.clone();
                    self.sheets.laid = asked.map(|(asked, on_paper)| (asked, on_paper, laid));
                }
                Heard::Ended => {}
                Heard::Fault(fault) => {
                    self.sheets.faulted =
                        self.sheets.asked.as_ref().map(|(asked, _)| asked.clone());
                    self.tell_of_fault(&fault);
                }
            }
        }
    }

    /// Prints sheets of some parts to a file, and tells how that went.
    pub(super) fn print_sheets(&mut self, to: &Path, parts: &[Part], again: bool) {
        let to = if to.extension().is_some() { to.to_owned() } else { to.with_extension("pdf") };
        let told = match self.printed(&to, (parts, again)) {
            Ok(pages) => {
                self.is_on_paper(parts);
                let are = if pages == 1 { "page is" } else { "pages are" };
                format!("{pages} {are} printed to {}.", to.display())
            }
            Err(why) => format!("Not printed to {}: {why}.", to.display()),
        };
        self.tell(told);
    }

    /// What was printed is what the next print is compared with.
    fn is_on_paper(&mut self, parts: &[Part]) {
        let of = self.doc.as_ref().map(Document::id);
        let (Some(of), Some((_, Some((lesson, plan)), laid))) = (of, &self.sheets.laid) else {
            return;
        };
        let (lesson, plan) = (Arc::clone(lesson), plan.clone());
        let before = Before { of, since: laid.head.issued, lesson, plan };
        self.sheets.before.retain(|_, before| before.of == of);
        self.sheets.before.extend(parts.iter().map(|&part| (part, before.clone())));
        self.sheets.prints += 1;
    }

    /// How many pages were printed, or why none were.
    fn printed(&self, to: &Path, (parts, again): (&[Part], bool)) -> Result<usize, String> {
        let laid = self.sheets().ok_or("the sheets are not laid out yet")?;
        let sheets = laid.chosen(parts, again);
        if sheets.is_empty() {
            return Err("nothing is chosen".to_owned());
        }
        let (own, whose) = match self.week_on_screen() {
            Some(week) => (Some(week.path()), "week"),
            None => (self.doc.as_ref().and_then(|doc| doc.path.as_deref()), "lesson"),
        };
        if own.is_some_and(|own| own == to || are_same(own, to)) {
            return Err(format!("this is the {whose}'s own file; name another"));
        }
        let disk = &self.keeping.safe.disk;
        if let Some(why) = in_the_way(disk, to, &pdf::is_ours, "PDF of ovenbell's") {
            return Err(format!("{why}; name another file"));
        }
        let made = papers::printed(&sheets, &laid.head, laid.language);
        let made = made.map_err(|fault| fault.to_string())?;
        let access = own.map_or(Access::AsBefore, Access::As);
        let written = write_new(to, &made.bytes, Backup::None, access);
        written.map_err(|error| why(&error, Doing::Writing(to)))?;
        Ok(made.parts.iter().map(|(_, pages)| pages).sum())
    }

    /// The running order as text for whoever copies it, who is told so; none if
    /// there is no such sheet yet.
    pub fn copy_order(&mut self) -> Option<String> {
        let order = self.sheets().and_then(|laid| laid.order.clone());
        self.tell(match order {
            Some(_) => "The running order is copied: paste it as text, or into a table.",
            None => "Not copied: there is no running order yet.",
        });
        order
    }

    /// A path that a dialog or field starts from where sheets are to be printed.
    pub fn likely_print(&self, last: Option<&Path>) -> PathBuf {
        self.likely_path(true, last).with_extension("pdf")
    }
}
