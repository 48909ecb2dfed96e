//! The ways in which a group can be served, with the moments of their steps.

use pumpkin_core::predicate;
use pumpkin_core::predicates::Predicate;
use pumpkin_core::variables::DomainId;

use super::super::engine::Engine;
use super::super::profile::{Moment, Use};
use super::model::Question;
use crate::graph::Problem;
use crate::graph::problem::{Choice, GroupTask, PeriodTask, Task, WhenDone};
use crate::graph::windows::Windows;
use crate::model::StepKind;

/// One option of one group in the model.
pub(super) struct Mode<'p> {
    /// Position of the group.
    pub(super) group: usize,
    /// Position of the option.
    pub(super) option: usize,
    pub(super) choice: &'p Choice,
    pub(super) period: &'p PeriodTask,
    /// 1 if the group is served so; `None` if it is in any case.
    pub(super) taken: Option<DomainId>,
    /// Start of each step that is in the lesson.
    pub(super) starts: Vec<Option<DomainId>>,
    /// Earliest and latest starts, and what binds them.
    pub(super) windows: Windows,
}

/// Bells, links and locks of a choice, with all steps ended `spare` minutes
/// before the closing. A cooling may last longer than its minutes, so the
/// longest gap after one is left out: it would count from that later end. With
/// `rigid`, loading, baking and taking out follow one another without a gap.
pub(super) fn windows(choice: &Choice, period: &PeriodTask, spare: i32, rigid: bool) -> Windows {
    let cools = |t: usize| is_cooling(choice, t);
    let mut tasks: Vec<Task> = choice.tasks.clone();
    for task in &mut tasks {
        for gap in &mut task.before {
            if cools(gap.task) {
                gap.longest = None;
            }
        }
    }
    let bake = choice.bake.as_ref().filter(|_| rigid).map(|b| [b.load, b.bake, b.out]);
    let period = PeriodTask { closing_start: period.closing_start - spare, ..period.clone() };
    Windows::new(&tasks, bake, &period)
}

fn is_cooling(choice: &Choice, task: usize) -> bool {
    choice.tasks[task].kind == StepKind::Cool
}

impl<'p> Mode<'p> {
    /// Its variables and links; `None` if bells, links and locks leave no way.
    /// Links hold whether it is taken or not: by themselves they can be kept.
    pub(super) fn new(
        engine: &mut Engine,
        problem: &'p Problem,
        (group, option): (usize, usize),
        question: &Question,
        in_any_case: bool,
    ) -> Option<Self> {
        let of: &GroupTask = &problem.groups[group];
        let choice = &of.options[option];
        let period = &problem.periods[of.period];
        let windows = windows(choice, period, question.spare, !question.in_halves);
        if !windows.possible() {
            return None;
        }
        let taken = (!in_any_case).then(|| engine.variable(0, 1));
        let mut starts = Vec::new();
        for (t, task) in choice.tasks.iter().enumerate() {
            let (earliest, latest) = windows.of(t, &[], i32::MIN);
            let in_lesson = task.when == WhenDone::InLesson;
            starts.push(in_lesson.then(|| engine.variable(earliest, latest)));
        }
        let mode = Self { group, option, choice, period, taken, starts, windows };
        mode.link(engine);
        Some(mode)
    }

    fn link(&self, engine: &mut Engine) {
        let inside: Vec<(usize, DomainId)> =
            self.starts.iter().enumerate().filter_map(|(t, s)| s.map(|s| (t, s))).collect();
        let least = |a: usize, b: usize| self.windows.least(a, b);
        for &(a, from) in &inside {
            for &(b, to) in inside.iter().filter(|&&(b, _)| b != a) {
                let Some(gap) = least(a, b) else { continue };
                let (earliest, latest) = (self.window(b).0, self.window(a).1);
                // What follows by way of a step between is not said twice. Of
                // two that stand at one distance, the first stands for both.
                let between = inside.iter().any(|&(c, _)| {
                    let rigid = |x: usize, y: usize| {
                        least(x, y).zip(least(y, x)).is_some_and(|(p, q)| p + q == 0)
                    };
                    let (Some(first), Some(second)) = (least(a, c), least(c, b)) else {
                        return false;
                    };
                    c != a
                        && c != b
                        && first + second >= gap
                        && (!rigid(a, c) || c < a)
                        && (!rigid(c, b) || c < b)
                });
                if earliest - latest < gap && !between {
                    engine.lag(from, to, gap);
                }
            }
        }
    }

    /// Earliest and latest start of a step.
    pub(super) fn window(&self, task: usize) -> (i32, i32) {
        self.windows.of(task, &[], i32::MIN)
    }

    /// Holds if the group is served so.
    pub(super) fn present(&self) -> Option<Predicate> {
        self.taken.map(|taken| predicate![taken >= 1])
    }

    /// The minutes of a step, `count` of something in use.
    pub(super) fn use_of(&self, task: usize, count: i32) -> Option<Use> {
        let variable = self.starts[task]?;
        let minutes = self.choice.tasks[task].minutes;
        (minutes > 0 && count > 0).then(|| Use {
            from: Moment { variable, plus: 0 },
            until: Moment { variable, plus: minutes },
            count,
            present: self.present(),
        })
    }

    /// From the start of loading to the end of taking out.
    pub(super) fn stay(&self, count: i32) -> Option<Use> {
        let bake = self.choice.bake.as_ref()?;
        let variable = self.starts[bake.load]?;
        let minutes = |t: usize| self.choice.tasks[t].minutes;
        let plus = minutes(bake.load) + minutes(bake.bake) + minutes(bake.out);
        Some(Use {
            from: Moment { variable, plus: 0 },
            until: Moment { variable, plus },
            count,
            present: self.present(),
        })
    }

    /// One of these holds if the group is served so.
    pub(super) fn clause(&self, engine: &mut Engine, any: impl IntoIterator<Item = Predicate>) {
        let mut all: Vec<Predicate> = any.into_iter().collect();
        all.extend(self.present().map(|p| !p));
        engine.clause(all);
    }

    /// A step does not run in any minute from `from` until before `until`.
    pub(super) fn keep_out(&self, engine: &mut Engine, task: usize, from: i32, until: i32) {
        let Some(start) = self.starts[task] else { return };
        let (earliest, latest) = self.window(task);
        let last_before = from - self.choice.tasks[task].minutes;
        if latest <= last_before || until <= earliest || from >= until {
            return;
        }
        self.clause(engine, [predicate![start <= last_before], predicate![start >= until]]);
    }
}

/// A group is ready no earlier with an option, by its own steps, the bells and
/// the first oven that can be hot; `None` if bells, links and locks leave no
/// way.
pub(in crate::planner) fn ready_at_least(
    problem: &Problem,
    group: usize,
    option: usize,
) -> Option<i32> {
    let of = &problem.groups[group];
    let choice = &of.options[option];
    let period = &problem.periods[of.period];
    let gaps = || choice.tasks.iter().flat_map(|t| &t.before);
    // The choice's own, unless a longest gap is left out.
    let windows = if gaps().any(|gap| gap.longest.is_some() && is_cooling(choice, gap.task)) {
        windows(choice, period, 0, true)
    } else {
        choice.windows.clone()
    };
    if !windows.possible() {
        return None;
    }
    let mut late = 0;
    if let Some(bake) = &choice.bake {
        let (earliest, _) = windows.of(bake.load, &[], i32::MIN);
        late = super::ovens::hot_from(problem, of, bake)?.saturating_sub(earliest).max(0);
    }
    let load = choice.bake.as_ref().filter(|_| late > 0).map(|b| b.load);
    let ends = choice.tasks.iter().enumerate().filter(|(_, t)| t.when == WhenDone::InLesson);
    let ready = ends.map(|(t, task)| {
        let mut starts = windows.of(t, &[], i32::MIN).0;
        if let Some(gap) = load.and_then(|load| windows.least(load, t)) {
            let load = load.map_or(0, |load| windows.of(load, &[], i32::MIN).0);
            starts = starts.max(load + late + gap);
        }
        starts + task.minutes
    });
    Some(ready.max().unwrap_or(period.start))
}
