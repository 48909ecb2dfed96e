//! Arguments that several commands have.

use std::path::PathBuf;
use std::time::Duration;

use clap::Args;

use super::numbers::{plans, seconds, seed};
use crate::deadline::Deadline;
use crate::planner::Budget;

/// How long a command works where the user says nothing of time.
pub(super) const USUAL_TIME: Duration = Duration::from_secs(4);

/// How long a plan is looked for.
#[derive(Debug, Clone, Args)]
pub(super) struct Search {
    /// Answer within so many seconds [default: 4, or no limit with
    /// --decodings].
    #[arg(long, value_name = "SECONDS", value_parser = seconds, allow_negative_numbers = true)]
    pub within: Option<Duration>,
    /// Stop after building so many plans [default: 20000, or no limit with
    /// --within].
    #[arg(long, value_name = "N", value_parser = plans, allow_negative_numbers = true)]
    pub decodings: Option<u64>,
    /// Where chance begins.
    #[arg(long, value_name = "N", default_value_t = 1, value_parser = seed, allow_negative_numbers = true)]
    pub seed: u64,
}

impl Default for Search {
    fn default() -> Self {
        Self { within: None, decodings: None, seed: 1 }
    }
}

impl Search {
    /// The time for an answer.
    pub fn deadline(&self) -> Deadline {
        deadline(self.within, self.decodings)
    }

    /// What may be spent of so much time.
    pub fn budget(&self, within: Option<Duration>) -> Budget {
        let decodings = match (self.decodings, self.within) {
            (None, None) => Budget::default().decodings,
            (given, _) => given,
        };
        Budget { within, decodings, seed: self.seed }
    }
}

/// How many plans are built before one is gone by.
#[derive(Debug, Clone, Args)]
pub(super) struct Decodings {
    /// Stop planning after building so many plans [default: 20000, or as many
    /// as 4 seconds allow].
    #[arg(long, value_name = "N", value_parser = plans, allow_negative_numbers = true)]
    pub decodings: Option<u64>,
}

/// The bakes that minutes go by.
#[derive(Debug, Clone, Default, Args)]
pub(super) struct Noted {
    /// Go by the bakes noted in this table, not by your own.
    #[arg(long, value_name = "CSV")]
    pub outcomes: Option<PathBuf>,
}

/// Whether the plan kept with a lesson is gone by.
#[derive(Debug, Clone, Default, Args)]
pub(super) struct Anew {
    /// Go by the best plan, whatever plan is kept with the lesson.
    #[arg(long)]
    pub anew: bool,
}

/// The plan of a lesson that is gone by.
#[derive(Debug, Clone, Args)]
pub(super) struct GoBy {
    /// Go by this kept plan of the lesson, not by the one kept with it.
    #[arg(long, value_name = "PLAN", conflicts_with = "anew")]
    pub plan: Option<PathBuf>,
    #[command(flatten)]
    pub anew: Anew,
}

/// The time for an answer: that given, or else the usual one, unless a number
/// of plans is given, so that the answer is the same in every run.
pub(super) fn deadline(within: Option<Duration>, decodings: Option<u64>) -> Deadline {
    Deadline::within(within.or_else(|| decodings.is_none().then_some(USUAL_TIME)))
}
