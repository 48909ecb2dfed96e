//! A week's file as a text whose places can be told: its shapes, not yet
//! understood.

use std::path::Path as FilePath;

use super::format::{RoomShape, WEEK_FORMAT, WeekFile};
use super::load::{read_shapes, read_text};
use super::locate::Locator;
use super::syntax::without_mark;
use super::understand::findings::listed;
use super::understand::names::{expand, nearest};
use crate::finding::{Finding, Path};

/// A week's file is called so, and may be of this format.
const WEEK: (&str, u32) = ("week", WEEK_FORMAT);

/// The shapes of a week's file and the text they stand in.
#[derive(Debug, Clone)]
pub struct WeekText {
    /// The shapes.
    pub file: WeekFile,
    text: String,
}

impl WeekText {
    /// Findings with their places in the text, in the order of the file.
    pub fn placed(&self, mut findings: Vec<Finding>) -> Vec<Finding> {
        let locator = Locator::new(&self.text);
        for finding in &mut findings {
            finding.place = Some(locator.place(&finding.path));
        }
        findings.sort_by_key(|f| f.place);
        findings
    }
}

/// The names of a room's ovens, those that are counted one by one, in order.
pub fn oven_names(room: &RoomShape) -> Vec<String> {
    // Sensible or not, a count is found wrong where a lesson is planned there.
    let count = |n: i64| u32::try_from(n.clamp(0, 500)).unwrap_or(0);
    room.all_ovens().flat_map(|oven| expand(&oven.name, oven.count.map(count))).collect()
}

/// What was probably meant by a name that is not there.
pub fn did_you_mean<'a>(name: &str, among: impl Iterator<Item = &'a str> + Clone) -> String {
    match nearest(name, among.clone()) {
        Some(near) => format!("did you mean \"{near}\"?"),
        None => format!("there are: {}", listed(among)),
    }
}

/// Reads a week's file as shapes.
///
/// # Errors
/// What keeps it from being one.
pub fn load_week(path: &FilePath) -> Result<WeekText, Vec<Finding>> {
    read_week(&read_text(path).map_err(|f| vec![f])?)
}

/// Reads the shapes of a week from the text of its file.
///
/// # Errors
/// As [`load_week`].
pub fn read_week(text: &str) -> Result<WeekText, Vec<Finding>> {
    let text = without_mark(text);
    let locator = Locator::new(text);
    if locator.value(&Path::root().field("week")).is_none() && locator.is_whole() {
        let message = "is not the file of a week: it does not say which week";
        let hint = "write its Monday after the format, as `week: \"2026-11-30\"`";
        let at = locator.place(&Path::root());
        return Err(vec![Finding::error("no-week", Path::root(), message).hint(hint).at(at)]);
    }
    let file = read_shapes(text, &locator, WEEK).map_err(|f| vec![f])?;
    Ok(WeekText { file, text: text.to_owned() })
}
