//! Sheets that are printed from a lesson and its checked plan. Why they are as
//! they are: `src/papers/papers.md`.
//!
//! A [`sheet::Sheet`] is a list of blocks, made by a file of `sheets` for each
//! [`Part`]; [`layout`] puts it on pages, [`pdf`] writes these, and
//! [`plain_text`] says the same without pages.

mod fit;
pub mod head;
pub mod layout;
pub mod page;
pub mod paper;
pub mod part;
pub mod pdf;
pub mod plain_text;
pub mod sheet;
mod sheets;
pub mod typeface;

use crate::check::CheckedPlan;
use crate::finding::Finding;
use crate::model::Lesson;
use crate::stores::Stores;
use head::Head;
use layout::{Said, lay_out};
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
}

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
            let why = if lacks_plan { no_plan } else { "no group is served that it could tell of" };
            left_out.push(LeftOut { part, why: why.to_owned() });
        }
        all.extend(made);
    }
    (all, left_out)
}

/// Sheets as a PDF.
#[derive(Debug, Clone, PartialEq)]
pub struct Printed {
    /// The bytes of the PDF.
    pub bytes: Vec<u8>,
    /// The parts in their order, and how many pages each has.
    pub parts: Vec<(Part, usize)>,
    /// What did not fit as it should, or lacks a letter.
    pub findings: Vec<Finding>,
}

/// Prints sheets; `language` is that of the words, as in "en-GB".
///
/// # Errors
/// If the PDF cannot be made, which would be a fault of the program.
pub fn print(
    sheets: &[Sheet<'_>],
    head: &Head,
    print: Print,
    (language, said): (&str, Said<'_>),
) -> Result<Printed, NoPdf> {
    let typeface = Typeface::new().map_err(|error| NoPdf(error.to_string()))?;
    let (mut sections, mut parts, mut findings) = (Vec::new(), Vec::new(), Vec::new());
    for sheet in sheets {
        let laid = lay_out(sheet, head, print, (&typeface, said));
        match parts.last_mut() {
            Some((part, pages)) if *part == sheet.part => *pages += laid.pages.len(),
            _ => parts.push((sheet.part, laid.pages.len())),
        }
        findings.extend(laid.findings);
        let title = typeface::printable(&said(&sheet.title()));
        sections.push(Section { title, pages: laid.pages });
    }
    let title = typeface::printable(&head.title);
    let bytes = pdf::pdf(&title, (language, head.issued), &sections, &typeface)?;
    Ok(Printed { bytes, parts, findings })
}
