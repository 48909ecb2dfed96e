//! What is proved, aim by aim: questions of the solver, each asked again for longer while
//! it is open.

use std::cell::RefCell;
use std::panic::{AssertUnwindSafe, catch_unwind};

use super::super::engine::{Limits, SearchEnd};
use super::crowds::{Crowd, crowds};
use super::inquiry::{Aim, Depth, Inquiry};
use super::model::{Model, ModelPlan, Question, Seed};
use super::ovens::Shelves;
use crate::graph::Problem;
use crate::plan::Bounds;

/// The best plan known.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(in crate::planner) struct Known {
    /// Groups served.
    pub served: u32,
    /// Departures.
    pub departures: u64,
    /// Shortfall of the wanted spare.
    pub shortfall: i32,
    /// Where everything is, by group; `None` for those not served.
    pub seed: Vec<Option<Seed>>,
}

/// Conflicts before ovens are no longer taken together.
const TOGETHER: u64 = 20_000;

/// With fewer conflicts to spend, the model of each oven by itself is not
/// worth building.
const WORTH_OVENS: u64 = 500;

/// While an aim before it is not proved, an aim gets only this fraction of the conflicts: it
/// may be bettered, but nothing can be proved of it.
const LOOKING: u64 = 8;

/// What is proved about a lesson against the best plan known, and what is being asked.
pub(in crate::planner) struct Proofs<'p> {
    problem: &'p Problem,
    limits: Limits<'p>,
    shelves: &'p RefCell<Shelves>,
    known: Known,
    bounds: Bounds,
    inquiries: Vec<Inquiry<'p>>,
    /// Tins for which no places were found together.
    crowds: Vec<Crowd>,
    /// The solver had a fault: nothing more is asked.
    faulty: bool,
}

impl<'p> Proofs<'p> {
    /// Nothing asked yet. `limits` hold for all questions together, but for the
    /// conflicts, which are for each question in each round.
    pub(in crate::planner) fn new(
        problem: &'p Problem,
        known: Known,
        bounds: Bounds,
        limits: Limits<'p>,
        shelves: &'p RefCell<Shelves>,
    ) -> Self {
        let (inquiries, crowds) = (Vec::new(), Vec::new());
        let mut proofs =
            Self { problem, limits, shelves, known, bounds, inquiries, crowds, faulty: false };
        let worth_ovens = limits.conflicts.is_none_or(|most| most >= WORTH_OVENS);
        let all = [Depth::Together, Depth::EachOven, Depth::WithPlaces];
        let depths = if worth_ovens { &all[..] } else { &all[..1] };
        for aim in [Aim::Served, Aim::Departures, Aim::Shortfall] {
            let cost = proofs.cost(aim);
            proofs.inquiries.extend(depths.iter().map(|&depth| Inquiry::new(aim, depth, cost)));
        }
        proofs
    }

    /// Goes on against a better plan, with all that still holds and is still asked.
    pub(in crate::planner) fn go_on(&mut self, known: Known, bounds: Bounds) {
        let before = std::mem::replace(&mut self.known, known);
        self.bounds = bounds;
        let same_served = before.served == self.known.served;
        let same_departures = same_served && before.departures == self.known.departures;
        let wanted = self.problem.wanted_spare;
        let costs = [Aim::Served, Aim::Departures, Aim::Shortfall].map(|aim| self.cost(aim));
        for inquiry in &mut self.inquiries {
            let (still, cost) = match inquiry.aim {
                Aim::Served => (true, costs[0]),
                Aim::Departures => (same_served, costs[1]),
                Aim::Shortfall => (same_departures, costs[2]),
            };
            if !still {
                *inquiry = Inquiry::new(inquiry.aim, inquiry.depth, cost);
                continue;
            }
            if cost < inquiry.best {
                inquiry.best = cost;
                match (&mut inquiry.model, inquiry.aim) {
                    (Some(model), Aim::Shortfall) => model.ask_spare(spare_for(wanted, cost)),
                    (model, _) => *model = None,
                }
            }
            if let Some(model) = &mut inquiry.model {
                model.wish(&self.known.seed);
            }
        }
    }

    /// The bounds proved so far.
    pub(in crate::planner) fn bounds(&self) -> Bounds {
        self.bounds
    }

    /// No more groups can be served, as is known from elsewhere.
    pub(in crate::planner) fn serves_at_most(&mut self, most: u32) {
        self.served_is(most);
        self.conclude();
    }

    /// Asks each open question with so many conflicts more, unless that is unlimited; tells
    /// every bound that got better and every plan of the model that is better than all
    /// before. `false` once nothing is open, or a limit was reached. A fault of the solver
    /// counts as a limit reached.
    pub(in crate::planner) fn round(
        &mut self,
        conflicts: u64,
        mut tell: impl FnMut(Bounds),
        found: &dyn Fn(ModelPlan),
    ) -> bool {
        let before = self.bounds;
        // What was refuted of an earlier plan may be new to this one.
        self.conclude();
        if self.bounds != before {
            tell(self.bounds);
        }
        for at in 0..self.inquiries.len() {
            if !self.is_open(at) {
                continue;
            }
            let before = self.bounds;
            let work = AssertUnwindSafe(|| self.ask(at, conflicts, found));
            if catch_unwind(work).is_err() {
                self.faulty = true;
                return false;
            }
            self.conclude();
            if self.bounds != before {
                tell(self.bounds);
            }
            if self.limits.over() {
                return false;
            }
        }
        (0..self.inquiries.len()).any(|at| self.is_open(at))
    }

    fn cost(&self, aim: Aim) -> i64 {
        match aim {
            Aim::Served => -i64::from(self.known.served),
            Aim::Departures => i64::try_from(self.known.departures).unwrap_or(i64::MAX),
            Aim::Shortfall => i64::from(self.known.shortfall),
        }
    }

    /// What no plan costs less than, as far as is proved.
    fn floor(&self, aim: Aim) -> i64 {
        match aim {
            Aim::Served => -i64::from(self.bounds.served_at_most),
            Aim::Departures if self.is_proved_before(aim) => {
                i64::try_from(self.bounds.departures_at_least).unwrap_or(i64::MAX)
            }
            Aim::Shortfall if self.is_proved_before(aim) => {
                i64::from(self.bounds.shortfall_at_least)
            }
            Aim::Departures | Aim::Shortfall => 0,
        }
    }

    /// Whether the plan known is proved to be the best on all aims before this one.
    fn is_proved_before(&self, aim: Aim) -> bool {
        let served = self.bounds.served_at_most == self.known.served;
        match aim {
            Aim::Served => true,
            Aim::Departures => served,
            Aim::Shortfall => served && self.bounds.departures_at_least == self.known.departures,
        }
    }

    fn is_open(&self, at: usize) -> bool {
        let inquiry = &self.inquiries[at];
        let cost = self.cost(inquiry.aim);
        let of_aim = |i: &&Inquiry<'_>| i.aim == inquiry.aim;
        let mut others = self.inquiries.iter().filter(of_aim);
        let worth = match inquiry.depth {
            Depth::Together => inquiry.spent < TOGETHER,
            Depth::EachOven => true,
            // A plan of the model that became none of ours.
            Depth::WithPlaces => {
                others.clone().any(|i| i.depth == Depth::EachOven && i.best < cost)
            }
        };
        !self.faulty
            && !inquiry.closed
            && !inquiry.too_large
            && worth
            && cost > self.floor(inquiry.aim)
            && !others.any(|i| i.proves(cost))
    }

    fn ask(&mut self, at: usize, conflicts: u64, found: &dyn Fn(ModelPlan)) {
        let aim = self.inquiries[at].aim;
        let floor = self.floor(aim);
        let mut most =
            if self.is_proved_before(aim) { conflicts } else { (conflicts / LOOKING).max(1) };
        let depth = self.inquiries[at].depth;
        if depth == Depth::Together {
            most = most.min(TOGETHER - self.inquiries[at].spent);
        }
        // A model that is asked more than once goes on from where it was.
        let mut model = self.inquiries[at].model.take().unwrap_or_else(|| self.model(at));
        let mut begun = model.conflicts();
        loop {
            let until = begun.saturating_add(most);
            let end = model.search(Limits { conflicts: Some(until), ..self.limits });
            let cost = (end == SearchEnd::Solved).then(|| self.cost_of(aim, &model));
            if cost.is_some() && depth == Depth::WithPlaces && self.is_crowded(&mut model) {
                if self.limits.over() {
                    return;
                }
                continue;
            }
            let inquiry = &mut self.inquiries[at];
            inquiry.closed = match (end, cost) {
                (SearchEnd::Stopped, _) => {
                    inquiry.spent += model.conflicts() - begun;
                    inquiry.too_large = model.is_too_large();
                    // What was stopped while it was made is made anew.
                    inquiry.model = model.is_whole().then_some(model);
                    return;
                }
                (_, Some(cost)) => {
                    found(model.plan());
                    inquiry.best = cost.min(inquiry.best - 1);
                    inquiry.best <= floor
                }
                (_, None) => true,
            };
            if inquiry.closed {
                let by_places = depth == Depth::WithPlaces;
                inquiry.sure = !by_places || self.crowds.iter().all(|crowd| crowd.proved);
                return;
            }
            if aim == Aim::Shortfall {
                model.ask_spare(spare_for(self.problem.wanted_spare, inquiry.best));
            } else {
                model = self.model(at);
                begun = 0;
            }
        }
    }

    /// Whether no places are found for some tins in what a model found last; it does not
    /// find the like of it again.
    fn is_crowded(&mut self, model: &mut Model<'_>) -> bool {
        let new = crowds(self.problem, &model.plan(), &|| self.limits.over());
        for crowd in &new {
            model.forbid(crowd);
        }
        let is_crowded = !new.is_empty();
        self.crowds.extend(new);
        is_crowded
    }

    fn cost_of(&self, aim: Aim, model: &Model<'_>) -> i64 {
        match aim {
            Aim::Served => -i64::try_from(model.served()).unwrap_or(i64::MAX),
            Aim::Departures => i64::try_from(model.departures()).unwrap_or(i64::MAX),
            Aim::Shortfall => i64::from(self.problem.wanted_spare - model.spare()).max(0),
        }
    }

    /// The model of the question for something better than the best seen.
    fn model(&self, at: usize) -> Model<'p> {
        let Inquiry { aim, depth, best, .. } = self.inquiries[at];
        let known = &self.known;
        let whole = |n: i64| usize::try_from(n).unwrap_or(usize::MAX);
        let (served, departures, spare) = match aim {
            Aim::Served => (whole(1 - best), None, 0),
            Aim::Departures => (whole(known.served.into()), u64::try_from(best - 1).ok(), 0),
            Aim::Shortfall => {
                let spare = spare_for(self.problem.wanted_spare, best);
                (whole(known.served.into()), Some(known.departures), spare)
            }
        };
        let allowed = if aim == Aim::Shortfall { self.worth() } else { self.every_option() };
        let question = Question {
            allowed,
            served,
            departures,
            spare,
            each_oven: depth > Depth::Together,
            in_halves: false,
            shelf_room: true,
        };
        let shelves = &mut self.shelves.borrow_mut();
        let mut model = Model::new(self.problem, &question, &known.seed, shelves, self.limits);
        if depth == Depth::WithPlaces && model.is_whole() {
            for crowd in &self.crowds {
                model.forbid(crowd);
            }
        }
        model
    }

    fn every_option(&self) -> Vec<Vec<usize>> {
        self.problem.groups.iter().map(|g| (0..g.options.len()).collect()).collect()
    }

    /// Options that depart no more than all served groups may together.
    fn worth(&self) -> Vec<Vec<usize>> {
        let most = self.known.departures;
        let cheap = |g: &crate::graph::problem::GroupTask| {
            (0..g.options.len()).filter(|&o| g.options[o].departure <= most).collect()
        };
        self.problem.groups.iter().map(cheap).collect()
    }

    /// Makes bounds of what was refuted. What was refuted while an aim before was open
    /// counts once that is proved.
    fn conclude(&mut self) {
        for aim in [Aim::Served, Aim::Departures, Aim::Shortfall] {
            let closed = self.inquiries.iter().filter(|i| i.aim == aim && i.proves(i.best));
            let Some(least) = closed.map(|i| i.best).max() else { continue };
            if !self.is_proved_before(aim) {
                return;
            }
            match aim {
                Aim::Served => self.served_is(u32::try_from(-least).unwrap_or(0)),
                Aim::Departures => self.departures_are(u64::try_from(least).unwrap_or(0)),
                Aim::Shortfall => {
                    let least = i32::try_from(least).unwrap_or(i32::MAX);
                    self.bounds.shortfall_at_least = self.bounds.shortfall_at_least.max(least);
                }
            }
        }
    }

    /// What was known of departures was known of plans that serve more, and
    /// these may be other groups.
    fn served_is(&mut self, most: u32) {
        if most < self.bounds.served_at_most {
            self.bounds.served_at_most = most;
            self.bounds.departures_at_least = 0;
            self.bounds.shortfall_at_least = 0;
        }
    }

    /// What was known of the shortfall was known of plans that depart less.
    fn departures_are(&mut self, least: u64) {
        if least > self.bounds.departures_at_least {
            self.bounds.departures_at_least = least;
            self.bounds.shortfall_at_least = 0;
        }
    }
}

/// The spare that a plan with less shortfall than `best` has.
fn spare_for(wanted: i32, best: i64) -> i32 {
    wanted - i32::try_from(best - 1).unwrap_or(i32::MAX)
}
