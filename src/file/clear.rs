//! Clearing a class out of a lesson: what is said of particular pupils goes,
//! from the lesson and from every place where the program keeps a copy of it.

use std::io;
use std::path::Path;
use std::sync::Arc;

use super::format::{GroupShape, LessonFile, TeacherNoteShape};
use super::load::LARGEST_FILE;
use super::open_lesson::{NotSaved, OpenLesson};
use super::own_library::{LibraryShelf, OwnLibrary};
use super::plain_words::{Doing, why};
use super::save::write_lesson;
use super::strays::sweep;
use super::understand::names::expand;
use super::write::backup_path;

/// More groups alike than a lesson may have; a count beyond it is reported.
const MOST_ALIKE: i64 = 60;

/// The particulars of pupils that would go, a short phrase each, for the
/// question before.
pub fn what_goes(file: &LessonFile) -> Vec<String> {
    let count = |n: usize, one: &str, more: &str| match n {
        0 => None,
        1 => Some(format!("1 {one}")),
        n => Some(format!("{n} {more}")),
    };
    let groups = &file.groups;
    let needs = groups.iter().filter(|g| !g.needs.is_empty()).count();
    let paces = groups.iter().filter(|g| g.pace.is_some()).count();
    let apart = groups.iter().filter(|g| g.keep_apart).count();
    let adults: Vec<&str> =
        file.adults.iter().filter(|a| a.only_for.is_some()).map(|a| a.name.as_str()).collect();
    let notes = file.teacher.iter().filter(|note| is_on_group(file, note)).count();
    let name = &file.class.name;
    [
        (!name.is_empty()).then(|| format!("the class's name, {name}")),
        count(needs, "group's needs", "groups' needs"),
        count(paces, "group's pace", "groups' paces"),
        count(apart, "group's being kept apart", "groups' being kept apart"),
        (!adults.is_empty()).then(|| format!("adults for one group only: {}", adults.join(", "))),
        count(notes, "note of yours on a group", "notes of yours on groups"),
    ]
    .into_iter()
    .flatten()
    .collect()
}

/// Whether a note hangs on what a group does.
fn is_on_group(file: &LessonFile, note: &TeacherNoteShape) -> bool {
    let count =
        |g: &GroupShape| g.count.map(|n| u32::try_from(n.min(MOST_ALIKE)).unwrap_or_default());
    let mut names = file.groups.iter().flat_map(|g| expand(&g.name, count(g)));
    names.any(|name| note.step_of(&name, file).is_some())
}

/// The lesson without what is said of particular pupils. Recipes, room, bells,
/// names and sizes of groups stay, and so do the teacher's notes that do not hang on
/// a group.
pub fn cleared(file: &LessonFile) -> LessonFile {
    let mut file = file.clone();
    file.class.name = String::new();
    // It was made for the paces and adults that go.
    file.told = None;
    let notes = std::mem::take(&mut file.teacher);
    file.teacher = notes.into_iter().filter(|note| !is_on_group(&file, note)).collect();
    for group in &mut file.groups {
        group.needs = Vec::new();
        group.pace = None;
        group.keep_apart = false;
    }
    let gone: Vec<String> =
        file.adults.iter().filter(|a| a.only_for.is_some()).map(|a| a.name.clone()).collect();
    file.adults.retain(|a| a.only_for.is_none());
    // They may have been named by a step of the class, or for the ovens.
    for period in file.periods_mut() {
        gone.iter().for_each(|adult| period.without_adult(adult));
    }
    file
}

/// A lesson that was cleared of particular pupils.
#[derive(Debug, Clone, PartialEq)]
pub struct Cleared {
    /// The lesson without them.
    pub file: LessonFile,
    /// Its text.
    pub text: String,
    /// Its own file has it.
    pub is_saved: bool,
    /// Places that still hold something of the class, a sentence each.
    pub remains: Vec<String>,
}

impl OpenLesson {
    /// Clears a class out of the lesson's file, its `.bak`, the copies of its
    /// unsaved changes and the user's own library. The file is written afresh,
    /// without comments.
    ///
    /// # Errors
    /// Why nothing at all was cleared, in words.
    pub fn clear(&mut self, file: &LessonFile, own: &OwnLibrary) -> Result<Cleared, String> {
        if let Some(reason) = self.read_only() {
            return Err(NotSaved::ReadOnly(reason.to_owned()).to_string());
        }
        let afresh = cleared(file);
        let text = write_lesson(&afresh).map_err(|error| error.to_string())?;
        // First of all, so that what was not saved before is in it.
        let has_file = self.parts().1.is_some();
        let refused = self.write_afresh(&text);
        let is_saved = has_file && refused.is_none();
        if is_saved {
            self.stop_copies();
        } else {
            self.changed(&Arc::from(text.as_str()), &afresh);
            self.flush();
        }
        let mut remains: Vec<String> = refused.into_iter().collect();
        self.forget_class((&text, is_saved), &mut remains);
        let name = &file.class.name;
        if !name.trim().is_empty()
            && let Err(error) = own.remove(LibraryShelf::Classes, name)
        {
            remains.push(format!("The class kept in your own library is still there: {error}."));
        }
        Ok(Cleared { file: afresh, text, is_saved, remains })
    }

    /// Clears away the file as it was before, and copies that say something
    /// else than the lesson does now.
    fn forget_class(&mut self, (text, is_saved): (&str, bool), remains: &mut Vec<String>) {
        let (keeping, path, copies) = self.parts();
        let disk = &keeping.disk;
        let mut remove = |path: &Path, what: &str| match disk.remove(path) {
            Err(error) if error.kind() != io::ErrorKind::NotFound => {
                let reason = why(&error, Doing::Writing(path));
                remains.push(format!("{what}, {}, is still there: {reason}.", path.display()));
            }
            _ => {}
        };
        for copy in copies {
            let read = disk.read(&copy, LARGEST_FILE);
            let is_new = read.is_ok_and(|bytes| bytes.ends_with(text.as_bytes()));
            if is_saved || !is_new {
                remove(&copy, "The copy of unsaved changes");
            }
        }
        if let Some(path) = path {
            remove(&backup_path(path), "The file as it was before");
            sweep(&**disk, path);
        }
    }

    /// Writes the lesson's file, with nothing of it kept; why that failed.
    fn write_afresh(&mut self, new: &str) -> Option<String> {
        self.parts().1?;
        let told = |words: String| Some(format!("The lesson's file still has the class: {words}."));
        match self.overwrite(new.as_bytes()) {
            Ok(()) => None,
            Err(NotSaved::ChangedOnDisk) => {
                told("another program has changed it since it was read; read it again first".into())
            }
            Err(problem) => told(problem.to_string()),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::format::{AdultShape, ClassShape, PeriodShape};
    use super::super::format::{ClassStepShape, StatedMinutes};
    use super::*;

    fn lesson() -> LessonFile {
        let adult = |name: &str, only_for: Option<&str>| AdultShape {
            name: name.into(),
            only_for: only_for.map(str::to_owned),
            ..AdultShape::default()
        };
        let step = ClassStepShape {
            name: "demo".into(),
            minutes: StatedMinutes::Usual(5.0),
            adults: vec!["helper".into(), "teacher".into()],
            at: None,
            between: None,
            before_closing: None,
            may_be_dropped: None,
        };
        let note = |at: &str| TeacherNoteShape { at: at.into(), ..TeacherNoteShape::default() };
        LessonFile {
            title: "Scones".into(),
            class: ClassShape { name: "8 Harbour".into(), ..ClassShape::default() },
            period: PeriodShape { opening: vec![step], ..PeriodShape::default() },
            adults: vec![adult("teacher", None), adult("helper", Some("Unit 2"))],
            teacher: ["demo", "load Oven 2", "load Unit 2"].map(note).into(),
            groups: vec![GroupShape {
                name: "Unit 2".into(),
                pupils: Some(3),
                pace: Some(1.5),
                keep_apart: true,
                needs: vec!["made without egg".into()],
                left_out: true,
                ..GroupShape::default()
            }],
            ..LessonFile::default()
        }
    }

    #[test]
    fn what_is_said_of_pupils_goes_and_the_rest_stays() {
        let file = cleared(&lesson());
        assert_eq!(file.adults.len(), 1);
        assert_eq!(file.period.opening[0].adults, ["teacher"]);
        assert!(file.class.name.is_empty() && file.title == "Scones");
        let stays = GroupShape {
            name: "Unit 2".into(),
            pupils: Some(3),
            left_out: true,
            ..GroupShape::default()
        };
        assert_eq!(file.groups, [stays]);
        let notes: Vec<&str> = file.teacher.iter().map(|note| note.at.as_str()).collect();
        assert_eq!(notes, ["demo", "load Oven 2"], "what is said of a group goes");
        assert!(what_goes(&file).is_empty());
    }

    #[test]
    fn the_question_names_everything() {
        let words = what_goes(&lesson()).join("; ");
        let expected = "the class's name, 8 Harbour; 1 group's needs; 1 group's pace; 1 group's \
                        being kept apart; adults for one group only: helper; 1 note of yours on a group";
        assert_eq!(words, expected);
    }
}
