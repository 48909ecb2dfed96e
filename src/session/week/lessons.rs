//! A lesson opened from its week: what the week says of it, and how the lesson takes
//! that over.

use std::path::PathBuf;

use super::super::{Leaving, first_of};
use super::{Session, WeekDocument};
use crate::file::format::LessonFile;
use crate::view::words::list;
use crate::week::{Entry, EntryNo, put, where_and_when};

/// A lesson that was opened from the week.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OfWeek {
    /// Its entry there.
    pub entry: EntryNo,
    /// Its file.
    path: PathBuf,
}

impl WeekDocument {
    /// The file of a lesson of the week.
    pub fn file_of(&self, entry: EntryNo) -> Option<PathBuf> {
        let taught = self.week().entry(entry)?.lesson()?;
        Some(self.folder().join(&taught.file))
    }

    /// "8A, Thursday P3, Room 1, 11:20 to 12:20".
    fn when(&self, entry: &Entry) -> String {
        let slot = &entry.slot;
        let bells = format!("{} to {}", slot.start(), slot.end());
        let place = where_and_when(self.week(), slot);
        // A period may be called by its bells.
        let times = if place.contains(&bells) { String::new() } else { format!(", {bells}") };
        let class =
            if entry.class.is_empty() { String::new() } else { format!("{}, ", entry.class) };
        format!("{class}{place}{times}")
    }
}

/// What of a lesson a week has otherwise, in a few words each.
fn differs(own: &LessonFile, there: &LessonFile) -> Vec<String> {
    let bells = |file: &LessonFile| -> Vec<(String, String)> {
        file.periods().map(|period| (period.start.clone(), period.end.clone())).collect()
    };
    let rooms = |file: &LessonFile| file.rooms().cloned().collect::<Vec<_>>();
    let mut without = there.clone();
    without.date.clone_from(&own.date);
    without.periods_mut().zip(own.periods()).for_each(|(to, from)| *to = from.clone());
    without.rooms_mut().zip(own.rooms()).for_each(|(to, from)| *to = from.clone());
    let all = [
        ("another date", own.date != there.date),
        ("other bells", bells(own) != bells(there)),
        ("another room, or other ovens or kit in it", rooms(own) != rooms(there)),
        ("other shared kit, adults or tins", without != *own),
    ];
    all.into_iter().filter(|(_, is)| *is).map(|(words, _)| words.to_owned()).collect()
}

impl Session {
    pub(super) fn open_lesson_of_week(&mut self, entry: EntryNo) {
        let Some(week) = &self.weeks.open else { return };
        let Some(path) = week.file_of(entry) else { return };
        let of = OfWeek { entry, path: path.clone() };
        let is_open = self.doc.as_ref().and_then(|doc| doc.path.as_deref()) == Some(&*path);
        self.weeks.of_week = Some(of);
        if is_open {
            self.weeks.shown = false;
            self.tell_of_week();
        } else {
            self.leave(Leaving::Open(path));
        }
    }

    /// The lesson of the week that is on screen, if it was opened from there.
    pub fn of_week(&self) -> Option<&OfWeek> {
        let own = self.doc.as_ref()?.path.as_deref()?;
        let week = self.weeks.open.as_ref()?;
        let of = self.weeks.of_week.as_ref().filter(|of| of.path == own)?;
        (week.file_of(of.entry).as_deref() == Some(own)).then_some(of)
    }

    /// What the week says of the lesson on screen; `None` if it is of none.
    pub fn from_week(&self) -> Option<String> {
        let (week, of) = (self.weeks.open.as_ref()?, self.of_week()?);
        let entry = week.week().entry(of.entry)?;
        Some(format!("From the week: {}", week.when(entry)))
    }

    /// Tells what the week has of a lesson that was just opened, where its own file
    /// has other.
    pub(in super::super) fn tell_of_week(&mut self) {
        let Some(words) = self.from_week() else { return };
        let Some(doc) = &self.doc else { return };
        let differs = self.as_in_week().map(|there| differs(doc.file(), &there));
        let more = match differs.filter(|differs| !differs.is_empty()) {
            Some(differs) => format!(
                "The lesson's own file has {}, and is shown as it is; the menu Lesson can take over \
                 what the week has.",
                list(&differs)
            ),
            None => "The lesson's own file has the same.".to_owned(),
        };
        self.tell_more([format!("{words}. {more}")]);
    }

    /// The lesson on screen as the week has it.
    fn as_in_week(&self) -> Option<LessonFile> {
        let (week, of) = (self.weeks.open.as_ref()?, self.of_week()?);
        let slot = &week.week().entry(of.entry)?.slot;
        let own = self.doc.as_ref()?.file();
        let there = put(week.week(), own, slot).ok()?;
        // What was planned for it before stays: it is planned around.
        Some(LessonFile { today: own.today.clone(), told: own.told.clone(), ..there })
    }

    pub(super) fn take_over(&mut self) {
        let Some(there) = self.as_in_week() else { return };
        let Some(doc) = &mut self.doc else { return };
        let taken = differs(doc.file(), &there);
        if taken.is_empty() {
            self.tell("The lesson's own file has all that the week has of it already.");
            return;
        }
        let label = "what the week has";
        match doc.change_to(label.to_owned(), there) {
            Ok(()) => {
                self.changed(label);
                // What was told of it before is no longer so.
                self.message = None;
                let when = self.from_week().unwrap_or_default();
                self.tell(format!("Taken over: {}. {when}.", list(&taken)));
                self.tell_who_else();
            }
            Err(findings) => self.tell(format!("Not done: {}.", first_of(&findings))),
        }
    }

    /// Tells of other lessons of the week that are taught from the file on screen.
    fn tell_who_else(&mut self) {
        let (Some(week), Some(of)) = (&self.weeks.open, self.of_week()) else { return };
        let own = week.file_of(of.entry);
        let others = week.week().entries.iter().filter(|e| e.number != of.entry);
        let others = others.filter(|e| own.is_some() && week.file_of(e.number) == own);
        let others: Vec<String> = others
            .map(|e| format!("{} {}", e.class, where_and_when(week.week(), &e.slot)))
            .map(|who| who.trim().to_owned())
            .collect();
        if !others.is_empty() {
            let words = format!(
                "Others of the week are taught from this file too: {}. Once it is saved they have \
                 the kit and rules that are taken over here; bells and rooms they have from the week.",
                others.join("; ")
            );
            self.tell_more([words]);
        }
    }
}
