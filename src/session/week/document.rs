//! A week's file at work: its text, the week it says, undo.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::super::ids::{DocumentId, Revision};
use super::Tried;
use crate::file::Disk;
use crate::file::format::WeekFile;
use crate::file::{WeekCopy, WeekText, merged_week, read_week};
use crate::finding::Finding;
use crate::model::PastBake;
use crate::week::{Change, LoadedWeek, Report, Stage, Week, understood};

/// A state of the file, and what was done to it next.
#[derive(Debug, Clone)]
struct Step {
    label: String,
    text: WeekText,
}

/// The step of undo that takes back what an earlier run left unsaved.
const LEFT: &str = "what was not saved";

/// A week's file at work.
pub struct WeekDocument {
    path: PathBuf,
    text: WeekText,
    /// What its file says.
    pub(super) on_disk: String,
    week: Arc<Week>,
    findings: Vec<Finding>,
    past: Arc<[PastBake]>,
    pub(super) revision: Revision,
    undo: Vec<Step>,
    redo: Vec<Step>,
    /// Keeps what is not saved.
    copy: WeekCopy,
    pub(super) report: Option<Arc<Report>>,
    pub(super) tried: Option<Tried>,
}

impl WeekDocument {
    /// Reads a week's file, and lays over it what an earlier run left unsaved.
    ///
    /// # Errors
    /// What keeps it from being a week.
    pub(super) fn open(
        path: &Path,
        text: &str,
        id: DocumentId,
        (past, disk): (Arc<[PastBake]>, &Arc<dyn Disk>),
    ) -> Result<Self, Vec<Finding>> {
        let path = std::path::absolute(path).unwrap_or_else(|_| path.to_path_buf());
        let text = read_week(text)?;
        let LoadedWeek { week, findings } = understood(&text, folder_of(&path), &past)?;
        let (copy, left) = WeekCopy::of(disk, &path, text.text());
        let mut opened = Self {
            path,
            copy,
            on_disk: text.text().to_owned(),
            text,
            week: Arc::new(week),
            findings,
            past,
            revision: Revision::first(id),
            undo: Vec::new(),
            redo: Vec::new(),
            report: None,
            tried: None,
        };
        if let Some(left) = left {
            // What is no week any more stays where it was kept.
            opened.put_in(left, LEFT.to_owned()).ok();
        }
        Ok(opened)
    }

    /// Whether changes lie over the file that an earlier run left unsaved.
    pub(super) fn has_left(&self) -> bool {
        self.undo.last().is_some_and(|step| step.label == LEFT)
    }

    /// Keeps what is not saved; why it cannot, the first time that it cannot.
    pub(super) fn keep_copy(&mut self) -> Option<String> {
        let before = self.copy.trouble().is_some();
        if self.changed() {
            self.copy.keep(self.text.text());
        } else {
            self.copy.remove();
        }
        self.copy.trouble().filter(|_| !before).map(str::to_owned)
    }

    /// Why no copy is kept of what is not saved, if none can be.
    pub(super) fn not_kept(&self) -> Option<&str> {
        self.copy.trouble()
    }

    /// The changes are lost, as was wanted.
    pub(super) fn drop_copy(&self) {
        self.copy.remove();
    }

    /// Its file.
    pub fn path(&self) -> &Path {
        &self.path
    }

    pub(super) fn set_path(&mut self, path: &Path, disk: &Arc<dyn Disk>) {
        self.copy.remove();
        self.path = path.to_path_buf();
        self.on_disk = self.text.text().to_owned();
        // It was not there, so nothing is left of it.
        (self.copy, _) = WeekCopy::of(disk, path, &self.on_disk);
    }

    /// The folder from which it points to lessons.
    pub fn folder(&self) -> &Path {
        folder_of(&self.path)
    }

    /// What it is called: by its file.
    pub fn name(&self) -> String {
        self.path.file_name().unwrap_or(self.path.as_os_str()).to_string_lossy().into_owned()
    }

    /// The week.
    pub fn week(&self) -> &Arc<Week> {
        &self.week
    }

    /// What is wrong or doubtful in the file.
    pub fn findings(&self) -> &[Finding] {
        &self.findings
    }

    /// Which state of which week this is.
    pub(in super::super) fn revision(&self) -> Revision {
        self.revision
    }

    /// The shapes of its file.
    pub(super) fn shapes(&self) -> &WeekFile {
        &self.text.file
    }

    /// Its text as it now stands.
    pub fn text(&self) -> &str {
        self.text.text()
    }

    /// Whether it differs from its file.
    pub fn changed(&self) -> bool {
        self.text.text() != self.on_disk
    }

    /// What is told of it, once each lesson is planned or nothing more is looked for.
    pub(in super::super) fn settled(&self, is_planning: bool) -> Option<&Arc<Report>> {
        self.report.as_ref().filter(|report| report.stage > Stage::Lessons || !is_planning)
    }

    /// What is told of it so far.
    pub fn report(&self) -> Option<&Arc<Report>> {
        self.report.as_ref()
    }

    /// The change that is tried.
    pub fn tried(&self) -> Option<&Tried> {
        self.tried.as_ref()
    }

    /// Bakes noted so far.
    pub(in super::super) fn past(&self) -> &Arc<[PastBake]> {
        &self.past
    }

    /// What undo would take back.
    pub fn can_undo(&self) -> Option<&str> {
        self.undo.last().map(|step| step.label.as_str())
    }

    /// What redo would do again.
    pub fn can_redo(&self) -> Option<&str> {
        self.redo.last().map(|step| step.label.as_str())
    }

    /// Makes a change, as one step of undo.
    ///
    /// # Errors
    /// Why it is not made, in words; all is as it was.
    pub(super) fn make(&mut self, change: &Change, label: String) -> Result<(), String> {
        let file = change.written(&self.text.file, &self.week).map_err(|why| why.to_string())?;
        let merged = merged_week(self.text.text(), &file).map_err(|why| why.to_string())?;
        let text = read_week(&merged).map_err(|findings| first_of(&findings))?;
        self.put_in(text, label)
    }

    /// Puts another text in its place, as one step of undo.
    fn put_in(&mut self, text: WeekText, label: String) -> Result<(), String> {
        let before = self.text.clone();
        self.become_text(text)?;
        self.undo.push(Step { label, text: before });
        self.redo.clear();
        Ok(())
    }

    /// Takes the last change back, or does it again; what that was.
    pub(super) fn step(&mut self, back: bool) -> Option<Result<String, String>> {
        let step = if back { self.undo.pop() } else { self.redo.pop() }?;
        let before = self.text.clone();
        if let Err(why) = self.become_text(step.text.clone()) {
            if back {
                self.undo.push(step)
            } else {
                self.redo.push(step)
            }
            return Some(Err(why));
        }
        let other = Step { label: step.label.clone(), text: before };
        if back {
            self.redo.push(other)
        } else {
            self.undo.push(other)
        }
        Some(Ok(step.label))
    }

    /// Reads the lessons' files anew; whether that makes another week.
    pub(super) fn read_lessons_again(&mut self) -> bool {
        let before = (Arc::clone(&self.week), self.findings.clone());
        let read = self.become_text(self.text.clone());
        read.is_ok() && (*before.0 != *self.week || before.1 != self.findings)
    }

    fn become_text(&mut self, text: WeekText) -> Result<(), String> {
        let read = understood(&text, folder_of(&self.path), &self.past);
        let LoadedWeek { week, findings } = read.map_err(|findings| first_of(&findings))?;
        self.text = text;
        self.findings = findings;
        if *self.week != week {
            self.week = Arc::new(week);
            self.revision = self.revision.next();
        }
        Ok(())
    }
}

fn folder_of(path: &Path) -> &Path {
    path.parent().unwrap_or(Path::new("."))
}

fn first_of(findings: &[Finding]) -> String {
    super::super::first_of(findings)
}
