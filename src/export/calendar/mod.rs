//! A lesson and its plan as a calendar (RFC 5545): the lesson itself, its oven
//! calls, what is to be done before the bell, and when ovens go on, with an alarm.
//!
//! A lesson that names a time zone has its times in that zone; one that names
//! none has them by the clock on the wall, wherever that is.

mod beforehand;
mod zone;

use chrono::{DateTime, Duration, NaiveDate, NaiveDateTime, Utc};
use icalendar::{Alarm, Calendar, CalendarDateTime, Component, Event, EventLike, Trigger};
use thiserror::Error;

use crate::check::CheckedPlan;
use crate::model::{Lesson, OvenId, PeriodId, RoomId};
use crate::units::Minute;
use crate::view::technicians_day::{ForLesson, set_outs};
use crate::view::words::{in_short, list};
use beforehand::beforehand;

/// Minutes before an oven goes on at which a calendar reminds of it (judgement).
const REMINDED: i64 = 5;

/// Why a lesson has no place in a calendar.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum CalendarFault {
    /// It says no day.
    #[error("the lesson has no date, so it has no place in a calendar: give it one in `date`")]
    NoDate,
    /// The clocks go forward over it.
    #[error(
        "{at} does not exist on {date} in {zone}, where the clocks go forward: change the bell, the \
         date or the `zone`"
    )]
    NoSuchTime {
        /// By the clock.
        at: chrono::NaiveTime,
        /// The day.
        date: NaiveDate,
        /// The zone by its name.
        zone: &'static str,
    },
}

/// Something in a calendar.
struct Entry {
    /// What it is, within its lesson: the same whenever the lesson is planned.
    key: String,
    title: String,
    more: String,
    place: String,
    from: Minute,
    until: Minute,
    is_reminded_of: bool,
}

/// Lessons with their plans, and the id of each where its file has one, as the
/// text of one calendar, made at `now`. What is set out for several on a day is laid
/// beside each other, as on the technician's own sheet.
///
/// # Errors
/// The first lesson that has no place in it, by its number, and why.
pub fn calendar(
    lessons: &[(ForLesson<'_>, Option<&str>)],
    now: DateTime<Utc>,
) -> Result<String, (usize, CalendarFault)> {
    let mut calendar = Calendar::empty();
    calendar
        .append_property(("VERSION", "2.0"))
        .append_property(("PRODID", "-//ovenbell//ovenbell//EN"))
        .append_property(("CALSCALE", "GREGORIAN"));
    let mut zones: Vec<(chrono_tz::Tz, NaiveDate)> = Vec::new();
    let set_out = set_outs(&lessons.iter().map(|(of, _)| *of).collect::<Vec<_>>());
    for (number, (&(of, id), set_out)) in lessons.iter().zip(set_out).enumerate() {
        let of = ForLesson { set_out, ..of };
        let lesson = of.lesson;
        let date = lesson.date.ok_or((number, CalendarFault::NoDate))?;
        if let Some(zone) = lesson.zone {
            zones.push((zone, date));
        }
        let key = id.map_or_else(|| plain_key(lesson, date), str::to_owned);
        for entry in entries(&of) {
            let at = |minute| moment(lesson, date, minute).map_err(|fault| (number, fault));
            let mut event = Event::new();
            event
                .uid(&format!("{key}-{}@ovenbell", entry.key))
                .timestamp(now)
                .summary(&entry.title)
                .starts(at(entry.from)?);
            // What takes no time has no end (RFC 5545, 3.6.1).
            if entry.until > entry.from {
                event.ends(at(entry.until)?);
            }
            if !entry.more.is_empty() {
                event.description(&entry.more);
            }
            if !entry.place.is_empty() {
                event.location(&entry.place);
            }
            if entry.is_reminded_of {
                let before = Trigger::before_start(Duration::minutes(REMINDED));
                event.alarm(Alarm::display(&entry.title, before));
            }
            calendar.push(event.done());
        }
    }
    Ok(zone::with_zones(&calendar.done().to_string(), &zones))
}

/// Whether a text is a calendar that was made here: all its entries are ours.
pub fn is_ours(text: &str) -> bool {
    // Long lines are folded (RFC 5545, 3.1).
    let text = text.replace("\r\n ", "");
    let entries = text.matches("BEGIN:VEVENT").count();
    let ours = text.lines().filter(|line| line.trim_end().ends_with("@ovenbell")).count();
    text.starts_with("BEGIN:VCALENDAR") && entries == ours
}

/// A key of a lesson without an id: its title, class and day.
fn plain_key(lesson: &Lesson, date: NaiveDate) -> String {
    let words = format!("{} {} {date}", lesson.title, lesson.class.name).to_lowercase();
    plain(&words)
}

/// Letters and digits of a name, hyphens between its words: as ids in a calendar are.
pub fn plain(words: &str) -> String {
    let split = words.split(|c: char| !c.is_alphanumeric());
    split.filter(|word| !word.is_empty()).collect::<Vec<_>>().join("-")
}

/// When a minute is; refused where the lesson's zone has no such time.
fn moment(
    lesson: &Lesson,
    date: NaiveDate,
    minute: Minute,
) -> Result<CalendarDateTime, CalendarFault> {
    let bell = lesson.periods[0].start_clock.minutes_since(crate::units::ClockTime::MIDNIGHT);
    let since = bell + (minute - Minute::BELL);
    let at: NaiveDateTime =
        date.and_time(chrono::NaiveTime::MIN) + Duration::minutes(i64::from(since.get()));
    let Some(zone) = lesson.zone else { return Ok(CalendarDateTime::Floating(at)) };
    if zone::is_there(zone, at) {
        return Ok(CalendarDateTime::WithTimezone { date_time: at, tzid: zone.name().to_owned() });
    }
    Err(CalendarFault::NoSuchTime { at: at.time(), date: at.date(), zone: zone.name() })
}

fn entries(of: &ForLesson<'_>) -> Vec<Entry> {
    let (lesson, plan) = (of.lesson, of.plan);
    let mut all: Vec<Entry> =
        (0..lesson.periods.len()).map(|i| period(lesson, PeriodId(i))).collect();
    all.extend(calls(lesson, plan));
    all.extend(ovens_on(lesson, plan));
    all.extend(beforehand(of));
    all
}

fn period(lesson: &Lesson, id: PeriodId) -> Entry {
    let period = &lesson.periods[id.0];
    let title = if lesson.title.is_empty() { "Baking practical" } else { &lesson.title };
    let named = [title, &*lesson.class.name];
    let rooms: Vec<String> = (0..lesson.rooms.len()).map(|i| place(lesson, RoomId(i))).collect();
    let from = Minute::BELL + period.start_clock.minutes_since(lesson.periods[0].start_clock);
    Entry {
        key: format!("lesson-{}", id.0 + 1),
        title: named.iter().filter(|n| !n.is_empty()).copied().collect::<Vec<_>>().join(", "),
        more: String::new(),
        place: rooms.into_iter().filter(|r| !r.is_empty()).collect::<Vec<_>>().join(", "),
        from,
        until: from + period.length(),
        is_reminded_of: false,
    }
}

/// Words with the class after them, if it has a name: a calendar may have several.
fn with_class(lesson: &Lesson, words: String) -> String {
    match lesson.class.name.as_str() {
        "" => words,
        class => format!("{words}, {class}"),
    }
}

fn place(lesson: &Lesson, room: RoomId) -> String {
    lesson.rooms.get(room.0).map(|r| r.name.clone()).unwrap_or_default()
}

fn place_of(lesson: &Lesson, oven: OvenId) -> String {
    place(lesson, lesson.ovens[oven.0].room)
}

/// Each loading of an oven in a minute, until what went in is out.
fn calls(lesson: &Lesson, plan: &CheckedPlan) -> Vec<Entry> {
    let mut calls: Vec<(OvenId, Minute, Minute, Vec<String>)> = Vec::new();
    for load in &plan.plan().loads {
        let name = lesson.group(load.group).name.clone();
        match calls.iter_mut().find(|c| (c.0, c.1) == (load.oven, load.start)) {
            Some((_, _, until, names)) => {
                *until = (*until).max(load.end);
                if !names.contains(&name) {
                    names.push(name);
                }
            }
            None => calls.push((load.oven, load.start, load.end, vec![name])),
        }
    }
    calls.sort_by_key(|c| (c.0, c.1));
    let mut turn = (None, 0);
    let entry = |(oven, from, until, names): (OvenId, Minute, Minute, Vec<String>)| {
        // Counted by the oven's own calls: another minute is the same call moved.
        turn = (Some(oven), if turn.0 == Some(oven) { turn.1 + 1 } else { 1 });
        let named = &lesson.ovens[oven.0].name;
        Entry {
            key: format!("call-{}-{}", plain(&named.to_lowercase()), turn.1),
            title: with_class(lesson, format!("{named}: {} in", list(&in_short(&names)))),
            more: "Baked when the done test says so, never by the clock alone.".to_owned(),
            place: place_of(lesson, oven),
            from,
            until,
            is_reminded_of: false,
        }
    };
    calls.into_iter().map(entry).collect()
}

/// Each setting of an oven, with an alarm.
fn ovens_on(lesson: &Lesson, plan: &CheckedPlan) -> Vec<Entry> {
    let mut settings = plan.plan().settings.clone();
    settings.sort_by_key(|s| (s.oven, s.set_at));
    let mut turn = (None, 0);
    let entry = |s: &crate::plan::OvenSetting| {
        turn = (Some(s.oven), if turn.0 == Some(s.oven) { turn.1 + 1 } else { 1 });
        let oven = &lesson.ovens[s.oven.0];
        Entry {
            key: format!("set-{}-{}", plain(&oven.name.to_lowercase()), turn.1),
            title: with_class(lesson, format!("{} on at {} °C", oven.name, oven.dial(s.celsius))),
            more: String::new(),
            place: place_of(lesson, s.oven),
            from: s.set_at,
            until: s.hot_from,
            is_reminded_of: true,
        }
    };
    settings.iter().map(entry).collect()
}
