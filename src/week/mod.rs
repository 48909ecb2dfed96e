//! A department's week: where and when lessons are, what they share, where more is
//! wanted than is there, and the least move that clears it.
//!
//! Every lesson is planned as if it were alone; what it then wants of each shared
//! thing is added up over the lessons of a day. How, and what that does not say,
//! stands in `src/week/week.md`.

mod alone;
mod broken;
mod entries;
mod model;
mod moves;
mod needs;
mod parallel;
mod profile;
mod put;
mod report;
mod setting_up;
mod things;
mod together;
mod trouble;
mod understand;
mod wanted;

pub use alone::{Alone, Planner};
pub use broken::{Consequence, Touched};
pub use model::{
    Bell, Day, Entry, EntryNo, Lent, Moving, Out, Place, RoomNo, Slot, Stretch, Taught, Week,
    WeekAdult, What,
};
pub use moves::{Move, Moves, Offer, moves, where_and_when};
pub use needs::Needs;
pub use profile::{Profile, Span};
pub use put::put;
pub use report::{Report, Told, report};
pub use setting_up::{SettingOut, Setup, TooLittleTime, setting_up};
pub use things::{name_of, out_of_order, place_called};
pub use together::Together;
pub use trouble::{Trouble, troubles};
pub use understand::{LoadedWeek, load, understood};
pub use wanted::{Clash, Contention, Thing, wanted};
