//! Weeks begun, and lessons put into them.

use std::path::{Path, PathBuf};
use std::sync::Arc;

use chrono::{Days, NaiveDate, Weekday};

use super::super::saving::free;
use super::super::{Document, Leaving};
use super::Session;
use crate::file::format::{LessonFile, PointerShape, WeekFile};
use crate::file::save_week_as;
use crate::week::{
    Change, begun, pointer_to, text_of, to_put_in, week_after, where_and_when, with_lesson,
};

impl Session {
    /// The lesson on screen, if a week may begin with it: the sample is nobody's.
    fn to_begin_with(&self) -> Option<&Document> {
        self.doc.as_ref().filter(|doc| !self.weeks.shown && !doc.is_sample)
    }

    /// The day whose week is begun: that of the lesson it begins with, else the next Monday, as a
    /// week that has begun is past planning.
    fn day_of_new_week(&self) -> NaiveDate {
        let of_lesson = self.to_begin_with().and_then(|doc| doc.file().date.clone());
        let of_lesson =
            of_lesson.and_then(|date| NaiveDate::parse_from_str(&date, "%Y-%m-%d").ok());
        let today = self.today();
        let monday = today.week(Weekday::Mon).first_day();
        let next = monday.checked_add_days(Days::new(7)).filter(|_| monday != today);
        of_lesson.or(next).unwrap_or(monday)
    }

    /// A path that a dialog or field starts from where a week is to be begun, after the
    /// one on screen if `after`.
    pub fn likely_week(&self, after: bool, last: Option<&Path>) -> PathBuf {
        let next = self.weeks.open.as_ref().filter(|_| after);
        let next = next.and_then(|week| week_after(week.shapes())).map(|file| file.week);
        let monday = self.day_of_new_week().week(Weekday::Mon).first_day();
        let name = format!("week {}.ron", next.unwrap_or_else(|| monday.to_string()));
        free(&self.likely_path(true, last).with_file_name(name))
    }

    /// Begins a week in a new file, with the bells, the room and the file of the lesson on
    /// screen, and opens it.
    pub(super) fn begin_week(&mut self, path: &Path) {
        let path = with_ending(path);
        let nothing = LessonFile::default();
        let doc = self.to_begin_with();
        let lesson = doc.map_or(&nothing, |doc| doc.file());
        let mut week = begun(self.day_of_new_week(), lesson);
        // A copy for the day is no lesson of a week, nor is what has no file yet.
        let file = doc.and_then(|doc| doc.path.clone()).filter(|_| lesson.today.is_none());
        // Nothing is written behind the back of what is open: it has the id it has.
        let pointer = |file: PathBuf| PointerShape::to(&file, path.parent(), lesson.id.clone());
        if let Some(pointer) = file.and_then(pointer) {
            week = with_lesson(&week, lesson, pointer);
        }
        self.write_week(&path, &week);
    }

    /// Writes the week after the one on screen to a new file, and opens it.
    pub(super) fn begin_week_after(&mut self, path: &Path) {
        let path = with_ending(path);
        let Some(open) = &self.weeks.open else { return };
        if path.parent() != Some(open.folder()) {
            let words = "a week finds its lessons from its own folder: choose a name there";
            self.tell(format!("Not written to {}: {words}.", path.display()));
            return;
        }
        if let Some(next) = week_after(open.shapes()) {
            self.write_week(&path, &next);
        }
    }

    fn write_week(&mut self, path: &Path, week: &WeekFile) {
        let folder = path.parent().unwrap_or(Path::new("."));
        let written = text_of(week, folder)
            .and_then(|text| save_week_as(path, &text).map_err(|why| why.to_string()));
        match written {
            Ok(()) => self.leave(Leaving::Open(path.to_path_buf())),
            Err(why) => self.tell(format!("Not written to {}: {why}.", path.display())),
        }
    }

    /// Puts the lessons of files into the week that is open, each as one step of undo. A
    /// week's file is opened instead.
    pub(super) fn add_to_week(&mut self, paths: &[PathBuf]) {
        if let Some(week) = paths.iter().find(|path| self.is_week(path)) {
            self.leave(Leaving::Open(week.clone()));
            return;
        }
        self.message = None;
        for path in paths {
            if let Err(why) = self.add_one_to_week(path) {
                self.tell_more([format!("Not put in: {}: {why}.", path.display())]);
            }
        }
    }

    fn add_one_to_week(&mut self, path: &Path) -> Result<(), String> {
        let Some(week) = self.weeks.open.as_ref().map(|week| week.path().to_path_buf()) else {
            return Err("no week is open".to_owned());
        };
        let file = to_put_in(path)?;
        let open = self.doc.as_ref().filter(|doc| doc.path.as_deref() == Some(path));
        let pointer = match open {
            // Nothing is written behind the back of what is open: it has the id it has.
            Some(_) => PointerShape::to(path, week.parent(), file.id.clone())
                .ok_or("its name cannot be written as a path")?,
            None => {
                let disk = Arc::clone(&self.keeping.safe.disk);
                pointer_to(&disk, (path, &file), &week)?
            }
        };
        let was_known = file.id.is_some() || pointer.id.is_none();
        if self.make(&Change::Add(Box::new((file, pointer)))) {
            self.tell_where_put(was_known);
        }
        Ok(())
    }

    /// Tells where the lesson that was just put in is, and whether its file was given an id.
    fn tell_where_put(&mut self, was_known: bool) {
        let Some(week) = self.weeks.open.as_ref().map(|week| week.week()) else { return };
        let Some(entry) = week.entries.last() else { return };
        let twice = week.twice(Some(entry.slot.date)).into_iter();
        let twice = twice.filter(|of| of.one == entry.number).map(|of| format!(" {}.", of.words));
        let id = if was_known { "" } else { " Its file was given an id, to be found by." };
        let place = where_and_when(week, &entry.slot);
        let words = format!("Put in: {}, {place}.{}{id}", entry.title(), twice.collect::<String>());
        self.tell_more([words]);
    }
}

/// The whole path of a week's file that was asked for by name.
pub(super) fn with_ending(path: &Path) -> PathBuf {
    let path = match path.extension() {
        Some(_) => path.to_path_buf(),
        None => path.with_extension("ron"),
    };
    std::path::absolute(&path).unwrap_or(path)
}
