//! A thread that plans, so that the window never waits. A new job stops the
//! one under way; answers carry the revision of the lesson they are for.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;
use std::time::{Duration, Instant};

use super::probe::{Probes, probe};
use crate::change::{Effort, HangsOn, Offers, changes, hangs_on};
use crate::check::{CheckedPlan, judge_of};
use crate::file::format::LessonFile;
use crate::hand::{self, Contradiction, Put, Refused, Spot, SpotRow, Thing};
use crate::model::{GroupId, Lesson, PastBake};
use crate::plan::Plan;
use crate::planner::explain::{ExplainLimits, explain_some};
use crate::planner::{Budget, plan_lesson};
use crate::today::{Replanned, replan};

/// What to do.
pub enum Job {
    /// Plan a lesson.
    Plan(u64, Arc<Lesson>),
    /// See what each choice of a group would come to; and why it is not served,
    /// if it is not.
    Probe(Box<ToProbe>),
    /// Plan a lesson of the day so that others keep their times.
    Day(Box<ToReplan>),
    /// Look for changes that make a lesson fit, then for what its verdict
    /// hangs on.
    Changes(Box<ToChange>),
    /// Find where a thing may be put.
    Spots(Box<ToMove>),
    /// Put things somewhere.
    Put(Box<ToMove>),
    /// Find locks of a lesson that cannot all be kept.
    Contradiction(u64, Arc<Lesson>),
}

/// Things of a plan that are moved by hand.
pub struct ToMove {
    /// The number of the question.
    pub number: u64,
    /// The lesson's file.
    pub file: LessonFile,
    /// As it was read.
    pub lesson: Arc<Lesson>,
    /// Bakes noted so far.
    pub past: Arc<[PastBake]>,
    /// Its plan.
    pub plan: Arc<CheckedPlan>,
    /// What goes where.
    pub spots: Vec<(Thing, Spot)>,
}

/// A group of a lesson with its plan.
pub struct ToProbe {
    /// The lesson's revision.
    pub revision: u64,
    /// The lesson.
    pub lesson: Arc<Lesson>,
    /// Bakes noted so far.
    pub past: Arc<[PastBake]>,
    /// Its plan.
    pub plan: Arc<CheckedPlan>,
    /// The group.
    pub group: GroupId,
}

/// A lesson of the day with the plan that stood before.
pub struct ToReplan {
    /// The lesson's revision.
    pub revision: u64,
    /// The lesson and the plan before.
    pub before: (Arc<Lesson>, Arc<CheckedPlan>),
    /// The file as it now is.
    pub after: LessonFile,
    /// Bakes noted so far.
    pub past: Arc<[PastBake]>,
}

/// A lesson with its plan, for changes.
pub struct ToChange {
    /// The lesson's revision.
    pub revision: u64,
    /// Its file.
    pub file: LessonFile,
    /// As it was read.
    pub lesson: Arc<Lesson>,
    /// Bakes noted so far.
    pub past: Arc<[PastBake]>,
    /// Its plan.
    pub plan: Arc<CheckedPlan>,
}

/// What came of it.
pub enum Answer {
    /// A plan, better than any before for this revision.
    Plan(u64, Arc<CheckedPlan>),
    /// Planning has ended; no better plan will come.
    Done(u64),
    /// What the choices of a group would come to.
    Probed(u64, GroupId, Probes),
    /// Why a group is not served.
    Explained(u64, GroupId, String),
    /// Changes found so far, and whether the search has ended.
    Offers(u64, Arc<Offers>, bool),
    /// What the verdict hangs on, in sentences.
    HangsOn(u64, Vec<String>),
    /// Where a thing may be put, for one shelf or along the clock.
    Spot(u64, SpotRow),
    /// What putting things somewhere comes to.
    Put(u64, Result<Box<Put>, Box<Refused>>),
    /// Locks that cannot all be kept.
    Contradiction(u64, Option<Contradiction>),
    /// The planner failed; plans shown before still hold.
    Fault(u64, String),
}

/// How long to look for better plans.
const BUDGET: Budget =
    Budget { within: Some(Duration::from_secs(4)), decodings: Some(30_000), seed: 1 };

/// How long to look for a plan with something put where a hand put it.
const FOR_PUTTING: Budget =
    Budget { within: Some(Duration::from_secs(1)), decodings: Some(4_000), seed: 1 };

/// How long to look for changes: large lessons have menus that take minutes.
const FOR_CHANGES: Duration = Duration::from_secs(30);

/// Plans built for each value of a figure the verdict may hang on.
const FOR_EACH_VALUE: u64 = 200;

/// The thread and the way to it.
pub struct Worker {
    jobs: Sender<(Job, Arc<AtomicBool>)>,
    answers: Receiver<Answer>,
    stop: Arc<AtomicBool>,
}

impl Worker {
    /// Starts the thread. `wake` is called whenever there is an answer.
    pub fn start(wake: impl Fn() + Send + 'static) -> Self {
        let (jobs, todo) = channel::<(Job, Arc<AtomicBool>)>();
        let (done, answers) = channel();
        thread::spawn(move || {
            while let Ok((job, stop)) = todo.recv() {
                // Of several jobs waiting only the last still matters.
                if stop.load(Ordering::Relaxed) {
                    continue;
                }
                let revision = match &job {
                    Job::Plan(revision, _) => *revision,
                    Job::Probe(of) => of.revision,
                    Job::Day(of) => of.revision,
                    Job::Changes(of) => of.revision,
                    Job::Spots(of) | Job::Put(of) => of.number,
                    Job::Contradiction(revision, _) => *revision,
                };
                let tell = |answer| {
                    let heard = done.send(answer).is_ok();
                    wake();
                    heard
                };
                let work = AssertUnwindSafe(|| run(job, &stop, &tell));
                if catch_unwind(work).is_err() {
                    let fault = "the planner stopped with a fault of its own".to_owned();
                    tell(Answer::Fault(revision, fault));
                }
            }
        });
        Self { jobs, answers, stop: Arc::new(AtomicBool::new(false)) }
    }

    /// Stops the job under way, if any, and starts another.
    pub fn begin(&mut self, job: Job) {
        self.stop();
        self.stop = Arc::new(AtomicBool::new(false));
        // The thread lives as long as this sender; were it gone, no answer
        // would come and the last plan would stay.
        let _ = self.jobs.send((job, Arc::clone(&self.stop)));
    }

    /// Stops the job under way; what it found so far has been told.
    pub fn stop(&self) {
        self.stop.store(true, Ordering::Relaxed);
    }

    /// The answers since the last look.
    pub fn answers(&self) -> Vec<Answer> {
        self.answers.try_iter().collect()
    }
}

impl Drop for Worker {
    fn drop(&mut self) {
        self.stop();
    }
}

fn run(job: Job, stop: &AtomicBool, tell: &dyn Fn(Answer) -> bool) {
    match job {
        Job::Plan(revision, lesson) => {
            let judge = judge(&lesson);
            let each = |plan: &Arc<CheckedPlan>| {
                tell(Answer::Plan(revision, Arc::clone(plan)));
            };
            match plan_lesson(&lesson, &BUDGET, stop, judge, each) {
                Ok(found) => {
                    tell(Answer::Plan(revision, found.judged));
                    tell(Answer::Done(revision));
                }
                Err(fault) => {
                    tell(Answer::Fault(revision, fault.to_string()));
                }
            }
        }
        Job::Probe(of) => {
            let probed = probe(&of.lesson, &of.past, of.group, stop);
            tell(Answer::Probed(of.revision, of.group, probed));
            if let Some(why) = why_not(&of, stop) {
                tell(Answer::Explained(of.revision, of.group, why));
            }
        }
        Job::Day(of) => {
            let before = (&*of.before.0, &*of.before.1);
            let each = |found: &Replanned| {
                tell(Answer::Plan(of.revision, Arc::new(found.plan.clone())));
            };
            match replan(before, &of.after, &of.past, &BUDGET, stop, each) {
                Ok(found) => {
                    tell(Answer::Plan(of.revision, Arc::new(found.plan)));
                    tell(Answer::Done(of.revision));
                }
                Err(fault) => {
                    tell(Answer::Fault(of.revision, fault.to_string()));
                }
            }
        }
        Job::Changes(of) => look_for_changes(&of, stop, tell),
        Job::Spots(of) => {
            if let Some(&(thing, _)) = of.spots.first() {
                hand::spots((&of.file, &of.lesson, &of.plan), thing, stop, |row| {
                    tell(Answer::Spot(of.number, row.clone()));
                });
            }
        }
        Job::Put(of) => {
            let from = (&of.file, &*of.lesson, &*of.plan);
            let put = hand::put_all(from, &of.past, &of.spots, &FOR_PUTTING, stop);
            if let Some(put) = put.transpose()
                && !stop.load(Ordering::Relaxed)
            {
                tell(Answer::Put(of.number, put.map(Box::new)));
            }
        }
        Job::Contradiction(revision, lesson) => {
            let found = hand::contradiction(&lesson, stop);
            if !stop.load(Ordering::Relaxed) {
                tell(Answer::Contradiction(revision, found));
            }
        }
    }
}

/// Why a group that takes part is not served, with the sum.
fn why_not(of: &ToProbe, stop: &AtomicBool) -> Option<String> {
    let left_out = |g: &GroupId| of.plan.plan().choice(*g).is_none();
    let left_out: Vec<GroupId> = of.lesson.attending().filter(left_out).collect();
    if !left_out.contains(&of.group) {
        return None;
    }
    let limits = ExplainLimits { stop: Some(stop), ..ExplainLimits::default() };
    let explained = explain_some(&of.lesson, &[of.group], &left_out, limits);
    let explained = explained.first().filter(|e| e.is_proved())?;
    if stop.load(Ordering::Relaxed) {
        return None;
    }
    let sum = match explained.sum.as_str() {
        "" => String::new(),
        sum => format!("\nThe sum: {sum}"),
    };
    Some(format!("{}{sum}", explained.sentence))
}

fn look_for_changes(of: &ToChange, stop: &AtomicBool, tell: &dyn Fn(Answer) -> bool) {
    let each = |offers: &Offers| {
        tell(Answer::Offers(of.revision, Arc::new(offers.clone()), false));
    };
    let lesson = (&of.file, &*of.lesson);
    let until = Instant::now().checked_add(FOR_CHANGES);
    let effort = Effort { until, ..Effort::default() };
    let found = changes(lesson, &of.past, &of.plan, &effort, stop, each);
    tell(Answer::Offers(of.revision, Arc::new(found), true));
    let hangs = hangs_on(&of.lesson, &of.plan, FOR_EACH_VALUE, stop);
    if !stop.load(Ordering::Relaxed) {
        let sentences = hangs.iter().map(HangsOn::sentence).collect();
        tell(Answer::HangsOn(of.revision, sentences));
    }
}

/// The checker, as the planner wants it.
pub fn judge(lesson: &Lesson) -> impl Fn(Plan) -> Result<Arc<CheckedPlan>, String> {
    |plan| judge_of(lesson)(plan).map(Arc::new)
}
