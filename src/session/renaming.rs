//! Other names for groups and ovens of the lesson on screen. Names change
//! nothing of the plan.

use super::Session;
use crate::file::format::{LessonFile, RoomShape};
use crate::file::own_group;
use crate::model::{GroupId, OvenId};
use crate::setup::rename::{Named, rename};

impl Session {
    pub(super) fn rename_group(&mut self, group: GroupId, to: &str) {
        let renamed = self.renamed(to, |file, lesson| {
            let old = lesson.groups.get(group.0).ok_or("there is no such group")?.name.clone();
            let entry = own_group(file, &old).ok_or("there is no such group")?;
            Ok((old, Named::Group(entry)))
        });
        self.take_names(renamed);
    }

    pub(super) fn rename_oven(&mut self, oven: OvenId, to: &str) {
        let renamed = self.renamed(to, |file, lesson| {
            let old = lesson.ovens.get(oven.0).ok_or("there is no such oven")?.name.clone();
            let entry = oven_entry(file, &old).ok_or(
                "several ovens are written as one entry: give them names under Set up, Room",
            )?;
            Ok((old, entry))
        });
        self.take_names(renamed);
    }

    fn renamed(
        &self,
        to: &str,
        entry: impl FnOnce(&mut LessonFile, &crate::model::Lesson) -> Result<(String, Named), String>,
    ) -> Result<(String, LessonFile), String> {
        let (doc, planned) = self.doc.as_ref().zip(self.planned.as_ref()).ok_or("no lesson")?;
        let mut file = doc.file().clone();
        let (old, named) = entry(&mut file, &planned.lesson)?;
        rename(&mut file, &named, to)?;
        Ok((format!("{old} is called {}", to.trim()), file))
    }

    fn take_names(&mut self, renamed: Result<(String, LessonFile), String>) {
        match renamed {
            Ok((label, file)) => self.become_file_with_same_plan(&label, file),
            Err(why) => self.tell(format!("Not renamed: {why}.")),
        }
    }
}

/// The entry of an oven that stands for it alone.
fn oven_entry(file: &LessonFile, name: &str) -> Option<Named> {
    let rooms = std::iter::once(&file.room).chain(&file.other_rooms);
    rooms.enumerate().find_map(|(room, shape)| in_room(shape, room, name))
}

fn in_room(shape: &RoomShape, room: usize, name: &str) -> Option<Named> {
    let own = shape.ovens.iter().position(|o| o.count.is_none() && o.name == name);
    if let Some(oven) = own {
        return Some(Named::Oven { room, unit: None, oven });
    }
    shape.units.iter().enumerate().find_map(|(unit, of)| {
        let oven = of.ovens.iter().position(|o| o.count.is_none() && o.name == name)?;
        Some(Named::Oven { room, unit: Some(unit), oven })
    })
}
