//! The sheets of the lesson: laid out beside the session, and printed to a file.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use chrono::{DateTime, Local, NaiveDateTime};

use super::ids::{DocumentId, Revision};
use super::study::Heard;
use super::{Document, Session};
use crate::check::CheckedPlan;
use crate::file::plain_words::{Doing, why};
use crate::file::{Access, Backup, are_same, in_the_way, own_words, write_new};
use crate::model::{Language, Lesson};
use crate::papers::head::Head;
use crate::papers::paper::Print;
use crate::papers::plain_text::plain_text;
use crate::papers::reissue::{self, Standing};
use crate::papers::{self, LaidSheet, LeftOut, Matter, Part, pdf};
use crate::speech::{English, KeptNames, allergens, say};
use crate::stores::{Extra, Stores};
use crate::units::local_now;

/// Said of sheets that want a plan where there is none.
const NO_PLAN: &str = "there is no plan of the lesson as it now stands";

/// What sheets are laid out of, and how.
pub(super) struct ToPrint {
    lesson: Arc<Lesson>,
    plan: Option<Arc<CheckedPlan>>,
    names: KeptNames,
    how: (Print, English),
    issued: NaiveDateTime,
    before: BTreeMap<Part, Before>,
}

/// What people have on paper of a part: printed here, or else as the lesson's
/// file had it when it was opened.
#[derive(Debug, Clone)]
struct Before {
    of: DocumentId,
    since: NaiveDateTime,
    lesson: Arc<Lesson>,
    plan: Option<Arc<CheckedPlan>>,
}

/// All sheets there are of a lesson, laid out.
#[derive(Debug, Clone, PartialEq)]
pub struct LaidSheets {
    /// What stands at the head of each.
    pub head: Head,
    /// Their language.
    pub language: &'static str,
    /// The sheets, in the order of [`Part::ALL`], and how each stands to what was
    /// on paper before.
    pub sheets: Vec<(LaidSheet, Standing)>,
    /// Since when sheets have changed, if any has.
    pub since: Option<NaiveDateTime>,
    /// Parts there are no sheets of.
    pub left_out: Vec<LeftOut>,
    /// The running order as text, a tab between what would be cells of a table; none
    /// if there is no such sheet.
    pub order: Option<String>,
    /// Languages in which steps of the lesson have a second line.
    pub languages: Vec<Language>,
}

impl LaidSheets {
    /// Whether a sheet says something else than before.
    pub fn is_reissue(&self) -> bool {
        self.since.is_some()
    }

    /// The sheets of some parts, in their order. Once sheets have changed, those
    /// that have not are printed again only if that is asked for (`again`).
    pub fn chosen(&self, parts: &[Part], again: bool) -> Vec<&LaidSheet> {
        let all = again || !self.is_reissue();
        let wanted = |standing: Standing| all || standing != Standing::Unchanged;
        let sheets = self
            .sheets
            .iter()
            .filter(|(sheet, standing)| parts.contains(&sheet.part) && wanted(*standing));
        sheets.map(|(sheet, _)| sheet).collect()
    }
}

pub(super) fn lay_out(
    of: ToPrint,
    stop: &AtomicBool,
    tell: &dyn Fn(Arc<LaidSheets>),
) -> Result<(), String> {
    let ToPrint { lesson, plan, names, how: (print, english), issued, before } = of;
    let now = matter(&lesson, plan.as_deref(), english);
    let head = Head::of(&lesson, issued);
    let said = |words: &str| say(words, english, &names).into_owned();
    let (mut sheets, mut left_out, mut order) = (Vec::new(), Vec::new(), None);
    let mut since: Option<NaiveDateTime> = None;
    for part in Part::ALL {
        let (mut of_part, without) = papers::sheets(&now, &[part], NO_PLAN);
        if part == Part::RunningOrder {
            order = of_part.first().map(|sheet| plain_text(sheet, &head, &said));
        }
        let before = before.get(&part);
        let standings = before.map_or(vec![Standing::First; of_part.len()], |before| {
            let then = matter(&before.lesson, before.plan.as_deref(), english);
            let (was, _) = papers::sheets(&then, &[part], NO_PLAN);
            let compare = |sheet| reissue::compare(sheet, &was, before.since);
            of_part.iter_mut().map(compare).collect()
        });
        if standings.contains(&Standing::Changed) {
            since = since.max(before.map(|before| before.since));
        }
        let laid = papers::laid_out(&of_part, &head, print, &said);
        sheets.extend(laid.map_err(|fault| fault.to_string())?.into_iter().zip(standings));
        left_out.extend(without);
        if stop.load(Ordering::Relaxed) {
            return Ok(());
        }
    }
    let language = english.language();
    let languages = lesson.home_languages();
    tell(Arc::new(LaidSheets { head, language, sheets, since, left_out, order, languages }));
    Ok(())
}

fn matter<'a>(lesson: &'a Lesson, plan: Option<&'a CheckedPlan>, english: English) -> Matter<'a> {
    let stores = Stores::of(lesson, plan, Extra::usual(lesson));
    Matter { lesson, plan, stores, set_out: None, allergens: allergens::list(english) }
}

/// What sheets were laid out of, by which it is known whether they are still
/// those of the lesson.
#[derive(Debug, Clone, PartialEq)]
struct Asked {
    revision: Revision,
    /// The plan, by where it is.
    plan: Option<usize>,
    how: (Print, English),
    /// How often something came to be on paper.
    prints: usize,
}

/// What is known of the sheets.
#[derive(Default)]
pub(super) struct Sheets {
    asked: Option<(Asked, Arc<Lesson>, Option<Arc<CheckedPlan>>)>,
    laid: Option<(Asked, Arc<LaidSheets>)>,
    before: BTreeMap<Part, Before>,
    prints: usize,
}

impl Session {
    /// The sheets, if they are laid out of the lesson as it now stands.
    pub fn sheets(&self) -> Option<&LaidSheets> {
        let (of, laid) = self.sheets.laid.as_ref()?;
        (Some(of.revision) == self.revision()).then_some(laid)
    }

    /// Has the sheets laid out in this way, unless they are or will be. A plan
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
        let prints = self.sheets.prints;
        let asked = Asked { revision, plan: at, how: (print, english), prints };
        let last = self.sheets.asked.as_ref().map(|(asked, ..)| asked);
        let waits = self.is_planning()
            && (plan.is_none() || last.is_some_and(|last| last.how == asked.how));
        if waits || last == Some(&asked) {
            return;
        }
        let names = match (english, &self.doc) {
            (English::British, _) | (_, None) => KeptNames::default(),
            (_, Some(doc)) => KeptNames::new(own_words::of_lesson(doc.file())),
        };
        let issued = local_now().naive_local();
        let issued = self.clock.day.map_or(issued, |day| day.and_time(issued.time()));
        self.sheets.asked = Some((asked, Arc::clone(&lesson), plan.clone()));
        let how = (print, english);
        self.studies.sheets.ask(revision, ToPrint { lesson, plan, names, how, issued, before });
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
        let now = self.revision();
        for heard in self.studies.sheets.hear(now) {
            match heard {
                Heard::Answer(laid) => {
                    let asked = self.sheets.asked.as_ref().map(|(asked, ..)| asked.clone());
                    self.sheets.laid = asked.map(|asked| (asked, laid));
                }
                Heard::Ended => {}
                Heard::Fault(fault) => self.tell_of_fault(&fault),
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
        let (Some(of), Some((_, laid))) = (of, &self.sheets.laid) else { return };
        let Some((_, lesson, plan)) = self.sheets.asked.clone() else { return };
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
        let own = self.doc.as_ref().and_then(|doc| doc.path.as_deref());
        if own.is_some_and(|own| own == to || are_same(own, to)) {
            return Err("this is the lesson's own file; name another".to_owned());
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
