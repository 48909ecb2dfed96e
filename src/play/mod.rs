//! Plans played: what happens to a checked plan when people do not take their
//! planned minutes.
//!
//! Playing decides only when things happen, never what: order, places, items
//! and people stay the plan's. How it is done and what it rests on stands in
//! `src/play/playing.md`.

mod beforehand;
mod calls;
mod causes;
mod checkpoints;
mod held_back;
mod help;
mod jobs;
mod luck;
mod marks;
mod minutes;
mod network;
mod odds;
mod orders;
mod outlook;
mod outs;
mod played_on;
mod run;
mod setting_out;
mod shape;
mod slips;
mod standing;
mod to_give;
mod true_at;
mod uses;

pub use crate::model::Together;
pub use causes::{Cause, CauseOfLateness};
pub use checkpoints::{Checkpoint, Whom};
pub use help::{Free, Help, MadeUp, helps};
pub use jobs::{Job, Jobs, Task, Unwatched, busy, jobs, occupied};
pub use luck::Luck;
pub use marks::Mark;
pub use minutes::{Dealer, Spread, SpreadError};
pub use network::{
    DoorUse, Minutes, Network, Node, Order, PlayedGroup, PlayedPeriod, Relief, Wait, What, Work,
};
pub use odds::{ClassOdds, GroupOdds, Odds, OddsError, Settings, odds};
pub use outlook::{Expected, odds_from_here, outlook};
pub use outs::{Outs, outs};
pub use played_on::{Course, HeldUp, PlayedOn};
pub use run::{Play, Started};
pub use setting_out::{SetOut, ToSetOut, set_out};
pub use shape::Shape;
pub use slips::late_by;
pub use standing::{GroupStanding, IN_ORDER, Standing, minute_of, planned_minutes};
pub use to_give::{GroupToGive, StepToGive, groups_to_give, to_give};
pub use true_at::{TrueAt, true_at};
