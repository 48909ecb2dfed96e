//! What the technician does for the lessons of a day, or of several, in the
//! order of time, and where that cannot be.

mod clashes;
mod of_lesson;
mod set_out;
mod still_on;

use chrono::NaiveDate;

pub use crate::play::SetOut;

use clashes::{at_once, no_time, while_away};
use of_lesson::{InLesson, duties_of};
pub use set_out::set_outs;
use still_on::StillOn;

use crate::check::CheckedPlan;
use crate::model::{Lesson, OvenId};
use crate::play::{Task, jobs};
use crate::units::{ClockTime, Minute, Minutes};

/// A lesson that something is done for.
#[derive(Debug, Clone, Copy)]
pub struct ForLesson<'a> {
    /// The lesson.
    pub lesson: &'a Lesson,
    /// Its plan.
    pub plan: &'a CheckedPlan,
    /// When all that is done before its bell is set out, where that is known beside all
    /// others of its week: it is the technician's then, whoever the lesson names.
    pub set_out: Option<SetOut>,
}

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
    /// The title of the lesson it is done for, with the class where there are several
    /// lessons.
    pub lesson: String,
    /// The lesson names somebody for it, or there is a technician of whom it is
    /// assumed; else nobody is named.
    pub is_theirs: bool,
    /// What is set out beside other lessons: when, and for how much there is time.
    pub set_out: Option<SetOut>,
    /// From and until, in minutes of its day.
    span: (i32, i32),
    /// It is done before the bell, and could be done earlier.
    is_set: bool,
}

impl Duty {
    /// What is to be known of who does it; `None` where somebody does.
    pub fn who_lacks(&self) -> Option<String> {
        match self.set_out {
            _ if !self.is_theirs => Some(NOBODY.to_owned()),
            Some(set_out) => no_time_for(set_out),
            None => None,
        }
    }
}

/// What there is no time for of something that is set out, in a few words.
pub fn no_time_for(SetOut { minutes, there, .. }: SetOut) -> Option<String> {
    match there {
        _ if there == minutes => None,
        Minutes::ZERO => Some("nobody is there for it".to_owned()),
        _ => Some(format!("there is time for {} of its {minutes}", there.get())),
    }
}

/// All that is done, and where it cannot be.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct TechniciansDay {
    /// What is done, in the order of time.
    pub duties: Vec<Duty>,
    /// Where the technician is wanted for two things at once, or is not there,
    /// in words, the day with them.
    pub clashes: Vec<String>,
}

impl TechniciansDay {
    /// Of lessons and their plans. The technician is taken to be the same person in
    /// all of them: what is set out for several lessons of a day is laid beside each
    /// other. All of a lesson's is one duty then.
    pub fn of(lessons: &[ForLesson<'_>]) -> Self {
        let mut duties: Vec<Duty> = Vec::new();
        let mut clashes: Vec<(Option<NaiveDate>, String)> = Vec::new();
        for ((number, of), set_out) in lessons.iter().enumerate().zip(set_outs(lessons)) {
            let before = |oven, at| StillOn::before(lessons, number, (oven, at));
            let mut of_lesson = duties_of(of, set_out.is_some(), &before);
            let title = &of.lesson.title;
            if lessons.len() > 1 && !of.lesson.class.name.is_empty() {
                let name = format!("{title}, {}", of.lesson.class.name);
                of_lesson.iter_mut().for_each(|(duty, ..)| duty.lesson.clone_from(&name));
            }
            if let Some(set_out) = set_out {
                let (set, others) = of_lesson.into_iter().partition(|(duty, ..)| duty.is_set);
                of_lesson = others;
                duties.extend(one_of(set, set_out));
            }
            let away = while_away(of.lesson, &of_lesson).into_iter();
            clashes.extend(away.map(|words| (of.lesson.date, words)));
            duties.extend(of_lesson.into_iter().map(|(duty, ..)| duty));
        }
        duties.sort_by_key(|duty| (duty.date, duty.span));
        clashes.extend(no_time(&duties));
        clashes.extend(at_once(&duties));
        clashes.sort_by_key(|(date, _)| *date);
        let clashes = clashes.into_iter().map(|(_, words)| words).collect();
        Self { duties, clashes }
    }
}

/// All that is set out for a lesson as one duty; `None` if nothing is.
fn one_of(set: Vec<InLesson>, set_out: SetOut) -> Option<Duty> {
    let what: Vec<String> = set.iter().map(|(duty, ..)| duty.what.clone()).collect();
    let (first, ..) = set.into_iter().next()?;
    let start_by = set_out.at_the_latest();
    let minute = start_by.minutes_since(ClockTime::MIDNIGHT).get();
    Some(Duty {
        start_by,
        length: set_out.minutes.to_string(),
        what: what.join("; "),
        is_theirs: true,
        set_out: Some(set_out),
        // It was laid around all others, so it bars none.
        span: (minute, minute),
        ..first
    })
}

/// Said of what nobody does.
const NOBODY: &str = "nobody is named for it";

/// Who sets an oven at a minute: the name of the post, or that nobody is named for it.
pub fn set_by(lesson: &Lesson, plan: &CheckedPlan, (oven, at): (OvenId, Minute)) -> String {
    let jobs = jobs(lesson, plan).jobs;
    let job = jobs.iter().find(|job| (job.task, job.start_by) == (Task::Set(oven), at));
    let adult = job.and_then(|job| job.adult);
    adult.map_or_else(|| NOBODY.to_owned(), |adult| lesson.adults[adult.0].name.clone())
}

/// When the first set is begun that is made up before the bell, if any is.
pub fn first_set(lesson: &Lesson, plan: &CheckedPlan) -> Option<Minute> {
    let jobs = jobs(lesson, plan).jobs.into_iter();
    let sets = jobs.filter(|job| matches!(job.task, Task::Beforehand(..)));
    sets.map(|job| job.start_by).min()
}
