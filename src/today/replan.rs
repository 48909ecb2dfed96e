//! Plans the lesson of the day so that as few groups as can be found have to
//! change what they were told.
//!
//! Of the plans that serve the most groups and have no worse a verdict than
//! the best of them, or than there was before, the one is taken that changes
//! the fewest others. Holding groups is greedy: first all at once, then as many
//! as go together, halving those that do not. So "the fewest" are the fewest
//! found, not proved.

use std::cmp::Reverse;
use std::ops::ControlFlow;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::time::{Duration, Instant};

use thiserror::Error;

use super::lost::failed_oven;
use crate::check::{CheckedPlan, Verdict, check, judge_of};
use crate::file::format::LessonFile;
use crate::file::lesson_of_shapes;
use crate::finding::Finding;
use crate::graph::expand;
use crate::keep::{Base, Holding, Keeps, taken_over};
use crate::model::{ChangeCosts, GroupId, Lesson, LessonParts, PastBake, Slip};
use crate::plan::{Bounds, Plan, Refusal};
use crate::planner::bounds::Bounder;
use crate::planner::{Budget, PlanError, plan_serving, told_anew};
use crate::units::Minute;

/// A first look takes so small a part of the plans that may be built.
const FIRST_LOOK: u64 = 20;
/// Trying whether some groups can be held takes so small a part, and no fewer
/// or more than so many plans.
const TRIAL: u64 = 40;
const TRIAL_LEAST: u64 = 50;
const TRIAL_MOST: u64 = 500;

/// While groups are tried, the best so far is told no more often than this.
const TELL_EVERY: Duration = Duration::from_millis(300);
/// The first answer comes about so soon, if not sooner.
const TELL_FIRST: Duration = Duration::from_millis(30);

/// How many of the others keep what they had. Others are groups that were
/// served and are as they were: nothing happened to them.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct KeptCounts {
    /// How many others there are.
    pub others: usize,
    /// Others that keep everything: tin, oven, shelf and all times.
    pub all: usize,
    /// Others that keep at least tin, oven, shelf and the time of their bake.
    pub bake: usize,
    /// Others that keep at least tin, oven and shelf.
    pub place: usize,
}

/// The lesson of the day, planned.
#[derive(Debug, Clone)]
pub struct Replanned {
    /// The lesson, with nothing held but what the teacher has fixed.
    pub lesson: Arc<Lesson>,
    /// Its plan.
    pub plan: CheckedPlan,
    /// Who keeps what.
    pub kept: KeptCounts,
}

/// Why there is no plan of the day.
#[derive(Debug, Clone, PartialEq, Error)]
pub enum NoReplan {
    /// The file is no lesson.
    #[error("the lesson of the day cannot be read")]
    NoLesson(Vec<Finding>),
    /// No plan was found in which what has begun stays.
    #[error("no plan was found that leaves what has begun as it is")]
    NothingStays,
    /// There is no plan at all, not even one that serves nobody.
    #[error(transparent)]
    NoPlan(#[from] PlanError),
}

/// Plans the lesson of the day, keeping what can be kept of the plan `before`.
/// Hands the first answer to `each`, and every better one; heeds `stop` within
/// a few plans built. With a number of decodings and no time the answer is the
/// same in every run.
///
/// # Errors
/// If the file is no lesson, or there is no plan at all.
pub fn replan(
    before: (&Lesson, &CheckedPlan),
    after: &LessonFile,
    past: &[PastBake],
    budget: &Budget,
    stop: &AtomicBool,
    mut each: impl FnMut(&Replanned),
) -> Result<Replanned, NoReplan> {
    let lesson = Arc::new(lesson_of_shapes(after, past).map_err(NoReplan::NoLesson)?);
    replan_read(before, &lesson, budget, stop, &mut each)
}

/// As [`replan`], for a lesson that is read already.
///
/// # Errors
/// If there is no plan at all.
pub fn replan_read(
    before: (&Lesson, &CheckedPlan),
    lesson: &Arc<Lesson>,
    budget: &Budget,
    stop: &AtomicBool,
    each: impl FnMut(&Replanned),
) -> Result<Replanned, NoReplan> {
    replanned(before, lesson, None, (budget, stop), each)
}

/// As [`replan_read`], in mid-lesson: what has begun by a minute by the plan
/// `before` stays, and nothing else begins before it. That it has begun is
/// presumed, but of groups that are known to be behind: what they are at ends so
/// much later. A bake whose oven fails meanwhile is lost.
///
/// # Errors
/// If there is no plan at all.
pub fn replan_begun(
    before: (&Lesson, &CheckedPlan),
    lesson: &Arc<Lesson>,
    begun: (Minute, &[Slip]),
    budget: &Budget,
    stop: &AtomicBool,
    each: impl FnMut(&Replanned),
) -> Result<Replanned, NoReplan> {
    replanned(before, lesson, Some(begun), (budget, stop), each)
}

/// The lesson planned, in mid-lesson where it is said what has `begun`.
fn replanned(
    before: (&Lesson, &CheckedPlan),
    lesson: &Arc<Lesson>,
    begun: Option<(Minute, &[Slip])>,
    (budget, stop): (&Budget, &AtomicBool),
    mut each: impl FnMut(&Replanned),
) -> Result<Replanned, NoReplan> {
    let mut tell = |plan: &CheckedPlan, kept: KeptCounts| {
        each(&Replanned { lesson: Arc::clone(lesson), plan: plan.clone(), kept });
    };
    let mut replanning = Replanning::new(before, lesson, (None, &[]), budget, (stop, &mut tell));
    if let Some((by, slips)) = begun {
        replanning = replanning.in_mid_lesson(by, slips);
    }
    let (plan, kept) = replanning.run()?;
    Ok(Replanned { lesson: Arc::clone(lesson), plan, kept })
}

/// As [`replan`], for a lesson of which one group is moved by hand: it counts
/// as no other, whoever `must` have a place are served before all others, and
/// the file is read already.
///
/// # Errors
/// If there is no plan at all.
pub fn replan_around(
    before: (&Lesson, &CheckedPlan),
    lesson: &Lesson,
    (moved, must): (GroupId, &[GroupId]),
    budget: &Budget,
    stop: &AtomicBool,
) -> Result<CheckedPlan, NoReplan> {
    let mut nobody = |_: &CheckedPlan, _: KeptCounts| {};
    let around = (Some(moved), must);
    let (plan, _) = Replanning::new(before, lesson, around, budget, (stop, &mut nobody)).run()?;
    Ok(plan)
}

/// What plans of the day are compared by: the less the better.
type Rank = (ServedRank, Changed, Rest);
/// Groups without the place they must have, groups served, how far groups for which
/// another tin was chosen depart from that, and the verdict, that before counting as
/// good enough.
type ServedRank = (usize, Reverse<u32>, u64, Verdict);
/// Others that change anything, their bake, their place; groups to which
/// something happened and that change something; minutes by which others are
/// ready earlier or later.
type Changed = (usize, usize, usize, usize, i64);
/// What plans are compared by otherwise.
type Rest = (u64, i32, u32, i32, i64);

/// Who is told of the best plan so far.
type Each<'a> = &'a mut dyn FnMut(&CheckedPlan, KeptCounts);

/// What plans of a lesson go by: all but its headings, what changes would cost,
/// and what is said of groups for people to read.
fn planned_by(lesson: &Lesson) -> LessonParts {
    let mut parts = lesson.clone().into_parts();
    (parts.title, parts.date, parts.today) = (String::new(), None, None);
    parts.class.name = String::new();
    parts.change_costs = ChangeCosts::default();
    parts.assumed = Vec::new();
    parts.groups.iter_mut().for_each(|group| group.needs = Vec::new());
    parts
}

struct Replanning<'a> {
    base: Base<'a>,
    lesson: &'a Lesson,
    budget: &'a Budget,
    stop: &'a AtomicBool,
    until: Option<Instant>,
    bounds: Bounds,
    /// The minute by which it is presumed what has begun.
    begun: Option<Minute>,
    /// Groups that are served before all others.
    must: Vec<GroupId>,
    /// Groups that can be served no more: others serve in vain.
    lost: Vec<GroupId>,
    others: Vec<GroupId>,
    /// Groups for which another tin was chosen.
    chosen: Vec<GroupId>,
    /// Where the class's own steps may be held.
    class: bool,
    best: Option<(Rank, CheckedPlan)>,
    each: Each<'a>,
    /// The rank of the plan told last, and when that was; at first, when work
    /// began.
    told: (Option<Rank>, Instant),
}

impl<'a> Replanning<'a> {
    fn new(
        (was, plan): (&'a Lesson, &'a CheckedPlan),
        lesson: &'a Lesson,
        (moved, must): (Option<GroupId>, &'a [GroupId]),
        budget: &'a Budget,
        (stop, each): (&'a AtomicBool, Each<'a>),
    ) -> Self {
        let base = Base::new((was, plan), lesson);
        let chosen: Vec<GroupId> = lesson.attending().filter(|&g| base.chooses_anew(g)).collect();
        let is_other =
            |&g: &GroupId| base.is_as_it_was(g) && Some(g) != moved && !chosen.contains(&g);
        let others = lesson.attending().filter(is_other).collect();
        let problem = expand(lesson);
        let bounds = Bounder { lesson, problem: &problem }.planned();
        let until = budget.within.and_then(|within| Instant::now().checked_add(within));
        Self {
            base,
            lesson,
            budget,
            stop,
            until,
            bounds,
            begun: None,
            must: must.to_vec(),
            lost: Vec::new(),
            others,
            chosen,
            class: true,
            best: None,
            each,
            told: (None, Instant::now()),
        }
    }

    /// From a minute of the lesson on.
    fn in_mid_lesson(mut self, by: Minute, slips: &[Slip]) -> Self {
        self.base = self.base.behind(slips);
        let attending: Vec<GroupId> = self.lesson.attending().collect();
        let lost = |&g: &GroupId| self.base.is_lost(g, by) || self.base.stays_refused(g);
        self.lost = attending.iter().copied().filter(lost).collect();
        self.must = attending.into_iter().filter(|&g| self.base.has_begun(g, by)).collect();
        let late = |g: &GroupId| slips.iter().any(|s| Some(s.group) == self.base.group(*g));
        self.others.retain(|g| !self.lost.contains(g) && !late(g));
        self.begun = Some(by);
        self
    }

    fn run(&mut self) -> Result<(CheckedPlan, KeptCounts), NoReplan> {
        if let Some(plan) = taken_over((self.base.lesson(), self.base.plan()), self.lesson) {
            self.consider(plan);
        }
        if self.is_unchanged() {
            self.tell();
            return self.answer();
        }
        let most = self.base.most(self.begun);
        if !self.is_ideal() {
            self.attempt(&most);
        }
        if !self.is_ideal() {
            let few = self.decodings() / FIRST_LOOK;
            self.free(few.max(TRIAL_LEAST), 8)?;
        }
        self.hold(&most);
        self.tell();
        if !self.is_over() && !self.cannot_stand_better() {
            let standing = self.standing();
            self.free(self.decodings(), 2)?;
            if self.standing() < standing {
                self.tell();
                self.hold(&most);
            }
        }
        self.tell();
        self.answer()
    }

    fn answer(&mut self) -> Result<(CheckedPlan, KeptCounts), NoReplan> {
        match self.best.take() {
            Some((_, plan)) => Ok((self.told_in_full(&plan), self.kept(&plan))),
            None if self.begun.is_some() => Err(NoReplan::NothingStays),
            None => Err(PlanError::Fault("no plan was built".to_owned()).into()),
        }
    }

    /// Tells of the best plan, if it is better than the one told last.
    fn tell(&mut self) {
        let Some((rank, plan)) = &self.best else { return };
        if self.told.0.is_none_or(|told| *rank < told) {
            let (rank, plan) = (*rank, self.told_in_full(plan));
            let kept = self.kept(&plan);
            (self.each)(&plan, kept);
            self.told.0 = Some(rank);
        }
        self.told.1 = Instant::now();
    }

    /// The plan with its reasons in the light of all that was tried.
    fn told_in_full(&self, plan: &CheckedPlan) -> CheckedPlan {
        if plan.plan().choices.len() == self.lesson.attending().count() {
            return plan.clone();
        }
        let mut anew = told_anew(self.lesson, plan.plan().clone());
        for group in anew.not_served.iter_mut().filter(|n| n.refusal == Refusal::NotFound) {
            let before = (self.base.lesson(), self.base.plan());
            let failed = failed_oven(before, self.lesson, group.group);
            if let Some(oven) = failed.filter(|_| self.lost.contains(&group.group)) {
                group.reason = format!("Its tins are in {}, which failed.", oven.name);
            }
        }
        check(self.lesson, anew).unwrap_or_else(|_| plan.clone())
    }

    /// The lesson with what has begun held, and so much more of each group.
    fn held(&self, groups: &[Keeps], class: bool) -> Option<Lesson> {
        let holding = Holding { class, begun_before: self.begun, ..Holding::only(groups) };
        self.base.held(holding)
    }

    /// Judges plans of a lesson with something held by the lesson itself.
    fn judge_held(&self) -> impl Fn(Plan) -> Result<CheckedPlan, String> + use<'a> {
        let (lesson, bounds) = (self.lesson, self.bounds);
        let all = lesson.attending().count();
        move |plan: Plan| {
            let plan = if plan.choices.len() == all {
                Plan { bounds: Some(bounds), ..plan }
            } else {
                told_anew(lesson, plan)
            };
            judge_of(lesson)(plan)
        }
    }

    /// Nothing a plan goes by has changed, and the plan before stands.
    fn is_unchanged(&self) -> bool {
        self.best.is_some() && planned_by(self.base.lesson()) == planned_by(self.lesson)
    }

    fn decodings(&self) -> u64 {
        // With a time limit alone that ends the search, not a number.
        self.budget.decodings.unwrap_or(u64::MAX)
    }

    fn is_over(&self) -> bool {
        self.stop.load(Ordering::Relaxed) || self.until.is_some_and(|u| Instant::now() >= u)
    }

    /// A budget of so many plans, and of a part of the time that is left.
    fn share(&self, decodings: u64, of_time: u32) -> Budget {
        let left = self.until.map(|u| u.saturating_duration_since(Instant::now()));
        let within = left.map(|left: Duration| left / of_time);
        let decodings = (decodings < u64::MAX || within.is_none()).then_some(decodings);
        Budget { within, decodings, seed: self.budget.seed }
    }

    fn standing_of(&self, plan: &CheckedPlan) -> ServedRank {
        // Verdicts on groups left out differ in what is proved, not in the plan.
        let verdict = plan.verdict().min(Verdict::NotRealistically);
        let left = self.must.iter().filter(|&&g| plan.plan().choice(g).is_none()).count();
        let departures = self.chosen.iter().filter_map(|g| plan.group_outcomes()[g.0].departure);
        (left, Reverse(plan.objective().served), departures.sum(), verdict.max(self.enough()))
    }

    /// How the best plan so far stands.
    fn standing(&self) -> ServedRank {
        let none = (self.must.len(), Reverse(0), u64::MAX, Verdict::Cannot);
        self.best.as_ref().map_or(none, |(rank, _)| rank.0)
    }

    /// The best that any plan could come to.
    fn best_standing(&self) -> ServedRank {
        let all = self.lesson.attending().count() - self.lost.len();
        let all = u32::try_from(all).unwrap_or(u32::MAX);
        (0, Reverse(all), 0, self.enough())
    }

    /// A verdict no worse than that before is good enough.
    fn enough(&self) -> Verdict {
        let least = if self.lost.is_empty() { Verdict::Fits } else { Verdict::NotRealistically };
        self.base.plan().verdict().clamp(least, Verdict::NotRealistically)
    }

    fn cannot_stand_better(&self) -> bool {
        self.standing() <= self.best_standing()
    }

    /// All are served as well as can be, and no other changes anything.
    fn is_ideal(&self) -> bool {
        self.cannot_stand_better() && self.best.as_ref().is_some_and(|(rank, _)| rank.1.0 == 0)
    }

    fn rank(&self, plan: &CheckedPlan) -> Rank {
        let kept = self.kept(plan);
        let o = plan.objective();
        let changed = (
            kept.others - kept.all,
            kept.others - kept.bake,
            kept.others - kept.place,
            self.stirred(plan),
            self.shift(plan),
        );
        let rest = (o.departures, o.shortfall, o.calls, o.latest_ready, o.sum_ready);
        (self.standing_of(plan), changed, rest)
    }

    fn keeps(&self, plan: &CheckedPlan, group: GroupId) -> Option<Keeps> {
        self.base.keeps(plan, group)
    }

    fn kept(&self, plan: &CheckedPlan) -> KeptCounts {
        let mut kept = KeptCounts { others: self.others.len(), ..KeptCounts::default() };
        for &group in &self.others {
            let keeps = self.keeps(plan, group);
            kept.all += usize::from(keeps >= Some(Keeps::All));
            kept.bake += usize::from(keeps >= Some(Keeps::Bake));
            kept.place += usize::from(keeps >= Some(Keeps::Place));
        }
        kept
    }

    /// Groups to which something happened, and that change something.
    fn stirred(&self, plan: &CheckedPlan) -> usize {
        let touched = self.lesson.attending().filter(|g| !self.others.contains(g));
        touched.filter_map(|g| self.keeps(plan, g)).filter(|&k| k < Keeps::All).count()
    }

    fn shift(&self, plan: &CheckedPlan) -> i64 {
        let of = |&group: &GroupId| {
            let was = self.base.plan().group_outcome(self.base.group(group)?)?.ready?;
            let is = plan.group_outcome(group)?.ready?;
            Some(i64::from((is - was).get().abs()))
        };
        self.others.iter().filter_map(of).sum()
    }

    fn consider(&mut self, plan: CheckedPlan) {
        if self.begun.is_some_and(|by| !self.base.stays_begun(&plan, by)) {
            return;
        }
        let rank = self.rank(&plan);
        if self.best.as_ref().is_none_or(|(best, _)| rank < *best) {
            self.best = Some((rank, plan));
        }
        let pause = if self.told.0.is_none() { TELL_FIRST } else { TELL_EVERY };
        if self.told.1.elapsed() >= pause {
            self.tell();
        }
    }

    /// Plans with nobody held, but for what has begun.
    fn free(&mut self, decodings: u64, of_time: u32) -> Result<(), NoReplan> {
        let budget = self.share(decodings, of_time);
        let found = match self.begun.and_then(|_| self.held(&[], false)) {
            Some(held) => {
                let asked = (&held, &*self.must);
                plan_serving(asked, &budget, self.stop, self.judge_held(), on)?
            }
            None => {
                let asked = (self.lesson, &*self.must);
                plan_serving(asked, &budget, self.stop, judge_of(self.lesson), on)?
            }
        };
        self.consider(found.judged);
        Ok(())
    }

    /// Whether a plan with these groups held stands no worse than the best so
    /// far; what comes of it is considered.
    fn attempt(&mut self, holds: &[Keeps]) -> bool {
        let trial = (self.decodings() / TRIAL).clamp(TRIAL_LEAST, TRIAL_MOST);
        // Most that can be held are held at once.
        self.plan_held(holds, trial / 10) || self.plan_held(holds, trial)
    }

    fn plan_held(&mut self, holds: &[Keeps], decodings: u64) -> bool {
        if self.is_over() {
            // Even to begin takes its time in a large lesson.
            return false;
        }
        let Some(held) = self.held(holds, self.class) else { return false };
        let goal = match self.best {
            Some(_) => self.standing(),
            None => self.best_standing(),
        };
        if most_served(&held) < goal.1.0 || self.is_over() {
            return false;
        }
        let budget = self.share(decodings, 4);
        let judge = self.judge_held();
        // A step of the class without a place, say: then they cannot be held.
        let asked = (&held, &*self.must);
        let Ok(found) = plan_serving(asked, &budget, self.stop, judge, on) else { return false };
        let met = self.standing_of(&found.judged) <= goal;
        self.consider(found.judged);
        met
    }

    /// Looks for the most that can be held.
    fn hold(&mut self, most: &[Keeps]) {
        if self.is_ideal() || self.is_over() {
            return;
        }
        let mut holds = vec![Keeps::Nothing; most.len()];
        self.class = true;
        self.class = self.attempt(&holds);
        let refused = |g: usize| self.base.was_refused(GroupId(g));
        let out = (0..most.len()).filter(|&g| refused(g) && most[g] == Keeps::All);
        self.add(&mut holds, &out.collect::<Vec<_>>(), Keeps::All);
        let others: Vec<usize> = self.in_turn(most);
        let refused = |g: usize| self.base.was_refused(GroupId(g));
        let touched = |&g: &usize| !others.contains(&g) && !refused(g);
        let touched: Vec<usize> = (0..most.len()).filter(touched).collect();
        let lists = [others, touched];
        for level in [Keeps::All, Keeps::Bake, Keeps::Place] {
            for list in &lists {
                let able = |g: &&usize| {
                    most[**g] >= level
                        && holds[**g] < level
                        && (level != Keeps::Bake || self.base.has_bake(GroupId(**g)))
                };
                let list: Vec<usize> = list.iter().filter(able).copied().collect();
                self.add(&mut holds, &list, level);
            }
        }
        if !self.is_ideal() && !self.is_over() {
            self.plan_held(&holds, 2 * TRIAL_MOST.min(self.decodings()));
        }
    }

    /// Holds as many more as go together with those held already.
    fn add(&mut self, holds: &mut Vec<Keeps>, list: &[usize], level: Keeps) {
        if list.is_empty() || self.is_over() {
            return;
        }
        let mut trial = holds.clone();
        for &g in list {
            trial[g] = level;
        }
        if self.attempt(&trial) {
            *holds = trial;
            return;
        }
        if list.len() > 1 {
            let (first, second) = list.split_at(list.len().div_ceil(2));
            self.add(holds, first, level);
            self.add(holds, second, level);
        }
    }

    /// The others, those last that share an oven with a group that cannot stay
    /// as it was.
    fn in_turn(&self, most: &[Keeps]) -> Vec<usize> {
        let all = self.lesson.attending();
        let moves = |g: &GroupId| !self.others.contains(g) || most[g.0] < Keeps::All;
        let ovens: Vec<_> = all.filter(moves).flat_map(|g| self.base.ovens(g)).collect();
        let mut others: Vec<usize> = self.others.iter().map(|g| g.0).collect();
        let shares = |g: usize| self.base.ovens(GroupId(g)).iter().any(|oven| ovens.contains(oven));
        others.sort_by_key(|&g| (Reverse(most[g]), shares(g)));
        others
    }
}

/// What ends a search is the number of plans: when a plan is shown depends on
/// the clock, and answers must not.
fn on(_: &CheckedPlan) -> ControlFlow<()> {
    ControlFlow::Continue(())
}

/// How many groups of a lesson can be served at most, by short sums.
fn most_served(lesson: &Lesson) -> u32 {
    let problem = expand(lesson);
    Bounder { lesson, problem: &problem }.planned().served_at_most
}
