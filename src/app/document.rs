//! The lesson on screen: its file, what it was read as, and undo.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::edit::Edit;
use super::undo::Undo;
use crate::file::format::LessonFile;
use crate::file::{self, Backup, Loaded};
use crate::finding::{Finding, Path as Where, Severity};
use crate::model::{Lesson, PastBake};

/// The lesson on screen.
#[derive(Debug, Clone)]
pub struct Document {
    /// Where it came from; `None` for the demo.
    pub path: Option<PathBuf>,
    /// What the file asks to look at.
    pub warnings: Vec<Finding>,
    /// What is missing or wrong, while the file is not yet a lesson that can
    /// be planned.
    pub to_do: Vec<Finding>,
    /// Counts changes, so that answers for an older lesson can be told.
    pub revision: u64,
    /// It differs from its file.
    pub changed: bool,
    /// Bakes noted so far; minutes nobody has stated go by them.
    pub past: Arc<[PastBake]>,
    lesson: Option<Arc<Lesson>>,
    file: LessonFile,
    /// As it was read or last written, comments and all.
    text: String,
    undo: Undo,
}

impl Document {
    /// Reads a lesson.
    ///
    /// # Errors
    /// The findings, located.
    pub fn read(
        text: &str,
        path: Option<&Path>,
        revision: u64,
        past: Arc<[PastBake]>,
    ) -> Result<Self, Vec<Finding>> {
        let Loaded { lesson, file, warnings } = file::read_lesson_knowing(text, &past)?;
        let mut doc = Self::of(file, text, path, revision, past);
        doc.lesson = Some(Arc::new(lesson));
        doc.warnings = warnings;
        Ok(doc)
    }

    /// Reads a lesson that may lack something or be wrong in its meaning: it
    /// is put right in the window.
    ///
    /// # Errors
    /// What is wrong with the text.
    pub fn read_draft(
        text: &str,
        path: Option<&Path>,
        revision: u64,
        past: Arc<[PastBake]>,
    ) -> Result<Self, Vec<Finding>> {
        let file = file::read_lesson_shapes(text)?;
        let mut doc = Self::of(file, text, path, revision, past);
        doc.understand();
        Ok(doc)
    }

    /// A lesson that has no file yet.
    pub fn new(file: LessonFile, revision: u64, past: Arc<[PastBake]>) -> Self {
        let mut doc = Self::of(file, "", None, revision, past);
        doc.understand();
        doc
    }

    fn of(
        file: LessonFile,
        text: &str,
        path: Option<&Path>,
        revision: u64,
        past: Arc<[PastBake]>,
    ) -> Self {
        Self {
            path: path.map(Path::to_path_buf),
            warnings: Vec::new(),
            to_do: Vec::new(),
            revision,
            changed: false,
            past,
            lesson: None,
            file,
            text: text.strip_prefix('\u{feff}').unwrap_or(text).to_owned(),
            undo: Undo::default(),
        }
    }

    /// What the file comes to: a lesson, or what keeps it from being one.
    fn understand(&mut self) {
        let (lesson, findings) = file::lesson_or_findings(&self.file, &self.past);
        self.lesson = lesson.map(Arc::new);
        (self.warnings, self.to_do) =
            if self.lesson.is_some() { (findings, Vec::new()) } else { (Vec::new(), findings) };
    }

    /// The lesson, if the file is one that can be planned.
    pub fn lesson(&self) -> Option<&Arc<Lesson>> {
        self.lesson.as_ref()
    }

    /// Makes a change.
    ///
    /// # Errors
    /// If it is refused; the lesson stays as it was.
    pub fn apply(&mut self, edit: &Edit) -> Result<(), Vec<Finding>> {
        let mut file = self.file.clone();
        if !edit.apply(&mut file) {
            let message = format!("cannot {}: there is no such entry", edit.label());
            return Err(vec![Finding::error("no-such-entry", Where::root(), message)]);
        }
        match edit.field() {
            Some(field) => self.enter(edit.label(), file, field),
            None => self.change_to(edit.label(), file),
        }
    }

    /// Becomes another file, as one change that can be undone. A lesson that
    /// can be planned stays one; a draft may stay a draft.
    ///
    /// # Errors
    /// If that is no lesson while this is one; it stays as it was.
    pub fn change_to(&mut self, label: String, file: LessonFile) -> Result<(), Vec<Finding>> {
        let (lesson, findings) = file::lesson_or_findings(&file, &self.past);
        if lesson.is_none() && self.lesson.is_some() {
            return Err(findings);
        }
        self.make(label, file, None);
        Ok(())
    }

    /// Becomes what was entered in a field. What is missing elsewhere is told
    /// and may be entered next; what is wrong in this very field is refused.
    ///
    /// # Errors
    /// What is wrong in the field; the lesson stays as it was.
    fn enter(
        &mut self,
        label: String,
        file: LessonFile,
        (at, typing): (&Where, bool),
    ) -> Result<(), Vec<Finding>> {
        let (_, findings) = file::lesson_or_findings(&file, &self.past);
        let wrong: Vec<Finding> = findings
            .into_iter()
            .filter(|f| f.severity == Severity::Error && f.path.0.starts_with(&at.0))
            .filter(|f| !self.to_do.contains(f))
            .collect();
        if !wrong.is_empty() && !at.0.is_empty() {
            return Err(wrong);
        }
        self.make(label, file, typing.then(|| at.to_string()));
        Ok(())
    }

    fn make(&mut self, label: String, file: LessonFile, typing: Option<String>) {
        if file == self.file {
            return;
        }
        let before = std::mem::replace(&mut self.file, file);
        self.undo.made(label, before, typing);
        self.is_another();
    }

    fn is_another(&mut self) {
        self.understand();
        self.changed = true;
        self.revision += 1;
    }

    /// The lesson's file as it now is.
    pub fn file(&self) -> &LessonFile {
        &self.file
    }

    /// What is typed next is a change of its own.
    pub fn typed(&mut self) {
        self.undo.typed();
    }

    /// Goes by other bakes; the lesson's file stays as it is.
    ///
    /// # Errors
    /// If the lesson is none with these; it then goes by the ones before.
    pub fn know(&mut self, past: Arc<[PastBake]>) -> Result<(), Vec<Finding>> {
        let (lesson, findings) = file::lesson_or_findings(&self.file, &past);
        if lesson.is_none() && self.lesson.is_some() {
            return Err(findings);
        }
        self.past = past;
        self.understand();
        self.revision += 1;
        Ok(())
    }

    /// What undo would take back.
    pub fn can_undo(&self) -> Option<&str> {
        self.undo.can_undo()
    }

    /// What redo would do again.
    pub fn can_redo(&self) -> Option<&str> {
        self.undo.can_redo()
    }

    /// Takes the last change back.
    pub fn undo(&mut self) {
        if let Some(before) = self.undo.before() {
            let now = std::mem::replace(&mut self.file, before);
            self.undo.went_back(now);
            self.is_another();
        }
    }

    /// Makes the change taken back last again.
    pub fn redo(&mut self) {
        if let Some(after) = self.undo.after() {
            let now = std::mem::replace(&mut self.file, after);
            self.undo.went_again(now);
            self.is_another();
        }
    }

    /// Writes the lesson to a file, keeping what was there as `.bak`, and the
    /// comments and the layout of the text it was read from.
    ///
    /// # Errors
    /// If it cannot be written; the lesson stays unsaved.
    pub fn save(&mut self, path: &Path) -> Result<(), String> {
        let saved = file::save_lesson(path, &self.text, &self.file, Backup::Keep);
        self.text = saved.map_err(|e| e.to_string())?;
        self.path = Some(path.to_path_buf());
        self.changed = false;
        Ok(())
    }
}
