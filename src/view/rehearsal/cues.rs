//! Minutes at which something is said or begins: where the clock goes from call to
//! call, and what comes next.

use super::{Asked, Gap, MinuteCard, Rehearsal};
use crate::model::{AdultId, Lesson};
use crate::play::Task;
use crate::units::Minute;
use crate::view::words::{capital, clock, in_short, list, minutes, number, plural};

impl Rehearsal {
    /// The first minute and the last; `None` if there is nothing to go through.
    pub fn ends(&self) -> Option<(Minute, Minute)> {
        Some((self.minutes.first()?.minute, self.minutes.last()?.minute))
    }

    /// Whether something is called at a minute.
    pub fn is_call(&self, minute: Minute) -> bool {
        self.at(minute).is_some_and(|card| !card.say.is_empty())
    }

    /// Whether a minute is not to be missed: something is called, is to be begun by
    /// the first of the adults or was noted, or nobody is free from then on.
    pub fn is_cue(&self, minute: Minute) -> bool {
        self.is_call(minute)
            || self.begins(minute).next().is_some()
            || self.notes_at(minute).next().is_some()
            || self.gaps.iter().any(|gap| gap.from == minute)
    }

    /// The next minute at which something is called, or the one before.
    pub fn call_beside(&self, minute: Minute, next: bool) -> Option<Minute> {
        let mut calls = self.minutes.iter().filter(|card| !card.say.is_empty());
        let is_beside = |card: &&MinuteCard| match next {
            true => card.minute > minute,
            false => card.minute < minute,
        };
        let found = if next { calls.find(is_beside) } else { calls.rfind(is_beside) };
        found.map(|card| card.minute)
    }

    /// What the first of the adults is to begin at a minute, the class's own steps
    /// apart, which are called.
    fn begins(&self, minute: Minute) -> impl Iterator<Item = &Asked> {
        self.jobs.iter().filter(move |job| {
            job.who == Some(AdultId(0))
                && job.start_by == minute
                && !matches!(job.task, Task::Class(_))
        })
    }

    /// What the first of the adults has at a minute beside what is called then.
    pub fn own_at(&self, card: &MinuteCard) -> Vec<String> {
        let is_on = |job: &&Asked| {
            let minute = card.minute;
            job.who == Some(AdultId(0))
                && (job.start_by == minute || (job.start_by <= minute && minute < job.until))
        };
        let is_called = |job: &Asked| {
            matches!(job.task, Task::Class(_))
                && job.start_by == card.minute
                && !card.say.is_empty()
        };
        let own = self.jobs.iter().filter(is_on).filter(|job| !is_called(job));
        own.map(|job| capital(&job.what)).collect()
    }

    /// What comes after a minute, in the order of time: what is called, then what
    /// the first of the adults is to begin.
    pub fn coming(&self, after: Minute) -> impl Iterator<Item = (Minute, Vec<String>)> {
        let later = self.minutes.iter().filter(move |card| card.minute > after);
        later.filter_map(move |card| {
            let own = self.begins(card.minute).map(|job| capital(&job.what));
            let lines: Vec<String> = card.say.iter().cloned().chain(own).collect();
            (!lines.is_empty()).then_some((card.minute, lines))
        })
    }

    /// Stretches with nobody free that are not over at a minute.
    pub fn gaps_from(&self, minute: Minute) -> impl Iterator<Item = &Gap> {
        self.gaps.iter().filter(move |gap| gap.until > minute)
    }

    /// Who is to have switched which oven on, a line each.
    pub fn who_has_ovens_on(&self, lesson: &Lesson) -> Vec<String> {
        let of = self.jobs.iter().filter(|job| !job.ovens.is_empty()).map(|job| {
            let at = clock(lesson, job.start_by);
            let who = match job.who {
                Some(adult) if job.assumed => format!("the {}, assumed", adult_name(lesson, adult)),
                Some(adult) => format!("the {}", adult_name(lesson, adult)),
                None => "nobody is named for it".to_owned(),
            };
            let names: Vec<String> =
                job.ovens.iter().map(|oven| lesson.ovens[oven.0].name.clone()).collect();
            format!("{} at {at}: {who}", list(&in_short(&names)))
        });
        of.collect()
    }
}

fn adult_name(lesson: &Lesson, adult: AdultId) -> &str {
    &lesson.adults[adult.0].name
}

impl Gap {
    /// "10:36 to 10:38 nobody is free and four ovens are on. Who watches …?"
    pub fn sentence(&self, lesson: &Lesson) -> String {
        let (from, until) = (clock(lesson, self.from), clock(lesson, self.until));
        let (count, are) = (self.hot.len(), if self.hot.len() == 1 { "is" } else { "are" });
        let ovens = format!("{} {}", number(count), plural(count, "oven"));
        format!("{from} to {until} nobody is free and {ovens} {are} on. {}", self.words(lesson))
    }
}

impl MinuteCard {
    /// Groups by what they do: those who do the same stand together.
    pub fn together(&self) -> Vec<(Vec<String>, &str)> {
        let mut all: Vec<(Vec<String>, &str)> = Vec::new();
        for doing in &self.groups {
            match all.iter_mut().find(|(_, what)| *what == doing.what) {
                Some((who, _)) => who.push(doing.who.clone()),
                None => all.push((vec![doing.who.clone()], doing.what.as_str())),
            }
        }
        all
    }

    /// Groups that wait.
    pub fn waiting(&self) -> Vec<String> {
        self.groups.iter().filter(|doing| doing.waits).map(|doing| doing.who.clone()).collect()
    }
}

/// Where a minute stands to the bells: "minute 18 of 60".
pub fn standing(lesson: &Lesson, minute: Minute) -> String {
    let of = lesson.periods.iter().find(|p| p.start <= minute && minute < p.end);
    if let Some(period) = of {
        let (into, length) = ((minute - period.start).get(), period.length().get());
        return format!("minute {into} of {length}");
    }
    match lesson.bell_after(minute) {
        Some(period) => {
            let wait = (lesson.periods[period.0].start - minute).get();
            format!("{} before the bell", minutes(wait))
        }
        None => "the last bell has gone".to_owned(),
    }
}
