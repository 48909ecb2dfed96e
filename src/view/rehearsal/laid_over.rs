//! A rehearsal with something that goes otherwise from a minute on: what is past stays.

use super::along::{Along, Many};
use super::{Asked, Gap, MinuteCard, NoteTold, Rehearsal};
use crate::units::Minute;

impl Rehearsal {
    /// As it is before a minute, and from then on as another has it.
    pub fn laid_over(&self, other: &Rehearsal, from: Minute) -> Self {
        let before = self.minutes.iter().filter(|card| card.minute < from);
        let after = other.minutes.iter().filter(|card| from <= card.minute);
        let minutes: Vec<MinuteCard> = before.chain(after).cloned().collect();
        let before = self.gaps.iter().filter(|gap| gap.from < from);
        let before = before.map(|gap| Gap { until: gap.until.min(from), ..gap.clone() });
        let after = other.gaps.iter().filter(|gap| from < gap.until);
        let after = after.map(|gap| Gap { from: gap.from.max(from), ..gap.clone() });
        let mut gaps: Vec<Gap> = Vec::new();
        for gap in before.chain(after) {
            match gaps.last_mut() {
                Some(g) if g.until == gap.from && g.hot == gap.hot && g.why == gap.why => {
                    g.until = gap.until;
                }
                _ => gaps.push(gap),
            }
        }
        let is_past = |job: &&Asked| job.start_by < from;
        let goes_on = |was: &Asked| {
            let same =
                |is: &&Asked| (is.task, is.who, is.start_by) == (was.task, was.who, was.start_by);
            let cut = || Asked { until: was.until.min(from), ..was.clone() };
            other.jobs.iter().find(same).cloned().unwrap_or_else(cut)
        };
        let jobs = self.jobs.iter().filter(is_past).map(goes_on);
        let jobs = jobs.chain(other.jobs.iter().filter(|job| !is_past(job)).cloned());
        let is_past = |note: &NoteTold| note.minute.is_some_and(|minute| minute < from);
        // A note hangs where it hung if that is past.
        let notes = self.notes.iter().zip(&other.notes);
        let notes = notes.map(|(was, is)| if is_past(was) { was } else { is });
        Self {
            minutes,
            gaps,
            jobs: jobs.collect(),
            notes: notes.cloned().collect(),
            along: along(&self.along, &other.along, from),
        }
    }
}

fn along(planned: &Along, other: &Along, from: Minute) -> Along {
    Along {
        doors: many(&planned.doors, &other.doors, from),
        on: many(&planned.on, &other.on, from),
        baking: many(&planned.baking, &other.baking, from),
        free: many(&planned.free, &other.free, from),
        ..*planned
    }
}

fn many(planned: &[Many], other: &[Many], at: Minute) -> Vec<Many> {
    let before = planned.iter().map(|&(from, until, n)| (from, until.min(at), n));
    let after = other.iter().map(|&(from, until, n)| (from.max(at), until, n));
    let mut all: Vec<Many> = Vec::new();
    for (from, until, n) in before.chain(after).filter(|(from, until, _)| from < until) {
        match all.last_mut() {
            Some(last) if last.1 == from && last.2 == n => last.1 = until,
            _ => all.push((from, until, n)),
        }
    }
    all
}
