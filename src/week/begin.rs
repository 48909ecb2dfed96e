//! A week's file begun from lessons: each brings its bells and its room, where the week
//! has none like them yet.

use std::path::Path as FilePath;
use std::sync::Arc;

use chrono::{Datelike, Days, NaiveDate, Weekday};

use super::understand::understood;
use crate::file::format::{
    DayShape, Entries, LessonFile, PeriodShape, PointerShape, RoomShape, Several, WEEK_FORMAT,
    WeekDayShape, WeekEntryShape, WeekFile,
};
use crate::file::{Disk, id_of, load_lesson, read_week, write_week};
use crate::finding::{Finding, Severity};
use crate::units::ClockTime;

/// Days on which there are lessons.
const WORKING_DAYS: [DayShape; 5] =
    [DayShape::Mon, DayShape::Tue, DayShape::Wed, DayShape::Thu, DayShape::Fri];

fn time(text: &str) -> Option<ClockTime> {
    ClockTime::parse(text).ok()
}

/// From the first to the last of some bells, on a usual day.
fn time_of(file: &WeekFile, at: &Several) -> Option<(ClockTime, ClockTime)> {
    let bells = file.bells.0.iter().filter(|(name, _)| at.0.contains(name));
    let times: Vec<_> =
        bells.filter_map(|(_, (from, until))| time(from).zip(time(until))).collect();
    let start = times.iter().map(|of| of.0).min()?;
    Some((start, times.iter().map(|of| of.1).max()?))
}

/// The bells of a week begun from a lesson without any, as a week has some: to be changed.
const FIRST_BELLS: (&str, (&str, &str)) = ("P1", ("09:00", "10:00"));

/// The week of a day, with the bells and rooms of a lesson and nothing in it yet.
pub fn begun(day: NaiveDate, lesson: &LessonFile) -> WeekFile {
    let mut file =
        WeekFile { format: WEEK_FORMAT, week: monday_of(day).to_string(), ..WeekFile::default() };
    slot_of(&mut file, lesson);
    if file.bells.0.is_empty() {
        let (name, (from, until)) = FIRST_BELLS;
        file.bells.0.push((name.to_owned(), (from.to_owned(), until.to_owned())));
    }
    file
}

/// A lesson's file as it may be put into a week's.
///
/// # Errors
/// Why it cannot be put in, in words.
pub fn to_put_in(lesson: &FilePath) -> Result<LessonFile, String> {
    let loaded = load_lesson(lesson).map_err(|findings| first_of(&findings))?;
    match loaded.file.today {
        None => Ok(loaded.file),
        Some(_) => {
            Err("it is a copy for one day; the lesson it was made from can be put in".to_owned())
        }
    }
}

/// What leads from a week's file to that of a lesson. One without an id is given one, where
/// it may be written.
///
/// # Errors
/// Why nothing can, in words.
pub fn pointer_to(
    disk: &Arc<dyn Disk>,
    (path, lesson): (&FilePath, &LessonFile),
    week: &FilePath,
) -> Result<PointerShape, String> {
    let id = match &lesson.id {
        Some(id) => Some(id.clone()),
        None => id_of(disk, path).map(|id| id.to_string()),
    };
    let pointer = PointerShape::to(path, week.parent(), id);
    pointer.ok_or_else(|| "its name cannot be written as a path".to_owned())
}

/// The text of a week's file, if it can be read again as a week in that folder.
///
/// # Errors
/// What keeps it from being one, in words.
pub fn text_of(file: &WeekFile, folder: &FilePath) -> Result<String, String> {
    let text = write_week(file).map_err(|why| why.to_string())?;
    let read = read_week(&text).and_then(|text| understood(&text, folder, &[]));
    read.map_err(|findings| first_of(&findings))?;
    Ok(text)
}

fn first_of(findings: &[Finding]) -> String {
    let error = findings.iter().find(|f| f.severity == Severity::Error);
    error.or(findings.first()).map_or_else(String::new, |finding| finding.message.clone())
}

/// The week with one lesson more, which a pointer leads to. It is on the day of its date
/// if that is of the week, else on the first from Monday to Friday on which nothing else is
/// between these bells in that room; between its own bells and in its own room.
#[must_use]
pub fn with_lesson(file: &WeekFile, lesson: &LessonFile, pointer: PointerShape) -> WeekFile {
    let mut file = file.clone();
    let (at, room) = slot_of(&mut file, lesson);
    let PointerShape { file: path, id } = pointer;
    let own = time_of(&file, &at);
    let is_free = |on: &DayShape| {
        let is_closed = |day: &&WeekDayShape| {
            day.on == *on && room.0.iter().any(|name| day.closed.contains(name))
        };
        let meets = |of: &&WeekEntryShape| {
            let there = match &of.time {
                Some((from, until)) => time(from).zip(time(until)),
                None => time_of(&file, &of.at),
            };
            of.on == *on
                && of.room.0.iter().any(|name| room.0.contains(name))
                && there.zip(own).is_none_or(|(a, b)| a.0 < b.1 && b.0 < a.1)
        };
        !file.days.iter().any(|day| is_closed(&day)) && !file.lessons.iter().any(|of| meets(&of))
    };
    let free = || WORKING_DAYS.into_iter().find(is_free);
    let on = on_day(&file, lesson).or_else(free).unwrap_or_default();
    let entry = WeekEntryShape { file: Some(path), id, on, at, room, ..WeekEntryShape::default() };
    file.lessons.push(entry);
    file
}

/// The week after this one, with the same lessons at the same places. What is out of
/// order and how some days differ is of this week only.
#[must_use]
pub fn week_after(file: &WeekFile) -> Option<WeekFile> {
    let monday = date(&file.week)?.checked_add_days(Days::new(7))?;
    let mut next =
        WeekFile { week: monday.to_string(), out: Vec::new(), days: Vec::new(), ..file.clone() };
    for entry in &mut next.lessons {
        entry.date = None;
    }
    Some(next)
}

/// The Monday of a day's week; the day itself at the very beginning of the calendar.
fn monday_of(day: NaiveDate) -> NaiveDate {
    day.week(Weekday::Mon).checked_first_day().unwrap_or(day)
}

fn date(text: &str) -> Option<NaiveDate> {
    NaiveDate::parse_from_str(text, "%Y-%m-%d").ok()
}

/// The day of the week that a lesson's own date is.
fn on_day(file: &WeekFile, lesson: &LessonFile) -> Option<DayShape> {
    let (monday, own) = (date(&file.week)?, date(lesson.date.as_deref()?)?);
    let is_here = monday_of(own) == monday;
    is_here.then(|| DayShape::of(own.weekday()))
}

/// The bells and rooms of a lesson, put into the week where it has none like them.
fn slot_of(file: &mut WeekFile, lesson: &LessonFile) -> (Several, Several) {
    // Several periods have a bell each; one may be a double.
    let may_be_double = lesson.periods().count() == 1;
    let bells = lesson.periods();
    let bells = bells.flat_map(|period| bells_of(&mut file.bells, period, may_be_double)).collect();
    let rooms = lesson.rooms().map(|room| room_of(&mut file.rooms, room)).collect();
    (Several(bells), Several(rooms))
}

/// The bells between which a period is: one, or several that follow each other, as of a
/// double. One of its own is made where there are none.
fn bells_of(
    bells: &mut Entries<(String, String)>,
    period: &PeriodShape,
    may_be_double: bool,
) -> Vec<String> {
    let (Some(start), Some(end)) = (time(&period.start), time(&period.end)) else {
        return Vec::new();
    };
    let mut within: Vec<_> = bells
        .0
        .iter()
        .filter_map(|(name, (from, until))| Some((time(from)?, time(until)?, name)))
        .filter(|(from, until, _)| *from >= start && *until <= end)
        .collect();
    within.sort();
    // A break between them is no other period's.
    let covers = |of: &[(ClockTime, ClockTime, &String)]| {
        of.first().is_some_and(|b| b.0 == start)
            && of.last().is_some_and(|b| b.1 == end)
            && of.windows(2).all(|pair| pair[0].1 <= pair[1].0)
    };
    if let Some(one) = within.iter().find(|b| (b.0, b.1) == (start, end)) {
        return vec![one.2.clone()];
    }
    if may_be_double && covers(&within) {
        return within.into_iter().map(|(.., name)| name.clone()).collect();
    }
    let own = period.name.trim();
    let is_free = |name: &str| !name.is_empty() && bells.0.iter().all(|(of, _)| of != name);
    let times = format!("{} to {}", period.start, period.end);
    let name = [own, times.as_str()].into_iter().find(|name| is_free(name)).unwrap_or(&times);
    let name = name.to_owned();
    // In the order of time, as neighbours make a double.
    let sooner = |(_, (from, _)): &(String, (String, String))| time(from) <= Some(start);
    let place = bells.0.iter().rposition(sooner).map_or(0, |last| last + 1);
    bells.0.insert(place, (name.clone(), (period.start.clone(), period.end.clone())));
    vec![name]
}

/// The room of that name, which is put in if there is none. One without a name is the one
/// with the same in it, or is given a name.
fn room_of(rooms: &mut Vec<RoomShape>, room: &RoomShape) -> String {
    // A slash stands between a room and what is in it.
    let own = room.name.trim().replace('/', "-");
    let own = own.as_str();
    let named = |room: &RoomShape, name: &str| RoomShape { name: name.to_owned(), ..room.clone() };
    let is_it = |of: &&RoomShape| match own {
        "" => **of == named(room, &of.name),
        own => of.name.trim() == own,
    };
    if let Some(place) = rooms.iter().position(|of| is_it(&of)) {
        let there = &mut rooms[place];
        // A room of which nothing is known yet has what the lesson says.
        if *there == named(&RoomShape::default(), &there.name) {
            *there = named(room, &there.name);
        }
        return there.name.clone();
    }
    let is_free = |name: &String| rooms.iter().all(|of| of.name != *name);
    let name = match own {
        "" => (1..).map(|n| format!("Room {n}")).find(is_free).unwrap_or_default(),
        own => own.to_owned(),
    };
    rooms.push(named(room, &name));
    name
}

#[cfg(test)]
mod tests {
    use super::*;

    fn lesson(date: Option<&str>, (start, end): (&str, &str), room: &str) -> LessonFile {
        let period = PeriodShape {
            name: "mine".to_owned(),
            start: start.to_owned(),
            end: end.to_owned(),
            ..PeriodShape::default()
        };
        let room = RoomShape { name: room.to_owned(), ..RoomShape::default() };
        LessonFile { date: date.map(str::to_owned), period, room, ..LessonFile::default() }
    }

    fn week() -> WeekFile {
        let bell = |name: &str, from: &str, until: &str| {
            (name.to_owned(), (from.to_owned(), until.to_owned()))
        };
        let bells = vec![
            bell("P4", "12:20", "13:20"),
            bell("P2", "10:00", "11:00"),
            bell("P3", "11:20", "12:20"),
        ];
        WeekFile { week: "2026-11-30".to_owned(), bells: Entries(bells), ..WeekFile::default() }
    }

    fn put(lesson: &LessonFile) -> (WeekFile, WeekEntryShape) {
        let pointer = PointerShape { file: "a.ron".to_owned(), id: None };
        let file = with_lesson(&week(), lesson, pointer);
        let entry = file.lessons[0].clone();
        (file, entry)
    }

    #[test]
    fn a_lesson_comes_between_the_bells_that_are_there_or_brings_its_own() {
        let at = |start, end| {
            let (file, entry) = put(&lesson(None, (start, end), "Room 1"));
            (entry.at.0, file.bells.0.len())
        };
        assert_eq!(at("11:20", "12:20"), (vec!["P3".to_owned()], 3));
        // A double, in the order of time, whatever the order in the file.
        assert_eq!(at("11:20", "13:20"), (vec!["P3".to_owned(), "P4".to_owned()], 3));
        // Over a break: the bells at its ends are those of two periods.
        assert_eq!(at("10:00", "12:20"), (vec!["P2".to_owned(), "P3".to_owned()], 3));
        assert_eq!(at("11:20", "12:10"), (vec!["mine".to_owned()], 4));
        // Of two periods each has a bell of its own, also where one is as long as two.
        let mut two = lesson(None, ("10:00", "11:00"), "Room 1");
        let other = PeriodShape { name: "later".to_owned(), ..two.period.clone() };
        let other = PeriodShape { start: "11:20".into(), end: "13:20".into(), ..other };
        two.other_periods.push(other);
        assert_eq!(put(&two).1.at.0, ["P2", "later"]);
        // Bells that cannot be read are told where the lesson is.
        assert_eq!(at("", "12:10"), (Vec::new(), 3));
    }

    #[test]
    fn a_room_without_a_name_is_given_one_and_known_again_by_what_is_in_it() {
        let mut first = lesson(None, ("11:20", "12:20"), "");
        first.room.tins.0.push(("loaf".to_owned(), 4));
        let pointer = |file: &str| PointerShape { file: file.to_owned(), id: None };
        let file = with_lesson(&week(), &first, pointer("a.ron"));
        let file = with_lesson(&file, &first, pointer("b.ron"));
        let file = with_lesson(&file, &lesson(None, ("11:20", "12:20"), ""), pointer("c.ron"));
        let file = with_lesson(&file, &lesson(None, ("11:20", "12:20"), "Room 1"), pointer("d"));
        let rooms: Vec<_> = file.lessons.iter().map(|l| l.room.0.join(", ")).collect();
        assert_eq!(rooms, ["Room 1", "Room 1", "Room 2", "Room 1"]);
        assert_eq!(file.rooms.len(), 2);
    }

    #[test]
    fn a_lesson_is_on_the_day_of_its_date_if_that_is_of_the_week() {
        let on = |date| put(&lesson(date, ("11:20", "12:20"), "Room 1")).1.on;
        assert_eq!(on(Some("2026-12-03")), DayShape::Thu);
        assert_eq!(on(Some("2026-12-10")), DayShape::Mon);
        // A second one where the first is already goes to the next day; a third too.
        let same = lesson(None, ("11:20", "12:20"), "Room 1");
        let mut file = week();
        for name in ["a.ron", "b.ron", "c.ron"] {
            let pointer = PointerShape { file: name.to_owned(), id: None };
            file = with_lesson(&file, &same, pointer);
        }
        let days: Vec<DayShape> = file.lessons.iter().map(|of| of.on).collect();
        assert_eq!(days, [DayShape::Mon, DayShape::Tue, DayShape::Wed]);
        // Nor is a room free for bells of its own that overlap, for who has booked it, or
        // while it is closed.
        file.lessons[1] = WeekEntryShape {
            booking: Some("exam".to_owned()),
            on: DayShape::Tue,
            time: Some(("12:00".to_owned(), "12:30".to_owned())),
            room: Several(vec!["Room 1".to_owned()]),
            ..WeekEntryShape::default()
        };
        let closed = vec!["Room 1".to_owned()];
        file.days.push(WeekDayShape { on: DayShape::Thu, closed, ..WeekDayShape::default() });
        let overlaps = lesson(None, ("11:30", "12:10"), "Room 1");
        let pointer = PointerShape { file: "d.ron".to_owned(), id: None };
        let file = with_lesson(&file, &overlaps, pointer);
        assert_eq!(file.lessons[3].on, DayShape::Fri);
        // Its bells are where they are in time.
        let starts: Vec<&str> = file.bells.0.iter().map(|(_, (from, _))| from.as_str()).collect();
        assert_eq!(starts, ["12:20", "10:00", "11:20", "11:30"]);
        assert_eq!((on(Some("soon")), on(None)), (DayShape::Mon, DayShape::Mon));
    }

    #[test]
    fn a_week_begins_on_its_monday_and_goes_on_with_the_next() {
        let day = NaiveDate::from_ymd_opt(2026, 12, 30).unwrap_or_default();
        let begun = begun(day, &lesson(None, ("", ""), "Room 1"));
        assert_eq!((begun.week.as_str(), begun.bells.0.len()), ("2026-12-28", 1));
        assert_eq!(begun.rooms.len(), 1);
        let after = week_after(&begun).unwrap_or_default();
        assert_eq!((after.week.as_str(), after.rooms), ("2027-01-04", begun.rooms));
    }
}
