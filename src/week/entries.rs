//! Lessons and bookings of a week's file: where and when each is, the file a lesson
//! is in, and whether it can be planned there.

use std::sync::Arc;

use chrono::{Datelike, NaiveDate, NaiveTime, TimeDelta, TimeZone};
use chrono_tz::Tz;

use super::model::{Bell, Entry, EntryNo, Slot, Taught, Week, What, of_day};
use super::put::put;
use super::twice::TwiceWhat;
use super::understand::{Reader, root, short};
use crate::file::format::{LessonFile, PointerShape, WeekEntryShape};
use crate::file::{RealDisk, Target, did_you_mean, lesson_or_findings, load_lesson_knowing};
use crate::finding::{Finding, Path, Segment, Severity};
use crate::units::{ClockTime, Minutes};

impl Reader<'_> {
    pub(super) fn entry(
        &mut self,
        week: &Week,
        number: EntryNo,
        shape: &WeekEntryShape,
    ) -> Option<Entry> {
        let at = root("lessons").index(number.0);
        let slot = self.slot(week, &at, shape);
        // The file is looked at even if nobody knows when it is taught.
        let taught = match (&shape.file, &shape.booking) {
            (Some(file), None) => self.taught(&at, file, shape.id.as_deref()),
            (None, Some(_)) => None,
            _ => {
                let message = "this is either a lesson or a booking".to_owned();
                let hint = "write `file: \"8a/sponge.ron\"`, or `booking: \"exam\"` without a file";
                self.error("lesson-or-booking", &at, message, hint);
                return None;
            }
        };
        let mut slot = slot?;
        let what = match (&shape.booking, taught) {
            (Some(what), _) => {
                if let Some((from, until)) = &shape.time {
                    let (start, end) = self.stretch(&at.field("time"), from, until)?;
                    slot.bells = vec![Bell { name: format!("{start} to {end}"), start, end }];
                }
                What::Booking { what: what.clone(), takes: self.takes(week, &at, shape) }
            }
            (None, Some(taught)) if self.fits(week, &at, &taught, &slot) => What::Lesson(taught),
            (None, _) => What::Unplanned(shape.file.clone().unwrap_or_default()),
        };
        if slot.bells.is_empty() {
            let message = "it is not said when this is".to_owned();
            self.error("unknown-bell", &at, message, "write its period as `at: \"P1\"`");
            return None;
        }
        let of_file = match &what {
            What::Lesson(taught) => taught.shapes.class.name.clone(),
            What::Unplanned(_) | What::Booking { .. } => String::new(),
        };
        let class = shape.class.clone().unwrap_or(of_file);
        Some(Entry { number, class, adult: shape.adult.clone(), held: shape.held, slot, what })
    }

    fn slot(&mut self, week: &Week, at: &Path, shape: &WeekEntryShape) -> Option<Slot> {
        let day = week.days.iter().find(|d| d.date.weekday() == shape.on.weekday())?;
        if let Some(date) = &shape.date
            && NaiveDate::parse_from_str(date, "%Y-%m-%d").ok() != Some(day.date)
        {
            let message = format!("\"{}\" is not the {}", short(date), day.date.format("%A"));
            let hint = format!("that day of this week is {}", day.date);
            self.error("date", &at.field("date"), message, hint);
        }
        let mut sound = true;
        let mut bells = Vec::new();
        for (i, name) in shape.at.0.iter().enumerate() {
            if let Some(bell) = day.bells.iter().find(|b| b.name == *name) {
                bells.push(bell.clone());
            } else {
                let hint = did_you_mean(name, day.bells.iter().map(|b| b.name.as_str()));
                let message = format!("there is no bell \"{}\"", short(name));
                self.error("unknown-bell", &at.field("at").index(i), message, hint);
                sound = false;
            }
        }
        if bells.windows(2).any(|two| two[1].start < two[0].end) {
            let message = "these periods do not follow one another".to_owned();
            self.error("period-order", &at.field("at"), message, "write the earlier one first");
            sound = false;
        }
        let mut rooms = Vec::new();
        for (i, name) in shape.room.0.iter().enumerate() {
            let at = at.field("room").index(i);
            let Some(room) = self.room(&at, name) else {
                sound = false;
                continue;
            };
            if day.closed.contains(&room) {
                let why =
                    if day.why.is_empty() { String::new() } else { format!(" ({})", day.why) };
                let message = format!("{name} is closed on {}{why}", day.date.format("%A"));
                self.error("closed-room", &at, message, "take another room or another day");
            }
            rooms.push(room);
        }
        (sound && !rooms.is_empty()).then_some(Slot { date: day.date, bells, rooms })
    }

    fn takes(&mut self, week: &Week, at: &Path, shape: &WeekEntryShape) -> Vec<(usize, u32)> {
        let mut takes = Vec::new();
        for (name, count) in &shape.takes.0 {
            let at = at.field("takes").key(name);
            let moving = week.moves.iter().position(|m| m.name == *name);
            let count = u32::try_from(*count).ok().filter(|c| *c <= 500);
            match (moving, count) {
                (Some(moving), Some(count)) => takes.push((moving, count)),
                (None, _) => {
                    let hint = did_you_mean(name, week.moves.iter().map(|m| m.name.as_str()));
                    let message = format!("no \"{}\" goes from room to room", short(name));
                    self.error("unknown-name", &at, message, hint);
                }
                (_, None) => {
                    let message = "the number must lie between 0 and 500".to_owned();
                    self.error("count", &at, message, "");
                }
            }
        }
        takes
    }

    /// The lesson a pointer leads to; what is wrong with that is told.
    fn taught(&mut self, at: &Path, file: &str, id: Option<&str>) -> Option<Arc<Taught>> {
        let pointer = PointerShape { file: file.to_owned(), id: id.map(str::to_owned) };
        let target = pointer.leads(&RealDisk, self.folder);
        if let Some(doubt) = target.doubt(&pointer, at.field("file"), self.folder) {
            self.push(doubt);
        }
        let Target::There { file: path, .. } = target else { return None };
        if let Some(known) = self.read.get(&path) {
            return known.clone();
        }
        let read = match load_lesson_knowing(&path, self.past) {
            Ok(loaded) => {
                if loaded.file.today.is_some() {
                    let message = format!("\"{}\" is a copy for one day", short(file));
                    let hint = "point to the lesson it was made from: what happened on that day \
                                stands in the copy";
                    self.warning("day-copy", &at.field("file"), message, hint);
                }
                let (id, shapes, told) = (loaded.file.id.clone(), loaded.file, loaded.told);
                Some(Arc::new(Taught { file: file.to_owned(), id, shapes, told }))
            }
            Err(findings) => {
                self.broken(at, file, &findings);
                None
            }
        };
        self.read.insert(path, read.clone());
        read
    }

    /// Tells that a file is no lesson that can be planned, with its first fault.
    fn broken(&mut self, at: &Path, file: &str, findings: &[Finding]) {
        let first = findings.iter().find(|f| f.severity == Severity::Error);
        let line = first.and_then(|f| f.place);
        let line = line.map_or_else(String::new, |place| {
            format!("line {}, column {}: ", place.line, place.column)
        });
        let why = first.map_or("", |f| f.message.as_str());
        let message = format!("\"{}\" cannot be used: {line}{why}", short(file));
        let own = first.map(|f| f.hint.as_str()).filter(|hint| !hint.is_empty());
        let own = own.map_or_else(String::new, |hint| format!("{hint}; "));
        let path = self.folder.join(file).display().to_string();
        let hint = format!(
            "{own}`ovenbell check {}` says all that is wrong",
            crate::finding::shortened(&path, 300)
        );
        self.error("broken-lesson", &at.field("file"), message, hint);
    }

    /// Whether a lesson can be planned in a slot; what keeps it from that is told
    /// where it stands, of rooms at the week's own.
    fn fits(&mut self, week: &Week, at: &Path, taught: &Arc<Taught>, slot: &Slot) -> bool {
        if slot.bells.is_empty() {
            return true; // told already
        }
        let file = match put(week, &taught.shapes, slot) {
            Ok(file) => file,
            Err(why) => {
                let hint = "write as many periods or rooms as the lesson has, or two for a double";
                self.error("outside-period", at, why, hint);
                return false;
            }
        };
        self.other_length(at, taught, &file);
        self.through_a_break(at, taught, slot);
        let (lesson, findings) = lesson_or_findings(&file, self.past);
        if let Some(zone) = lesson.as_ref().and_then(|lesson| lesson.zone) {
            self.clock_change(at, zone, slot);
        }
        for finding in findings.into_iter().filter(|f| f.severity == Severity::Error) {
            match of_room(&finding.path, slot) {
                Some(path) => self.push(Finding { path, ..finding }),
                None => {
                    let code =
                        if of_period(&finding.path) { "outside-period" } else { "broken-lesson" };
                    let message = format!(
                        "\"{}\" cannot be taught here: {}: {}",
                        short(&taught.file),
                        finding.path,
                        finding.message
                    );
                    self.error(code, at, message, finding.hint);
                }
            }
        }
        lesson.is_some()
    }

    /// Tells of bells that do not exist that day, as the clocks go forward over them.
    fn clock_change(&mut self, at: &Path, zone: Tz, slot: &Slot) {
        for (name, time) in slot.bells.iter().flat_map(|b| [(&b.name, b.start), (&b.name, b.end)]) {
            let since = i64::from(of_day(time).get());
            let wall = slot.date.and_time(NaiveTime::MIN) + TimeDelta::minutes(since);
            if zone.from_local_datetime(&wall).earliest().is_none() {
                let message = format!(
                    "{time} ({}) does not exist on {} in {}, where the clocks go forward",
                    short(name),
                    slot.date,
                    zone.name()
                );
                let hint = "take another period or day, or change the lesson's `zone`";
                self.error("clock-time", &at.field("at"), message, hint);
            }
        }
    }

    /// Tells of a lesson that is written for periods of another length.
    fn other_length(&mut self, at: &Path, taught: &Taught, file: &LessonFile) {
        let length = |start: &str, end: &str| -> Option<Minutes> {
            Some(ClockTime::parse(end).ok()?.minutes_since(ClockTime::parse(start).ok()?))
        };
        for (own, here) in taught.shapes.periods().zip(file.periods()) {
            let (own, here) = (length(&own.start, &own.end), length(&here.start, &here.end));
            if let (Some(own), Some(here)) = (own, here)
                && own != here
            {
                let message = format!(
                    "\"{}\" is written for {own}; from bell to bell it is {here} here",
                    short(&taught.file)
                );
                self.warning("period-length", &at.field("at"), message, "it is planned for these");
            }
        }
    }

    /// Tells of a lesson of one period that is planned straight through what lies between
    /// two bells, such as lunch.
    fn through_a_break(&mut self, at: &Path, taught: &Taught, slot: &Slot) {
        if taught.shapes.periods().count() > 1 {
            return;
        }
        for two in slot.bells.windows(2) {
            let between = two[1].start.minutes_since(two[0].end);
            if between > Minutes::ZERO {
                let message = format!(
                    "\"{}\" has one period, so it is planned straight through the {between} between \
                     {} and {}",
                    short(&taught.file),
                    short(&two[0].name),
                    short(&two[1].name)
                );
                let hint = "if the class is away then, give the lesson two periods in Set up";
                self.warning("through-break", &at.field("at"), message, hint);
            }
        }
    }

    /// Tells of a lesson whose teacher is an adult of the week and not there at all its time.
    pub(super) fn away(&mut self, week: &Week) {
        for entry in &week.entries {
            let Some(adult) =
                entry.adult.as_ref().filter(|_| !week.is_taught_at(entry, &entry.slot))
            else {
                continue;
            };
            let (start, end) = (entry.slot.start(), entry.slot.end());
            let (at, day) = (root("lessons").index(entry.number.0), entry.slot.date.format("%A"));
            let message = format!("{} is not there on {day} from {start} to {end}", short(adult));
            let hint = "move it into their `hours`, or name another who teaches";
            self.error("adult-away", &at.field("adult"), message, hint);
        }
    }

    /// Tells of a room, a class or an adult that is in two places at once.
    pub(super) fn twice(&mut self, week: &Week) {
        for twice in week.twice(None) {
            let code = match twice.what {
                TwiceWhat::Room => "room-twice",
                TwiceWhat::Class => "class-twice",
                TwiceWhat::Adult => "adult-twice",
            };
            let at = root("lessons").index(twice.one.0);
            self.error(code, &at, twice.words, "move one of them");
        }
    }
}

/// Whether a place in a lesson is in one of its periods.
fn of_period(path: &Path) -> bool {
    let periods = |name: &str| name == "period" || name == "other_periods";
    matches!(path.0.first(), Some(Segment::Field(name)) if periods(name))
}

/// The week's own place for a place in a room of a lesson that was put there.
fn of_room(path: &Path, slot: &Slot) -> Option<Path> {
    let (number, rest) = match path.0.as_slice() {
        [Segment::Field(first), rest @ ..] if first == "room" => (0, rest),
        [Segment::Field(others), Segment::Index(i), rest @ ..] if others == "other_rooms" => {
            (i + 1, rest)
        }
        _ => return None,
    };
    let room = slot.rooms.get(number)?;
    let mut path = root("rooms").index(room.0);
    path.0.extend_from_slice(rest);
    Some(path)
}
