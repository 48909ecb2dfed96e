//! A lesson's document: its file, the lesson it was read as, and undo.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use super::ids::{DocumentId, Revision};
use super::kept_plan::KeptPlan;
use super::undo::{Undo, WithPlan};
use crate::check::CheckedPlan;
use crate::edit::FileChange;
use crate::file::clear::Cleared;
use crate::file::format::{LessonFile, PointerShape};
use crate::file::open_lesson::{NotSaved, OpenLesson, Opened, Over, Recovered, Safekeeping, Saved};
use crate::file::own_library::OwnLibrary;
use crate::file::told::Told;
use crate::file::{self, Loaded};
use crate::finding::{Finding, Path as Where, Severity};
use crate::keep::NoLonger;
use crate::model::{Lesson, PastBake};

/// The lesson on screen.
pub struct Document {
    /// Where it came from; `None` for one that has no file yet.
    pub path: Option<PathBuf>,
    /// It is the sample lesson.
    pub is_sample: bool,
    /// What the file asks to look at.
    pub warnings: Vec<Finding>,
    /// What is missing or wrong, while the file is not yet a lesson that can
    /// be planned.
    pub to_do: Vec<Finding>,
    /// Its state now.
    revision: Revision,
    /// It differs from its file.
    pub changed: bool,
    /// Bakes noted so far; minutes nobody has stated go by them.
    pub past: Arc<[PastBake]>,
    lesson: Option<Arc<Lesson>>,
    /// Without its plan; its pointers are whole paths.
    file: LessonFile,
    /// The id of the lesson, which no change takes from it.
    own_id: Option<String>,
    kept: KeptPlan,
    /// What its file on disk says, or what it began as where there is none;
    /// nothing if that is no lesson.
    saved: Option<LessonFile>,
    /// As it was read or last written, comments and all.
    text: Arc<str>,
    undo: Undo,
    care: OpenLesson,
}

/// A way of reading a lesson's text.
pub type Reading =
    fn(&str, Option<&Path>, DocumentId, Arc<[PastBake]>) -> Result<Document, Vec<Finding>>;

/// A file as it was read: the lesson, if it is one, and what was found.
type Read = (Option<Lesson>, Vec<Finding>);

/// A lesson as opened, and what the user must know of it, a sentence each.
pub type OpenedDocument = (Document, Vec<String>);

impl Document {
    /// Reads a lesson.
    ///
    /// # Errors
    /// The findings, located.
    pub fn read(
        text: &str,
        path: Option<&Path>,
        id: DocumentId,
        past: Arc<[PastBake]>,
    ) -> Result<Self, Vec<Finding>> {
        let Loaded { lesson, file, told, warnings } = file::read_lesson_knowing(text, &past)?;
        let mut doc = Self::of((file, told), text, path, id, past);
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
        id: DocumentId,
        past: Arc<[PastBake]>,
    ) -> Result<Self, Vec<Finding>> {
        let mut file = file::read_lesson_shapes(text)?;
        let told = Told::taken_from(&mut file, text);
        let mut doc = Self::of((file, told), text, path, id, past);
        doc.understand();
        Ok(doc)
    }

    /// Opens a lesson's file, read by [`Document::read`] or
    /// [`Document::read_draft`]: it is held while it is open, and changes that
    /// were not saved when the program last ended are in it as one change.
    ///
    /// # Errors
    /// The findings, located.
    pub fn open(
        read: Reading,
        path: &Path,
        keeping: &Safekeeping,
        id: DocumentId,
        past: Arc<[PastBake]>,
    ) -> Result<OpenedDocument, Vec<Finding>> {
        let opened = OpenLesson::open(keeping, path).map_err(|finding| vec![finding])?;
        let (doc, mut told) = Self::opened_by(read, opened, Some(path), (id, past))?;
        let doubt = file::doubt_of_day(&*keeping.disk, path, &doc.file);
        told.extend(doubt.map(|doubt| format!("The lesson of this day: {}.", doubt.message)));
        Ok((doc, told))
    }

    /// Takes up changes of a lesson that were not saved when the program last
    /// ended.
    ///
    /// # Errors
    /// Why that cannot be; they are kept.
    pub fn take_up(
        copy: &Path,
        keeping: &Safekeeping,
        id: DocumentId,
        past: Arc<[PastBake]>,
    ) -> Result<OpenedDocument, String> {
        let opened = OpenLesson::take_up(keeping, copy)?;
        let path = opened.care.path().map(Path::to_path_buf);
        Self::opened_by(Self::read, opened, path.as_deref(), (id, past))
            .map_err(|findings| findings.first().map(|f| f.message.clone()).unwrap_or_default())
    }

    fn opened_by(
        read: Reading,
        opened: Opened,
        path: Option<&Path>,
        (id, past): (DocumentId, Arc<[PastBake]>),
    ) -> Result<OpenedDocument, Vec<Finding>> {
        let Opened { care, text, recovered, told } = opened;
        let saved = match text {
            Some(text) => {
                let whole = read(&text, path, id, Arc::clone(&past));
                // To go back to, even if it lacks something.
                let draft = |findings| match recovered {
                    Some(_) => Self::read_draft(&text, path, id, Arc::clone(&past)),
                    None => Err(findings),
                };
                whole.or_else(draft)
            }
            None => Err(Vec::new()),
        };
        let mut doc = match (saved, recovered) {
            (Ok(doc), None) => doc,
            (Ok(mut doc), Some(recovered)) => {
                doc.recover(recovered);
                doc
            }
            // The file itself is no lesson, but these changes say one.
            (Err(_), Some(recovered)) => {
                let mut doc = Self::read_draft(&recovered.text, path, id, past)?;
                doc.saved = None;
                doc.changed = true;
                doc
            }
            (Err(findings), None) => return Err(findings),
        };
        doc.care = care;
        Ok((doc, told))
    }

    fn recover(&mut self, recovered: Recovered) {
        let Recovered { text, mut file, when } = recovered;
        let of = when.map(|when| format!(" of {when}")).unwrap_or_default();
        let told = Told::taken_from(&mut file, &text);
        // The id may have been written since.
        file.id = file.id.or_else(|| self.own_id.clone());
        let file = with_whole_paths(file, self.path.as_deref());
        self.become_as_read(format!("recovered changes{of}"), file, told);
    }

    /// Becomes a file as it was read, with the plan that was kept with it, as one
    /// change.
    fn become_as_read(&mut self, label: String, file: LessonFile, told: Option<Told>) {
        self.own_id.clone_from(&file.id);
        if file == self.file {
            self.plan_goes(label);
        } else {
            let read = file::lesson_or_findings(&file, &self.past);
            self.make(label, file, read, None);
        }
        self.kept = KeptPlan::as_read(told, self.kept.on_file.take());
        self.copy();
    }

    /// Keeps it safe from now on, where it has no file yet.
    pub fn keep_safe(&mut self, keeping: &Safekeeping) {
        if self.path.is_none() {
            self.care = OpenLesson::of_new(keeping);
        }
    }

    /// What it is called: by its file, or by what it is.
    pub fn name(&self) -> String {
        let file = self.path.as_ref().and_then(|path| path.file_name());
        match file {
            Some(name) => name.to_string_lossy().into_owned(),
            None if self.is_sample => "sample lesson".to_owned(),
            None if self.file.title.trim().is_empty() => "new lesson".to_owned(),
            None => crate::finding::shortened(&self.file.title, 60),
        }
    }

    /// What keeps it safe.
    pub fn care(&self) -> &OpenLesson {
        &self.care
    }

    /// What keeps it safe, to be changed.
    pub fn care_mut(&mut self) -> &mut OpenLesson {
        &mut self.care
    }

    /// A lesson that has no file yet.
    pub fn new(file: LessonFile, id: DocumentId, past: Arc<[PastBake]>) -> Self {
        let mut doc = Self::of((file, None), "", None, id, past);
        doc.understand();
        doc
    }

    fn of(
        (file, told): (LessonFile, Option<Told>),
        text: &str,
        path: Option<&Path>,
        id: DocumentId,
        past: Arc<[PastBake]>,
    ) -> Self {
        let file = with_whole_paths(file, path);
        Self {
            path: path.map(Path::to_path_buf),
            is_sample: false,
            warnings: Vec::new(),
            to_do: Vec::new(),
            revision: Revision::first(id),
            changed: false,
            past,
            lesson: None,
            saved: Some(file.clone()),
            own_id: file.id.clone(),
            file,
            kept: KeptPlan::opened(told),
            text: Arc::from(text.strip_prefix('\u{feff}').unwrap_or(text)),
            undo: Undo::default(),
            care: OpenLesson::of_new(&Safekeeping::default()),
        }
    }

    /// Works out the lesson its file says, or what keeps it from being one.
    fn understand(&mut self) {
        let read = file::lesson_or_findings(&self.file, &self.past);
        self.is_read_as(read);
    }

    fn is_read_as(&mut self, (lesson, findings): Read) {
        self.lesson = lesson.map(Arc::new);
        (self.warnings, self.to_do) =
            if self.lesson.is_some() { (findings, Vec::new()) } else { (Vec::new(), findings) };
    }

    /// Which document it is.
    pub fn id(&self) -> DocumentId {
        self.revision.document()
    }

    /// Its state now: another one after every change.
    pub fn revision(&self) -> Revision {
        self.revision
    }

    /// Whether the lesson's own file has the plan of the lesson as it now is.
    pub(super) fn is_plan_on_file(&self) -> bool {
        self.kept.on_file.is_some() && self.kept.on_file == self.kept.text
    }

    /// The plan of the lesson as it now is, if one was shown or is kept with it.
    pub(super) fn plan(&self) -> Option<&Arc<CheckedPlan>> {
        self.kept.plan.as_ref()
    }

    /// This is the plan of the lesson as it now is: it goes where the lesson is
    /// saved, and undo comes back to it.
    pub(super) fn has_plan(&mut self, plan: Arc<CheckedPlan>) {
        let Some(lesson) = &self.lesson else { return };
        let other = self.kept.becomes(lesson, plan);
        let may_write = self.care.read_only().is_none();
        self.changed |= other && may_write && !self.kept.is_as_on_file();
        if other && self.changed {
            self.copy();
        }
    }

    /// Reads the plan that came with the lesson's file, if that is still to be
    /// done; why it no longer holds, if it does not.
    pub(super) fn read_plan(&mut self) -> Option<Box<NoLonger>> {
        self.lesson.as_ref().and_then(|lesson| self.kept.read(lesson))
    }

    /// The file and plan before what is being typed, if anything is and there was
    /// a plan.
    pub(super) fn before_what_is_typed(&self) -> Option<(LessonFile, Arc<CheckedPlan>)> {
        self.undo.before_what_is_typed()
    }

    /// The plan that the lesson had when it was as it is now, some changes ago.
    pub(super) fn plan_as_it_was(&self) -> Option<Arc<CheckedPlan>> {
        self.undo.plan_of(&self.file)
    }

    /// Has no plan any more, as one change that undo takes back.
    pub(super) fn plan_goes(&mut self, label: String) {
        let _ = self.read_plan();
        self.undo.made(label, self.file.clone(), self.kept.plan.take(), None);
        self.changed |= self.care.read_only().is_none();
        self.revision = self.revision.next();
    }

    /// The lesson's file as it is written to a path, with its plan.
    fn written(&self, path: Option<&Path>) -> LessonFile {
        let file = LessonFile { told: self.kept.text.clone(), ..self.file.clone() };
        match path {
            Some(path) => with_pointers(file, |of| of.moved(path, path.parent())),
            None => file,
        }
    }

    /// Keeps a copy of it as it now is.
    fn copy(&mut self) {
        let file = self.written(self.path.as_deref());
        self.care.changed(&self.text, &file);
    }

    /// The lesson, if the file is one that can be planned.
    pub fn lesson(&self) -> Option<&Arc<Lesson>> {
        self.lesson.as_ref()
    }

    /// Makes a change.
    ///
    /// # Errors
    /// If it is refused; the lesson stays as it was.
    pub fn apply(&mut self, change: &dyn FileChange) -> Result<(), Vec<Finding>> {
        self.may_change()?;
        let file = change.made(&self.file).map_err(|why| vec![why])?;
        match change.field() {
            Some(field) => self.enter(change.label(), file, field),
            None => self.change_to(change.label(), file),
        }
    }

    /// Becomes another file, as one change that can be undone. A lesson that
    /// can be planned stays one; a draft may stay a draft.
    ///
    /// # Errors
    /// If that is no lesson while this is one; it stays as it was.
    pub fn change_to(&mut self, label: String, file: LessonFile) -> Result<(), Vec<Finding>> {
        self.may_change()?;
        let read = file::lesson_or_findings(&file, &self.past);
        if read.0.is_none() && self.lesson.is_some() {
            return Err(read.1);
        }
        self.make(label, file, read, None);
        Ok(())
    }

    fn may_change(&self) -> Result<(), Vec<Finding>> {
        let Some(reason) = self.care.read_only() else { return Ok(()) };
        let message = NotSaved::ReadOnly(format!("The lesson may only be read: {reason}"));
        Err(vec![Finding::error("read-only", Where::root(), format!("{message}."))])
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
        let read = file::lesson_or_findings(&file, &self.past);
        let in_field = |f: &&Finding| f.severity == Severity::Error && f.path.0.starts_with(&at.0);
        let new = |f: &&Finding| !self.to_do.contains(f);
        let wrong: Vec<Finding> = read.1.iter().filter(in_field).filter(new).cloned().collect();
        if !wrong.is_empty() && !at.0.is_empty() {
            return Err(wrong);
        }
        self.make(label, file, read, typing.then(|| at.to_string()));
        Ok(())
    }

    fn make(&mut self, label: String, mut file: LessonFile, read: Read, typing: Option<String>) {
        if file == self.file {
            self.undo.still(typing.as_deref(), label);
            return;
        }
        // What came with the file is a plan of the lesson before; that it no
        // longer held is of no more interest.
        let _ = self.read_plan();
        // No plan goes by what the teacher notes, what labels say, or what is told of groups.
        let is_said = differ_in_what_is_said(&mut self.file, &mut file);
        let before = std::mem::replace(&mut self.file, file);
        let plan = if is_said { self.kept.plan.clone() } else { self.kept.plan.take() };
        self.undo.made(label, before, plan, typing);
        self.is_another(read);
    }

    fn is_another(&mut self, read: Read) {
        self.file.id.clone_from(&self.own_id);
        self.is_read_as(read);
        self.revision = self.revision.next();
        // Gone back to what is saved, it is saved, and needs no copy.
        let is_saved = self.saved.as_ref() == Some(&self.file);
        self.changed = !is_saved || self.care.discard().is_err();
        if !is_saved {
            self.copy();
        }
    }

    /// The lesson's file as it now is.
    pub fn file(&self) -> &LessonFile {
        &self.file
    }

    /// The file before what is being typed in a field, if anything is.
    pub fn before_typing(&self, at: &Where) -> Option<LessonFile> {
        self.undo.before_typing(&at.to_string())
    }

    /// Takes back what is being typed in a field, as if it had not been;
    /// whether there was anything.
    pub fn untype(&mut self, at: &Where) -> bool {
        let Some(before) = self.undo.untype(&at.to_string()) else { return false };
        (self.file, self.kept.plan) = before;
        self.is_another(file::lesson_or_findings(&self.file, &self.past));
        true
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
        let read = file::lesson_or_findings(&self.file, &past);
        if read.0.is_none() && self.lesson.is_some() {
            return Err(read.1);
        }
        self.past = past;
        self.is_read_as(read);
        self.revision = self.revision.next();
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
            let now = self.goes_to(before);
            self.undo.went_back(now);
            self.is_another(file::lesson_or_findings(&self.file, &self.past));
        }
    }

    /// Makes the change taken back last again.
    pub fn redo(&mut self) {
        if let Some(after) = self.undo.after() {
            let now = self.goes_to(after);
            self.undo.went_again(now);
            self.is_another(file::lesson_or_findings(&self.file, &self.past));
        }
    }

    fn goes_to(&mut self, (file, plan): WithPlan) -> WithPlan {
        let _ = self.read_plan();
        (std::mem::replace(&mut self.file, file), std::mem::replace(&mut self.kept.plan, plan))
    }

    /// Saves the lesson to its own file, keeping what was there as `.bak`, and
    /// the comments and the layout of the text it was read from. What could
    /// not be put away is told.
    ///
    /// # Errors
    /// Why not; the lesson stays unsaved.
    pub fn save(&mut self, over: Over) -> Result<Option<String>, NotSaved> {
        self.learn_id_pointed_to();
        let file = self.written(self.path.as_deref());
        let saved = self.care.save(&self.text, &file, over)?;
        Ok(self.is_saved(saved))
    }

    /// Saves the lesson to another file, which becomes its own. Another file is
    /// another lesson: the id stays with the one before.
    ///
    /// # Errors
    /// Why not; the lesson stays unsaved.
    pub fn save_as(&mut self, path: &Path, over: Over) -> Result<Option<String>, NotSaved> {
        self.learn_id_pointed_to();
        let mut file = self.written(Some(path));
        if self.path.is_some() && !self.care.is_of(path) {
            file.id = None;
        }
        let saved = self.care.save_as(path, &self.text, &file, over)?;
        self.path = Some(path.to_path_buf());
        self.file.id.clone_from(&file.id);
        self.own_id = file.id;
        Ok(self.is_saved(saved))
    }

    /// The lesson this is the day of is pointed to by its id as well as by its
    /// path; one that has none yet is given one.
    fn learn_id_pointed_to(&mut self) {
        let of = self.file.today.as_mut().and_then(|today| today.of.as_mut());
        if let Some(of) = of.filter(|of| of.id.is_none()) {
            of.id = self.care.id_of(Path::new(&of.file)).map(|id| id.to_string());
        }
    }

    fn is_saved(&mut self, saved: Saved) -> Option<String> {
        self.text = Arc::from(saved.text);
        self.kept.is_saved();
        self.saved = Some(self.file.clone());
        self.is_sample = false;
        self.changed = false;
        saved.told
    }

    /// The changes that are not saved may be lost; their copies go.
    ///
    /// # Errors
    /// Which copy is still there, in words.
    pub fn lose_changes(&mut self) -> Result<(), String> {
        self.changed = false;
        self.care.discard()
    }

    /// Reads its file again, as one change: undo goes back to the lesson as it
    /// was here.
    ///
    /// # Errors
    /// What is wrong with the file; the lesson stays as it was.
    pub fn read_again(&mut self) -> Result<(), Vec<Finding>> {
        self.may_change()?;
        let text = self.care.read_again().map_err(|finding| vec![finding])?;
        let mut file = file::read_lesson_shapes(&text)?;
        let told = Told::taken_from(&mut file, &text);
        self.text = Arc::from(text.strip_prefix('\u{feff}').unwrap_or(&text));
        self.kept.on_file = told.as_ref().map(|told| told.text().clone());
        let file = with_whole_paths(file, self.path.as_deref());
        self.saved = Some(file.clone());
        self.become_as_read("reading the file again".to_owned(), file, told);
        // What was changed here is unsaved as soon as it is gone back to.
        self.changed = self.care.discard().is_err();
        Ok(())
    }

    /// Clears the class out of the lesson and whatever is kept of it, undo
    /// included. What still holds something of it is told, a sentence each.
    ///
    /// # Errors
    /// Why nothing was cleared, in words.
    pub fn clear_class(&mut self, own: &OwnLibrary) -> Result<Vec<String>, String> {
        let before = self.written(self.path.as_deref());
        let Cleared { file, text, is_saved, remains } = self.care.clear(&before, own)?;
        self.file = with_whole_paths(file, self.path.as_deref());
        self.text = Arc::from(text);
        self.undo = Undo::default();
        self.kept = KeptPlan::default();
        self.understand();
        self.saved = is_saved.then(|| self.file.clone());
        self.changed = !is_saved;
        self.revision = self.revision.next();
        Ok(remains)
    }
}

/// Whether two files differ in nothing but the teacher's notes, how ingredients are
/// bought and the log of the day; they stay as they are.
fn differ_in_what_is_said(one: &mut LessonFile, other: &mut LessonFile) -> bool {
    let take = |file: &mut LessonFile| {
        let log = file.today.as_mut().map(|today| std::mem::take(&mut today.happened));
        (std::mem::take(&mut file.teacher), std::mem::take(&mut file.packets), log)
    };
    let give = |file: &mut LessonFile, (notes, packets, log)| {
        (file.teacher, file.packets) = (notes, packets);
        if let (Some(today), Some(log)) = (&mut file.today, log) {
            today.happened = log;
        }
    };
    let (of_one, of_other) = (take(one), take(other));
    let is_all = one == other;
    give(one, of_one);
    give(other, of_other);
    is_all
}

/// A lesson's file with its pointers changed.
fn with_pointers(
    mut file: LessonFile,
    change: impl Fn(&PointerShape) -> PointerShape,
) -> LessonFile {
    if let Some(of) = file.today.as_mut().and_then(|today| today.of.as_mut()) {
        *of = change(of);
    }
    file
}

/// A file as it is worked on: with pointers that lead to the same place wherever
/// it is saved.
fn with_whole_paths(file: LessonFile, path: Option<&Path>) -> LessonFile {
    let folder = path.and_then(Path::parent).map(Path::to_path_buf).unwrap_or_default();
    with_pointers(file, |of| of.moved(&folder, None))
}
