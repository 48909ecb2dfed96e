//! Bakes that last otherwise than planned, as it was told of them.

use super::happens::no_copy;
use crate::check::CheckedPlan;
use crate::edit::FileChange;
use crate::file::format::LessonFile;
use crate::finding::Finding;
use crate::keep::bakes_told;
use crate::model::{Lesson, Slip};

/// A copy for the day says of bakes how long they last, where what was told of their groups
/// says that this is not as planned: a plan made from it then leaves them in until they are
/// out.
#[derive(Debug, Clone, Copy)]
pub struct BakesTold<'a> {
    /// The lesson, and the plan that groups were told.
    pub told: (&'a Lesson, &'a CheckedPlan),
    /// By how much groups are late by that plan.
    pub slips: &'a [Slip],
}

impl FileChange for BakesTold<'_> {
    fn label(&self) -> String {
        "bakes that last otherwise than planned".to_owned()
    }

    fn apply(&self, file: &mut LessonFile) -> Result<(), Finding> {
        let (lesson, plan) = self.told;
        let Some(today) = &mut file.today else { return Err(no_copy()) };
        for (group, minutes) in bakes_told(lesson, plan.plan(), self.slips) {
            let name = &lesson.group(group).name;
            today.baked_for.0.retain(|(group, _)| group != name);
            today.baked_for.0.push((name.clone(), minutes.get()));
        }
        Ok(())
    }
}
