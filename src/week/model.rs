//! A week as it is understood: its days with their bells, its rooms, what they
//! share, and what is where and when.

use std::collections::BTreeSet;
use std::sync::Arc;

use chrono::{Datelike, NaiveDate, Weekday};

use super::rests::Rest;
use crate::file::format::{KitCount, LessonFile, RoomShape};
use crate::file::told::Told;
use crate::units::{ClockTime, Minutes};

/// A room of the week by its number in the file, from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct RoomNo(pub usize);

/// An entry of the week, a lesson or a booking, by its number in the file, from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct EntryNo(pub usize);

/// A period between two bells.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Bell {
    /// Its name, unique in the week.
    pub name: String,
    /// The bell it begins with.
    pub start: ClockTime,
    /// The bell it ends with, later.
    pub end: ClockTime,
}

/// A day of the week.
#[derive(Debug, Clone, PartialEq)]
pub struct Day {
    /// Its date.
    pub date: NaiveDate,
    /// Its bells.
    pub bells: Vec<Bell>,
    /// Rooms that are closed.
    pub closed: BTreeSet<RoomNo>,
    /// Why, in a few words; empty if nobody says.
    pub why: String,
}

/// Kit or tins that go from room to room.
#[derive(Debug, Clone, PartialEq)]
pub struct Moving {
    /// Its name, as lessons have it.
    pub name: String,
    /// How many there are.
    pub count: KitCount,
}

impl Moving {
    /// How many of them work.
    pub fn there(&self) -> u32 {
        let KitCount { count, borrowed, out_of_order, .. } = self.count;
        let there = count.saturating_add(borrowed).saturating_sub(out_of_order);
        u32::try_from(there.max(0)).unwrap_or(u32::MAX)
    }
}

/// A stretch of a day: from (inclusive) until (exclusive).
pub type Stretch = (ClockTime, ClockTime);

/// An adult who serves more than one lesson.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct WeekAdult {
    /// Their post, as lessons name it.
    pub name: String,
    /// When they are there.
    pub hours: Vec<(Weekday, Stretch)>,
}

impl WeekAdult {
    /// When they are there on a day.
    pub fn on(&self, date: NaiveDate) -> impl Iterator<Item = Stretch> + '_ {
        let day = date.weekday();
        self.hours.iter().filter(move |h| h.0 == day).map(|h| h.1)
    }

    /// Whether they are there for the whole of a slot.
    pub fn is_there(&self, slot: &Slot) -> bool {
        self.on(slot.date).any(|(from, until)| from <= slot.start() && slot.end() <= until)
    }
}

/// What can be out of order, or lent.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Place {
    /// An oven of a room, by its name.
    Oven(RoomNo, String),
    /// Kit of a room, by its name.
    Kit(RoomNo, String),
    /// Kit that goes from room to room: its number among what moves.
    Moving(usize),
}

/// Something out of order.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Out {
    /// What.
    pub what: Place,
    /// How many of it; 1 of an oven.
    pub count: u32,
    /// The first day.
    pub from: NaiveDate,
    /// The last day.
    pub until: NaiveDate,
}

impl Out {
    /// Whether it is out of order on a day.
    pub fn is_on(&self, date: NaiveDate) -> bool {
        self.from <= date && date <= self.until
    }
}

/// Kit of a room that goes with what moves for a day.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Lent {
    /// Its number among what moves.
    pub moving: usize,
    /// The room it is lent by.
    pub by: RoomNo,
    /// How many.
    pub count: u32,
    /// The day.
    pub on: NaiveDate,
}

/// Where and when something is.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Slot {
    /// The day.
    pub date: NaiveDate,
    /// The periods, in order; never empty.
    pub bells: Vec<Bell>,
    /// The rooms; never empty.
    pub rooms: Vec<RoomNo>,
}

impl Slot {
    /// The first bell.
    pub fn start(&self) -> ClockTime {
        self.bells.iter().map(|b| b.start).min().unwrap_or(ClockTime::MIDNIGHT)
    }

    /// The last bell.
    pub fn end(&self) -> ClockTime {
        self.bells.iter().map(|b| b.end).max().unwrap_or(ClockTime::MIDNIGHT)
    }

    /// Whether two share some time.
    pub fn meets(&self, other: &Slot) -> bool {
        self.date == other.date && self.start() < other.end() && other.start() < self.end()
    }

    /// Whether two share a room.
    pub fn shares_room(&self, other: &Slot) -> bool {
        self.rooms.iter().any(|room| other.rooms.contains(room))
    }

    /// Whether two are between the same bells of one day.
    pub fn is_at_the_time_of(&self, other: &Slot) -> bool {
        self.date == other.date && self.start() == other.start() && self.end() == other.end()
    }

    /// "P3", or "P5 and P6".
    pub fn period(&self) -> String {
        crate::words::list(&self.bells.iter().map(|b| b.name.clone()).collect::<Vec<_>>())
    }
}

/// A lesson's file, read.
#[derive(Debug, PartialEq)]
pub struct Taught {
    /// Its path as the week has it.
    pub file: String,
    /// Its id, where it has one.
    pub id: Option<String>,
    /// Its shapes.
    pub shapes: LessonFile,
    /// The plan that is kept with it.
    pub told: Option<Told>,
}

impl Taught {
    /// What it is called: its title, or else its file.
    pub fn title(&self) -> &str {
        if self.shapes.title.is_empty() { &self.file } else { &self.shapes.title }
    }
}

/// What is in a slot.
#[derive(Debug, Clone, PartialEq)]
pub enum What {
    /// A lesson.
    Lesson(Arc<Taught>),
    /// A lesson that cannot be planned, by its path; a finding says why.
    Unplanned(String),
    /// Something without a file.
    Booking {
        /// What for.
        what: String,
        /// What it takes of what moves: its number there, and how many.
        takes: Vec<(usize, u32)>,
    },
}

/// A lesson or a booking.
#[derive(Debug, Clone, PartialEq)]
pub struct Entry {
    /// Its number in the file.
    pub number: EntryNo,
    /// The class; empty if nobody says.
    pub class: String,
    /// Who teaches, if that is said.
    pub adult: Option<String>,
    /// It stays where it is.
    pub held: bool,
    /// Where and when.
    pub slot: Slot,
    /// What.
    pub what: What,
}

impl Entry {
    /// The lesson, if it is one that can be planned.
    pub fn lesson(&self) -> Option<&Arc<Taught>> {
        match &self.what {
            What::Lesson(taught) => Some(taught),
            What::Unplanned(_) | What::Booking { .. } => None,
        }
    }

    /// What is in the slot: a lesson's title, a booking's purpose.
    pub fn title(&self) -> &str {
        match &self.what {
            What::Lesson(taught) => taught.title(),
            What::Unplanned(file) => file,
            What::Booking { what, .. } => what,
        }
    }
}

/// A department's week. Names and numbers in it are known, periods end after they
/// begin; entries with a fault that leaves them no slot are not in it.
#[derive(Debug, Clone, PartialEq)]
pub struct Week {
    /// Its days, from Monday to Sunday.
    pub days: Vec<Day>,
    /// Its rooms.
    pub rooms: Vec<RoomShape>,
    /// What goes from room to room.
    pub moves: Vec<Moving>,
    /// Adults who serve more than one lesson.
    pub adults: Vec<WeekAdult>,
    /// What is out of order.
    pub out: Vec<Out>,
    /// What rooms lend; nothing in a file, for moves only.
    pub lent: Vec<Lent>,
    /// Lessons and bookings, in the order of the file.
    pub entries: Vec<Entry>,
    /// Lessons of the file that cannot be read as entries.
    pub left_aside: Vec<LeftAside>,
    /// What rests from one lesson to another.
    pub rests: Vec<Rest>,
}

/// A lesson of the file that is no entry, as its bell or its room is not there, or it is
/// not said which lesson it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct LeftAside {
    /// Its number in the file.
    pub number: EntryNo,
    /// Its day.
    pub date: Option<NaiveDate>,
}

impl Week {
    /// How many lessons of the file are left aside, on one day or on all.
    pub fn left_aside_on(&self, day: Option<NaiveDate>) -> usize {
        let is_on = |aside: &&LeftAside| day.is_none() || aside.date == day;
        self.left_aside.iter().filter(is_on).count()
    }

    /// An entry by its number.
    pub fn entry(&self, number: EntryNo) -> Option<&Entry> {
        self.entries.iter().find(|e| e.number == number)
    }

    /// The same, to be changed.
    pub fn entry_mut(&mut self, number: EntryNo) -> Option<&mut Entry> {
        self.entries.iter_mut().find(|e| e.number == number)
    }

    /// A day by its date.
    pub fn day(&self, date: NaiveDate) -> Option<&Day> {
        self.days.iter().find(|d| d.date == date)
    }

    /// Whether a room of a slot is closed on its day.
    pub fn is_closed(&self, slot: &Slot) -> bool {
        let day = self.day(slot.date);
        day.is_some_and(|day| slot.rooms.iter().any(|room| day.closed.contains(room)))
    }

    /// Whether who teaches an entry is there at a slot, as far as the week knows.
    pub fn is_taught_at(&self, entry: &Entry, slot: &Slot) -> bool {
        let mut who = self.adults.iter().filter(|adult| Some(&adult.name) == entry.adult.as_ref());
        who.all(|adult| adult.is_there(slot))
    }

    /// The name of a room.
    pub fn room_name(&self, room: RoomNo) -> &str {
        self.rooms.get(room.0).map_or("", RoomShape::name)
    }

    /// Lessons and bookings of a day.
    pub fn on(&self, date: NaiveDate) -> impl Iterator<Item = &Entry> {
        self.entries.iter().filter(move |e| e.slot.date == date)
    }

    /// The adult who sets lessons up, by the name of the post: the technician, else
    /// an assistant.
    pub fn who_sets_up(&self) -> Option<&WeekAdult> {
        let post = |word: &str| self.adults.iter().find(|a| a.name.to_lowercase().contains(word));
        post("technician").or_else(|| post("assistant"))
    }

    /// How many of what moves there are on a day.
    pub fn there(&self, moving: usize, date: NaiveDate) -> u32 {
        let all = self.moves.get(moving).map_or(0, Moving::there);
        let lent = self.lent.iter().filter(|l| l.moving == moving && l.on == date);
        let lent: u32 = lent.map(|l| l.count).sum();
        (all + lent).saturating_sub(self.out_of(&Place::Moving(moving), date))
    }

    /// How many of something are out of order on a day.
    pub fn out_of(&self, what: &Place, date: NaiveDate) -> u32 {
        self.out.iter().filter(|o| o.what == *what && o.is_on(date)).map(|o| o.count).sum()
    }

    /// A day by its date, "2026-12-03", or its name, "thu".
    ///
    /// # Errors
    /// Says that it is none of this week's.
    pub fn day_called(&self, text: &str) -> Result<NaiveDate, String> {
        let dates = || self.days.iter().map(|d| d.date);
        let by_name =
            text.parse::<Weekday>().ok().and_then(|day| dates().find(|date| date.weekday() == day));
        let by_date = || NaiveDate::parse_from_str(text, "%Y-%m-%d").ok();
        let found = by_name.or_else(|| by_date().filter(|date| dates().any(|d| d == *date)));
        found.ok_or_else(|| {
            let first = dates().next().map_or_else(String::new, |d| d.to_string());
            let last = dates().next_back().map_or_else(String::new, |d| d.to_string());
            format!(
                "\"{text}\" is no day of this week: write one from {first} to {last}, or \"thu\""
            )
        })
    }
}

/// Minutes since midnight.
pub fn of_day(time: ClockTime) -> Minutes {
    time.minutes_since(ClockTime::MIDNIGHT)
}
