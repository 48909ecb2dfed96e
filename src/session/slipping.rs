//! A slip thrown into a rehearsal: what would become of the lesson, worked out on a copy
//! in memory. The lesson stays as it is.

use std::sync::Arc;
use std::sync::atomic::AtomicBool;

use super::responding::{ToRespond, respond};
use super::study::Heard;
use super::{Planned, Revision, Session, first_of};
use crate::check::CheckedPlan;
use crate::file::format::LessonFile;
use crate::file::lesson_of_shapes;
use crate::finding::Finding;
use crate::model::{FactKind, Lesson, PastBake};
use crate::planner::Budget;
use crate::play::{Course, HeldUp, PlayedOn};
use crate::today::{
    Happening, Help, Response, Standing, Way, all_out_from_here, differences, happens,
    happens_during, helps, may_happen_during, minute_of, presumed, replan_begun, replan_read,
    start_of_day, tell,
};
use crate::units::{ClockTime, Minute, Minutes};
use crate::view::rehearsal::Rehearsal;

/// What is thrown into a rehearsal.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Thrown {
    /// A group, by its name, is so much behind.
    Behind(String, Minutes),
    /// Something happens.
    Happens(Happening),
}

impl Thrown {
    /// "Unit 3 is 4 minutes behind", "Oven 2 out of order".
    pub fn words(&self) -> String {
        match self {
            Thrown::Behind(group, late) => {
                format!("{group} is {} behind", crate::view::words::minutes(late.get()))
            }
            Thrown::Happens(what) => what.label(),
        }
    }
}

/// A slip that is thrown in.
#[derive(Debug, Clone)]
pub struct RehearsedSlip {
    /// What.
    pub what: Thrown,
    /// When that is.
    pub at: ClockTime,
    /// The lesson with it.
    pub lesson: Arc<Lesson>,
    /// How groups would stand, if one is behind.
    pub standing: Option<Arc<Standing>>,
    /// What could be done about a group that is behind, the least effort first; or the
    /// plan around what happens.
    pub responses: Vec<Response>,
    /// What an adult's help would have to bring, if a group is behind.
    pub help: Vec<Help>,
    /// What else holds groups up.
    pub held_up: Vec<HeldUp>,
    /// The lesson minute by minute with it, once that is known.
    pub rehearsal: Option<Arc<Rehearsal>>,
    /// Still being worked out.
    pub looking: bool,
    revision: Revision,
}

/// What is asked of a slip.
pub(super) enum ToSlip {
    /// What could be done about a group that is behind.
    Respond(Box<ToRespond>),
    /// How the rest goes around what happens.
    Around(Box<Around>),
}

/// A lesson in which something happens.
pub(super) struct Around {
    file: LessonFile,
    lesson: Arc<Lesson>,
    told: (Arc<Lesson>, Arc<CheckedPlan>),
    now: Minute,
    /// Somebody has begun by then.
    is_begun: bool,
    budget: Budget,
}

pub(super) fn become_of(
    of: ToSlip,
    stop: &AtomicBool,
    tell: &dyn Fn(Vec<Response>),
) -> Result<(), String> {
    let of = match of {
        ToSlip::Respond(of) => return respond(*of, stop, tell),
        ToSlip::Around(of) => of,
    };
    let before = (&*of.told.0, &*of.told.1);
    let after = match of.is_begun {
        true => replan_begun(before, &of.lesson, (of.now, &[]), &of.budget, stop, |_| {}),
        false => replan_read(before, &of.lesson, &of.budget, stop, |_| {}),
    };
    let after = after.map_err(|fault| fault.to_string())?;
    let moves = differences(before, (&after.lesson, &after.plan));
    let words = "the others keep what they can".to_owned();
    let all_out = all_out_from_here((&after.lesson, &after.plan), &[], of.now);
    let (way, asks) = (Way::Rearrange, Vec::new());
    tell(vec![Response { way, words, asks, file: of.file, after, moves, all_out }]);
    Ok(())
}

impl Session {
    /// The slip that is thrown in, if one is.
    pub fn slip(&self) -> Option<&RehearsedSlip> {
        self.slip.as_ref().filter(|slip| Some(slip.revision) == self.revision())
    }

    /// The lesson minute by minute, with the slip that is thrown in as far as that is known.
    pub fn rehearsal(&self) -> Option<&Arc<Rehearsal>> {
        let with_slip = self.slip().and_then(|slip| slip.rehearsal.as_ref());
        with_slip.or_else(|| self.planned().map(Planned::rehearsal))
    }

    /// As planned until a minute, and from then on as a course of the lesson has it.
    fn laid_over(
        &self,
        (lesson, course): (&Lesson, &dyn Course),
        from: Minute,
    ) -> Option<Arc<Rehearsal>> {
        let planned = self.planned()?.rehearsal();
        Some(Arc::new(planned.laid_over(&Rehearsal::of(lesson, course), from)))
    }

    /// Something goes otherwise than planned at a time of the lesson that is rehearsed.
    pub(super) fn throw_in_slip(&mut self, what: Thrown, at: ClockTime) {
        self.take_slip_out();
        let Some((doc, lesson, plan)) = self.at_hand() else { return };
        let (revision, past) = (doc.revision(), Arc::clone(&doc.past));
        let told = (Arc::clone(lesson), Arc::clone(plan));
        let day = start_of_day(doc.file());
        let file = match &what {
            Thrown::Behind(group, late) => tell(&day, (group, FactKind::Late(*late)), at, &past),
            Thrown::Happens(happening) => {
                with_happening(&day, (&told.0, &told.1), happening, at, &past)
            }
        };
        let read = file.map_err(|why| vec![why]);
        let read = read.and_then(|file| Ok((Arc::new(lesson_of_shapes(&file, &past)?), file)));
        let (lesson, file) = match read {
            Ok(read) => read,
            Err(findings) => {
                self.tell(format!("Not thrown in: {}", first_of(&findings)));
                return;
            }
        };
        let standing = matches!(what, Thrown::Behind(..)).then(|| {
            let facts = lesson.today.as_ref().map_or(&[][..], |today| &today.facts);
            Arc::new(Standing::of(&lesson, &told.1, facts, minute_of(&lesson, at)))
        });
        let help = standing.as_ref().map_or(Vec::new(), |s| helps(&lesson, &told.1, s));
        let budget = self.planning_budget();
        let now = minute_of(&lesson, at);
        let played = standing.as_ref().and_then(|s| PlayedOn::of(&lesson, &told.1, &s.slips, now));
        let held_up = played.as_ref().map_or(Vec::new(), |played| played.held_up.clone());
        let rehearsal = played.and_then(|played| self.laid_over((&lesson, &played), now));
        let to_ask = match &standing {
            Some(standing) if standing.all_out() => None,
            Some(standing) => {
                let (told, standing) = ((Arc::clone(&lesson), told.1), Arc::clone(standing));
                Some(ToSlip::Respond(Box::new(ToRespond { file, told, standing, past, budget })))
            }
            None => {
                let is_begun = presumed((&told.0, &told.1), at).is_some();
                let lesson = Arc::clone(&lesson);
                Some(ToSlip::Around(Box::new(Around { file, lesson, told, now, is_begun, budget })))
            }
        };
        let looking = to_ask.is_some();
        let responses = Vec::new();
        self.slip = Some(RehearsedSlip {
            what,
            at,
            lesson,
            standing,
            responses,
            help,
            held_up,
            rehearsal,
            looking,
            revision,
        });
        if let Some(of) = to_ask {
            self.studies.slip.ask(revision, of);
        }
    }

    /// The rehearsal is as planned again.
    pub(super) fn take_slip_out(&mut self) {
        self.slip = None;
        self.studies.slip.forget();
    }

    pub(super) fn hear_of_slip(&mut self) {
        for heard in self.studies.slip.hear(self.revision()) {
            let around = self.slip.as_ref().filter(|slip| slip.standing.is_none());
            let around = around.zip(match &heard {
                Heard::Answer(found) => found.first(),
                _ => None,
            });
            let around = around.and_then(|(slip, response)| {
                let after = &response.after;
                let now = minute_of(&after.lesson, slip.at);
                self.laid_over((&after.lesson, &after.plan), now)
            });
            let Some(slip) = &mut self.slip else { continue };
            slip.rehearsal = around.or(slip.rehearsal.take());
            match heard {
                Heard::Answer(found) => slip.responses = found,
                Heard::Ended => slip.looking = false,
                Heard::Fault(fault) => {
                    slip.looking = false;
                    self.tell_of_fault(&fault);
                }
            }
        }
    }
}

/// The copy for the day once something has happened.
fn with_happening(
    day: &LessonFile,
    told: (&Lesson, &CheckedPlan),
    what: &Happening,
    at: ClockTime,
    past: &[PastBake],
) -> Result<LessonFile, Finding> {
    if presumed(told, at).is_none() {
        return happens(day, what, Some(at), past);
    }
    may_happen_during(told, &[], std::slice::from_ref(what), at)?;
    happens_during(day, what, at, past)
}
