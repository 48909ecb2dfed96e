//! What a lesson that is over took, in words.

use super::{GroupDay, Learned, Observed, Part, Unlikely, hint_words};
use crate::model::{Lesson, LessonPart};
use crate::units::{Minutes, plain_number};
use crate::view::words::{capital, clock, minutes as minutes_words};

/// Half minutes: more would only pretend.
pub fn half(minutes: f64) -> f64 {
    (minutes * 2.0).round() / 2.0
}

/// "making up scones (rubbed in)".
pub fn part_name(part: &LessonPart) -> String {
    match part.names() {
        (step, "", _) => step.to_owned(),
        (step, recipe, "") => format!("{step} {recipe}"),
        (step, recipe, method) => format!("{step} {recipe} ({method})"),
    }
}

/// What a part took, and what to count on next time; minutes.
#[derive(Debug, Clone, PartialEq)]
pub struct PartTold {
    /// Which.
    pub what: String,
    /// As planned.
    pub before: f64,
    /// As it was.
    pub took: f64,
    /// What the class's lessons so far make likely.
    pub now: f64,
    /// How many lessons those are.
    pub lessons: usize,
    /// Ends of what nine in ten lessons take.
    pub band: (f64, f64),
    /// They are enough for the minutes to be offered.
    pub offered: bool,
}

impl PartTold {
    /// Of a part and what it teaches.
    pub fn of((part, learned): &(Part, Learned)) -> Self {
        let planned = part.minutes.planned.get();
        Self {
            what: part_name(&part.minutes.part),
            before: planned,
            took: part.minutes.took.get(),
            now: half(planned * learned.median),
            lessons: learned.lessons,
            band: (half(planned * learned.band.0), half(planned * learned.band.1)),
            offered: learned.is_offered(),
        }
    }

    /// What its lessons are worth.
    pub fn hint(&self) -> String {
        hint_words(self.lessons)
    }

    /// "opening: planned 11 min, took 13; next time about 11.5, in 9 of 10 …".
    pub fn words(&self) -> String {
        let [before, took, now] = [self.before, self.took, self.now].map(plain_number);
        let (low, high) = (plain_number(self.band.0), plain_number(self.band.1));
        format!(
            "{}: planned {before} min, took {took}; next time about {now}, in 9 of 10 lessons {low} \
             to {high} ({})",
            self.what,
            self.hint()
        )
    }
}

/// "Not learned from: Unit 3, making up, 90 minutes: it is longer than the lesson."
pub fn unlikely_words(unlikely: &Unlikely) -> String {
    let took = minutes_words(unlikely.took);
    format!("Not learned from: {}, {took}: {}.", unlikely.what, unlikely.why)
}

/// What was told of groups against the plan, each in a sentence.
pub fn told_of_groups(lesson: &Lesson, observed: &Observed) -> Vec<String> {
    let of = |day: &GroupDay| {
        let name = &lesson.group(day.group).name;
        let told = day.moments.iter().filter_map(|moment| {
            let (told, late) = moment.told.zip(moment.late)?;
            Some(format!("{} {}, {}", moment.what, clock(lesson, told), off(late)))
        });
        let told: Vec<String> = told.collect();
        (!told.is_empty()).then(|| format!("{}: {}.", capital(name), told.join("; ")))
    };
    observed.groups.iter().filter_map(of).collect()
}

/// "as planned", "2 minutes later than planned".
pub fn off(by: Minutes) -> String {
    match by.get() {
        0 => "as planned".to_owned(),
        late if late > 0 => format!("{} later than planned", minutes_words(late)),
        early => format!("{} sooner than planned", minutes_words(-early)),
    }
}
