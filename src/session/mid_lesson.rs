//! The lesson while it is being taught: what has begun by now stays, and whoever was
//! told to be behind is so.

use super::Session;
use crate::check::CheckedPlan;
use crate::model::{Fact, GroupId, Lesson, Slip};
use crate::today::{Standing, is_over, presumed};
use crate::units::{ClockTime, Minute};

/// By when it is presumed what has begun, and who is behind by what was told.
pub(super) type Begun = (Minute, Vec<Slip>);

impl Session {
    /// The time by the school's bell, on the day of the lesson on screen.
    pub fn time_of_lesson(&self) -> Option<ClockTime> {
        let today = self.clock.today().to_string();
        let date = self.doc.as_ref()?.file().date.as_ref()?;
        self.clock.time_of_that_day().filter(|_| *date == today)
    }

    /// Whether the lesson on screen is being taught: it is a copy for this day,
    /// somebody has begun by its plan, and the last bell has not gone.
    pub fn is_being_taught(&self) -> bool {
        let told = self.planned.as_ref().map(|p| (&*p.lesson, &*p.plan));
        self.is_today() && told.is_some_and(|told| self.presumed_by(told).is_some())
    }

    /// The time up to which it is presumed what has begun by a plan.
    pub(super) fn presumed_by(&self, told: (&Lesson, &CheckedPlan)) -> Option<(ClockTime, Minute)> {
        let at = self.time_of_lesson().filter(|at| !is_over(told.0, *at))?;
        presumed(told, at).map(|minute| (at, minute))
    }

    /// What a lesson that was another by this plan goes by in mid-lesson.
    pub(super) fn begun(&self, before: (&Lesson, &CheckedPlan)) -> Option<Begun> {
        let (_, by) = self.presumed_by(before).filter(|_| self.is_today())?;
        let facts = self.facts_for(before.0);
        Some((by, Standing::of(before.0, before.1, &facts, by).slips))
    }

    /// What was told of groups, for a plan of this lesson: settled is what was so when
    /// that plan was made. The lesson on screen may be another meanwhile.
    pub(super) fn facts_for(&self, of: &Lesson) -> Vec<Fact> {
        let now = self.doc.as_ref().and_then(|doc| doc.lesson());
        let Some((now, today)) = now.and_then(|now| Some((now, now.today.as_ref()?))) else {
            return Vec::new();
        };
        let before = of.today.as_ref().map_or(&[][..], |today| &today.facts);
        let settled = before.iter().filter(|fact| fact.settled).count();
        let facts = today.facts.iter().enumerate().filter_map(|(i, fact)| {
            let name = &now.group(fact.group).name;
            let group = of.groups.iter().position(|g| g.name == *name).map(GroupId)?;
            Some(Fact { group, settled: i < settled, ..*fact })
        });
        facts.collect()
    }
}
