//! A lesson gone through before it is taught: at each minute what is called and
//! what the first of the adults does and has noted, and when nobody is free while an
//! oven is on.

mod along;
mod cues;
mod laid_over;
mod notes;

pub use along::{Along, Many};
pub use cues::standing;
pub use notes::{NoteTold, minute_of, pegs_at};

use super::at_minute::{Doing, at_minute};
use super::class_view::{ClassView, On};
use super::jobs_together::{task_words, together};
use super::words::{clock, list};
use crate::model::{Adult, AdultId, Lesson, OvenId, ShelfId};
use crate::play::{Course, Job, Jobs, Task, jobs};
use crate::units::{ClockTime, Minute, Minutes};
use crate::words::capital;

/// A lesson minute by minute, from the first job before the bell to the last bell.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Rehearsal {
    /// A card for each minute.
    pub minutes: Vec<MinuteCard>,
    /// When an oven is on and no adult is free, in the order of their time.
    pub gaps: Vec<Gap>,
    /// What is asked of adults, in the order of their time.
    pub jobs: Vec<Asked>,
    /// The teacher's own notes, in the order of the file.
    pub notes: Vec<NoteTold>,
    /// What there is along the clock.
    pub along: Along,
}

/// One minute.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct MinuteCard {
    /// The minute.
    pub minute: Minute,
    /// By the clock.
    pub at: ClockTime,
    /// What the class does together, if it does.
    pub class: Option<String>,
    /// What is called out at this minute, a line each.
    pub say: Vec<String>,
    /// What the first of the adults does, a line each.
    pub own: Vec<String>,
    /// What is called next, and when.
    pub next: Option<String>,
    /// Groups.
    pub groups: Vec<Doing>,
    /// Ovens.
    pub ovens: Vec<Doing>,
    /// What stands in them, in the same order.
    pub cabinets: Vec<Cabinet>,
    /// Adults.
    pub adults: Vec<Doing>,
}

/// An oven's shelves at a minute.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Cabinet {
    /// From the top, whether something stands on each.
    pub shelves: Vec<bool>,
    /// It is out of order.
    pub out_of_order: bool,
}

/// A stretch in which ovens are on and no adult is free.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Gap {
    /// From.
    pub from: Minute,
    /// Until.
    pub until: Minute,
    /// The ovens.
    pub hot: Vec<OvenId>,
    /// What keeps each adult, a line each.
    pub why: Vec<String>,
}

/// Something an adult is to do; the same for several groups, one after another, is
/// one.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Asked {
    /// The task, of the first of several groups or ovens.
    pub task: Task,
    /// Ovens that are switched on or set by it.
    pub ovens: Vec<OvenId>,
    /// Who; `None` if no adult is there.
    pub who: Option<AdultId>,
    /// Whether that is assumed, as the lesson names nobody.
    pub assumed: bool,
    /// When it begins at the latest.
    pub start_by: Minute,
    /// Until.
    pub until: Minute,
    /// What.
    pub what: String,
}

impl Rehearsal {
    /// Goes through a lesson's plan.
    pub fn of(lesson: &Lesson, plan: &dyn Course) -> Self {
        let all = jobs(lesson, plan);
        let gaps = gaps(lesson, plan, &all);
        let jobs = asked(lesson, plan, &all.jobs);
        let bells = lesson.periods.iter();
        let notes = notes::notes(lesson, plan);
        let starts = bells.clone().map(|p| p.start).chain(jobs.iter().map(|j| j.start_by));
        // What a note hangs on may come before all that.
        let first = starts.chain(notes.iter().filter_map(|note| note.minute)).min();
        let last = bells.map(|p| p.end).chain(notes.iter().filter_map(|note| note.minute)).max();
        let mut minutes = Vec::new();
        if let (Some(mut minute), Some(last)) = (first, last) {
            while minute <= last {
                minutes.push(card(lesson, plan, &jobs, minute));
                minute = minute + ONE;
            }
        }
        let along = Along::of(lesson, plan, &minutes);
        Self { minutes, gaps, jobs, notes, along }
    }

    /// The teacher's notes at a minute.
    pub fn notes_at(&self, minute: Minute) -> impl Iterator<Item = &NoteTold> {
        self.notes.iter().filter(move |note| note.minute == Some(minute))
    }

    /// The teacher's notes that belong nowhere now.
    pub fn lost_notes(&self) -> impl Iterator<Item = &NoteTold> {
        self.notes.iter().filter(|note| note.minute.is_none())
    }

    /// The card of a minute; none if the lesson is over, or nothing has begun.
    pub fn at(&self, minute: Minute) -> Option<&MinuteCard> {
        self.minutes.iter().find(|card| card.minute == minute)
    }
}

impl Gap {
    /// "Who watches Oven 1 and Oven 2? The teacher has demo; the technician is
    /// not there." A question: whether that may be is for those who are there.
    pub fn words(&self, lesson: &Lesson) -> String {
        let ovens: Vec<String> =
            self.hot.iter().map(|oven| lesson.ovens[oven.0].name.clone()).collect();
        let ovens = list(&ovens);
        match self.why.is_empty() {
            true => format!("Who watches {ovens}? The lesson has no adult."),
            false => {
                let why = self.why.join("; ").replace("; The ", "; the ");
                format!("Who watches {ovens}? {why}.")
            }
        }
    }
}

const ONE: Minutes = Minutes::new(1);

fn card(lesson: &Lesson, plan: &dyn Course, jobs: &[Asked], minute: Minute) -> MinuteCard {
    let all = at_minute(lesson, plan, minute);
    let now = ClassView::of(lesson, plan, minute);
    // A call is said when it begins, not for as long as it lasts.
    let before = ClassView::of(lesson, plan, minute - ONE).next;
    let is_called = before.is_some_and(|next| next.wait == 1);
    let say = match &now.on {
        On::Calls(_) if is_called => now.on.lines(),
        _ => Vec::new(),
    };
    let mine = |job: &&Asked| job.who == Some(AdultId(0));
    let is_on =
        |job: &&Asked| job.start_by == minute || (job.start_by <= minute && minute < job.until);
    let own = jobs.iter().filter(mine).filter(is_on).map(|job| job.what.clone()).collect();
    MinuteCard {
        minute,
        at: clock(lesson, minute),
        class: all.class,
        say,
        own,
        next: now.next.map(|next| format!("{}: {}", next.when(), next.what(true))),
        groups: all.groups,
        ovens: all.ovens,
        cabinets: cabinets(lesson, plan, minute),
        adults: all.adults,
    }
}

fn cabinets(lesson: &Lesson, plan: &dyn Course, minute: Minute) -> Vec<Cabinet> {
    let loads = || plan.plan().loads.iter().filter(|l| l.start <= minute && minute < l.end);
    let of = lesson.ovens.iter().enumerate().map(|(id, oven)| {
        let stands = |shelf| loads().any(|l| (l.oven, l.shelf) == (OvenId(id), ShelfId(shelf)));
        let out_of_order = !oven.works_until(minute + ONE);
        let shelves = (0..oven.shelves.len()).map(|shelf| !out_of_order && stands(shelf));
        Cabinet { shelves: shelves.collect(), out_of_order }
    });
    of.collect()
}

/// Stretches that are unwatched, ovens together while they are the same and the
/// same keeps everybody.
fn gaps(lesson: &Lesson, plan: &dyn Course, jobs: &Jobs) -> Vec<Gap> {
    let from = jobs.unwatched.iter().map(|u| u.from).min();
    let until = jobs.unwatched.iter().map(|u| u.until).max();
    let (Some(mut minute), Some(until)) = (from, until) else { return Vec::new() };
    let mut gaps: Vec<Gap> = Vec::new();
    while minute < until {
        let next = minute + ONE;
        let at = jobs.unwatched.iter().filter(|u| u.from <= minute && minute < u.until);
        let mut hot: Vec<OvenId> = at.map(|u| u.oven).collect();
        hot.sort_unstable();
        if !hot.is_empty() {
            let why = why_nobody(lesson, plan, &jobs.jobs, &hot, minute);
            match gaps.last_mut() {
                Some(g) if g.until == minute && g.hot == hot && g.why == why => g.until = next,
                _ => gaps.push(Gap { from: minute, until: next, hot, why }),
            }
        }
        minute = next;
    }
    gaps
}

/// What keeps each adult of the ovens' rooms at a minute.
fn why_nobody(
    lesson: &Lesson,
    plan: &dyn Course,
    jobs: &[Job],
    hot: &[OvenId],
    minute: Minute,
) -> Vec<String> {
    let in_reach = |a: &Adult| {
        a.room.is_none_or(|room| hot.iter().any(|oven| lesson.ovens[oven.0].room == room))
    };
    let all = lesson.adults.iter().enumerate().filter(|(_, a)| in_reach(a));
    let why = all.map(|(id, adult)| {
        let has = |j: &&Job| {
            j.adult == Some(AdultId(id))
                && !j.assumed
                && matches!(j.task, Task::Class(_) | Task::With(..))
                && j.start_by <= minute
                && minute < j.until
        };
        let who = format!("the {}", adult.name);
        match jobs.iter().find(has) {
            _ if !adult.is_there(minute) => format!("{who} is not there"),
            Some(job) => format!("{who} has {}", task_words(lesson, plan, job.task)),
            None => format!("{who} is wanted elsewhere"),
        }
    });
    why.map(|words| capital(&words)).collect()
}

/// Jobs as an adult is told of them, those alike that follow one another
/// together.
fn asked(lesson: &Lesson, plan: &dyn Course, jobs: &[Job]) -> Vec<Asked> {
    let told = together(lesson, plan, jobs).into_iter().filter_map(|of| {
        Some(Asked {
            task: of.jobs.first()?.task,
            ovens: of.ovens_set(),
            who: of.adult(),
            assumed: of.is_assumed(),
            start_by: of.start_by(),
            until: of.until(),
            what: of.what(lesson, plan),
        })
    });
    told.collect()
}
