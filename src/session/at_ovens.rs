//! What each answer to "who must be where while ovens are open?" would come
//! to: the lesson planned with it, before it is taken.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use super::planning::judge;
use super::study::Heard;
use super::{Revision, Session};
use crate::check::CheckedPlan;
use crate::file::format::LessonFile;
use crate::file::lesson_of_shapes;
use crate::model::{AtOvens, Lesson, PastBake};
use crate::planner::{Budget, plan_lesson};
use crate::setup::at_ovens::ask;

/// Plans built for each answer: enough to find a place for those who have one.
const BUDGET: Budget = Budget { within: None, decodings: Some(1_000), seed: 1 };

/// What an answer would come to.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum AtOvensOutcome {
    /// The best plan found has so many groups out by the bell, of all.
    Out(u32, usize),
    /// The lesson cannot be planned so, and why.
    NoLesson(String),
}

impl AtOvensOutcome {
    /// "7 of 9 groups are out by the bell".
    pub fn words(&self) -> String {
        match self {
            AtOvensOutcome::Out(out, all) if *out as usize == *all => match all {
                1 => "the group is out by the bell".to_owned(),
                all => format!("all {all} groups are out by the bell"),
            },
            AtOvensOutcome::Out(out, all) => {
                let be = if *out == 1 { "is" } else { "are" };
                format!("{out} of {all} groups {be} out by the bell in the best plan found")
            }
            AtOvensOutcome::NoLesson(why) => format!("cannot be planned: {why}"),
        }
    }
}

/// A lesson with its plan.
pub(super) struct ToCompare {
    pub file: LessonFile,
    /// As it was read.
    pub lesson: Arc<Lesson>,
    /// Bakes noted so far.
    pub past: Arc<[PastBake]>,
    pub plan: Arc<CheckedPlan>,
}

/// What each answer comes to, in the order of [`AtOvens::ALL`].
pub(super) fn compare(
    of: ToCompare,
    stop: &AtomicBool,
    tell: &dyn Fn(Vec<(AtOvens, AtOvensOutcome)>),
) -> Result<(), String> {
    let mut all = Vec::new();
    // A plan that does what is asked does what less asks, too: so none comes
    // to less than one that asks for more.
    let mut most = 0;
    for answer in AtOvens::ALL.into_iter().rev() {
        let outcome = if answer == of.lesson.rules.at_ovens {
            AtOvensOutcome::Out(of.plan.objective().served, of.lesson.attending().count())
        } else {
            planned(&of, answer, stop)?
        };
        if stop.load(Ordering::Relaxed) {
            return Ok(());
        }
        let outcome = match outcome {
            AtOvensOutcome::Out(out, all) => {
                most = most.max(out);
                AtOvensOutcome::Out(most, all)
            }
            none @ AtOvensOutcome::NoLesson(_) => none,
        };
        all.push((answer, outcome));
    }
    all.reverse();
    tell(all);
    Ok(())
}

fn planned(of: &ToCompare, answer: AtOvens, stop: &AtomicBool) -> Result<AtOvensOutcome, String> {
    let mut file = of.file.clone();
    ask(&mut file.rules, answer);
    let lesson = match lesson_of_shapes(&file, &of.past) {
        Ok(lesson) => lesson,
        Err(findings) => return Ok(AtOvensOutcome::NoLesson(super::first_of(&findings))),
    };
    let found = plan_lesson(&lesson, &BUDGET, stop, judge(&lesson), |_| {});
    let plan = found.map_err(|fault| fault.to_string())?.judged;
    Ok(AtOvensOutcome::Out(plan.objective().served, lesson.attending().count()))
}

/// What is known of the answers, and for which revision it was asked.
#[derive(Default)]
pub(super) struct AtOvensTried {
    asked: Option<Revision>,
    known: Option<(Revision, Vec<(AtOvens, AtOvensOutcome)>)>,
}

impl Session {
    /// What each answer to who must be where while ovens are open comes to, if
    /// that is known.
    pub fn at_ovens_tried(&self) -> Option<&[(AtOvens, AtOvensOutcome)]> {
        let (revision, all) = self.at_ovens.known.as_ref()?;
        (Some(*revision) == self.revision()).then_some(all)
    }

    /// Whether it could be asked what they come to, and was not yet.
    pub fn may_compare_at_ovens(&self) -> bool {
        let now = self.revision();
        self.current_plan().is_some() && !self.is_planning() && self.at_ovens.asked != now
    }

    pub(super) fn compare_at_ovens(&mut self) {
        if !self.may_compare_at_ovens() {
            return;
        }
        let (Some(doc), Some(planned)) = (&self.doc, &self.planned) else { return };
        let Some(lesson) = doc.lesson() else { return };
        let revision = doc.revision();
        let of = ToCompare {
            file: doc.file().clone(),
            lesson: Arc::clone(lesson),
            past: Arc::clone(&doc.past),
            plan: Arc::clone(&planned.plan),
        };
        self.studies.at_ovens.ask(revision, of);
        self.at_ovens.asked = Some(revision);
    }

    pub(super) fn hear_at_ovens(&mut self) {
        let now = self.revision();
        for heard in self.studies.at_ovens.hear(now) {
            match heard {
                Heard::Answer(all) => self.at_ovens.known = now.map(|revision| (revision, all)),
                Heard::Ended => {}
                Heard::Fault(fault) => self.tell_of_fault(&fault),
            }
        }
    }
}
