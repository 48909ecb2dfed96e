//! What the technician does for the lessons of a day, or of several, in the
//! order of time, and where that cannot be.

use chrono::NaiveDate;

use super::jobs_together::{JobsTogether, together};
use super::words::{clock, in_short, list};
use crate::check::CheckedPlan;
use crate::model::{Adult, AdultId, GroupId, Lesson, RoomId, technician};
use crate::play::{Job, Task, jobs};
use crate::units::{ClockTime, Minute, Minutes};
use crate::words::capital;

/// Something that is done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Duty {
    /// The day, if the lesson has one.
    pub date: Option<NaiveDate>,
    /// It must have begun by this time.
    pub start_by: ClockTime,
    /// How long it takes, in a few words; nothing for what takes no time worth
    /// a minute.
    pub length: String,
    /// What.
    pub what: String,
    /// Where; empty if the room has no name.
    pub room: String,
    /// The title of the lesson it is done for, with the class where several lessons
    /// have that title.
    pub lesson: String,
    /// The lesson names somebody for it, or there is a technician of whom it is
    /// assumed; else nobody is named.
    pub is_theirs: bool,
    /// From and until, in minutes of its day.
    span: (i32, i32),
    /// It is done before the bell, and could be done earlier.
    is_set: bool,
}

/// When all that is done before a lesson's bell begins, and how long it takes.
pub type SetOut = (ClockTime, Minutes);

/// All that is done, and where it cannot be.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct TechniciansDay {
    /// What is done, in the order of time.
    pub duties: Vec<Duty>,
    /// Where the technician is wanted for two things at once, or is not there,
    /// in words.
    pub clashes: Vec<String>,
}

impl TechniciansDay {
    /// Of lessons and their plans. The technician is taken to be the same person
    /// in all of them.
    pub fn of(lessons: &[(&Lesson, &CheckedPlan)]) -> Self {
        let each = lessons.iter().map(|&(lesson, plan)| (lesson, plan, None));
        Self::laid(&each.collect::<Vec<_>>())
    }

    /// The same where it is known when each lesson is set out: all of that is one duty
    /// then, which bars no other, as it was laid around them.
    pub fn laid(lessons: &[(&Lesson, &CheckedPlan, Option<SetOut>)]) -> Self {
        let mut duties: Vec<Duty> = Vec::new();
        let mut clashes = Vec::new();
        for &(lesson, plan, set_out) in lessons {
            let mut of_lesson = duties_of(lesson, plan);
            let same = lessons.iter().filter(|(other, ..)| other.title == lesson.title).count();
            if same > 1 && !lesson.class.name.is_empty() {
                let name = format!("{}, {}", lesson.title, lesson.class.name);
                of_lesson.iter_mut().for_each(|(duty, ..)| duty.lesson.clone_from(&name));
            }
            if let Some(set_out) = set_out {
                let (set, others) = of_lesson.into_iter().partition(|(duty, ..)| duty.is_set);
                of_lesson = others;
                duties.extend(one_of(set, set_out));
            }
            clashes.extend(while_away(lesson, &of_lesson));
            duties.extend(of_lesson.into_iter().map(|(duty, ..)| duty));
        }
        duties.sort_by_key(|duty| (duty.date, duty.span));
        clashes.extend(at_once(&duties));
        Self { duties, clashes }
    }
}

/// All that is set out for a lesson as one duty; `None` if nothing is.
fn one_of(set: Vec<InLesson>, (start_by, length): SetOut) -> Option<Duty> {
    let what: Vec<String> = set.iter().map(|(duty, ..)| duty.what.clone()).collect();
    let (first, ..) = set.into_iter().next()?;
    let minute = start_by.minutes_since(ClockTime::MIDNIGHT).get();
    let (what, length) = (what.join("; "), length.to_string());
    Some(Duty { start_by, length, what, span: (minute, minute), ..first })
}

/// When the first set is begun that is made up before the bell, if any is.
pub fn first_set(lesson: &Lesson, plan: &CheckedPlan) -> Option<Minute> {
    let jobs = jobs(lesson, plan).jobs.into_iter();
    let sets = jobs.filter(|job| matches!(job.task, Task::Beforehand(..)));
    sets.map(|job| job.start_by).min()
}

/// A duty with its stretch in minutes of the lesson.
type InLesson = (Duty, Minute, Minute);

fn duties_of(lesson: &Lesson, plan: &CheckedPlan) -> Vec<InLesson> {
    let them = technician(&lesson.adults);
    let wanted = |job: &Job| match job.adult {
        Some(adult) => Some(adult) == them,
        // What the whole class does is the teacher's.
        None => !matches!(job.task, Task::Class(_)),
    };
    let jobs: Vec<Job> = jobs(lesson, plan).jobs.into_iter().filter(wanted).collect();
    let told = together(lesson, plan, &jobs).into_iter();
    let mut all: Vec<InLesson> = told.map(|of| duty(lesson, plan, them, &of)).collect();
    all.extend(after_the_bell(lesson, plan, them));
    all
}

fn duty(lesson: &Lesson, plan: &CheckedPlan, them: Option<AdultId>, of: &JobsTogether) -> InLesson {
    let groups = of.groups();
    let is_set = of.jobs.iter().any(|job| matches!(job.task, Task::Beforehand(..)));
    let apart = is_set && groups.iter().any(|&g| lesson.group(g).keep_apart);
    let covered = if apart { ": kept apart, on a covered tray" } else { "" };
    let what = capital(&format!("{}{covered}", of.what(lesson, plan)));
    let first = of.jobs.first().map(|job| job.task);
    let room = first.and_then(|task| room_of(lesson, task, of.adult()));
    let (from, until) = (of.start_by(), of.until());
    let is_theirs = of.adult().is_some() && of.adult() == them;
    let made = made(lesson, (from, until), of.length(), what, room, is_theirs);
    (Duty { is_set, ..made }, from, until)
}

fn made(
    lesson: &Lesson,
    (from, until): (Minute, Minute),
    length: String,
    what: String,
    room: Option<RoomId>,
    is_theirs: bool,
) -> Duty {
    let bell = lesson
        .periods
        .first()
        .map_or(0, |period| period.start_clock.minutes_since(ClockTime::MIDNIGHT).get());
    Duty {
        date: lesson.date,
        start_by: clock(lesson, from),
        length,
        what,
        room: room.map_or_else(String::new, |room| lesson.rooms[room.0].name.clone()),
        lesson: lesson.title.clone(),
        is_theirs,
        span: (bell + from.get(), bell + until.get()),
        is_set: false,
    }
}

fn room_of(lesson: &Lesson, task: Task, adult: Option<AdultId>) -> Option<RoomId> {
    match task {
        Task::Set(oven) | Task::Door(oven) => Some(lesson.ovens[oven.0].room),
        Task::Beforehand(group, _) | Task::With(group, _) => Some(lesson.group(group).room),
        Task::Class(_) => {
            let own = adult.and_then(|adult| lesson.adults[adult.0].room);
            own.or_else(|| (lesson.rooms.len() == 1).then_some(RoomId(0)))
        }
    }
}

/// Steps that are done for groups after the bell: from when, and how long all of
/// them take one person.
fn after_the_bell(lesson: &Lesson, plan: &CheckedPlan, them: Option<AdultId>) -> Vec<InLesson> {
    let mut alike: Vec<(String, Minute, Vec<Minutes>, Vec<GroupId>)> = Vec::new();
    for placed in &plan.plan().steps {
        let Some(choice) = plan.plan().choice(placed.group) else { continue };
        let group = lesson.group(placed.group);
        let step = &lesson.method_of(placed.group, choice.method).steps[placed.step.0];
        if !group.collected.contains(&step.name) || !step.kind.is_hand() {
            continue;
        }
        let length = placed.end - placed.start;
        match alike.iter_mut().find(|(name, ..)| *name == step.name) {
            Some((_, from, lengths, groups)) => {
                *from = (*from).min(placed.start);
                lengths.push(length);
                groups.push(placed.group);
            }
            None => {
                alike.push((step.name.clone(), placed.start, vec![length], vec![placed.group]));
            }
        }
    }
    let told = alike.into_iter().map(|(name, from, lengths, groups)| {
        let all = lengths.iter().fold(Minutes::ZERO, |all, &one| all + one);
        let same = lengths.windows(2).all(|pair| pair[0] == pair[1]);
        let length = match lengths.as_slice() {
            [one, _, ..] if same => format!("{} × {one}", lengths.len()),
            _ => all.to_string(),
        };
        let names: Vec<String> = groups.iter().map(|&g| lesson.group(g).name.clone()).collect();
        let what = format!("After the bell: {name} for {}", list(&in_short(&names)));
        let room = groups.first().map(|&g| lesson.group(g).room);
        let span = (from, from + all);
        (made(lesson, span, length, what, room, them.is_some()), span.0, span.1)
    });
    told.collect()
}

/// What the technician is wanted for while they are not there.
fn while_away(lesson: &Lesson, duties: &[InLesson]) -> Vec<String> {
    let Some(adult) = technician(&lesson.adults).map(|id| &lesson.adults[id.0]) else {
        return Vec::new();
    };
    let away =
        |&&(ref duty, from, until): &&InLesson| duty.is_theirs && !is_there(adult, from, until);
    let told = duties.iter().filter(away).map(|(duty, from, until)| {
        let hours = adult.hours.iter();
        let hours: Vec<String> = hours
            .map(|&(from, until)| format!("{} to {}", clock(lesson, from), clock(lesson, until)))
            .collect();
        let there = match hours.as_slice() {
            [] => "never there".to_owned(),
            hours => format!("there {}", list(hours)),
        };
        let (from, until) = (clock(lesson, *from), clock(lesson, *until));
        let when = if from == until { from.to_string() } else { format!("{from} to {until}") };
        format!("{when}, {}: the {} is {there}", duty.what, adult.name)
    });
    told.collect()
}

fn is_there(adult: &Adult, from: Minute, until: Minute) -> bool {
    let mut minute = from;
    loop {
        if !adult.is_there(minute) {
            return false;
        }
        minute = minute + Minutes::new(1);
        if minute >= until {
            return true;
        }
    }
}

/// Pairs of duties of the technician that both take time, and the same time.
fn at_once(duties: &[Duty]) -> Vec<String> {
    let takes_time = |duty: &&Duty| duty.is_theirs && duty.span.0 < duty.span.1;
    let theirs: Vec<&Duty> = duties.iter().filter(takes_time).collect();
    let mut told = Vec::new();
    for (i, one) in theirs.iter().enumerate() {
        let same_day = theirs[i + 1..].iter().filter(|other| other.date == one.date);
        for other in same_day.filter(|other| other.span.0 < one.span.1) {
            let of = |duty: &Duty| match one.lesson == other.lesson {
                true => format!("{}, {}", duty.start_by, duty.what),
                false => format!("{}, {} ({})", duty.start_by, duty.what, duty.lesson),
            };
            told.push(format!("At once: {}; and {}", of(one), of(other)));
        }
    }
    told
}
