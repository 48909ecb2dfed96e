//! Facts of the day: what is told of groups while they are at work, and taken back.

use super::happens::{no_copy, refused, worst};
use crate::edit::FileChange;
use crate::file::format::{HappenedShape, LessonFile};
use crate::file::lesson_of_shapes;
use crate::finding::Finding;
use crate::model::{Attendance, FactKind, PastBake};
use crate::units::ClockTime;
use crate::words::list;

/// Something told of a group. A fact is never refused: what does not agree with
/// what was told before is a finding of the file.
#[derive(Debug, Clone, Copy)]
pub struct Tell<'a> {
    /// Of whom.
    pub group: &'a str,
    /// What.
    pub what: FactKind,
    /// When.
    pub at: ClockTime,
    /// Bakes noted before, by which the lesson's file is read.
    pub past: &'a [PastBake],
}

impl FileChange for Tell<'_> {
    fn label(&self) -> String {
        format!("{}: {}", self.group, self.what)
    }

    fn apply(&self, file: &mut LessonFile) -> Result<(), Finding> {
        let lesson = lesson_of_shapes(file, self.past).map_err(worst)?;
        let Some(today) = &mut file.today else {
            return Err(no_copy());
        };
        let Some(group) = lesson.groups.iter().find(|g| g.name == self.group) else {
            let all: Vec<String> = lesson.groups.iter().map(|g| g.name.clone()).collect();
            let hint = format!("there are: {}", list(&all));
            return Err(refused(format!("There is no group \"{}\".", self.group), hint));
        };
        if group.attendance == Attendance::LeftOut {
            return Err(refused(format!("{} takes no part.", self.group), "tell it of another"));
        }
        today.happened.push(HappenedShape {
            at: Some(self.at.to_string()),
            who: Some(self.group.to_owned()),
            what: self.what.to_string(),
        });
        Ok(())
    }
}

/// A copy for the day in which something is told of a group.
///
/// # Errors
/// If there is no such group that takes part, or the file is no copy for the day.
pub fn tell(
    file: &LessonFile,
    (group, what): (&str, FactKind),
    at: ClockTime,
    past: &[PastBake],
) -> Result<LessonFile, Finding> {
    Tell { group, what, at, past }.made(file)
}

/// The fact told last is taken back. What happened after it was planned with it, so
/// such a fact stays.
#[derive(Debug, Clone, Copy)]
pub struct TakeBack;

impl TakeBack {
    /// What it would take back: of whom, and what; `None` if nothing was told last.
    pub fn of(file: &LessonFile) -> Option<(&str, &str)> {
        let last = file.today.as_ref()?.happened.last()?;
        let who = last.who.as_deref()?;
        last.what.parse::<FactKind>().is_ok().then_some((who, &last.what))
    }
}

impl FileChange for TakeBack {
    fn label(&self) -> String {
        "a fact taken back".to_owned()
    }

    fn apply(&self, file: &mut LessonFile) -> Result<(), Finding> {
        if Self::of(file).is_none() {
            let hint = "what happened since is taken back by Undo";
            return Err(refused("Nothing was told last that could be taken back.", hint));
        }
        if let Some(today) = &mut file.today {
            today.happened.pop();
        }
        Ok(())
    }
}
