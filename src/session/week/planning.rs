//! A week planned beside the session: told as far as it is known, whenever there is
//! more.

use std::sync::Arc;
use std::sync::atomic::AtomicBool;
use std::sync::mpsc::channel;
use std::thread;

use super::super::study::Heard;
use super::Session;
use crate::model::PastBake;
use crate::week::{Asked, Memory, Planner, Report, USUAL_DECODINGS, Week, report_as_it_comes};

/// A week to be planned.
pub(in super::super) struct ToPlanWeek {
    week: Arc<Week>,
    past: Arc<[PastBake]>,
    decodings: u64,
    memory: Memory,
    /// Whether moves are looked for.
    moves: bool,
}

/// Plans a week.
pub(in super::super) fn plan(
    of: ToPlanWeek,
    stop: &AtomicBool,
    tell: &dyn Fn(Arc<Report>),
) -> Result<(), String> {
    let planner = Planner::new(&of.past, of.decodings, stop).remembering(&of.memory);
    let asked = Asked { day: None, moves: of.moves };
    let (say, hear) = channel();
    thread::scope(|scope| {
        let planner = &planner;
        let week = &of.week;
        let working = scope.spawn(move || {
            // Nobody hears it once the question is forgotten.
            report_as_it_comes(week, planner, asked, &|report| {
                let _ = say.send(Arc::new(report.clone()));
            });
        });
        hear.iter().for_each(tell);
        working.join().map_err(|_| "the week's planner stopped with a fault of its own".to_owned())
    })
}

impl Session {
    /// The question of a week as it stands.
    fn to_plan(&self, week: &Arc<Week>, past: &Arc<[PastBake]>, moves: bool) -> ToPlanWeek {
        ToPlanWeek {
            week: Arc::clone(week),
            past: Arc::clone(past),
            decodings: self.decodings.unwrap_or(USUAL_DECODINGS),
            memory: self.weeks.memory.clone(),
            moves,
        }
    }

    /// Has the week planned as it now stands; what was known of it before goes, and
    /// so does what was tried.
    pub(super) fn plan_week(&mut self) {
        let Some(week) = &mut self.weeks.open else { return };
        week.report = None;
        week.tried = None;
        self.studies.week_tried.forget();
        self.ask_for_week();
    }

    /// Has the week planned; what is known of it stays until there is more.
    pub(super) fn ask_for_week(&mut self) {
        let Some(week) = &self.weeks.open else { return };
        let question = self.to_plan(week.week(), week.past(), true);
        let revision = week.revision;
        self.studies.week.ask(revision, question);
    }

    /// Has the week planned with the change that is tried.
    pub(super) fn ask_for_tried(&mut self) {
        let Some(week) = &self.weeks.open else { return };
        let Some(tried) = &week.tried else { return };
        let question = self.to_plan(&tried.week, week.past(), false);
        let revision = week.revision;
        self.studies.week_tried.ask(revision, question);
    }

    /// Takes in what is known of the week by now.
    pub(in super::super) fn hear_of_week(&mut self) {
        let now = self.weeks.open.as_ref().map(|week| week.revision);
        let told = self.studies.week.hear(now);
        let tried = self.studies.week_tried.hear(now);
        let mut faults = Vec::new();
        if let Some(week) = &mut self.weeks.open {
            for heard in told {
                match heard {
                    // What was kept knew more than the first of what is found anew.
                    Heard::Answer(report) => {
                        let knows_more = |before: &Arc<Report>| before.stage > report.stage;
                        if !week.report.as_ref().is_some_and(knows_more) {
                            week.report = Some(report);
                        }
                    }
                    Heard::Ended => {}
                    Heard::Fault(fault) => faults.push(fault),
                }
            }
            for heard in tried {
                match (heard, &mut week.tried) {
                    (Heard::Answer(report), Some(tried)) => tried.report = Some(report),
                    (Heard::Fault(fault), _) => faults.push(fault),
                    (Heard::Answer(_), None) | (Heard::Ended, _) => {}
                }
            }
        }
        for fault in faults {
            self.tell(format!("A fault of the program: {fault}. What is shown still holds."));
        }
    }

    /// Whether each lesson of the week on screen is planned, or nothing more is looked for.
    pub fn is_week_settled(&self) -> bool {
        let is_planning = self.is_planning_week();
        self.week_on_screen().is_some_and(|week| week.settled(is_planning).is_some())
    }

    /// Whether more is still found out about the week.
    pub fn is_planning_week(&self) -> bool {
        self.studies.week.is_busy() || self.studies.week_tried.is_busy()
    }
}
