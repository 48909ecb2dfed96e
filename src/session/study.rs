//! A question about the lesson that takes its time: worked on by a thread of
//! its own, so that nobody waits for it.

use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread;

use super::ids::Revision;

/// Called whenever a study has something to tell.
pub type Wake = Arc<dyn Fn() + Send + Sync>;

/// Works on a question until it is answered or the flag is set. Answers are
/// told as they come; an error is a fault of the program, in words.
pub type Work<Question, Answer> = fn(Question, &AtomicBool, &dyn Fn(Answer)) -> Result<(), String>;

/// What a study has told.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Heard<Answer> {
    /// An answer; more may follow.
    Answer(Answer),
    /// The work has ended, or was stopped: no answer follows.
    Ended,
    /// The work failed. What was told before still holds.
    Fault(String),
}

type Number = u64;
type Order<Question> = (Number, Question, Arc<AtomicBool>);

/// The thread and the ways to it and back.
struct Thread<Question, Answer> {
    orders: Sender<Order<Question>>,
    told: Receiver<(Number, Heard<Answer>)>,
}

/// The question that is open.
struct Open {
    number: Number,
    revision: Revision,
    stop: Arc<AtomicBool>,
}

/// Questions of one kind, of which the last one asked is worked on.
///
/// Answers are heard only while the lesson is at the revision for which the
/// question was asked.
pub struct Study<Question, Answer> {
    work: Work<Question, Answer>,
    wake: Wake,
    /// Started with the first question.
    thread: Option<Thread<Question, Answer>>,
    open: Option<Open>,
    last: Number,
}

impl<Question: Send + 'static, Answer: Send + 'static> Study<Question, Answer> {
    /// A study that works on its questions by this function.
    pub fn new(wake: &Wake, work: Work<Question, Answer>) -> Self {
        Self { work, wake: Arc::clone(wake), thread: None, open: None, last: 0 }
    }

    /// Asks a question about a revision; the one before is forgotten.
    pub fn ask(&mut self, revision: Revision, question: Question) {
        self.forget();
        self.last += 1;
        let stop = Arc::new(AtomicBool::new(false));
        self.open = Some(Open { number: self.last, revision, stop: Arc::clone(&stop) });
        let (work, wake) = (self.work, &self.wake);
        let thread = self.thread.get_or_insert_with(|| start(work, Arc::clone(wake)));
        // The thread lives as long as this sender.
        let _ = thread.orders.send((self.last, question, stop));
    }

    /// Stops the work; what it has found is still heard.
    pub fn stop(&self) {
        if let Some(open) = &self.open {
            open.stop.store(true, Ordering::Relaxed);
        }
    }

    /// Whether the work that is under way was stopped.
    pub fn is_stopped(&self) -> bool {
        self.open.as_ref().is_some_and(|open| open.stop.load(Ordering::Relaxed))
    }

    /// Whether a question is open.
    pub fn is_busy(&self) -> bool {
        self.open.is_some()
    }

    /// What was told since the last look, if the lesson is still as it was
    /// when the question was asked.
    pub fn hear(&mut self, now: Option<Revision>) -> Vec<Heard<Answer>> {
        let told: Vec<_> = self.thread.iter().flat_map(|t| t.told.try_iter()).collect();
        let mut heard = Vec::new();
        for (number, what) in told {
            let Some(open) = self.open.as_ref().filter(|open| open.number == number) else {
                continue;
            };
            let is_now = Some(open.revision) == now;
            if !matches!(what, Heard::Answer(_)) {
                self.open = None;
            }
            if is_now {
                heard.push(what);
            }
        }
        heard
    }
}

impl<Question, Answer> Study<Question, Answer> {
    /// Stops the work; nothing of it is heard any more.
    pub fn forget(&mut self) {
        if let Some(open) = self.open.take() {
            open.stop.store(true, Ordering::Relaxed);
        }
    }
}

impl<Question, Answer> Drop for Study<Question, Answer> {
    fn drop(&mut self) {
        self.forget();
    }
}

fn start<Question: Send + 'static, Answer: Send + 'static>(
    work: Work<Question, Answer>,
    wake: Wake,
) -> Thread<Question, Answer> {
    let (orders, todo) = channel::<Order<Question>>();
    let (done, told) = channel();
    thread::spawn(move || {
        while let Ok((number, question, stop)) = todo.recv() {
            let tell = |what| {
                // Nobody listens once the study is gone.
                let _ = done.send((number, what));
                wake();
            };
            // Of several questions waiting only the last still matters.
            let outcome = if stop.load(Ordering::Relaxed) {
                Ok(())
            } else {
                let answer = |answer| tell(Heard::Answer(answer));
                let worked = AssertUnwindSafe(|| work(question, &stop, &answer));
                let fault = "the planner stopped with a fault of its own";
                catch_unwind(worked).unwrap_or_else(|_| Err(fault.to_owned()))
            };
            tell(outcome.map_or_else(Heard::Fault, |()| Heard::Ended));
        }
    });
    Thread { orders, told }
}
