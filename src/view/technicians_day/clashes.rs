//! Where the technician's day cannot be as it stands.

use chrono::NaiveDate;

use super::super::words::{clock, when_there};
use super::of_lesson::InLesson;
use super::{Duty, no_time_for};
use crate::model::{Adult, Lesson, technician};
use crate::units::Minute;
use crate::words::capital;

/// "Friday 4 December, "; nothing for a lesson without a date.
fn on(date: Option<NaiveDate>) -> String {
    date.map_or_else(String::new, |date| format!("{}, ", date.format("%A %-d %B")))
}

/// What the technician is wanted for while they are not there.
pub(super) fn while_away(lesson: &Lesson, duties: &[InLesson]) -> Vec<String> {
    let Some(adult) = technician(&lesson.adults).map(|id| &lesson.adults[id.0]) else {
        return Vec::new();
    };
    let away =
        |&&(ref duty, from, until): &&InLesson| duty.is_theirs && !is_there(adult, from, until);
    let told = duties.iter().filter(away).map(|(duty, from, until)| {
        let there = when_there(lesson, adult);
        let (from, until) = (clock(lesson, *from), clock(lesson, *until));
        let when = if from == until { from.to_string() } else { format!("{from} to {until}") };
        format!("{}{when}, {}: the {} is {there}", on(duty.date), duty.what, adult.name)
    });
    told.collect()
}

fn is_there(adult: &Adult, from: Minute, until: Minute) -> bool {
    adult.is_there(from) && adult.is_there_throughout(from, until)
}

/// What is set out beside other lessons and has not all the time it takes.
pub(super) fn no_time(duties: &[Duty]) -> Vec<(Option<NaiveDate>, String)> {
    let told = duties.iter().filter_map(|duty| {
        let set_out = duty.set_out?;
        let lacks = no_time_for(set_out)?;
        let by = capital(&format!("{}by {}", on(duty.date), set_out.until));
        Some((duty.date, format!("{by}, {} ({}): {lacks}", duty.what, duty.lesson)))
    });
    told.collect()
}

/// Pairs of duties of the technician that both take time, and the same time.
pub(super) fn at_once(duties: &[Duty]) -> Vec<(Option<NaiveDate>, String)> {
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
            let when = capital(&format!("{}at once", on(one.date)));
            told.push((one.date, format!("{when}: {}; and {}", of(one), of(other))));
        }
    }
    told
}
