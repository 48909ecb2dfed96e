//! Periods and rooms by number: 0 is the first, which a lesson file writes
//! apart from the others.

use std::iter::once;

use super::{ClassStepShape, LessonFile, OvenShape, PeriodShape, RoomShape};
use crate::finding::Path;

impl LessonFile {
    /// All periods, in the order of their numbers.
    pub fn periods(&self) -> impl Iterator<Item = &PeriodShape> {
        once(&self.period).chain(&self.other_periods)
    }

    /// All periods, to be changed.
    pub fn periods_mut(&mut self) -> impl Iterator<Item = &mut PeriodShape> {
        once(&mut self.period).chain(&mut self.other_periods)
    }

    /// The period of a number.
    pub fn period(&self, number: usize) -> Option<&PeriodShape> {
        self.periods().nth(number)
    }

    /// The period of a number, to be changed.
    pub fn period_mut(&mut self, number: usize) -> Option<&mut PeriodShape> {
        self.periods_mut().nth(number)
    }

    /// Takes the adult of a number out, and out of all that names them.
    pub fn take_adult_out(&mut self, number: usize) {
        if number < self.adults.len() {
            let gone = self.adults.remove(number);
            for period in self.periods_mut() {
                period.without_adult(&gone.name);
            }
        }
    }

    /// All rooms, in the order of their numbers.
    pub fn rooms(&self) -> impl Iterator<Item = &RoomShape> {
        once(&self.room).chain(&self.other_rooms)
    }

    /// All rooms, to be changed.
    pub fn rooms_mut(&mut self) -> impl Iterator<Item = &mut RoomShape> {
        once(&mut self.room).chain(&mut self.other_rooms)
    }

    /// The room of a number.
    pub fn room(&self, number: usize) -> Option<&RoomShape> {
        self.rooms().nth(number)
    }

    /// The room of a number, to be changed.
    pub fn room_mut(&mut self, number: usize) -> Option<&mut RoomShape> {
        self.rooms_mut().nth(number)
    }
}

impl PeriodShape {
    /// The name of a period that states none.
    pub const UNNAMED: &str = "period";

    /// The name it goes by.
    pub fn name(&self) -> &str {
        if self.name.is_empty() { Self::UNNAMED } else { &self.name }
    }

    /// The place of the period of a number in the file.
    pub fn path(number: usize) -> Path {
        numbered("period", "other_periods", number)
    }

    /// Takes an adult out of all that names one.
    pub fn without_adult(&mut self, adult: &str) {
        self.class_steps_mut().for_each(|step| step.adults.retain(|a| a != adult));
        self.ovens_on_by.take_if(|by| by == adult);
    }

    /// Its class steps of all phases.
    pub fn class_steps(&self) -> impl Iterator<Item = &ClassStepShape> {
        self.opening.iter().chain(&self.during).chain(&self.closing)
    }

    /// The same, to be changed.
    pub fn class_steps_mut(&mut self) -> impl Iterator<Item = &mut ClassStepShape> {
        self.opening.iter_mut().chain(&mut self.during).chain(&mut self.closing)
    }
}

impl RoomShape {
    /// The name of a room that states none.
    pub const UNNAMED: &str = "Room";

    /// The name it goes by.
    pub fn name(&self) -> &str {
        if self.name.is_empty() { Self::UNNAMED } else { &self.name }
    }

    /// The place of the room of a number in the file.
    pub fn path(number: usize) -> Path {
        numbered("room", "other_rooms", number)
    }

    /// Its own ovens and then those of its units.
    pub fn all_ovens(&self) -> impl Iterator<Item = &OvenShape> {
        self.ovens.iter().chain(self.units.iter().flat_map(|u| &u.ovens))
    }
}

fn numbered(first: &str, others: &str, number: usize) -> Path {
    match number.checked_sub(1) {
        None => Path::root().field(first),
        Some(other) => Path::root().field(others).index(other),
    }
}
