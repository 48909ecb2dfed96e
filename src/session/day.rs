//! The day on which a lesson is taught: a copy of the lesson, what happens on
//! the day, and a plan in which the others keep their times.

use std::path::{Path, PathBuf};
use std::slice;
use std::sync::Arc;

use super::{Document, Event, Leaving, Planned, Question, Session};
use crate::edit::FileChange;
use crate::file::format::{LessonFile, PointerShape};
use crate::file::safe_name::safe_name;
use crate::file::{LARGEST_FILE, Target, read_lesson_shapes};
use crate::today::{
    BakesTold, Happening, differences, happens, happens_during, may_happen_during, start_of_day,
};

/// What is known of the day.
#[derive(Default)]
pub(super) struct Day {
    /// The plan before what happened last, which later plans of the day keep to.
    before: Option<Planned>,
    /// What has changed since then, in sentences.
    pub changed: Vec<String>,
    /// Something happened in mid-lesson that is not in the file yet.
    pub unwritten: bool,
}

impl Session {
    /// Whether the document is a copy for the day.
    pub fn is_today(&self) -> bool {
        self.doc.as_ref().is_some_and(|d| d.file().today.is_some())
    }

    /// What has changed by what happened last, in sentences.
    pub fn changed_today(&self) -> &[String] {
        &self.day.changed
    }

    /// Shows the day. A document that is not yet a copy for the day gives way to
    /// such a copy, the one there is or a new one, after a question if changes
    /// would be lost.
    pub(super) fn show_today(&mut self) {
        if self.is_today() {
            self.events.push(Event::ShowDay);
        } else if self.doc.as_ref().is_some_and(|d| d.lesson().is_some()) {
            self.leave(Leaving::Today);
        }
    }

    /// The copy for the day that is there already, for the lesson in a file.
    fn day_begun(&self, lesson: &Path) -> Option<PathBuf> {
        let copy = self.copy_for_the_day(lesson);
        let disk = &self.keeping.safe.disk;
        let text = String::from_utf8(disk.read(&copy, LARGEST_FILE).ok()?).ok()?;
        let today = read_lesson_shapes(&text).ok()?.today?;
        let folder = copy.parent().unwrap_or(Path::new(""));
        let is_of = |of: &PointerShape| of.path(folder) == disk.resolved(lesson);
        today.of.as_ref().is_none_or(is_of).then_some(copy)
    }

    /// Where the copy for the day of the lesson on screen is kept, beside the
    /// lesson's own file and named after it.
    pub(super) fn copy_for_the_day(&self, lesson: &Path) -> PathBuf {
        let date = self.doc.as_ref().and_then(|d| d.file().date.clone());
        let date = safe_name(&date.unwrap_or_else(|| self.clock.today().to_string()));
        let name = lesson.file_stem().unwrap_or_default().to_string_lossy();
        // Many lessons are called after their date.
        let of_day = if name.ends_with(&date) { "day" } else { &date };
        lesson.with_file_name(format!("{name} {of_day}.ron"))
    }

    /// The lesson this is the day of.
    pub(super) fn lesson_of_day(&self) -> Option<&PointerShape> {
        self.doc.as_ref()?.file().today.as_ref()?.of.as_ref()
    }

    /// Whether the document is a copy for the day that says of which lesson.
    pub fn knows_its_lesson(&self) -> bool {
        self.lesson_of_day().is_some()
    }

    /// Goes to the lesson this is the day of. Where that was moved and is found,
    /// it is asked whether to use it.
    pub(super) fn go_to_lesson(&mut self) {
        let Some(of) = self.lesson_of_day().cloned() else { return };
        // Below the copy's own folder, or the lesson's while the copy has none.
        let path = self.doc.as_ref().and_then(|d| d.path.clone());
        let path = path.unwrap_or_else(|| PathBuf::from(&of.file));
        let folder = path.parent().unwrap_or(Path::new(""));
        let target = of.leads(&*self.keeping.safe.disk, folder);
        match target {
            Target::There { file, .. } => self.leave(Leaving::Open(file)),
            Target::Found(file) => {
                let shown = PointerShape::to(&file, Some(folder), None).map(|to| to.file);
                let shown = shown.unwrap_or_else(|| file.display().to_string());
                self.questions.before_writing = Some(Question::Found(file, shown));
            }
            Target::Several(_) | Target::Nowhere => {
                let doubt = target.doubt(&of, Default::default(), folder);
                self.tell(doubt.map_or(String::new(), |d| format!("{}: {}.", d.message, d.hint)));
            }
        }
    }

    /// This is the day of the lesson in that file.
    pub(super) fn use_lesson(&mut self, file: &Path) {
        let Some(doc) = &mut self.doc else { return };
        let mut changed = doc.file().clone();
        let Some(of) = changed.today.as_mut().and_then(|today| today.of.as_mut()) else { return };
        let Some(there) = PointerShape::to(file, None, of.id.clone()) else { return };
        *of = there;
        let label = "another place of its lesson".to_owned();
        match doc.change_to(label.clone(), changed) {
            Ok(()) => self.changed(&label),
            Err(findings) => self.tell(format!("Not done: {}.", super::first_of(&findings))),
        }
    }

    /// The lesson on screen becomes a copy for the day, with the same plan; one
    /// that was begun before is gone on with.
    pub(super) fn begin_day(&mut self) {
        let Some(doc) = &self.doc else { return };
        if let Some(copy) = doc.path.as_deref().and_then(|lesson| self.day_begun(lesson)) {
            self.open(&copy);
            if self.is_today() {
                self.events.push(Event::ShowDay);
            }
            return;
        }
        let plan = self.at_hand().map(|(_, _, plan)| Arc::clone(plan));
        let mut file = start_of_day(doc.file());
        if let (Some(lesson), Some(today)) = (&doc.path, &mut file.today) {
            today.of = PointerShape::to(lesson, None, doc.file().id.clone());
        }
        file.date.get_or_insert_with(|| self.clock.today().to_string());
        let id = self.next_id();
        let (past, told) = self.past_bakes();
        let mut day = Document::new(file, id, past);
        if let Some(plan) = plan {
            day.has_plan(plan);
        }
        self.show_document(day, told);
        self.events.push(Event::ShowDay);
    }

    /// Something happens on the day. Once somebody has begun that is presumed to go on
    /// as planned, or later where it was told so.
    pub(super) fn happened(&mut self, what: &Happening) {
        let at = self.clock.time_of_that_day();
        let told = self.planned.as_ref().map(|is| (&*is.lesson, &*is.plan));
        let begun = told.and_then(|told| Some((told, self.presumed_by(told)?.0)));
        let slips = told.and_then(|told| self.begun(told)).map_or(Vec::new(), |(_, slips)| slips);
        let Some(doc) = &self.doc else { return };
        let made = match begun {
            Some((told, now)) => may_happen_during(told, &slips, slice::from_ref(what), now)
                .and_then(|()| happens_during(doc.file(), what, now, &doc.past))
                .and_then(|day| BakesTold { told, slips: &slips }.made(&day)),
            None => happens(doc.file(), what, at, &doc.past),
        };
        let Some(doc) = &mut self.doc else { return };
        let made: Result<LessonFile, _> = made.map_err(|finding| vec![finding]);
        match made.and_then(|file| doc.change_to(what.label(), file)) {
            Ok(()) => {
                self.changed(&what.label());
                self.write_the_day_when_planned();
            }
            Err(findings) => {
                let why = findings.first().map(|f| match f.hint.as_str() {
                    "" => f.message.clone(),
                    hint => format!("{}: {hint}", f.message),
                });
                self.tell(format!("Not done: {}.", why.unwrap_or_default()));
            }
        }
    }

    /// What changes from here on is told, if the document is a copy for the day.
    pub(super) fn begin_to_tell_the_day(&mut self) {
        if self.is_today() {
            self.day.before.clone_from(&self.planned);
            self.day.changed.clear();
        }
    }

    /// A plan of the day has come.
    pub(super) fn heard_of_day(&mut self) {
        if let (Some(was), Some(is)) = (&self.day.before, &self.planned) {
            let (before, after) = ((&*was.lesson, &*was.plan), (&*is.lesson, &*is.plan));
            self.day.changed = differences(before, after).sentences();
        }
    }
}
