//! A week saved without a loss, and what would lose its changes.

use std::path::Path;
use std::sync::Arc;

use super::super::Event;
use super::Session;
use super::begin::with_ending;
use crate::file::{WeekNotSaved, save_week, save_week_as};

impl Session {
    /// Whether the week has changes that are not saved.
    pub fn week_changed(&self) -> bool {
        self.weeks.open.as_ref().is_some_and(super::WeekDocument::changed)
    }

    /// Saves the week to its own file, and goes on to what was asked for before.
    pub(in super::super) fn save_week(&mut self) {
        let Some(week) = &mut self.weeks.open else { return };
        let path = week.path().to_path_buf();
        match save_week(&path, &week.on_disk, week.text()) {
            Ok(()) => {
                week.on_disk = week.text().to_owned();
                week.drop_copy();
                self.events.push(Event::FileUsed(path));
                if let Some(then) = self.questions.then.take() {
                    self.go(&then);
                }
            }
            Err(why) => {
                self.questions.then = None;
                let help = match why {
                    WeekNotSaved::ChangedOnDisk => {
                        " Save it under another name in the same folder, or open the file again: \
                         that leaves the changes made here."
                    }
                    WeekNotSaved::Exists | WeekNotSaved::Disk(_) => "",
                };
                self.tell(format!("Not saved to {}: {why}.{help}", path.display()));
            }
        }
    }

    /// Saves the week to another file of its folder, which becomes its own.
    pub(super) fn save_week_as(&mut self, path: &Path) {
        let disk = Arc::clone(&self.keeping.safe.disk);
        let Some(week) = &mut self.weeks.open else { return };
        let path = with_ending(path);
        if path.parent() != Some(week.folder()) {
            let words = "a week finds its lessons from its own folder: choose a name there";
            self.tell(format!("Not saved to {}: {words}.", path.display()));
            return;
        }
        match save_week_as(&path, week.text()) {
            Ok(()) => {
                week.set_path(&path, &disk);
                self.events.push(Event::FileUsed(path));
            }
            Err(why) => self.tell(format!("Not saved to {}: {why}.", path.display())),
        }
    }

    /// The week's changes are lost, as was wanted.
    pub(in super::super) fn lose_week_changes(&mut self) {
        self.studies.week.forget();
        self.studies.week_tried.forget();
        self.weeks.open.iter().for_each(super::WeekDocument::drop_copy);
        self.weeks.open = None;
        self.weeks.shown = false;
    }
}
