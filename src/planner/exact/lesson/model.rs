//! The model of a lesson: which groups are served how, and when.

use pumpkin_constraints as constraints;
use pumpkin_core::predicate;
use pumpkin_core::variables::{DomainId, TransformableVariable};

use super::super::engine::{Engine, Limits, SearchEnd};
use super::super::profile::Use;
use super::each_oven::{self, TinsInOven};
use super::modes::Mode;
use super::ovens::Shelves;
use super::size::is_too_large;
use super::{kit, ovens, room};
use crate::graph::Problem;
use crate::graph::problem::WhenDone;

/// How a plan has one group, as a hint.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::planner) struct Seed {
    /// The option.
    pub option: usize,
    /// Start of each task.
    pub starts: Vec<i32>,
    /// Ovens its tins stand in, one for each tin.
    pub ovens: Vec<usize>,
}

/// A plan of the model, which may ask for less than the rules do.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::planner) struct ModelPlan {
    /// Where everything is, by group; `None` for those not served.
    pub groups: Vec<Option<Seed>>,
    /// Starts of the floating steps of the class.
    pub floats: Vec<i32>,
}

/// What is asked: is there a plan like that?
#[derive(Debug, Clone)]
pub(super) struct Question {
    /// The options allowed, by group.
    pub(super) allowed: Vec<Vec<usize>>,
    /// At least so many groups are served.
    pub(super) served: usize,
    /// With no more departures.
    pub(super) departures: Option<u64>,
    /// Each served group is ready so long before the closing.
    pub(super) spare: i32,
    /// Every oven by itself; else only all of them together.
    pub(super) each_oven: bool,
    /// Of a lesson at its quickest in half minutes: baking may begin half a
    /// minute after loading.
    pub(super) in_halves: bool,
    /// Shelves hold no more tins than have room; else any number.
    pub(super) shelf_room: bool,
}

impl Question {
    /// Every group that has an option allowed is to be served.
    fn wants_all(&self) -> bool {
        self.served >= self.allowed.iter().filter(|a| !a.is_empty()).count()
    }
}

/// A model of a lesson.
pub(super) struct Model<'p> {
    pub(super) problem: &'p Problem,
    pub(super) engine: Engine,
    pub(super) modes: Vec<Mode<'p>>,
    /// Starts of the floating steps of the class.
    pub(super) floats: Vec<DomainId>,
    /// Always 0.
    pub(super) zero: DomainId,
    /// Tins in each oven, if that is asked.
    pub(super) standing: Vec<TinsInOven>,
    /// See [`Question::shelf_room`].
    pub(super) shelf_room: bool,
    /// Some group is missing that must be there.
    hopeless: bool,
    limits: Limits<'p>,
    /// It would be too large, and is not made.
    too_large: bool,
    /// A limit was reached before the model was whole.
    cut_short: bool,
}

impl<'p> Model<'p> {
    /// The model of a question, kept near `seed` while it searches.
    pub(super) fn new(
        problem: &'p Problem,
        question: &Question,
        seed: &[Option<Seed>],
        shelves: &mut Shelves,
        limits: Limits<'p>,
    ) -> Self {
        let mut engine = Engine::new();
        let zero = engine.variable(0, 0);
        let float = |f: &crate::graph::problem::ClassTask| engine.variable(f.earliest, f.latest);
        let floats: Vec<DomainId> = problem.floating.iter().map(float).collect();
        let everyone = question.wants_all();
        let mut modes = Vec::new();
        let too_large = is_too_large(problem, question);
        let mut cut_short = too_large;
        for (g, allowed) in question.allowed.iter().enumerate() {
            cut_short |= limits.over();
            if cut_short {
                break;
            }
            let possible: Vec<usize> = allowed
                .iter()
                .copied()
                .filter(|&o| {
                    let group = &problem.groups[g];
                    let period = &problem.periods[group.period];
                    let rigid = !question.in_halves;
                    let choice = &group.options[o];
                    super::modes::windows(choice, period, question.spare, rigid).possible()
                })
                .collect();
            let in_any_case = everyone && possible.len() == 1;
            for option in possible {
                cut_short |= limits.over();
                if cut_short {
                    break;
                }
                let at = (g, option);
                modes.extend(Mode::new(&mut engine, problem, at, question, in_any_case));
            }
        }
        let mut model = Self {
            problem,
            engine,
            modes,
            floats,
            zero,
            standing: Vec::new(),
            shelf_room: question.shelf_room,
            hopeless: false,
            limits,
            too_large,
            cut_short,
        };
        if cut_short {
            return model;
        }
        let starts = model.modes.iter().flat_map(|m| &m.starts).flatten().copied();
        let taken: Vec<DomainId> = model.modes.iter().filter_map(|m| m.taken).collect();
        let first: Vec<DomainId> = taken.into_iter().chain(starts).collect();
        model.engine.branch_on(first);
        model.choose(question);
        kit::post(&mut model);
        room::post(&mut model);
        ovens::post(&mut model, shelves);
        if question.each_oven && !model.is_cut_short() {
            each_oven::post(&mut model, shelves);
        }
        model.alike();
        model.wish(seed);
        model.is_cut_short();
        model
    }

    /// Posts a profile, unless time is up.
    pub(super) fn profile(&mut self, uses: Vec<Use>, capacity: Vec<i32>) {
        if !self.is_cut_short() {
            self.engine.profile(uses, capacity);
        }
    }

    /// One option for a group, enough groups, few enough departures.
    fn choose(&mut self, question: &Question) {
        let groups = self.problem.groups.len();
        let mut sure = 0;
        let mut able = 0;
        for g in 0..groups {
            let of: Vec<Option<DomainId>> =
                self.modes.iter().filter(|m| m.group == g).map(|m| m.taken).collect();
            sure += usize::from(of.contains(&None));
            able += usize::from(!of.is_empty());
            let literals: Vec<DomainId> = of.into_iter().flatten().collect();
            if literals.len() > 1 {
                let once: Vec<_> = literals.iter().map(|l| l.scaled(1)).collect();
                self.engine.post(|tag| constraints::less_than_or_equals(once, 1, tag));
            }
            if question.wants_all() && !literals.is_empty() {
                self.engine.clause(literals.iter().map(|&l| predicate![l >= 1]));
            }
        }
        self.hopeless = able < question.served;
        let literals: Vec<(DomainId, u64)> = self
            .modes
            .iter()
            .filter_map(|m| m.taken.map(|taken| (taken, m.choice.departure)))
            .collect();
        let whole = |n: usize| i32::try_from(n).unwrap_or(i32::MAX);
        if !question.wants_all() && !literals.is_empty() {
            let terms: Vec<_> = literals.iter().map(|(l, _)| l.scaled(-1)).collect();
            let least = whole(question.served) - whole(sure);
            self.engine.post(|tag| constraints::less_than_or_equals(terms, -least, tag));
        }
        if let Some(most) = question.departures {
            let fixed: u64 = self
                .modes
                .iter()
                .filter(|m| m.taken.is_none())
                .map(|m| m.choice.departure)
                .fold(0, u64::saturating_add);
            let (Some(left), true) = (most.checked_sub(fixed), !self.hopeless) else {
                self.hopeless = true;
                return;
            };
            let left = i32::try_from(left).unwrap_or(i32::MAX);
            let terms: Vec<_> = literals
                .iter()
                .filter(|(_, d)| *d > 0)
                .map(|&(l, d)| l.scaled(i32::try_from(d).unwrap_or(i32::MAX / 64)))
                .collect();
            if !terms.is_empty() {
                self.engine.post(|tag| constraints::less_than_or_equals(terms, left, tag));
            }
        }
    }

    /// Of groups that differ in nothing but their names the first is served
    /// first, with an earlier option, and where the options are the same it
    /// loads first: every plan has its like where that is so.
    fn alike(&mut self) {
        let groups = self.problem.groups.len();
        for g in 0..groups {
            if self.is_cut_short() {
                return;
            }
            let like = self.problem.groups[g].like;
            let before = (0..g).rev().find(|&b| self.problem.groups[b].like == like);
            let Some(before) = before else { continue };
            let of = |g: usize| -> Vec<usize> {
                (0..self.modes.len()).filter(|&m| self.modes[m].group == g).collect()
            };
            let (first, second) = (of(before), of(g));
            let options =
                |m: &[usize]| -> Vec<usize> { m.iter().map(|&m| self.modes[m].option).collect() };
            if options(&first) != options(&second) {
                continue;
            }
            for (i, (&a, &b)) in first.iter().zip(&second).enumerate() {
                self.in_order(a, b);
                if let Some(later) = self.modes[b].taken {
                    let earlier = first[..=i].iter().filter_map(|&m| self.modes[m].taken);
                    let mut any: Vec<_> = earlier.map(|t| predicate![t >= 1]).collect();
                    any.push(predicate![later <= 0]);
                    self.engine.clause(any);
                }
            }
        }
    }

    fn in_order(&mut self, a: usize, b: usize) {
        let (first, second) = (&self.modes[a], &self.modes[b]);
        let Some(at) = marker(first) else { return };
        let (Some(x), Some(y)) = (first.starts[at], second.starts[at]) else { return };
        match (first.taken, second.taken) {
            (Some(p), Some(q)) => {
                let both = self.engine.literal();
                let holds = both.get_true_predicate();
                self.engine.clause([predicate![p <= 0], predicate![q <= 0], holds]);
                let terms = [x.scaled(1), y.scaled(-1)];
                self.engine.post_if(both, |tag| constraints::less_than_or_equals(terms, 0, tag));
            }
            _ => self.engine.lag(x, y, 0),
        }
    }

    /// Keeps the search near a plan, with groups that are alike put in the
    /// order of the model.
    pub(super) fn wish(&mut self, seed: &[Option<Seed>]) {
        let groups = self.problem.groups.len();
        let mut of: Vec<Option<&Seed>> = seed.iter().map(Option::as_ref).collect();
        of.resize(groups, None);
        for g in 0..groups {
            if self.problem.groups[g].like != g {
                continue;
            }
            let places: Vec<usize> =
                (g..groups).filter(|&h| self.problem.groups[h].like == g).collect();
            let mut seeds: Vec<Option<&Seed>> = places.iter().map(|&h| of[h]).collect();
            seeds.sort_by_key(|s| {
                s.map_or((usize::MAX, 0), |s| {
                    let choice = &self.problem.groups[g].options[s.option];
                    let at = choice.bake.as_ref().map_or(0, |b| b.load);
                    (s.option, s.starts.get(at).copied().unwrap_or(0))
                })
            });
            for (&place, seed) in places.iter().zip(seeds) {
                of[place] = seed;
            }
        }
        for standing in &self.standing {
            let mode = &self.modes[standing.mode];
            let tins = of[mode.group]
                .filter(|s| s.option == mode.option)
                .map_or(0, |s| s.ovens.iter().filter(|&&o| o == standing.oven).count());
            self.engine.wish(standing.tins, i32::try_from(tins).unwrap_or(0));
        }
        for mode in &self.modes {
            let seed = of[mode.group].filter(|s| s.option == mode.option);
            if let Some(taken) = mode.taken {
                self.engine.wish(taken, i32::from(seed.is_some()));
            }
            let Some(seed) = seed else { continue };
            for (variable, &start) in mode.starts.iter().zip(&seed.starts) {
                if let Some(variable) = variable {
                    self.engine.wish(*variable, start);
                }
            }
        }
    }

    /// When to give up making it.
    pub(super) fn limits(&self) -> Limits<'p> {
        self.limits
    }

    /// Whether time is up, so that the model need not be made whole.
    pub(super) fn is_cut_short(&mut self) -> bool {
        self.cut_short |= self.limits.over();
        self.cut_short
    }

    /// Whether it is not whole, and is never to be.
    pub(super) fn is_too_large(&self) -> bool {
        self.too_large
    }

    /// Whether it was made to its end.
    pub(super) fn is_whole(&self) -> bool {
        !self.cut_short
    }

    /// Looks for a plan of the model.
    pub(super) fn search(&mut self, limits: Limits<'_>) -> SearchEnd {
        if self.cut_short {
            return SearchEnd::Stopped;
        }
        if self.hopeless { SearchEnd::Refuted } else { self.engine.search(limits) }
    }

    /// Conflicts it came to in all searches.
    pub(super) fn conflicts(&self) -> u64 {
        self.engine.conflicts()
    }

    fn is_taken(&self, mode: &Mode<'_>) -> bool {
        mode.taken.is_none_or(|taken| self.engine.value(taken) > 0)
    }

    /// Groups served in what was found last.
    pub(super) fn served(&self) -> usize {
        self.modes.iter().filter(|m| self.is_taken(m)).count()
    }

    /// What was found last. Tasks outside the lesson start when it does not say.
    pub(super) fn plan(&self) -> ModelPlan {
        let mut groups = vec![None; self.problem.groups.len()];
        for (m, mode) in self.modes.iter().enumerate() {
            if !self.is_taken(mode) {
                continue;
            }
            let start = |start: &Option<DomainId>| start.map_or(i32::MIN, |s| self.engine.value(s));
            let tins = self.standing.iter().filter(|s| s.mode == m);
            let ovens = tins.flat_map(|s| {
                let tins = usize::try_from(self.engine.value(s.tins)).unwrap_or(0);
                std::iter::repeat_n(s.oven, tins)
            });
            groups[mode.group] = Some(Seed {
                option: mode.option,
                starts: mode.starts.iter().map(start).collect(),
                ovens: ovens.collect(),
            });
        }
        let floats = self.floats.iter().map(|&float| self.engine.value(float)).collect();
        ModelPlan { groups, floats }
    }

    /// Departures in what was found last.
    pub(super) fn departures(&self) -> u64 {
        self.modes.iter().filter(|m| self.is_taken(m)).map(|m| m.choice.departure).sum()
    }

    /// Least spare of a served group in what was found last.
    pub(super) fn spare(&self) -> i32 {
        let spares = self.modes.iter().filter(|m| self.is_taken(m)).flat_map(|m| {
            let tasks = m.choice.tasks.iter().zip(&m.starts);
            tasks.filter(|(t, _)| t.when == WhenDone::InLesson).filter_map(|(t, s)| {
                s.map(|s| m.period.closing_start - self.engine.value(s) - t.minutes)
            })
        });
        spares.min().unwrap_or(i32::MAX)
    }

    /// From now on every served group is to have so much spare.
    pub(super) fn ask_spare(&mut self, spare: i32) {
        for mode in &self.modes {
            for (t, start) in mode.starts.iter().enumerate() {
                let Some(start) = *start else { continue };
                let latest = mode.period.closing_start - spare - mode.choice.tasks[t].minutes;
                if latest < mode.window(t).1 {
                    mode.clause(&mut self.engine, [predicate![start <= latest]]);
                }
            }
        }
    }
}

/// The step by which groups that are alike are put in order.
fn marker(mode: &Mode<'_>) -> Option<usize> {
    match &mode.choice.bake {
        Some(bake) => Some(bake.load),
        None => (0..mode.starts.len()).rev().find(|&t| mode.starts[t].is_some()),
    }
}
