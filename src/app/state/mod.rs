//! What the window can be told and what it remembers of what is shown. It knows
//! nothing of how that looks.

mod command;
mod commands;
mod follows;
mod hint;
mod in_place;
mod on_the_day;
mod page;
mod papers;
mod place;
mod prefs;
mod region;
mod rehearsing;
mod view_state;
mod week;

pub use command::{Command, keys};
pub use commands::Commands;
pub use follows::Follows;
pub use hint::{Hint, Hinting};
pub use in_place::InPlace;
pub use on_the_day::{DayChoice, DayStop, OnTheDay};
pub use page::{Page, page_of, place_of};
pub use papers::{Papers, PapersChoice};
pub use place::{PLACES, Place};
pub use prefs::Prefs;
pub use region::Region;
pub use rehearsing::{Column, PACES, RehearseChoice, Rehearsing};
pub use view_state::{Selection, ViewState};
pub use week::{WEEK_PLACES, WeekChoice, WeekPlace, WeekView};
