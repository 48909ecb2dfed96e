//! A department's week: where and when lessons are, what they share, where more is
//! wanted than is there, and the least move that clears it.
//!
//! Every lesson is planned as if it were alone; what it then wants of each shared
//! thing is added up over the lessons of a day. How, and what that does not say,
//! stands in `src/week/week.md`.

mod alone;
mod apart;
mod begin;
mod broken;
mod change;
mod coupled;
mod entries;
mod in_slot;
mod join;
mod model;
mod moves;
mod needs;
mod own_words;
mod parallel;
mod profile;
mod put;
mod report;
mod rests;
mod setting_up;
mod shift;
mod things;
mod together;
mod trouble;
mod twice;
mod understand;
mod wanted;

pub use alone::{Alone, Memory, Planner, USUAL_DECODINGS, alone_in};
pub use begin::{begun, pointer_to, text_of, to_put_in, week_after, with_lesson};
pub use broken::{Consequence, Touched};
pub use change::{Change, NotInTheFile};
pub use in_slot::{InSlot, ToldOf, goes_by, in_slots, planned_in_slots};
pub use model::{
    Bell, Day, Entry, EntryNo, LeftAside, Lent, Moving, Out, Place, RoomNo, Slot, Stretch, Taught,
    Week, WeekAdult, What,
};
pub use moves::{Move, Moves, Offer, free_slots, moves, where_and_when};
pub use needs::Needs;
pub use own_words::own_words;
pub use profile::{Profile, Span};
pub use put::put;
pub use report::{Asked, Report, Stage, Told, report, report_as_it_comes};
pub use rests::{Rest, RestFault, broken_rests};
pub use setting_up::{SettingOut, Setup, TooLittleTime, setting_up, setting_up_by};
pub use things::{name_of, out_of_order, ovens_of, place_called};
pub use together::{CoupledSet, Together, coupled_sets};
pub use trouble::{Trouble, troubles};
pub use twice::{Twice, TwiceWhat};
pub use understand::{LoadedWeek, load, understood};
pub use wanted::{Clash, Contention, Thing, wanted};
