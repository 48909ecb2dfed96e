//! Plans as files, read and written against their lesson.

mod names;
mod reader;
mod shapes;
mod writer;

use std::path::Path as FilePath;

use names::PlanNames;
use reader::PlanReader;
use shapes::PlanFile;
use writer::PlanWriter;

use super::format::PLAN_FORMAT;
use super::load::{read_shapes, read_text};
use super::locate::Locator;
use super::other_kind::FileKind;
use super::syntax;
use crate::finding::Finding;
use crate::model::Lesson;
use crate::plan::Plan;

/// The text of a plan's file. Things are called by their names in the lesson.
pub fn write_plan(lesson: &Lesson, plan: &Plan) -> String {
    let names = PlanNames::new(lesson);
    let file = PlanWriter::new(&names, plan).file();
    // Plain numbers and strings are never refused.
    syntax::written(&file).unwrap_or_else(|error| format!("// {error}\n"))
}

/// Reads a plan of a lesson from the text of its file.
///
/// # Errors
/// Everything in it that the lesson does not know.
pub fn read_plan(lesson: &Lesson, text: &str) -> Result<Plan, Vec<Finding>> {
    match read_what_is_known(lesson, text) {
        Ok((plan, findings)) if findings.is_empty() => Ok(plan),
        Ok((_, findings)) => Err(findings),
        Err(finding) => Err(vec![finding]),
    }
}

/// As [`read_plan`], but hands over what the lesson knows of the plan, beside what
/// it does not.
///
/// # Errors
/// If it is no plan of this format.
pub(super) fn read_what_is_known(
    lesson: &Lesson,
    text: &str,
) -> Result<(Plan, Vec<Finding>), Finding> {
    let text = syntax::without_mark(text);
    let locator = Locator::new(text);
    let file: PlanFile = read_shapes(text, &locator, (FileKind::Plan, PLAN_FORMAT))?;
    let names = PlanNames::new(lesson);
    let (plan, mut findings) = PlanReader::new(&names).read(&file);
    for finding in &mut findings {
        finding.place = Some(locator.place(&finding.path));
    }
    findings.sort_by_key(|f| f.place);
    Ok((plan, findings))
}

/// Whether a text reads as a plan, of whatever lesson.
pub fn is_plan(text: &str) -> bool {
    let text = syntax::without_mark(text);
    read_shapes::<PlanFile>(text, &Locator::new(text), (FileKind::Plan, PLAN_FORMAT)).is_ok()
}

/// Reads a plan file of a lesson.
///
/// # Errors
/// As [`read_plan`], and if it cannot be read at all.
pub fn load_plan(path: &FilePath, lesson: &Lesson) -> Result<Plan, Vec<Finding>> {
    read_plan(lesson, &read_text(path).map_err(|f| vec![f])?)
}
