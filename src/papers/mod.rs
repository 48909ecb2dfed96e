//! Sheets that are printed from a lesson and its checked plan. Why they are as
//! they are: `src/papers/papers.md`.
//!
//! A [`sheet::Sheet`] is a list of blocks, made by a file of `sheets` for each
//! [`Part`]; [`layout`] puts it on pages, [`pdf`] writes these, and
//! [`plain_text`] says the same without pages.

mod fit;
pub mod grey;
pub mod head;
pub mod layout;
pub mod page;
pub mod paper;
pub mod part;
pub mod pdf;
pub mod plain_text;
pub mod reissue;
pub mod sheet;
mod sheets;
pub mod typeface;

use crate::check::CheckedPlan;
use crate::finding::Finding;
use crate::model::Lesson;
use crate::speech::allergens;
use crate::stores::Stores;
use crate::view::technicians_day::SetOut;
use head::Head;
use layout::{Said, lay_out};
use page::Page;
use paper::Print;
pub use part::Part;
use pdf::{NoPdf, Section};
use sheet::Sheet;
use typeface::Typeface;

/// What sheets are made from.
#[derive(Debug, Clone, PartialEq)]
pub struct Matter<'a> {
    /// The lesson.
    pub lesson: &'a Lesson,
    /// Its plan; without one some parts are left out.
    pub plan: Option<&'a CheckedPlan>,
    /// What the class needs.
    pub stores: Stores,
    /// When it is set out beside the other lessons of its week; `None` where that is not
    /// known.
    pub set_out: Option<SetOut>,
    /// The allergens of the country's law.
    pub allergens: &'static allergens::List,
}

/// Said of sheets for which there is nothing to go by.
const NOBODY: &str = "no group is out by the bell, so there is nothing to tell of";

/// A part that is not printed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LeftOut {
    /// Which.
    pub part: Part,
    /// Why, in a few words.
    pub why: String,
}

/// Sheets of some parts in the order of [`Part::ALL`], and the parts there are
/// no sheets of; `no_plan` is said of those that want a plan if there is none.
pub fn sheets<'a>(
    matter: &'a Matter<'a>,
    parts: &[Part],
    no_plan: &str,
) -> (Vec<Sheet<'a>>, Vec<LeftOut>) {
    let (mut all, mut left_out) = (Vec::new(), Vec::new());
    for part in Part::ALL.into_iter().filter(|part| parts.contains(part)) {
        let made = sheets::of(matter, part);
        if made.is_empty() {
            let lacks_plan = part.wants_plan() && matter.plan.is_none();
            let why = if lacks_plan { no_plan } else { NOBODY };
            left_out.push(LeftOut { part, why: why.to_owned() });
        }
        all.extend(made);
    }
    (all, left_out)
}

/// The sheets of some parts that lessons have in common, in the order of
/// [`Part::ALL`], and those there are none of; other parts are passed over.
pub fn common_sheets(
    matters: &[Matter<'_>],
    parts: &[Part],
    no_plan: &str,
) -> (Vec<Sheet<'static>>, Vec<LeftOut>) {
    let (mut all, mut left_out) = (Vec::new(), Vec::new());
    let wanted = |part: &Part| part.is_common() && parts.contains(part);
    for part in Part::ALL.into_iter().filter(wanted) {
        match sheets::of_several(matters, part) {
            Some(sheet) => all.push(sheet),
            None => {
                let why = if part.wants_plan() { no_plan } else { NOBODY };
                left_out.push(LeftOut { part, why: why.to_owned() });
            }
        }
    }
    (all, left_out)
}

/// A sheet in its pages.
#[derive(Debug, Clone, PartialEq)]
pub struct LaidSheet {
    /// What it is.
    pub part: Part,
    /// Its title, as it is printed; among those of other lessons with whose it is.
    pub title: String,
    /// Its pages.
    pub pages: Vec<Page>,
    /// What did not fit as it should, or lacks a letter.
    pub findings: Vec<Finding>,
}

/// Lays out sheets.
///
/// # Errors
/// If the typeface cannot be read, which would be a fault of the program.
pub fn laid_out(
    sheets: &[Sheet<'_>],
    head: &Head,
    print: Print,
    said: Said<'_>,
) -> Result<Vec<LaidSheet>, NoPdf> {
    let typeface = Typeface::new().map_err(|error| NoPdf(error.to_string()))?;
    let laid = sheets.iter().map(|sheet| {
        let layout::LaidOut { pages, findings } = lay_out(sheet, head, print, (&typeface, said));
        let title = typeface::printable(&said(&sheet.title()));
        LaidSheet { part: sheet.part, title, pages, findings }
    });
    Ok(laid.collect())
}

/// Names sheets by whose they are, where sheets of several lessons lie together: "9C, Mon
/// 30 Nov 09:00: Running order".
pub fn named_by_lesson(sheets: &mut [LaidSheet], lesson: &Lesson) {
    let whose = typeface::printable(&Head::whose(lesson));
    for sheet in sheets {
        sheet.title = format!("{whose}: {}", sheet.title);
    }
}

/// Sheets as a PDF.
#[derive(Debug, Clone, PartialEq)]
pub struct Printed {
    /// The bytes of the PDF.
    pub bytes: Vec<u8>,
    /// The parts as [`parts_of`] has them.
    pub parts: Vec<(Part, usize)>,
    /// What did not fit as it should, or lacks a letter.
    pub findings: Vec<Finding>,
}

/// Prints sheets that are laid out; `language` is that of the words, as in
/// "en-GB".
///
/// # Errors
/// If the PDF cannot be made, which would be a fault of the program.
pub fn printed(sheets: &[&LaidSheet], head: &Head, language: &str) -> Result<Printed, NoPdf> {
    let typeface = Typeface::new().map_err(|error| NoPdf(error.to_string()))?;
    let sections = sheets.iter().map(|s| Section { title: &s.title, pages: &s.pages });
    let sections: Vec<Section<'_>> = sections.collect();
    let title = typeface::printable(&head.title);
    let bytes = pdf::pdf(&title, (language, head.issued), &sections, &typeface)?;
    let findings = sheets.iter().flat_map(|sheet| sheet.findings.clone()).collect();
    Ok(Printed { bytes, parts: parts_of(sheets.iter().copied()), findings })
}

/// The parts of sheets in the order in which they come first, and how many pages each has
/// in all.
pub fn parts_of<'a>(sheets: impl IntoIterator<Item = &'a LaidSheet>) -> Vec<(Part, usize)> {
    let mut parts: Vec<(Part, usize)> = Vec::new();
    for LaidSheet { part, pages, .. } in sheets {
        match parts.iter_mut().find(|(of, _)| of == part) {
            Some((_, of)) => *of += pages.len(),
            None => parts.push((*part, pages.len())),
        }
    }
    parts
}

/// Lays out sheets and prints them.
///
/// # Errors
/// As [`laid_out`] and [`printed`] say.
pub fn print(
    sheets: &[Sheet<'_>],
    head: &Head,
    print: Print,
    (language, said): (&str, Said<'_>),
) -> Result<Printed, NoPdf> {
    let laid = laid_out(sheets, head, print, said)?;
    printed(&laid.iter().collect::<Vec<_>>(), head, language)
}
