//! Lessons planned as if each were alone in the department, several at a time,
//! and none twice.

use std::collections::HashMap;
use std::sync::atomic::{AtomicBool, Ordering};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

use super::model::{Entry, EntryNo, Week};
use super::needs::{Needs, needs};
use super::parallel::each;
use super::put::put;
use crate::check::{CheckedPlan, judge_of};
use crate::file::format::LessonFile;
use crate::file::lesson_of_shapes;
use crate::model::{Lesson, PastBake};
use crate::planner::{Budget, plan_lesson};

/// A lesson where the week has it, and its plan.
#[derive(Debug)]
pub struct Alone {
    /// The lesson.
    pub lesson: Lesson,
    /// Its plan.
    pub plan: CheckedPlan,
    /// Whether the plan was looked for to the end: time was not up.
    pub whole: bool,
}

impl Alone {
    /// Groups out by the bell.
    pub fn served(&self) -> u32 {
        self.plan.objective().served
    }

    /// Groups that take part.
    pub fn of(&self) -> u32 {
        u32::try_from(self.lesson.attending().count()).unwrap_or(u32::MAX)
    }

    /// Groups that are not out by the bell.
    pub fn not_out(&self) -> u32 {
        self.of().saturating_sub(self.served())
    }
}

/// How many plans of a lesson are built where nobody says how many.
pub const USUAL_DECODINGS: u64 = 500;

/// Lessons that were planned, by all that they are made of: shared by those who plan
/// the same week one after another, with the same bakes noted and as many plans
/// built.
#[derive(Debug, Clone, Default)]
pub struct Memory {
    /// By what they are and where, so that few are to be compared.
    known: Arc<Mutex<HashMap<String, Vec<Known>>>>,
    /// Lessons that were joined as one.
    joined: Arc<Mutex<Vec<Arc<Alone>>>>,
}

/// So many lessons that were joined are remembered, the last ones.
const MOST_JOINED: usize = 40;

impl Memory {
    fn known(&self) -> MutexGuard<'_, HashMap<String, Vec<Known>>> {
        self.known.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn joined(&self) -> MutexGuard<'_, Vec<Arc<Alone>>> {
        self.joined.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Forgets what was not planned to the end.
    fn forget_what_was_cut_short(&self) {
        let whole = |known: &Known| known.alone.as_ref().is_some_and(|alone| alone.whole);
        self.known().values_mut().for_each(|all| all.retain(whole));
        self.joined().retain(|alone| alone.whole);
    }
}

/// Plans lessons of a week, and remembers them by all that they are made of: a
/// lesson that does not change is not planned again.
#[derive(Debug)]
pub struct Planner<'a> {
    past: &'a [PastBake],
    /// So many plans are built of a lesson, and of each number of ovens.
    decodings: u64,
    stop: &'a AtomicBool,
    memory: Memory,
}

#[derive(Debug, Clone)]
struct Known {
    file: LessonFile,
    alone: Option<Arc<Alone>>,
    needs: Option<Needs>,
}

impl<'a> Planner<'a> {
    /// Goes by what earlier bakes took; builds so many plans of each lesson, fewer
    /// once `stop` is set.
    pub fn new(past: &'a [PastBake], decodings: u64, stop: &'a AtomicBool) -> Self {
        Self { past, decodings, stop, memory: Memory::default() }
    }

    /// The same, knowing what was planned before.
    #[must_use]
    pub fn remembering(self, memory: &Memory) -> Self {
        memory.forget_what_was_cut_short();
        Self { memory: memory.clone(), ..self }
    }

    /// Whether all work is to end.
    pub fn is_stopped(&self) -> bool {
        self.stop.load(Ordering::Relaxed)
    }

    /// An entry planned alone; `None` if it is no lesson that can be planned there, or
    /// time was up before all its groups had a place.
    pub fn alone(&self, week: &Week, entry: &Entry) -> Option<Arc<Alone>> {
        let file = put(week, &entry.lesson()?.shapes, &entry.slot).ok()?;
        if let Some(known) = self.remembered(&file) {
            return known.alone;
        }
        let lesson = lesson_of_shapes(&file, self.past).ok();
        let alone = lesson.and_then(|lesson| self.planned_lesson(lesson)).map(Arc::new);
        self.remember(Known { file, alone: alone.clone(), needs: None });
        alone
    }

    /// The fewest ovens an entry needs; `None` if not all its groups are out, or
    /// time is up.
    pub fn needs(&self, week: &Week, entry: &Entry) -> Option<Needs> {
        let alone = self.alone(week, entry)?;
        let file = put(week, &entry.lesson()?.shapes, &entry.slot).ok()?;
        if let Some(needs) = self.remembered(&file).and_then(|known| known.needs) {
            return Some(needs);
        }
        let found = needs(&alone, self.decodings, self.stop)?;
        let mut known = self.memory.known();
        let here = known.entry(what_and_where(&file)).or_default();
        here.iter_mut().filter(|k| k.file == file).for_each(|k| k.needs = Some(found));
        Some(found)
    }

    /// The plan of lessons joined as one; `None` as with [`Planner::alone`].
    pub(super) fn joined(&self, lesson: &Lesson) -> Option<Arc<Alone>> {
        let known = self.memory.joined().iter().find(|known| known.lesson == *lesson).cloned();
        if known.is_some() {
            return known;
        }
        let planned = Arc::new(self.planned_lesson(lesson.clone())?);
        let mut all = self.memory.joined();
        if all.len() >= MOST_JOINED {
            all.remove(0);
        }
        all.push(Arc::clone(&planned));
        Some(planned)
    }

    /// The plan of a lesson; `None` if time was up before all its groups had a place.
    fn planned_lesson(&self, lesson: Lesson) -> Option<Alone> {
        let budget = Budget { within: None, decodings: Some(self.decodings), seed: 1 };
        let found = plan_lesson(&lesson, &budget, self.stop, judge_of(&lesson), |_| {}).ok()?;
        let alone = Alone { plan: found.judged, whole: !self.is_stopped(), lesson };
        // That groups are left out says nothing where there was no time to look.
        (alone.whole || alone.not_out() == 0).then_some(alone)
    }

    fn remembered(&self, file: &LessonFile) -> Option<Known> {
        let known = self.memory.known();
        let here = known.get(&what_and_where(file))?;
        here.iter().find(|known| known.file == *file).cloned()
    }

    fn remember(&self, known: Known) {
        let mut all = self.memory.known();
        let here = all.entry(what_and_where(&known.file)).or_default();
        // Two threads may have planned the same; both found the same.
        if !here.iter().any(|other| other.file == known.file) {
            here.push(known);
        }
    }
}

/// The lessons of a week planned as if each were alone, on all cores; those that are
/// planned when time is up.
pub fn alone_in(week: &Week, planner: &Planner<'_>) -> Vec<(EntryNo, Arc<Alone>)> {
    let one = |entry: &Entry| Some((entry.number, planner.alone(week, entry)?));
    each(&week.entries, one).into_iter().flatten().collect()
}

/// What lessons that are the same have in common, and few others: not all of it.
fn what_and_where(file: &LessonFile) -> String {
    let (date, start, end) = (file.date.as_deref(), &file.period.start, &file.period.end);
    format!("{} {} {start} {end} {}", file.title, date.unwrap_or_default(), file.room.name())
}
