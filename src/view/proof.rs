//! What is proved about a plan: the first of its first three aims that is not,
//! with the best found and what it cannot be bettered beyond.

use crate::check::CheckedPlan;

/// How far a plan is proved. Each aim is proved only where all before it are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum HowProved {
    /// The planner has said nothing of it.
    Unknown,
    /// More groups might be served: at most so many.
    Served {
        /// Groups that are served.
        best: u32,
        /// Nothing serves more.
        at_most: u32,
    },
    /// It might depart less from the first choices.
    Departures {
        /// Its departures.
        best: u64,
        /// Nothing departs less.
        at_least: u64,
    },
    /// It might leave more of the wanted spare.
    Shortfall {
        /// Minutes that the worst group lacks.
        best: i32,
        /// Nothing lacks less.
        at_least: i32,
    },
    /// No plan serves more, departs less or leaves more of the wanted spare.
    Best,
}

/// How far a plan is proved.
pub fn standing(plan: &CheckedPlan) -> HowProved {
    let Some(bounds) = plan.plan().bounds else { return HowProved::Unknown };
    let best = plan.objective();
    if bounds.served_at_most > best.served {
        return HowProved::Served { best: best.served, at_most: bounds.served_at_most };
    }
    if bounds.departures_at_least < best.departures {
        let at_least = bounds.departures_at_least;
        return HowProved::Departures { best: best.departures, at_least };
    }
    if bounds.shortfall_at_least < best.shortfall {
        let at_least = bounds.shortfall_at_least;
        return HowProved::Shortfall { best: best.shortfall, at_least };
    }
    HowProved::Best
}
