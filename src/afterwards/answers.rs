//! The three questions, none of which has to be answered, and a line for next time.

use crate::edit::FileChange;
use crate::file::format::LessonFile;
use crate::finding::Finding;
use crate::model::{FactKind, PastBake};
use crate::today::{Tell, no_copy};
use crate::units::ClockTime;

/// What is answered once the lesson is over, written into the copy for its day.
#[derive(Debug, Clone, Copy, Default)]
pub struct Answers<'a> {
    /// When groups set to work.
    pub set_to_work: Option<ClockTime>,
    /// The last group that was ready, and when: a fact like others.
    pub last: Option<(&'a str, ClockTime)>,
    /// What held groups up.
    pub held: Option<&'a str>,
    /// A line for next time.
    pub next: Option<&'a str>,
    /// Bakes noted before, by which the lesson's file is read.
    pub past: &'a [PastBake],
}

impl Answers<'_> {
    /// Whether nothing is answered.
    pub fn is_empty(&self) -> bool {
        let Self { set_to_work, last, held, next, .. } = self;
        set_to_work.is_none() && last.is_none() && held.is_none() && next.is_none()
    }
}

impl FileChange for Answers<'_> {
    fn label(&self) -> String {
        "afterwards".to_owned()
    }

    fn apply(&self, file: &mut LessonFile) -> Result<(), Finding> {
        if let Some((group, at)) = self.last {
            Tell { group, what: FactKind::Ready, at, past: self.past }.apply(file)?;
        }
        let Some(today) = &mut file.today else { return Err(no_copy()) };
        let after = today.afterwards.get_or_insert_default();
        if let Some(at) = self.set_to_work {
            after.set_to_work = Some(at.to_string());
        }
        if let Some(held) = self.held {
            after.held = held.trim().to_owned();
        }
        if let Some(next) = self.next {
            after.next = next.trim().to_owned();
        }
        Ok(())
    }
}
