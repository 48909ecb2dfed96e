//! The lesson on screen: its file, what it was read as, and undo.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::edit::Edit;
use crate::file::format::LessonFile;
use crate::file::{self, Backup, Loaded};
use crate::finding::{Finding, Path as Where};
use crate::model::{Lesson, PastBake};

/// Undo goes back so many changes.
const REMEMBERED: usize = 200;

/// The lesson on screen.
#[derive(Debug, Clone)]
pub struct Document {
    /// Where it came from; `None` for the demo.
    pub path: Option<PathBuf>,
    /// The lesson.
    pub lesson: Arc<Lesson>,
    /// What the file asks to look at.
    pub warnings: Vec<Finding>,
    /// Counts changes, so that answers for an older lesson can be told.
    pub revision: u64,
    /// It differs from its file.
    pub changed: bool,
    /// Bakes noted so far; minutes nobody has stated go by them.
    pub past: Arc<[PastBake]>,
    file: LessonFile,
    /// As it was read or last written, comments and all.
    text: String,
    undo: Vec<(String, LessonFile)>,
    redo: Vec<(String, LessonFile)>,
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
        Ok(Self {
            path: path.map(Path::to_path_buf),
            lesson: Arc::new(lesson),
            warnings,
            revision,
            changed: false,
            past,
            file,
            text: text.strip_prefix('\u{feff}').unwrap_or(text).to_owned(),
            undo: Vec::new(),
            redo: Vec::new(),
        })
    }

    /// Makes a change.
    ///
    /// # Errors
    /// If the lesson would not be one; it stays as it was.
    pub fn apply(&mut self, edit: &Edit) -> Result<(), Vec<Finding>> {
        let mut file = self.file.clone();
        if !edit.apply(&mut file) {
            let message = format!("cannot {}: there is no such entry", edit.label());
            return Err(vec![Finding::error("no-such-entry", Where::root(), message)]);
        }
        self.change_to(edit.label(), file)
    }

    /// Becomes another file, as one change that can be undone.
    ///
    /// # Errors
    /// If that is no lesson; it stays as it was.
    pub fn change_to(&mut self, label: String, file: LessonFile) -> Result<(), Vec<Finding>> {
        let before = self.file.clone();
        self.become_file(file)?;
        self.undo.push((label, before));
        if self.undo.len() > REMEMBERED {
            self.undo.remove(0);
        }
        self.redo.clear();
        Ok(())
    }

    /// The lesson's file as it now is.
    pub fn file(&self) -> &LessonFile {
        &self.file
    }

    fn become_file(&mut self, file: LessonFile) -> Result<(), Vec<Finding>> {
        self.read_again(&file)?;
        self.file = file;
        self.changed = true;
        Ok(())
    }

    fn read_again(&mut self, file: &LessonFile) -> Result<(), Vec<Finding>> {
        let text = file::write_lesson(file).map_err(|error| {
            vec![Finding::error("not-writable", Where::root(), error.to_string())]
        })?;
        let loaded = file::read_lesson_knowing(&text, &self.past)?;
        self.lesson = Arc::new(loaded.lesson);
        self.warnings = loaded.warnings;
        self.revision += 1;
        Ok(())
    }

    /// Goes by other bakes; the lesson's file stays as it is.
    ///
    /// # Errors
    /// If the lesson is none with these; it then goes by the ones before.
    pub fn know(&mut self, past: Arc<[PastBake]>) -> Result<(), Vec<Finding>> {
        let before = std::mem::replace(&mut self.past, past);
        let file = self.file.clone();
        let read = self.read_again(&file);
        if read.is_err() {
            self.past = before;
        }
        read
    }

    /// What undo would take back.
    pub fn can_undo(&self) -> Option<&str> {
        self.undo.last().map(|(label, _)| label.as_str())
    }

    /// What redo would do again.
    pub fn can_redo(&self) -> Option<&str> {
        self.redo.last().map(|(label, _)| label.as_str())
    }

    /// Takes the last change back.
    pub fn undo(&mut self) {
        if let Some((label, before)) = self.undo.pop() {
            let now = self.file.clone();
            // A file that was a lesson before is one now, unless bakes noted
            // since say otherwise.
            if self.become_file(before.clone()).is_ok() {
                self.redo.push((label, now));
            } else {
                self.undo.push((label, before));
            }
        }
    }

    /// Makes the change taken back last again.
    pub fn redo(&mut self) {
        if let Some((label, after)) = self.redo.pop() {
            let now = self.file.clone();
            if self.become_file(after.clone()).is_ok() {
                self.undo.push((label, now));
            } else {
                self.redo.push((label, after));
            }
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
