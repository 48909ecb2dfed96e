//! What rests between two lessons of a class, as a dough does overnight: whether it rests
//! long enough and not too long, and whether there are places for all that rests at once.

use chrono::{NaiveDateTime, NaiveTime, TimeDelta};

use super::model::{Entry, EntryNo, Week, of_day};
use super::understand::{Reader, root, short};
use crate::file::did_you_mean;
use crate::file::format::{LessonFile, RestShape};
use crate::units::ClockTime;
use crate::words::list;

/// The longest rest, in hours: a week.
const LONGEST: i64 = 168;

/// What rests from one lesson to another of the same class.
#[derive(Debug, Clone, PartialEq)]
pub struct Rest {
    /// What it is: "dough".
    pub what: String,
    /// The id of the lesson it is made in.
    pub from: String,
    /// The id of the lesson it is used in.
    pub to: String,
    /// The fewest and the most hours from bell to bell.
    pub hours: (i64, i64),
    /// Where it rests, one for each group: a number among what moves.
    pub place: Option<usize>,
}

/// What is wrong with a rest, by its number in the file.
#[derive(Debug, Clone, PartialEq)]
pub enum RestFault {
    /// The class has nothing that rested for this lesson.
    NothingRested(usize, EntryNo),
    /// From one lesson to the other it is too short or too long: so many minutes.
    Hours(usize, [EntryNo; 2], i64),
    /// More rest at a moment than there are places, by the lessons they were made in.
    Places {
        /// The rest that is the last one in.
        rest: usize,
        /// When most are there.
        at: NaiveDateTime,
        /// How many are to be there, and how many places there are.
        wanted: (u32, u32),
        /// The lessons they were made in.
        by: Vec<EntryNo>,
    },
}

/// One rest of one class.
struct Stretch<'a> {
    rest: usize,
    first: &'a Entry,
    second: &'a Entry,
}

impl Stretch<'_> {
    fn span(&self) -> (NaiveDateTime, NaiveDateTime) {
        (moment(self.first, self.first.slot.end()), moment(self.second, self.second.slot.start()))
    }

    /// How many rest: one of each group.
    fn sets(&self) -> u32 {
        self.first.lesson().map_or(0, |taught| groups(&taught.shapes))
    }
}

/// All that is wrong with the rests of a week.
pub fn broken_rests(week: &Week) -> Vec<RestFault> {
    let mut faults = Vec::new();
    let mut all: Vec<Stretch<'_>> = Vec::new();
    for (number, rest) in week.rests.iter().enumerate() {
        for second in of_lesson(week, &rest.to) {
            let before = of_lesson(week, &rest.from).filter(|first| {
                first.class == second.class
                    && moment(first, first.slot.end()) <= moment(second, second.slot.start())
            });
            let last = before.max_by_key(|first| moment(first, first.slot.end()));
            let Some(first) = last else {
                faults.push(RestFault::NothingRested(number, second.number));
                continue;
            };
            let stretch = Stretch { rest: number, first, second };
            let (from, until) = stretch.span();
            let minutes = (until - from).num_minutes();
            if minutes < 60 * rest.hours.0 || 60 * rest.hours.1 < minutes {
                faults.push(RestFault::Hours(number, [first.number, second.number], minutes));
            }
            all.push(stretch);
        }
    }
    faults.extend((0..week.moves.len()).filter_map(|place| too_few_places(week, place, &all)));
    faults
}

/// Where most rest beyond the places there are.
fn too_few_places(week: &Week, place: usize, all: &[Stretch<'_>]) -> Option<RestFault> {
    let here: Vec<&Stretch<'_>> =
        all.iter().filter(|stretch| week.rests[stretch.rest].place == Some(place)).collect();
    let nights = week.days.iter().map(|day| day.date.and_time(NaiveTime::MIN));
    let moments = here.iter().map(|stretch| stretch.span().0).chain(nights);
    let over = moments.filter_map(|at| {
        let inside = |stretch: &&&Stretch<'_>| {
            let (from, until) = stretch.span();
            from <= at && at < until
        };
        let resting: Vec<&&Stretch<'_>> = here.iter().filter(inside).collect();
        let wanted: u32 = resting.iter().map(|stretch| stretch.sets()).sum();
        let there = week.there(place, at.date());
        let last = resting.iter().max_by_key(|stretch| (stretch.span().0, stretch.rest))?;
        let by = resting.iter().map(|stretch| stretch.first.number).collect();
        let (rest, wanted) = (last.rest, (wanted, there));
        (there < wanted.0).then_some(RestFault::Places { rest, at, wanted, by })
    });
    // The first moment of those at which most are too many.
    over.reduce(|most, other| if beyond(&most) < beyond(&other) { other } else { most })
}

fn beyond(fault: &RestFault) -> u32 {
    match fault {
        RestFault::Places { wanted: (wanted, there), .. } => wanted.saturating_sub(*there),
        RestFault::NothingRested(..) | RestFault::Hours(..) => 0,
    }
}

/// Entries of a lesson by its id.
fn of_lesson<'a>(week: &'a Week, id: &'a str) -> impl Iterator<Item = &'a Entry> {
    let is_it = move |e: &&Entry| e.lesson().is_some_and(|taught| taught.id.as_deref() == Some(id));
    week.entries.iter().filter(is_it)
}

fn moment(entry: &Entry, at: ClockTime) -> NaiveDateTime {
    entry.slot.date.and_time(NaiveTime::MIN) + TimeDelta::minutes(i64::from(of_day(at).get()))
}

/// Groups that take part in a lesson.
fn groups(file: &LessonFile) -> u32 {
    let attending = file.groups.iter().filter(|group| !group.left_out);
    let count = |n: i64| u32::try_from(n.clamp(0, 500)).unwrap_or(0);
    attending.map(|group| count(group.count.unwrap_or(1))).sum()
}

impl Reader<'_> {
    /// The rests of the file that can be understood.
    pub(super) fn rests(&mut self, week: &Week) -> Vec<Rest> {
        let (mut all, file) = (Vec::new(), self.file);
        for (i, shape) in file.rests.iter().enumerate() {
            all.extend(self.rest(week, i, shape));
        }
        all
    }

    fn rest(&mut self, week: &Week, number: usize, shape: &RestShape) -> Option<Rest> {
        let at = root("rests").index(number);
        let mut sound = true;
        for (field, id) in [("from", &shape.from), ("to", &shape.to)] {
            if self.file.lessons.iter().all(|entry| entry.id.as_ref() != Some(id)) {
                let ids = self.file.lessons.iter().filter_map(|entry| entry.id.as_deref());
                let hint = did_you_mean(id, ids);
                let message = format!("no lesson of this week has the id \"{}\"", short(id));
                self.error("unknown-name", &at.field(field), message, hint);
                sound = false;
            }
        }
        let (least, most) = shape.hours;
        if least < 0 || most < least || LONGEST < most {
            let message = format!(
                "it rests for {least} to {most} hours; these must lie between 0 and {LONGEST}"
            );
            self.error("hours", &at.field("hours"), message, "the fewer hours stand first");
            sound = false;
        }
        let place = match &shape.place {
            None => None,
            Some(name) => {
                let place = week.moves.iter().position(|moving| moving.name == *name);
                if place.is_none() {
                    let hint = did_you_mean(name, week.moves.iter().map(|m| m.name.as_str()));
                    let message = format!("no \"{}\" goes from room to room", short(name));
                    self.error("unknown-name", &at.field("place"), message, hint);
                    sound = false;
                }
                place
            }
        };
        let RestShape { what, from, to, hours, .. } = shape.clone();
        sound.then_some(Rest { what, from, to, hours, place })
    }

    /// Tells what is wrong with rests: at the lesson for which nothing has rested as it
    /// should, or at the rest for which there is no place.
    pub(super) fn tell_of_rests(&mut self, week: &Week) {
        for fault in broken_rests(week) {
            let title = |number: EntryNo| {
                week.entry(number)
                    .map_or_else(String::new, |e| format!("{} ({})", e.title(), e.class))
            };
            match fault {
                RestFault::NothingRested(rest, second) => {
                    let what = &week.rests[rest].what;
                    let message = format!(
                        "no {} is there for {}: the class makes none before it this week",
                        short(what),
                        title(second)
                    );
                    let hint = format!("teach \"{}\" before it", short(&week.rests[rest].from));
                    self.error("rest-order", &root("lessons").index(second.0), message, hint);
                }
                RestFault::Hours(rest, [first, second], minutes) => {
                    let Rest { what, hours: (least, most), .. } = &week.rests[rest];
                    let is = if minutes < 60 * least { "too short" } else { "too long" };
                    let message = format!(
                        "the {} rests {} from {} to {}, which is {is}: {least} to {most} hours",
                        short(what),
                        hours_in_words(minutes),
                        title(first),
                        title(second)
                    );
                    let hint = "move one of the two";
                    self.error("rest-hours", &root("lessons").index(second.0), message, hint);
                }
                RestFault::Places { rest, at, wanted: (wanted, there), by } => {
                    let place = week.rests[rest].place.and_then(|place| week.moves.get(place));
                    let place = place.map_or("", |moving| moving.name.as_str());
                    let message = format!(
                        "{wanted} × {place} wanted on {} from {} on, {there} there: {}",
                        at.format("%A"),
                        at.format("%H:%M"),
                        list(&by.into_iter().map(title).collect::<Vec<_>>())
                    );
                    let hint = "rest less at once, or write more of it among `moves`";
                    self.error("rest-places", &root("rests").index(rest), message, hint);
                }
            }
        }
    }
}

/// "17 h", "17 h 20 min".
fn hours_in_words(minutes: i64) -> String {
    match (minutes / 60, minutes % 60) {
        (hours, 0) => format!("{hours} h"),
        (hours, minutes) => format!("{hours} h {minutes} min"),
    }
}
