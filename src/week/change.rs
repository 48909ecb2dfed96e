//! Changes of a week that can be written into its file: moves, what goes out of
//! order, what works again, what is held.

use super::begin::with_lesson;
use super::model::{EntryNo, Out, Slot, Week};
use super::moves::Move;
use super::things::{name_of, place_called};
use crate::file::format::{
    DayShape, LessonFile, OutShape, PointerShape, Several, WeekEntryShape, WeekFile,
};
use chrono::{Datelike, NaiveDate};

/// A change of a week.
#[derive(Debug, Clone, PartialEq)]
pub enum Change {
    /// A move.
    Move(Move),
    /// Something goes out of order.
    Out(Out),
    /// Something that is out of order works again, all those days.
    Works(Out),
    /// A lesson stays where it is, or no longer has to.
    Hold(EntryNo, bool),
    /// One lesson more, which a pointer leads to.
    Add(Box<(LessonFile, PointerShape)>),
    /// A lesson or a booking is taken out; a lesson's file stays as it is.
    Remove(EntryNo),
}

/// Why a change cannot be written into the week's file.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum NotInTheFile {
    /// A loan has no place there.
    #[error(
        "a week's file has no place for a loan: it is to be arranged, and stays a note of yours"
    )]
    Loan,
    /// What it is about is not in the file.
    #[error("what it is about does not stand in the file any more")]
    Gone,
}

impl Change {
    /// The week with it; `None` if what it is about is not there, or it is more than a
    /// week that is planned already can be tried with.
    pub fn made(&self, week: &Week) -> Option<Week> {
        let mut changed = week.clone();
        match self {
            Self::Move(what) => return what.made(week),
            Self::Out(out) => changed.out.push(out.clone()),
            Self::Works(out) => {
                let at = changed.out.iter().position(|o| o == out)?;
                changed.out.remove(at);
            }
            Self::Hold(entry, held) => changed.entry_mut(*entry)?.held = *held,
            Self::Add(_) | Self::Remove(_) => return None,
        }
        Some(changed)
    }

    /// The week's file with it.
    ///
    /// # Errors
    /// Why it cannot be written there.
    pub fn written(&self, file: &WeekFile, week: &Week) -> Result<WeekFile, NotInTheFile> {
        let mut file = file.clone();
        match self {
            Self::Move(Move::Lend(_)) => return Err(NotInTheFile::Loan),
            Self::Move(Move::Swap(one, other)) => swap(&mut file, week, (*one, *other))?,
            Self::Move(Move::Elsewhere(entry, to)) => put(shape(&mut file, *entry)?, week, to),
            Self::Move(Move::ChangePlaces(one, other)) => {
                let slot = |entry: &EntryNo| week.entry(*entry).map(|e| e.slot.clone());
                let slots = slot(one).zip(slot(other)).ok_or(NotInTheFile::Gone)?;
                put(shape(&mut file, *one)?, week, &slots.1);
                put(shape(&mut file, *other)?, week, &slots.0);
            }
            Self::Out(out) => file.out.push(out_shape(week, out)),
            Self::Works(out) => {
                let is_it = |shape: &OutShape| is_of(week, shape, out);
                let at = file.out.iter().position(is_it).ok_or(NotInTheFile::Gone)?;
                file.out.remove(at);
            }
            Self::Hold(entry, held) => shape(&mut file, *entry)?.held = *held,
            Self::Add(added) => {
                let (lesson, pointer) = (&added.0, added.1.clone());
                return Ok(with_lesson(&file, lesson, pointer));
            }
            Self::Remove(entry) => {
                shape(&mut file, *entry)?;
                file.lessons.remove(entry.0);
            }
        }
        Ok(file)
    }
}

fn shape(file: &mut WeekFile, entry: EntryNo) -> Result<&mut WeekEntryShape, NotInTheFile> {
    file.lessons.get_mut(entry.0).ok_or(NotInTheFile::Gone)
}

/// Two entries swap the lessons they point to. Each stays that of its class, even
/// where the class stood in the lesson's file alone.
fn swap(
    file: &mut WeekFile,
    week: &Week,
    (one, other): (EntryNo, EntryNo),
) -> Result<(), NotInTheFile> {
    let point = |of: &WeekEntryShape| (of.file.clone(), of.id.clone());
    let (a, b) = (point(shape(file, one)?), point(shape(file, other)?));
    for (entry, (path, id)) in [(one, b), (other, a)] {
        let class = week.entry(entry).map(|e| e.class.clone()).filter(|class| !class.is_empty());
        let of = shape(file, entry)?;
        (of.file, of.id) = (path, id);
        of.class = of.class.take().or(class);
    }
    Ok(())
}

fn put(of: &mut WeekEntryShape, week: &Week, to: &Slot) {
    of.on = DayShape::of(to.date.weekday());
    of.date = of.date.as_ref().map(|_| to.date.to_string());
    of.at = Several(to.bells.iter().map(|bell| bell.name.clone()).collect());
    of.room = Several(to.rooms.iter().map(|room| week.room_name(*room).to_owned()).collect());
}

fn out_shape(week: &Week, out: &Out) -> OutShape {
    OutShape {
        what: name_of(week, &out.what),
        count: (out.count != 1).then(|| i64::from(out.count)),
        from: Some(DayShape::of(out.from.weekday())),
        until: Some(DayShape::of(out.until.weekday())),
    }
}

/// Whether what is written says that very thing is out of order on those days.
fn is_of(week: &Week, shape: &OutShape, out: &Out) -> bool {
    let date = |day: Option<DayShape>, usual: Option<&super::model::Day>| -> Option<NaiveDate> {
        match day {
            Some(day) => week.days.iter().map(|d| d.date).find(|d| d.weekday() == day.weekday()),
            None => usual.map(|d| d.date),
        }
    };
    place_called(week, &shape.what).ok().as_ref() == Some(&out.what)
        && shape.count.unwrap_or(1) == i64::from(out.count)
        && date(shape.from, week.days.first()) == Some(out.from)
        && date(shape.until, week.days.last()) == Some(out.until)
}
