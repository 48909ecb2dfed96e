//! Which adult is with which step, and at which door, in a plan of the solver's: that only
//! counts them.

use std::collections::{BTreeMap, HashMap};

use super::exact::lesson::ModelPlan;
use crate::graph::Problem;
use crate::graph::problem::{PoolOf, WhenDone};

/// Adults to be tried first.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct AdultsWished {
    /// By group and task.
    with: HashMap<(usize, usize), usize>,
    /// By oven and minute.
    doors: HashMap<(usize, i32), usize>,
}

/// Something that occupies an adult.
struct Job {
    from: i32,
    until: i32,
    /// Who may do it.
    who: Vec<usize>,
    what: JobOf,
}

#[derive(Clone, Copy)]
enum JobOf {
    With(usize, usize),
    Door(usize, i32),
}

impl AdultsWished {
    /// The adult with a task of a group.
    pub fn with(&self, group: usize, task: usize) -> Option<usize> {
        self.with.get(&(group, task)).copied()
    }

    /// The adult at an oven's door in a minute.
    pub fn at_door(&self, oven: usize, minute: i32) -> Option<usize> {
        self.doors.get(&(oven, minute)).copied()
    }

    /// Those of a plan, given out in the order of time: to whoever is wanted by fewest, and
    /// of these to who leaves first. `None` where no adult is occupied by anything.
    pub(super) fn of(problem: &Problem, plan: &ModelPlan) -> Option<Self> {
        let mut jobs = jobs(problem, plan);
        if jobs.is_empty() {
            return None;
        }
        jobs.sort_by_key(|job| (job.from, job.who.len(), job.until));
        let mut busy: HashMap<usize, Vec<(i32, i32)>> = HashMap::new();
        for (step, &start) in problem.floating.iter().zip(&plan.floats) {
            for &adult in &step.adults {
                busy.entry(adult).or_default().push((start, start + step.minutes));
            }
        }
        let wanted_by = |adult: usize| {
            problem.groups.iter().filter(|group| group.adults.contains(&adult)).count()
        };
        let mut wished = Self::default();
        for job in jobs {
            let is_free = |adult: &&usize| {
                let clear = |&(from, until): &(i32, i32)| until <= job.from || job.until <= from;
                is_there(problem, **adult, job.from, job.until)
                    && busy.get(adult).is_none_or(|spans| spans.iter().all(clear))
            };
            let free = job.who.iter().filter(is_free);
            let least = free.min_by_key(|&&a| (wanted_by(a), leaves(problem, a, job.until), a));
            let Some(&adult) = least else { continue };
            busy.entry(adult).or_default().push((job.from, job.until));
            match job.what {
                JobOf::With(group, task) => wished.with.insert((group, task), adult),
                JobOf::Door(oven, minute) => wished.doors.insert((oven, minute), adult),
            };
        }
        Some(wished)
    }
}

fn jobs(problem: &Problem, plan: &ModelPlan) -> Vec<Job> {
    let mut jobs: Vec<Job> = Vec::new();
    let mut doors: BTreeMap<(usize, i32), Vec<usize>> = BTreeMap::new();
    for (g, seed) in plan.groups.iter().enumerate() {
        let Some(seed) = seed else { continue };
        let group = &problem.groups[g];
        let choice = &group.options[seed.option];
        let span = |task: usize| {
            let start = seed.starts[task];
            (start, start + choice.tasks[task].minutes)
        };
        for (t, task) in choice.tasks.iter().enumerate() {
            if task.with_adult && task.when == WhenDone::InLesson {
                let (from, until) = span(t);
                jobs.push(Job { from, until, who: group.adults.clone(), what: JobOf::With(g, t) });
            }
        }
        let Some(bake) = choice.bake.as_ref().filter(|_| problem.adult_at_doors) else { continue };
        for (from, until) in [bake.load, bake.out].map(span) {
            for place in seed.ovens.iter().flat_map(|&o| (from..until).map(move |m| (o, m))) {
                doors.entry(place).or_default().extend(&group.adults);
            }
        }
    }
    jobs.extend(doors.into_iter().map(|((oven, minute), mut who)| {
        who.sort_unstable();
        who.dedup();
        Job { from: minute, until: minute + 1, who, what: JobOf::Door(oven, minute) }
    }));
    jobs
}

fn is_there(problem: &Problem, adult: usize, from: i32, until: i32) -> bool {
    (from..until).all(|minute| !is_away(problem, adult, minute))
}

/// The first minute from one on in which an adult is not there.
fn leaves(problem: &Problem, adult: usize, from: i32) -> i32 {
    (from..problem.horizon).find(|&m| is_away(problem, adult, m)).unwrap_or(problem.horizon)
}

fn is_away(problem: &Problem, adult: usize, minute: i32) -> bool {
    let pool = &problem.pools[adult];
    debug_assert!(matches!(pool.of, PoolOf::Adult(_)));
    let minute = usize::try_from(minute).ok();
    minute.and_then(|minute| pool.taken.get(minute)).is_some_and(|&taken| taken)
}
