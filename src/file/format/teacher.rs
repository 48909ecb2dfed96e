//! What a lesson file has of the teacher's own notes.

use serde::{Deserialize, Serialize};

use super::{LessonFile, is_default};

/// Steps a method with a bake has of its own.
const OF_BAKE: [&str; 3] = ["load", "bake", "take out"];

/// A note of the teacher's own, hung on something of the lesson.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct TeacherNoteShape {
    /// What it hangs on: "end bell", "demo", "load Oven 2", "mix Unit 3".
    pub at: String,
    /// What is said then.
    #[serde(default, skip_serializing_if = "is_default")]
    pub say: String,
    /// What is done then.
    #[serde(default, skip_serializing_if = "is_default")]
    pub r#do: String,
}

impl TeacherNoteShape {
    /// The step of a group of this name on which it hangs, if it does.
    pub fn step_of(&self, group: &str, file: &LessonFile) -> Option<&str> {
        let step = self.at.strip_suffix(group)?.strip_suffix(' ')?;
        let mut steps = file.recipes.iter().flat_map(|r| &r.methods).flat_map(|m| &m.steps);
        let is_step = OF_BAKE.contains(&step) || steps.any(|s| s.name == step);
        is_step.then_some(step)
    }
}
