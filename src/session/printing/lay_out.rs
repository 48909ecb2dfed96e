//! Sheets laid out beside the session: of a lesson, or of the lessons of a week.

use std::collections::{BTreeMap, HashMap};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use chrono::NaiveDateTime;

use super::super::ids::DocumentId;
use crate::check::CheckedPlan;
use crate::model::{Language, Lesson, PastBake};
use crate::papers::head::Head;
use crate::papers::paper::Print;
use crate::papers::plain_text::plain_text;
use crate::papers::reissue::{self, Standing};
use crate::papers::{self, LaidSheet, LeftOut, Matter, Part};
use crate::speech::{English, KeptNames, allergens, say};
use crate::stores::{Extra, Stores};
use crate::view::technicians_day::SetOut;
use crate::view::week::set_outs;
use crate::view::week::words::title_of;
use crate::week::{EntryNo, Report, ToldOf, Week, planned_in_slots, where_and_when};

/// Said of sheets that want a plan where there is none.
const NO_PLAN: &str = "there is no plan of the lesson as it now stands";
/// Said of them in a week.
const NOT_PLANNED: &str = "it is not planned yet";

/// What sheets are laid out of, and how.
pub(in super::super) struct ToPrint {
    pub of: ToPrintOf,
    pub names: KeptNames,
    pub how: (Print, English),
    pub issued: NaiveDateTime,
}

/// Of what they are.
pub(in super::super) enum ToPrintOf {
    /// All sheets of a lesson.
    Lesson { lesson: Arc<Lesson>, plan: Option<Arc<CheckedPlan>>, before: BTreeMap<Part, Before> },
    /// Some sheets of the lessons of a week.
    Week(WeekToPrint),
}

/// A week as sheets are laid out of it.
pub(in super::super) struct WeekToPrint {
    pub week: Arc<Week>,
    pub report: Arc<Report>,
    pub past: Arc<[PastBake]>,
    /// The lessons they are of.
    pub of: ToldOf,
    pub parts: Vec<Part>,
}

/// What people have on paper of a part: printed here, or else as the lesson's
/// file had it when it was opened.
#[derive(Debug, Clone)]
pub(in super::super) struct Before {
    pub of: DocumentId,
    pub since: NaiveDateTime,
    pub lesson: Arc<Lesson>,
    pub plan: Option<Arc<CheckedPlan>>,
}

/// All sheets there are of a lesson, or those asked for of a week, laid out.
#[derive(Debug, Clone, PartialEq)]
pub struct LaidSheets {
    /// They are of a week's lessons, not of one lesson.
    pub is_of_week: bool,
    /// What stands at the head of each; of a week, of those that its lessons have in
    /// common.
    pub head: Head,
    /// Their language.
    pub language: &'static str,
    /// The sheets, in the order of [`Part::ALL`] lesson by lesson, and how each stands
    /// to what was on paper before.
    pub sheets: Vec<(LaidSheet, Standing)>,
    /// Since when sheets have changed, if any has.
    pub since: Option<NaiveDateTime>,
    /// Parts there are no sheets of.
    pub left_out: Vec<LeftOut>,
    /// The running order as text, a tab between what would be cells of a table; none
    /// if there is no such sheet, or several.
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

/// How sheets are laid out, whatever they are of.
struct How<'a> {
    names: &'a KeptNames,
    print: Print,
    english: English,
    issued: NaiveDateTime,
    stop: &'a AtomicBool,
}

impl How<'_> {
    fn is_stopped(&self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }

    fn said(&self, words: &str) -> String {
        say(words, self.english, self.names).into_owned()
    }

    fn matter<'a>(&self, lesson: &'a Lesson, plan: Option<&'a CheckedPlan>) -> Matter<'a> {
        let stores = Stores::of(lesson, plan, Extra::usual(lesson));
        let allergens = allergens::list(self.english);
        Matter { lesson, plan, stores, set_out: None, allergens }
    }

    fn laid(
        &self,
        sheets: &[papers::sheet::Sheet<'_>],
        head: &Head,
    ) -> Result<Vec<LaidSheet>, String> {
        let laid = papers::laid_out(sheets, head, self.print, &|words| self.said(words));
        laid.map_err(|fault| fault.to_string())
    }
}

pub(in super::super) fn lay_out(
    to_print: ToPrint,
    stop: &AtomicBool,
    tell: &dyn Fn(Arc<LaidSheets>),
) -> Result<(), String> {
    let ToPrint { of, names, how: (print, english), issued } = to_print;
    let how = How { names: &names, print, english, issued, stop };
    let laid = match of {
        ToPrintOf::Lesson { lesson, plan, before } => {
            of_lesson(&lesson, (plan.as_deref(), &before), &how)?
        }
        ToPrintOf::Week(week) => of_week(&week, &how)?,
    };
    if let Some(laid) = laid {
        tell(Arc::new(laid));
    }
    Ok(())
}

/// All sheets of a lesson; `None` once that is stopped.
fn of_lesson(
    lesson: &Lesson,
    (plan, before): (Option<&CheckedPlan>, &BTreeMap<Part, Before>),
    how: &How<'_>,
) -> Result<Option<LaidSheets>, String> {
    let now = how.matter(lesson, plan);
    let head = Head::of(lesson, how.issued);
    let (mut sheets, mut left_out, mut order) = (Vec::new(), Vec::new(), None);
    let mut since: Option<NaiveDateTime> = None;
    for part in Part::ALL {
        let (mut of_part, without) = papers::sheets(&now, &[part], NO_PLAN);
        if part == Part::RunningOrder {
            let said = |words: &str| how.said(words);
            order = of_part.first().map(|sheet| plain_text(sheet, &head, &said));
        }
        let before = before.get(&part);
        let standings = before.map_or(vec![Standing::First; of_part.len()], |before| {
            let then = how.matter(&before.lesson, before.plan.as_deref());
            let (was, _) = papers::sheets(&then, &[part], NO_PLAN);
            let compare = |sheet| reissue::compare(sheet, &was, before.since);
            of_part.iter_mut().map(compare).collect()
        });
        if standings.contains(&Standing::Changed) {
            since = since.max(before.map(|before| before.since));
        }
        sheets.extend(how.laid(&of_part, &head)?.into_iter().zip(standings));
        left_out.extend(without);
        if how.is_stopped() {
            return Ok(None);
        }
    }
    let language = how.english.language();
    let languages = lesson.home_languages();
    let is_of_week = false;
    Ok(Some(LaidSheets { is_of_week, head, language, sheets, since, left_out, order, languages }))
}

/// The sheets asked for of a week: each lesson's own, then what all have in common.
/// `None` once that is stopped.
fn of_week(of: &WeekToPrint, how: &How<'_>) -> Result<Option<LaidSheets>, String> {
    let lessons = planned_in_slots((&of.week, &of.report), of.of, &of.past);
    let planned = lessons.iter().filter_map(|(l, plan)| Some((l.entry, &l.lesson, plan.as_ref()?)));
    let planned: Vec<_> = planned.collect();
    let set_out = planned.iter().map(|p| p.0).zip(set_outs(&of.week, &planned));
    let set_out: HashMap<EntryNo, SetOut> =
        set_out.filter_map(|(entry, set_out)| Some((entry, set_out?))).collect();
    let mut matters = Vec::with_capacity(lessons.len());
    for (l, plan) in &lessons {
        let set_out = set_out.get(&l.entry).copied();
        matters.push(Matter { set_out, ..how.matter(&l.lesson, plan.as_ref()) });
    }
    let own: Vec<Part> = of.parts.iter().copied().filter(|part| !part.is_common()).collect();
    let (mut sheets, mut left_out) = (Vec::new(), Vec::new());
    for ((lesson, _), matter) in lessons.iter().zip(&matters) {
        let (of_it, without) = papers::sheets(matter, &own, NOT_PLANNED);
        let mut laid = how.laid(&of_it, &Head::of(&lesson.lesson, how.issued))?;
        papers::named_by_lesson(&mut laid, &lesson.lesson);
        sheets.extend(laid);
        let entry = of.week.entry(lesson.entry);
        let name = entry.map_or(String::new(), |e| {
            format!("{} {}, {}", e.class, e.title(), where_and_when(&of.week, &e.slot))
        });
        let named = |out: LeftOut| LeftOut { why: format!("{name}: {}", out.why), ..out };
        left_out.extend(without.into_iter().map(named));
        if how.is_stopped() {
            return Ok(None);
        }
    }
    let head = Head::titled(title_of(&of.week, of.of), how.issued);
    let (common, without) = papers::common_sheets(&matters, &of.parts, NOT_PLANNED);
    sheets.extend(how.laid(&common, &head)?);
    left_out.extend(without);
    let mut languages: Vec<Language> =
        lessons.iter().flat_map(|(l, _)| l.lesson.home_languages()).collect();
    languages.sort_unstable();
    languages.dedup();
    Ok(Some(LaidSheets {
        is_of_week: true,
        head,
        language: how.english.language(),
        sheets: sheets.into_iter().map(|sheet| (sheet, Standing::First)).collect(),
        since: None,
        left_out,
        order: None,
        languages,
    }))
}
