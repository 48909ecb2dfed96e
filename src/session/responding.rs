//! How groups stand against the plan they were told, and what can be done about those
//! that will not be out. That is kept apart until it is kept.

use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use super::study::Heard;
use super::{Revision, Session};
use crate::check::CheckedPlan;
use crate::file::format::{HappenedShape, LessonFile};
use crate::model::{Lesson, PastBake};
use crate::planner::Budget;
use crate::today::{AsTold, Help, Response, Standing, helps, minute_of, responses};
use crate::units::{ClockTime, Minute};
use crate::view::words::capital;

/// How the lesson stands at a minute of its day.
#[derive(Debug, Clone)]
pub struct StandingNow {
    /// By the clock.
    pub at: ClockTime,
    /// The lesson and the plan that groups were told.
    pub told: (Arc<Lesson>, Arc<CheckedPlan>),
    /// How groups stand.
    pub standing: Arc<Standing>,
}

/// What can be done about who will not be out.
#[derive(Debug, Clone)]
pub struct Responses {
    /// The state of the lesson that they are for.
    pub revision: Revision,
    /// The time they are worked out for.
    pub at: ClockTime,
    /// Still being worked out.
    pub looking: bool,
    /// Up to four, the least effort first.
    pub found: Vec<Response>,
    /// What an adult's help would have to bring.
    pub help: Vec<Help>,
    /// It is left as it was.
    pub left: bool,
}

/// What is asked of it.
pub(super) struct ToRespond {
    pub file: LessonFile,
    pub told: (Arc<Lesson>, Arc<CheckedPlan>),
    pub standing: Arc<Standing>,
    pub past: Arc<[PastBake]>,
    pub budget: Budget,
}

/// What is known of the lesson while it is taught.
#[derive(Default)]
pub(super) struct Responding {
    now: Option<(Revision, StandingNow)>,
    responses: Option<Responses>,
}

pub(super) fn respond(
    of: ToRespond,
    stop: &AtomicBool,
    tell: &dyn Fn(Vec<Response>),
) -> Result<(), String> {
    let told = AsTold { file: &of.file, lesson: &of.told.0, plan: &of.told.1 };
    tell(responses(told, &of.standing, &of.past, &of.budget, stop));
    Ok(())
}

impl Session {
    /// How the lesson stands, on its day.
    pub fn standing_now(&self) -> Option<&StandingNow> {
        self.responding.now.as_ref().map(|(_, now)| now)
    }

    /// What can be done about who will not be out, if somebody will not be.
    pub fn responses(&self) -> Option<&Responses> {
        self.responding.responses.as_ref()
    }

    /// Looks at how the lesson stands, again when something was told or its minute is
    /// another; what can be done is worked out for what was told last.
    pub(super) fn look_at_the_day(&mut self) {
        let now = self.time_of_lesson().filter(|_| self.is_today());
        let told = self.planned.as_ref().map(|p| (Arc::clone(&p.lesson), Arc::clone(&p.plan)));
        let Some(((at, told), revision)) = now.zip(told).zip(self.revision()) else {
            self.responding = Responding::default();
            self.studies.responses.forget();
            return;
        };
        let is_same = self.responding.now.as_ref().is_some_and(|(of, now)| {
            *of == revision && now.at == at && Arc::ptr_eq(&now.told.1, &told.1)
        });
        if !is_same {
            let facts = self.facts_for(&told.0);
            let standing = Standing::of(&told.0, &told.1, &facts, minute_of(&told.0, at));
            let standing = Arc::new(standing);
            self.responding.now = Some((revision, StandingNow { at, told, standing }));
        }
        self.ask_for_responses(revision);
    }

    fn ask_for_responses(&mut self, revision: Revision) {
        let Some((_, now)) = &self.responding.now else { return };
        if now.standing.all_out() || !self.is_being_taught() {
            self.responding.responses = None;
            self.studies.responses.forget();
            return;
        }
        let is_asked = self.responding.responses.as_ref().is_some_and(|r| r.revision == revision);
        let Some((doc, lesson, plan)) = self.at_hand() else { return };
        if is_asked || self.studies.plans.is_busy() {
            return;
        }
        let of = ToRespond {
            file: doc.file().clone(),
            told: (Arc::clone(lesson), Arc::clone(plan)),
            standing: Arc::clone(&now.standing),
            past: Arc::clone(&doc.past),
            budget: self.planning_budget(),
        };
        let at = now.at;
        let help = helps(&now.told.0, &now.told.1, &now.standing);
        let found = Vec::new();
        let asked = Responses { revision, at, looking: true, found, help, left: false };
        self.responding.responses = Some(asked);
        self.studies.responses.ask(revision, of);
    }

    pub(super) fn hear_responses(&mut self) {
        for heard in self.studies.responses.hear(self.revision()) {
            let Some(responses) = &mut self.responding.responses else { continue };
            match heard {
                Heard::Answer(found) => responses.found = found,
                Heard::Ended => responses.looking = false,
                Heard::Fault(fault) => {
                    responses.looking = false;
                    self.tell_of_fault(&fault);
                }
            }
        }
    }

    /// What can be done is worked out again, for now.
    pub(super) fn respond_again(&mut self) {
        self.responding.responses = None;
    }

    /// Nothing is done about who will not be out, until more is told.
    pub(super) fn leave_as_it_was(&mut self) {
        if let Some(responses) = &mut self.responding.responses {
            responses.left = true;
        }
    }

    /// A response becomes the plan, as one step of undo. What was worked out before
    /// something else began is worked out again instead.
    pub(super) fn keep_response(&mut self, words: &str) {
        let Some((now, responses)) = self.standing_now().zip(self.responses()) else { return };
        let Some(response) = responses.found.iter().find(|r| r.words == words) else { return };
        let (lesson, plan) = (&now.told.0, &now.told.1);
        let (by, until) = (minute_of(lesson, responses.at), minute_of(lesson, now.at));
        if Some(responses.revision) != self.revision()
            || [&**plan, &response.after.plan].iter().any(|plan| begins(plan, by, until))
        {
            let words = format!(
                "Something has begun since it was worked out for {}: it is worked out again.",
                responses.at
            );
            self.respond_again();
            self.tell(words);
            return;
        }
        let mut file = response.file.clone();
        if let Some(today) = &mut file.today {
            let what = format!("Kept: {}.", response.words);
            today.happened.push(HappenedShape { at: Some(now.at.to_string()), who: None, what });
        }
        let (label, plan) = (capital(&response.words), Arc::new(response.after.plan.clone()));
        self.responding.responses = None;
        self.become_file(&label, file, Some(plan));
        self.write_the_day_when_planned();
    }
}

/// Whether something begins by a plan from a minute on, before another.
fn begins(plan: &CheckedPlan, from: Minute, until: Minute) -> bool {
    let is_within = |start: Minute| from <= start && start < until;
    let plan = plan.plan();
    plan.steps.iter().any(|s| is_within(s.start))
        || plan.class_steps.iter().any(|c| is_within(c.start))
        || plan.settings.iter().any(|s| is_within(s.set_at))
}
