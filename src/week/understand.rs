//! From the shapes of a week's file to a week, and all that is wrong with it. An
//! entry that is wrong is told and left aside; the rest is a week still.

use std::collections::{BTreeSet, HashMap};
use std::path::Path as FilePath;
use std::sync::Arc;

use chrono::{Datelike, Days, NaiveDate, Weekday};

use super::model::{
    Bell, Day, EntryNo, LeftAside, Moving, Out, RoomNo, Stretch, Taught, Week, WeekAdult,
};
use super::things::place_called;
use crate::file::format::{DayShape, RoomShape, WeekFile};
use crate::file::{WeekText, did_you_mean, load_week};
use crate::finding::{Finding, Path, Severity};
use crate::model::PastBake;
use crate::units::ClockTime;

/// A week as read.
#[derive(Debug)]
pub struct LoadedWeek {
    /// The week.
    pub week: Week,
    /// What is wrong or doubtful, in the order of the file: errors too, of entries
    /// that are left aside or stand in each other's way.
    pub findings: Vec<Finding>,
}

/// Reads a week's file and the lessons it points to, with what earlier bakes took.
///
/// # Errors
/// What keeps it from being a week at all.
pub fn load(path: &FilePath, past: &[PastBake]) -> Result<LoadedWeek, Vec<Finding>> {
    let text = load_week(path)?;
    let folder = path.parent().unwrap_or(FilePath::new("."));
    understood(&text, folder, past)
}

/// The week of a text whose file stands in that folder.
///
/// # Errors
/// As [`load`].
pub fn understood(
    text: &WeekText,
    folder: &FilePath,
    past: &[PastBake],
) -> Result<LoadedWeek, Vec<Finding>> {
    let mut reader =
        Reader { file: &text.file, folder, past, findings: Vec::new(), read: HashMap::new() };
    let week = reader.week();
    let findings = text.placed(reader.findings);
    match week {
        Some(week) => Ok(LoadedWeek { week, findings }),
        None => Err(findings),
    }
}

/// More entries than this are no week.
const MOST_ENTRIES: usize = 400;
/// More rooms than this are no department.
const MOST_ROOMS: usize = 60;

/// A week in the making.
pub(super) struct Reader<'a> {
    pub(super) file: &'a WeekFile,
    pub(super) folder: &'a FilePath,
    pub(super) past: &'a [PastBake],
    findings: Vec<Finding>,
    /// Lessons read so far, by path.
    pub(super) read: HashMap<std::path::PathBuf, Option<Arc<Taught>>>,
}

pub(super) fn root(field: &str) -> Path {
    Path::root().field(field)
}

impl Reader<'_> {
    pub(super) fn error(
        &mut self,
        code: &'static str,
        at: &Path,
        message: String,
        hint: impl Into<String>,
    ) {
        self.push(Finding::error(code, at.clone(), message).hint(hint));
    }

    pub(super) fn warning(
        &mut self,
        code: &'static str,
        at: &Path,
        message: String,
        hint: impl Into<String>,
    ) {
        self.push(Finding::warning(code, at.clone(), message).hint(hint));
    }

    pub(super) fn push(&mut self, finding: Finding) {
        if !self.findings.contains(&finding) {
            self.findings.push(finding);
        }
    }

    fn week(&mut self) -> Option<Week> {
        let file = self.file;
        let monday = self.monday();
        let bells = self.bells(&root("bells"), &file.bells.0, &[]);
        self.rooms();
        for (at, count, most, what) in [
            (root("lessons"), file.lessons.len(), MOST_ENTRIES, "lessons"),
            (root("rooms"), file.rooms.len(), MOST_ROOMS, "rooms"),
            (root("rests"), file.rests.len(), MOST_ENTRIES, "rests"),
        ] {
            if count > most {
                let message = format!("there are {count} {what}; {most} at most can be handled");
                self.error("too-many", &at, message, "");
            }
        }
        if bells.is_empty() {
            let hint = "write `bells: {\"P1\": (\"09:00\", \"10:00\")}`";
            self.error("no-bells", &root("bells"), "there is no period".to_owned(), hint);
        }
        if self.findings.iter().any(|f| f.severity == Severity::Error) {
            return None;
        }
        let days = self.days(monday?, &bells);
        let moves = self.moves();
        let adults = self.adults();
        let (out, lent, entries, rests) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
        let rooms = file.rooms.clone();
        let left_aside = Vec::new();
        let mut week = Week { days, rooms, moves, adults, out, lent, entries, left_aside, rests };
        week.out = self.out(&week);
        for (i, shape) in file.lessons.iter().enumerate() {
            let number = EntryNo(i);
            match self.entry(&week, number, shape) {
                Some(entry) => week.entries.push(entry),
                None if shape.booking.is_some() => {}
                None => {
                    let day = week.days.iter().find(|d| d.date.weekday() == shape.on.weekday());
                    let date = day.map(|day| day.date);
                    week.left_aside.push(LeftAside { number, date });
                }
            }
        }
        self.twice(&week);
        self.away(&week);
        week.rests = self.rests(&week);
        self.tell_of_rests(&week);
        Some(week)
    }

    fn monday(&mut self) -> Option<NaiveDate> {
        let at = root("week");
        let date = NaiveDate::parse_from_str(&self.file.week, "%Y-%m-%d").ok();
        // Years as four digits; far from both ends of the calendar.
        let date = date.filter(|d| (1900..=9999).contains(&d.year()));
        let Some(date) = date else {
            let message = format!("\"{}\" is not a day", short(&self.file.week));
            self.error("date", &at, message, "write the Monday like \"2026-11-30\"");
            return None;
        };
        if date.weekday() != Weekday::Mon {
            let message = format!("{date} is a {}, not a Monday", date.format("%A"));
            let monday = date.week(Weekday::Mon).first_day();
            self.error("date", &at, message, format!("that week begins with {monday}"));
            return None;
        }
        Some(date)
    }

    /// Bells as written; of two that share a name the later one is told.
    fn bells(
        &mut self,
        at: &Path,
        written: &[(String, (String, String))],
        usual: &[Bell],
    ) -> Vec<Bell> {
        let mut bells: Vec<Bell> = Vec::new();
        for (name, (start, end)) in written {
            let at = at.key(name);
            let Some((start, end)) = self.stretch(&at, start, end) else { continue };
            if name.trim().is_empty() || bells.iter().any(|b| b.name == *name) {
                let message = format!("a period needs a name of its own, not \"{}\"", short(name));
                self.error("duplicate-name", &at, message, "give it another name");
                continue;
            }
            if !usual.is_empty() && !usual.iter().any(|b| b.name == *name) {
                let hint = did_you_mean(name, usual.iter().map(|b| b.name.as_str()));
                self.error(
                    "unknown-bell",
                    &at,
                    format!("there is no bell \"{}\"", short(name)),
                    hint,
                );
                continue;
            }
            bells.push(Bell { name: name.clone(), start, end });
        }
        bells
    }

    fn clock(&mut self, at: &Path, text: &str) -> Option<ClockTime> {
        match ClockTime::parse(text) {
            Ok(time) => Some(time),
            Err(error) => {
                self.error("clock-time", at, error.to_string(), "");
                None
            }
        }
    }

    pub(super) fn stretch(&mut self, at: &Path, from: &str, until: &str) -> Option<Stretch> {
        let (from, until) = (self.clock(at, from), self.clock(at, until));
        let (from, until) = (from?, until?);
        if until <= from {
            let message = format!("it ends at {until}, which is not after {from}");
            self.error("bells", at, message, "");
            return None;
        }
        Some((from, until))
    }

    fn rooms(&mut self) {
        let mut names = BTreeSet::new();
        let file = self.file;
        for (i, room) in file.rooms.iter().enumerate() {
            let at = root("rooms").index(i).field("name");
            if room.name.trim().is_empty() || room.name.contains('/') {
                let message = "a room of a week needs a name without a stroke".to_owned();
                self.error("empty-name", &at, message, "give it a name like \"Room 1\"");
            } else if !names.insert(&room.name) {
                let message = format!("there is another room \"{}\"", short(&room.name));
                self.error("duplicate-name", &at, message, "give one of them another name");
            }
        }
        if file.rooms.is_empty() {
            let hint = "write `rooms: [(name: \"Room 1\", ovens: [(name: \"Oven\", count: 5)])]`";
            self.error("no-rooms", &root("rooms"), "there is no room".to_owned(), hint);
        }
    }

    pub(super) fn room(&mut self, at: &Path, name: &str) -> Option<RoomNo> {
        let rooms = &self.file.rooms;
        let found = rooms.iter().position(|r| r.name() == name).map(RoomNo);
        if found.is_none() {
            let hint = did_you_mean(name, rooms.iter().map(RoomShape::name));
            self.error("unknown-name", at, format!("there is no room \"{}\"", short(name)), hint);
        }
        found
    }

    fn days(&mut self, monday: NaiveDate, usual: &[Bell]) -> Vec<Day> {
        let dates = (0..7).filter_map(|n| monday.checked_add_days(Days::new(n)));
        let mut days: Vec<Day> = dates
            .map(|date| Day {
                date,
                bells: usual.to_vec(),
                closed: BTreeSet::new(),
                why: String::new(),
            })
            .collect();
        let file = self.file;
        for (i, shape) in file.days.iter().enumerate() {
            let at = root("days").index(i);
            let bells = self.bells(&at.field("bells"), &shape.bells.0, usual);
            let mut closed = BTreeSet::new();
            for (n, name) in shape.closed.iter().enumerate() {
                closed.extend(self.room(&at.field("closed").index(n), name));
            }
            let Some(day) = days.iter_mut().find(|d| d.date.weekday() == shape.on.weekday()) else {
                continue;
            };
            for bell in bells {
                if let Some(usual) = day.bells.iter_mut().find(|b| b.name == bell.name) {
                    *usual = bell;
                }
            }
            day.closed.extend(closed);
            if !shape.why.is_empty() {
                day.why.clone_from(&shape.why);
            }
        }
        days
    }

    fn moves(&mut self) -> Vec<Moving> {
        let mut moves: Vec<Moving> = Vec::new();
        for (name, count) in &self.file.moves.0 {
            let at = root("moves").key(name);
            let counts = [count.count, count.borrowed, count.out_of_order];
            let known = moves.iter().any(|m| m.name == *name);
            if known || name.trim().is_empty() {
                let message = format!("\"{}\" stands here twice, or is no name", short(name));
                self.error("duplicate-name", &at, message, "leave one of them out");
            } else if counts.iter().any(|c| !(0..=500).contains(c))
                || count.out_of_order > count.count + count.borrowed
            {
                let message =
                    "the number must lie between 0 and 500, no more of it broken".to_owned();
                self.error("count", &at, message, "");
            } else {
                moves.push(Moving { name: name.clone(), count: *count });
            }
        }
        moves
    }

    fn adults(&mut self) -> Vec<WeekAdult> {
        let mut adults: Vec<WeekAdult> = Vec::new();
        let file = self.file;
        for (i, shape) in file.adults.iter().enumerate() {
            let at = root("adults").index(i);
            if shape.name.trim().is_empty() || adults.iter().any(|a| a.name == shape.name) {
                let message =
                    format!("there is another adult \"{}\", or no name", short(&shape.name));
                self.error("duplicate-name", &at.field("name"), message, "give them another name");
                continue;
            }
            let mut hours = Vec::new();
            for (n, h) in shape.hours.iter().enumerate() {
                let at = at.field("hours").index(n);
                let stretch = self.stretch(&at, &h.from, &h.until);
                hours.extend(stretch.map(|stretch| (h.on.weekday(), stretch)));
            }
            adults.push(WeekAdult { name: shape.name.clone(), hours });
        }
        adults
    }

    fn out(&mut self, week: &Week) -> Vec<Out> {
        let mut all = Vec::new();
        let (first, last) = (week.days.first(), week.days.last());
        let (Some(first), Some(last)) = (first.map(|d| d.date), last.map(|d| d.date)) else {
            return all;
        };
        let file = self.file;
        for (i, shape) in file.out.iter().enumerate() {
            let at = root("out").index(i);
            let date = |day: DayShape| {
                week.days.iter().map(|d| d.date).find(|d| d.weekday() == day.weekday())
            };
            let from = shape.from.and_then(date).unwrap_or(first);
            let until = shape.until.and_then(date).unwrap_or(last);
            if until < from {
                let message = "it works again before it is out of order".to_owned();
                self.error("hours", &at.field("until"), message, "the last day stands in `until`");
                continue;
            }
            let count = shape.count.unwrap_or(1);
            let Some(count) = u32::try_from(count).ok().filter(|n| (1..=500).contains(n)) else {
                let message = format!("the number is {count}; it must lie between 1 and 500");
                self.error("count", &at.field("count"), message, "");
                continue;
            };
            match place_called(week, &shape.what) {
                Ok(what) => all.push(Out { what, count, from, until }),
                Err((message, hint)) => {
                    self.error("unknown-name", &at.field("what"), message, hint);
                }
            }
        }
        all
    }
}

pub(super) fn short(name: &str) -> String {
    crate::finding::shortened(name, 60)
}
