//! The day on which a lesson is taught: a copy of its file, what happens on the
//! day, and a plan that leaves as many groups as it can where they were.

mod away;
mod bakes_told;
mod begun;
mod differences;
mod fact;
mod happening;
mod happens;
mod late;
mod lost;
mod replan;
mod reserve;
mod responses;
mod stand_ins;

pub use crate::play::{GroupStanding, Help, IN_ORDER, Standing, helps, minute_of, planned_minutes};
pub use bakes_told::BakesTold;
pub use begun::{is_over, may_happen_during, presumed};
pub use differences::{Difference, Differences, differences};
pub use fact::{TakeBack, Tell, tell};
pub use happening::Happening;
pub use happens::{Happens, NO_COPY, happens, happens_during, no_copy, start_of_day};
pub use replan::{
    KeptCounts, NoReplan, Replanned, replan, replan_around, replan_begun, replan_read,
};
pub use responses::{AsTold, Response, Way, all_out_from_here, before_help, responses};
