//! What is proved, aim by aim.

use std::cell::RefCell;
use std::panic::{AssertUnwindSafe, catch_unwind};

use super::super::engine::{Limits, SearchEnd};
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

/// Betters `bounds` against the best plan known, aim by aim, until they meet
/// it or a limit is reached; tells every bound that got better and every plan of the
/// model that is better than the one known. A fault of the solver counts as a limit
/// reached.
pub(in crate::planner) fn prove(
    problem: &Problem,
    known: &Known,
    bounds: Bounds,
    limits: Limits<'_>,
    shelves: &RefCell<Shelves>,
    mut tell: impl FnMut(Bounds),
    found: &dyn Fn(ModelPlan),
) -> Bounds {
    let mut prover = Prover { problem, known, bounds, limits, shelves, found };
    for aim in [Prover::served, Prover::departures, Prover::shortfall] {
        for each_oven in [false, true] {
            if each_oven && limits.conflicts.is_some_and(|most| most < WORTH_OVENS) {
                continue;
            }
            let before = prover.bounds;
            let work = AssertUnwindSafe(|| aim(&mut prover, each_oven));
            if catch_unwind(work).is_err() {
                return prover.bounds;
            }
            if prover.bounds != before {
                tell(prover.bounds);
            }
        }
    }
    prover.bounds
}

struct Prover<'a> {
    problem: &'a Problem,
    known: &'a Known,
    bounds: Bounds,
    limits: Limits<'a>,
    shelves: &'a RefCell<Shelves>,
    /// Hears of every plan of the model.
    found: &'a dyn Fn(ModelPlan),
}

/// Conflicts before ovens are no longer taken together.
const TOGETHER: u64 = 20_000;

/// With fewer conflicts to spend, the model of each oven by itself is not
/// worth building.
const WORTH_OVENS: u64 = 500;

/// How to go on from a plan of the model.
enum Next {
    /// With the same model, which was asked for more.
    Same,
    /// With a new model of the question.
    Anew,
    /// What is known already cannot be bettered.
    Enough,
}

fn whole(n: u32) -> usize {
    usize::try_from(n).unwrap_or(usize::MAX)
}

impl Prover<'_> {
    fn model(&self, question: &Question) -> Model<'_> {
        let shelves = &mut self.shelves.borrow_mut();
        Model::new(self.problem, question, &self.known.seed, shelves, self.limits)
    }

    fn every_option(&self) -> Vec<Vec<usize>> {
        self.problem.groups.iter().map(|g| (0..g.options.len()).collect()).collect()
    }

    /// Asks for a plan better than all so far, with `better` made from what is
    /// found each time; `true` once there is none.
    fn descend<'m>(
        &'m self,
        question: &mut Question,
        mut better: impl FnMut(&mut Model<'m>, &mut Question) -> Next,
    ) -> bool {
        let mut limits = self.limits;
        if !question.each_oven {
            let most = limits.conflicts.unwrap_or(u64::MAX);
            limits.conflicts = Some(most.min(TOGETHER));
        }
        let mut model = self.model(question);
        loop {
            match model.search(limits) {
                SearchEnd::Refuted => return true,
                SearchEnd::Stopped => return false,
                SearchEnd::Solved => {
                    (self.found)(model.plan());
                    match better(&mut model, question) {
                        Next::Same => {}
                        Next::Anew => model = self.model(question),
                        Next::Enough => return true,
                    }
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

    /// No more groups can be served than the plan serves, or than the model
    /// allows.
    fn served(&mut self, each_oven: bool) {
        let at_most = self.bounds.served_at_most;
        if self.known.served >= at_most {
            return;
        }
        let mut low = self.known.served + 1;
        let mut question = Question {
            allowed: self.every_option(),
            served: whole(low),
            departures: None,
            spare: 0,
            each_oven,
            in_halves: false,
            shelf_room: true,
        };
        let refuted = self.descend(&mut question, |model, question| {
            low = u32::try_from(model.served()).unwrap_or(u32::MAX).saturating_add(1);
            question.served = whole(low);
            if low > at_most { Next::Enough } else { Next::Anew }
        });
        if refuted {
            self.served_is(low - 1);
        }
    }

    /// With as many served, no plan departs less.
    fn departures(&mut self, each_oven: bool) {
        let known = self.known;
        let at_least = self.bounds.departures_at_least;
        if self.bounds.served_at_most != known.served || known.departures <= at_least {
            return;
        }
        let mut most = known.departures;
        let mut question = Question {
            allowed: self.every_option(),
            served: whole(known.served),
            departures: Some(most - 1),
            spare: 0,
            each_oven,
            in_halves: false,
            shelf_room: true,
        };
        let refuted = self.descend(&mut question, |model, question| {
            most = model.departures().min(most - 1);
            if most <= at_least {
                return Next::Enough;
            }
            question.departures = Some(most - 1);
            Next::Anew
        });
        if refuted {
            self.departures_are(most);
        }
    }

    /// With as many served and no more departures, no plan has less shortfall.
    fn shortfall(&mut self, each_oven: bool) {
        let known = self.known;
        let at_least = self.bounds.shortfall_at_least;
        if self.bounds.served_at_most != known.served
            || self.bounds.departures_at_least != known.departures
            || known.shortfall <= at_least
        {
            return;
        }
        let mut most = known.shortfall;
        let wanted = self.problem.wanted_spare;
        let mut question = Question {
            allowed: self.worth(),
            served: whole(known.served),
            departures: Some(known.departures),
            spare: wanted - (most - 1),
            each_oven,
            in_halves: false,
            shelf_room: true,
        };
        let refuted = self.descend(&mut question, |model, _| {
            most = (wanted - model.spare()).max(0).min(most - 1);
            if most <= at_least {
                return Next::Enough;
            }
            model.ask_spare(wanted - (most - 1));
            Next::Same
        });
        if refuted {
            self.bounds.shortfall_at_least = self.bounds.shortfall_at_least.max(most);
        }
    }

    /// Options that depart no more than all served groups may together.
    fn worth(&self) -> Vec<Vec<usize>> {
        let most = self.known.departures;
        let cheap = |g: &crate::graph::problem::GroupTask| {
            (0..g.options.len()).filter(|&o| g.options[o].departure <= most).collect()
        };
        self.problem.groups.iter().map(cheap).collect()
    }
}
