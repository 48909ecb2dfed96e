//! What of a week can be selected.

use chrono::NaiveDate;

use crate::units::Minutes;
use crate::week::{EntryNo, Moves, Report, RoomNo, Thing, Trouble};

/// Something that does not go well, known by what it is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum TroubleId {
    /// More is wanted of a thing than is there, on a day from some minute on.
    Clash(Thing, NaiveDate, Minutes),
    /// Not all of a lesson are out.
    NotAllOut(EntryNo),
    /// There is too little time to set out what a day wants.
    SettingUp(NaiveDate),
}

impl TroubleId {
    /// That of a trouble.
    pub fn of(trouble: &Trouble) -> Self {
        match trouble {
            Trouble::Clash(clash) => Self::Clash(clash.what, clash.date, clash.span.from),
            Trouble::NotAllOut { entry, .. } => Self::NotAllOut(*entry),
            Trouble::SettingUp { date, .. } => Self::SettingUp(*date),
        }
    }

    /// The trouble, with what would clear it.
    pub fn among(self, report: &Report) -> Option<&Moves> {
        report.moves.iter().find(|moves| Self::of(&moves.trouble) == self)
    }
}

/// Something of a week that can be selected.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Item {
    /// A lesson or a booking.
    Entry(EntryNo),
    /// A room.
    Room(RoomNo),
    /// Something that does not go well.
    Trouble(TroubleId),
}

impl Item {
    /// The lessons that are in it.
    pub fn entries(self, report: Option<&Report>) -> Vec<EntryNo> {
        match self {
            Self::Entry(entry) => vec![entry],
            Self::Room(_) => Vec::new(),
            Self::Trouble(id) => {
                let found = report.and_then(|report| id.among(report));
                found.map(|moves| moves.trouble.entries()).unwrap_or_default()
            }
        }
    }
}
