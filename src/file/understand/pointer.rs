//! The lesson's id, and pointers to other lessons.

use super::Builder;
use super::findings::quoted;
use crate::file::format::PointerShape;
use crate::file::lesson_id::LessonId;
use crate::finding::Path;

impl Builder<'_> {
    /// Reports an id that is none.
    pub(super) fn lesson_id(&mut self, path: &Path, id: &str) {
        if let Err(error) = id.parse::<LessonId>() {
            let message = format!("{} is no id of a lesson: {error}", quoted(id));
            let hint = "leave it out: a lesson is given an id when it needs one";
            self.findings.error("lesson-id", path, message, hint);
        }
    }

    /// Reports a pointer that can lead nowhere, whatever files there are.
    pub(super) fn pointer(&mut self, path: &Path, pointer: &PointerShape) {
        let file = path.field("file");
        if pointer.file.trim().is_empty() {
            let hint = "write the path of its file from the folder of this one";
            self.findings.error("pointer", &file, "it is not said which lesson", hint);
        } else if pointer.file.contains('\\') {
            let message = format!("{} has a backslash in it", quoted(&pointer.file));
            let hint = "write / between folders and names, on every system";
            self.findings.error("pointer", &file, message, hint);
        }
        if let Some(id) = &pointer.id {
            self.lesson_id(&path.field("id"), id);
        }
    }
}
