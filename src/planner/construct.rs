//! Builds a plan from a genome, group by group around the bake: the earliest
//! minute at which oven, shelf, door and temperature allow the load; what
//! precedes it placed backwards from it, so that longest gaps hold by
//! construction; what follows placed forwards.

use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};

use super::adults_wished::AdultsWished;
use super::genome::Genome;
use super::kit_book::KitBook;
use super::objective::{Score, oven_calls};
use super::occupy_adults::few_first;
use super::oven_book::{OvenBook, StandingTin, Stay};
use super::timeline::Timeline;
use super::wish::Wish;
use crate::graph::Problem;
use crate::graph::problem::{BakeTask, Choice, ClassTask, GroupTask, PeriodTask, Task, WhenDone};

/// A task that has no place yet.
pub const UNPLACED: i32 = i32::MIN;

/// Where everything of one group is.
#[derive(Debug, Clone, Default)]
pub struct GroupSchedule {
    /// The option it uses; `None` if it is not served.
    pub option: Option<usize>,
    /// Start of each task of the option.
    pub starts: Vec<i32>,
    /// Its tins.
    pub standing: Vec<StandingTin>,
    /// Its stay in each oven it uses, and how many tins are there.
    pub stays: Vec<(usize, Stay, i32)>,
    /// The kit and tins it uses.
    pub kit: KitBook,
    /// Adults its tasks occupy: task and pool.
    pub adults: Vec<(usize, usize)>,
    /// Adults at the doors: oven, minute, pool.
    pub watches: Vec<(usize, i32, usize)>,
}

/// Builds plans; keeps its memory from one to the next.
#[derive(Debug, Clone)]
pub struct Constructor<'p> {
    pub(super) problem: &'p Problem,
    pub(super) timeline: Timeline,
    pub(super) ovens: OvenBook,
    /// By period and minute, whether the class has a step of its own.
    pub(super) class_busy: Vec<Vec<bool>>,
    /// Adults at an oven's door: oven, minute, pool, group.
    pub(super) watches: Vec<(usize, i32, usize, usize)>,
    /// Starts of the floating steps of the class in the plan built last.
    pub floats: Vec<i32>,
    /// A floating step of the class found no place.
    crowded: bool,
    /// Groups that could not be placed, by the first of their like.
    hopeless: Vec<bool>,
    /// The schedule built last.
    pub schedule: Vec<GroupSchedule>,
    loading: Vec<i32>,
    /// Adults who may serve each group, who serve fewest first: what those do leaves the
    /// others free.
    pub(super) adults_of: Vec<Vec<usize>>,
    /// Adults that are tried first.
    pub(super) adults: Option<Arc<AdultsWished>>,
    /// While this is set no more groups are placed.
    stop: Option<&'p AtomicBool>,
    /// The plan built last was cut short by that.
    cut_short: bool,
}

/// One group with the option that is tried for it.
#[derive(Clone, Copy)]
pub(super) struct Scene<'p> {
    pub(super) index: usize,
    pub(super) group: &'p GroupTask,
    pub(super) choice: &'p Choice,
    pub(super) period: &'p PeriodTask,
}

impl Scene<'_> {
    pub(super) fn task(&self, task: usize) -> &Task {
        &self.choice.tasks[task]
    }

    /// Start and end of what a hold spans, bounded by the bells where an end
    /// of it is done beforehand or collected; `None` if an end has no place
    /// yet or nothing of it is in the lesson.
    pub(super) fn span(&self, starts: &[i32], from: usize, to: usize) -> Option<(i32, i32)> {
        let (first, last) = (self.task(from), self.task(to));
        let start = match first.when {
            WhenDone::Beforehand => self.period.start,
            _ if starts[from] == UNPLACED => return None,
            _ => starts[from],
        };
        let end = match last.when {
            WhenDone::Beforehand => return None,
            WhenDone::Collected => self.period.end,
            WhenDone::InLesson if starts[to] == UNPLACED => return None,
            WhenDone::InLesson => starts[to] + last.minutes,
        };
        (start < end).then_some((start, end))
    }
}

impl<'p> Constructor<'p> {
    /// A constructor that has nothing placed.
    pub fn new(problem: &'p Problem) -> Self {
        let length = usize::try_from(problem.horizon).unwrap_or(0);
        Self {
            problem,
            timeline: Timeline::new(problem),
            ovens: OvenBook::new(problem),
            class_busy: vec![vec![false; length]; problem.periods.len()],
            watches: Vec::new(),
            floats: Vec::new(),
            crowded: false,
            hopeless: vec![false; problem.groups.len()],
            schedule: vec![GroupSchedule::default(); problem.groups.len()],
            loading: Vec::new(),
            adults_of: problem.groups.iter().map(|group| few_first(problem, group)).collect(),
            adults: None,
            stop: None,
            cut_short: false,
        }
    }

    /// From now on builds no further than until this is set, or whole plans
    /// again.
    pub fn heed(&mut self, stop: Option<&'p AtomicBool>) {
        self.stop = stop;
    }

    /// Whether it is to stop.
    pub(super) fn is_stopped(&self) -> bool {
        self.stop.is_some_and(|stop| stop.load(Ordering::Relaxed))
    }

    /// Whether groups are missing in the plan built last for want of time.
    pub fn cut_short(&self) -> bool {
        self.cut_short
    }

    /// The ovens in the plan built last.
    pub fn ovens(&self) -> &OvenBook {
        &self.ovens
    }

    /// Builds the plan of a genome and says how good it is.
    pub fn build(&mut self, genome: &Genome) -> Score {
        self.clear(genome);
        // No plan at all if the class's own steps do not lie apart.
        if !self.crowded {
            for &g in &genome.order {
                self.place_group(g, genome);
            }
        }
        self.score()
    }

    /// As [`Constructor::build`], and then moves work that can wait to where
    /// pupils would do it: as early as it goes.
    pub fn build_tidy(&mut self, genome: &Genome) -> Score {
        let score = self.build(genome);
        self.tidy_all(genome);
        score
    }

    /// Moves work that can wait, in the plan just built.
    pub fn tidy_all(&mut self, genome: &Genome) {
        for &g in &genome.order {
            self.tidy(g);
        }
    }

    pub(super) fn clear(&mut self, genome: &Genome) {
        self.timeline.clear();
        self.ovens.clear();
        self.watches.clear();
        self.hopeless.fill(false);
        for busy in &mut self.class_busy {
            busy.fill(false);
        }
        for step in &self.problem.fixed {
            mark_busy(&mut self.class_busy[step.period], step.earliest, step.minutes);
        }
        self.floats.clear();
        self.crowded = false;
        self.cut_short = false;
        self.adults.clone_from(&genome.adults);
        for (step, &wanted) in self.problem.floating.iter().zip(&genome.floats) {
            let free = self.free_for_class(step, wanted);
            self.crowded |= free.is_none();
            let start = free.unwrap_or(wanted);
            mark_busy(&mut self.class_busy[step.period], start, step.minutes);
            for &adult in &step.adults {
                self.timeline.take(adult, start, start + step.minutes, 1);
            }
            self.floats.push(start);
        }
        for schedule in &mut self.schedule {
            schedule.option = None;
        }
    }

    /// The start nearest to the wanted one at which a floating step of the
    /// class overlaps no other and its adults are there.
    fn free_for_class(&self, step: &ClassTask, wanted: i32) -> Option<i32> {
        let busy = &self.class_busy[step.period];
        let clip = |m: i32| usize::try_from(m).unwrap_or(0).min(busy.len());
        let free = |&start: &i32| {
            let end = start + step.minutes;
            !busy[clip(start)..clip(end)].contains(&true)
                && step.adults.iter().all(|&a| self.timeline.free(a, start, end) > 0)
        };
        (step.earliest..=step.latest).filter(free).min_by_key(|start| (start - wanted).abs())
    }

    /// Whether a floating step of the class found no place in the plan built
    /// last.
    pub fn crowded(&self) -> bool {
        self.crowded
    }

    pub(super) fn place_group(&mut self, g: usize, genome: &Genome) {
        let group = &self.problem.groups[g];
        if self.hopeless[group.like] {
            return;
        }
        let first = genome.genes[g].option;
        let others = (0..group.options.len()).filter(|&o| o != first);
        for option in std::iter::once(first).chain(others) {
            if self.is_stopped() {
                self.cut_short = true;
                return;
            }
            if option < group.options.len() && self.place_option(g, option, genome) {
                self.schedule[g].option = Some(option);
                return;
            }
        }
        if self.is_stopped() {
            // The last option may have been broken off.
            self.cut_short = true;
            return;
        }
        self.hopeless[group.like] = true;
    }

    fn place_option(&mut self, g: usize, option: usize, genome: &Genome) -> bool {
        let group = &self.problem.groups[g];
        let choice = &group.options[option];
        let scene = Scene { index: g, group, choice, period: &self.problem.periods[group.period] };
        let gene = &genome.genes[g];
        let wish = Wish::of(choice, gene, Some(gene).filter(|gene| gene.option == option));
        let Some(bake) = &choice.bake else {
            return self.attempt(scene, None, wish);
        };
        self.begin(scene);
        let stop = self.stop;
        let (earliest, latest) = self.window(scene, bake.load);
        let wanted = gene.not_before.clamp(earliest, latest.max(earliest));
        (wanted..=latest)
            .chain(earliest..wanted.min(latest + 1))
            .take_while(|_| !stop.is_some_and(|stop| stop.load(Ordering::Relaxed)))
            .any(|at| self.attempt(scene, Some((bake, at)), wish))
    }

    /// Forgets what was placed; only what is done beforehand has its place.
    fn begin(&mut self, scene: Scene<'_>) {
        let schedule = &mut self.schedule[scene.index];
        schedule.starts.clear();
        schedule.starts.resize(scene.choice.tasks.len(), UNPLACED);
        schedule.standing.clear();
        schedule.stays.clear();
        schedule.kit.blocks.clear();
        schedule.adults.clear();
        schedule.watches.clear();
        for &(task, start, _) in &scene.choice.beforehand {
            schedule.starts[task] = start;
        }
    }

    /// Tries to place a whole option with loading at one minute; takes all
    /// back if it fails.
    pub(super) fn attempt(
        &mut self,
        scene: Scene<'p>,
        bake: Option<(&'p BakeTask, i32)>,
        wish: Wish<'_>,
    ) -> bool {
        let mark = self.timeline.mark();
        self.begin(scene);
        let done = scene.choice.windows.possible()
            && self.whole_holds(scene)
            && bake.is_none_or(|(bake, at)| self.place_bake(scene, bake, at, wish))
            && scene.choice.ancestors.iter().all(|&task| self.place_backwards(scene, task, wish))
            && wish.rest.iter().all(|&task| self.place_forwards(scene, task, wish));
        if !done {
            self.take_back(scene.index, mark);
        }
        done
    }

    /// Tries to place one more group beside what was built; what comes of it is
    /// taken back.
    pub(super) fn has_room(&mut self, g: usize, genome: &Genome) -> bool {
        let mark = self.timeline.mark();
        self.hopeless[self.problem.groups[g].like] = false;
        self.place_group(g, genome);
        let placed = self.schedule[g].option.take().is_some();
        if placed {
            self.take_back(g, mark);
        }
        placed
    }

    fn take_back(&mut self, g: usize, mark: usize) {
        self.timeline.back_to(mark);
        self.watches.retain(|w| w.3 != g);
        self.take_out(g);
    }

    /// Holds from before the start bell until after the end bell.
    fn whole_holds(&mut self, scene: Scene<'_>) -> bool {
        scene.choice.holds.iter().all(|hold| {
            let whole = scene.task(hold.from).when == WhenDone::Beforehand
                && scene.task(hold.to).when == WhenDone::Collected;
            let (from, until) = (scene.period.start, scene.period.end);
            let kit = &mut self.schedule[scene.index].kit;
            !whole
                || kit.take(&mut self.timeline, &hold.need, from, until, apart(scene, &hold.need))
        })
    }

    fn place_bake(
        &mut self,
        scene: Scene<'p>,
        bake: &'p BakeTask,
        at: i32,
        wish: Wish<'_>,
    ) -> bool {
        let loaded = at + scene.task(bake.load).minutes;
        let taken_out = loaded + scene.task(bake.bake).minutes;
        let end = taken_out + scene.task(bake.out).minutes;
        let stay = Stay {
            group: scene.index,
            start: at,
            loaded,
            taken_out,
            end,
            heat: bake.heat,
            apart: scene.group.keep_apart,
            shut_until: bake.shut.map(|shut| loaded + shut),
        };
        let times = [(bake.load, at), (bake.bake, loaded), (bake.out, taken_out)];
        times.iter().all(|&(task, start)| self.time_allows(scene, task, start))
            && self.may_be_watched(scene, stay)
            && self.stand_tins(scene, bake, stay, wish)
            && times.iter().all(|&(task, start)| self.place(scene, task, start))
            && self.watch_doors(scene)
    }

    /// When a task can start beside what is placed already.
    fn window(&self, scene: Scene<'_>, task: usize) -> (i32, i32) {
        scene.choice.windows.of(task, &self.schedule[scene.index].starts, UNPLACED)
    }

    fn place_backwards(&mut self, scene: Scene<'p>, task: usize, wish: Wish<'_>) -> bool {
        let (earliest, latest) = self.window(scene, task);
        let first = wish.start(task, (earliest, latest));
        if wish.only {
            return first.is_some_and(|start| self.place(scene, task, start));
        }
        let mut all = first.into_iter().chain((earliest..=latest).rev());
        all.any(|start| self.place(scene, task, start))
    }

    fn place_forwards(&mut self, scene: Scene<'p>, task: usize, wish: Wish<'_>) -> bool {
        let (earliest, latest) = self.window(scene, task);
        if scene.task(task).when == WhenDone::Collected {
            // What is held until the end bell is free for longer the later this
            // begins, and after the bell nothing is held.
            let last = latest.min(scene.period.end.max(earliest));
            return (earliest..=last).any(|start| self.place_collected(scene, task, start));
        }
        let first = wish.start(task, (earliest, latest));
        if wish.only {
            return first.is_some_and(|start| self.place(scene, task, start));
        }
        first.into_iter().chain(earliest..=latest).any(|start| self.place(scene, task, start))
    }

    /// Moves what precedes loading, and takes nothing but pupils, as early as
    /// it goes. What takes kit or an adult stays where it was fitted in.
    fn tidy(&mut self, g: usize) {
        let problem = self.problem;
        let group = &problem.groups[g];
        let Some(choice) = self.schedule[g].option.map(|o| &group.options[o]) else { return };
        let scene = Scene { index: g, group, choice, period: &problem.periods[group.period] };
        let pupils = problem.pools.len() + g;
        for &task in choice.ancestors.iter().rev() {
            let of = &choice.tasks[task];
            let held = choice.holds.iter().any(|h| h.from == task || h.to == task);
            if held || of.with_adult || !of.needs.is_empty() || of.locked.is_some() {
                continue;
            }
            let now = self.schedule[g].starts[task];
            let (earliest, latest) = self.window(scene, task);
            self.timeline.take(pupils, now, now + of.minutes, -of.pupils);
            let better = (earliest..=latest.min(now)).find(|&start| {
                self.time_allows(scene, task, start)
                    && self.timeline.free(pupils, start, start + of.minutes) >= of.pupils
            });
            let start = better.unwrap_or(now);
            self.timeline.take(pupils, start, start + of.minutes, of.pupils);
            self.schedule[g].starts[task] = start;
        }
    }

    fn score(&mut self) -> Score {
        let mut score = Score::default();
        self.loading.clear();
        for (group, schedule) in self.problem.groups.iter().zip(&self.schedule) {
            let Some(option) = schedule.option else {
                score.not_served += 1;
                score.before_all_left += u32::from(group.before_all);
                continue;
            };
            let choice = &group.options[option];
            let period = &self.problem.periods[group.period];
            let ends = choice
                .tasks
                .iter()
                .zip(&schedule.starts)
                .filter(|(t, _)| t.when == WhenDone::InLesson)
                .map(|(t, &start)| start + t.minutes);
            let ready = ends.max().unwrap_or(period.opening_end);
            let spare = period.closing_start - ready;
            score.departures += choice.departure;
            score.shortfall = score.shortfall.max(self.problem.wanted_spare - spare);
            score.latest = score.latest.max(ready - period.start);
            score.sum += i64::from(ready - period.start);
            if let Some(bake) = &choice.bake {
                let start = schedule.starts[bake.load];
                self.loading.extend(start..start + choice.tasks[bake.load].minutes);
                score.off_heat += u32::from(!bake.own_heat);
            }
        }
        score.calls = oven_calls(&mut self.loading, self.problem.call);
        score
    }
}

pub(super) fn apart(scene: Scene<'_>, need: &crate::graph::problem::Need) -> bool {
    scene.group.keep_apart && need.kept_apart
}

fn mark_busy(busy: &mut [bool], start: i32, minutes: i32) {
    let clip = |m: i32| usize::try_from(m).unwrap_or(0).min(busy.len());
    let (from, until) = (clip(start), clip(start + minutes));
    busy[from..until].fill(true);
}
