//! A week's file begun from lessons: each brings its bells and its room, where the week
//! has none like them yet.

use std::path::Path as FilePath;
use std::sync::Arc;

use chrono::{Datelike, Days, NaiveDate, Weekday};

use crate::file::format::{
    DayShape, Entries, LessonFile, PeriodShape, PointerShape, RoomShape, Several, WEEK_FORMAT,
    WeekEntryShape, WeekFile,
};
use crate::file::{Disk, id_of, load_lesson};
use crate::finding::Severity;
use crate::units::ClockTime;

/// Days on which there are lessons.
const WORKING_DAYS: [DayShape; 5] =
    [DayShape::Mon, DayShape::Tue, DayShape::Wed, DayShape::Thu, DayShape::Fri];

/// Whether two entries have a bell, or a room, in common.
fn shares(one: &Several, other: &Several) -> bool {
    one.0.iter().any(|name| other.0.contains(name))
}

/// The bells of a week begun from a lesson without any, as a week has some: to be changed.
const FIRST_BELLS: (&str, (&str, &str)) = ("P1", ("09:00", "10:00"));

/// The week of a day, with the bells and rooms of a lesson and nothing in it yet.
pub fn begun(day: NaiveDate, lesson: &LessonFile) -> WeekFile {
    let mut file = WeekFile {
        format: WEEK_FORMAT,
        week: day.week(Weekday::Mon).first_day().to_string(),
        ..WeekFile::default()
    };
    slot_of(&mut file, lesson);
    if file.bells.0.is_empty() {
        let (name, (from, until)) = FIRST_BELLS;
        file.bells.0.push((name.to_owned(), (from.to_owned(), until.to_owned())));
    }
    file
}

/// A lesson's file as it is put into a week's: its shapes, and what leads there. One without
/// an id is given one, where it may be written.
///
/// # Errors
/// Why it cannot be put in, in words.
pub fn to_put_in(
    disk: &Arc<dyn Disk>,
    lesson: &FilePath,
    week: &FilePath,
) -> Result<(LessonFile, PointerShape), String> {
    let loaded = load_lesson(lesson).map_err(|findings| {
        let first = findings.iter().find(|f| f.severity == Severity::Error).or(findings.first());
        first.map_or_else(String::new, |f| f.message.clone())
    })?;
    if loaded.file.today.is_some() {
        return Err(
            "it is a copy for one day; the lesson it was made from can be put in".to_owned()
        );
    }
    let id = match &loaded.file.id {
        Some(id) => Some(id.clone()),
        None => id_of(disk, lesson).map(|id| id.to_string()),
    };
    match PointerShape::to(lesson, week.parent(), id) {
        Some(pointer) => Ok((loaded.file, pointer)),
        None => Err("its name cannot be written as a path".to_owned()),
    }
}

/// The week with one lesson more, which a pointer leads to. It is on the day of its date
/// if that is of the week, else on the first from Monday to Friday on which nothing else is
/// between these bells in that room; between its own bells and in its own room.
#[must_use]
pub fn with_lesson(file: &WeekFile, lesson: &LessonFile, pointer: PointerShape) -> WeekFile {
    let mut file = file.clone();
    let (at, room) = slot_of(&mut file, lesson);
    let PointerShape { file: path, id } = pointer;
    let is_free = |on: &DayShape| {
        let mut there = file.lessons.iter().filter(|of| of.on == *on);
        !there.any(|of| shares(&of.room, &room) && shares(&of.at, &at))
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

fn date(text: &str) -> Option<NaiveDate> {
    NaiveDate::parse_from_str(text, "%Y-%m-%d").ok()
}

/// The day of the week that a lesson's own date is.
fn on_day(file: &WeekFile, lesson: &LessonFile) -> Option<DayShape> {
    let (monday, own) = (date(&file.week)?, date(lesson.date.as_deref()?)?);
    let is_here = own.week(Weekday::Mon).first_day() == monday;
    is_here.then(|| DayShape::of(own.weekday()))
}

/// The bells and rooms of a lesson, put into the week where it has none like them.
fn slot_of(file: &mut WeekFile, lesson: &LessonFile) -> (Several, Several) {
    let bells = lesson.periods().flat_map(|period| bells_of(&mut file.bells, period)).collect();
    let rooms = lesson.rooms().map(|room| room_of(&mut file.rooms, room)).collect();
    (Several(bells), Several(rooms))
}

/// The bells between which a period is: one, or several that follow each other, as of a
/// double. One of its own is made where there are none.
fn bells_of(bells: &mut Entries<(String, String)>, period: &PeriodShape) -> Vec<String> {
    let time = |text: &str| ClockTime::parse(text).ok();
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
    if covers(&within) {
        return within.into_iter().map(|(.., name)| name.clone()).collect();
    }
    let own = period.name.trim();
    let is_free = |name: &str| !name.is_empty() && bells.0.iter().all(|(of, _)| of != name);
    let time = format!("{} to {}", period.start, period.end);
    let name = [own, time.as_str()].into_iter().find(|name| is_free(name)).unwrap_or(&time);
    let name = name.to_owned();
    bells.0.push((name.clone(), (period.start.clone(), period.end.clone())));
    vec![name]
}

/// The room of that name, which is put in if there is none. One without a name is the one
/// with the same in it, or is given a name.
fn room_of(rooms: &mut Vec<RoomShape>, room: &RoomShape) -> String {
    let own = room.name.trim();
    let named = |room: &RoomShape, name: &str| RoomShape { name: name.to_owned(), ..room.clone() };
    let is_it = |of: &&RoomShape| match own {
        "" => **of == named(room, &of.name),
        own => of.name.trim() == own,
    };
    if let Some(there) = rooms.iter().find(is_it) {
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
