//! Lessons that hang together by what they share, so that one plan of one changes
//! what is left to another.

use std::collections::BTreeSet;

use super::model::{Entry, EntryNo, Week};
use super::wanted::{Clash, Contention, Thing};

/// Whether a thing is shared between rooms.
fn goes_between_rooms(of: &Contention) -> bool {
    match of.what {
        Thing::Moving(_) | Thing::Adult(_) => true,
        Thing::Ovens(_) => false,
    }
}

/// The lessons and bookings of a clash, and all that hang on them: those that meet one
/// of them in time and want something it wants, of which there is not enough for all
/// at once. `all` is what is wanted that day.
pub(super) fn coupled(week: &Week, all: &[Contention], clash: &Clash) -> Vec<EntryNo> {
    let mut found: BTreeSet<EntryNo> = clash.by.iter().map(|(entry, _)| *entry).collect();
    let scarce = |of: &&Contention| {
        let most = |(_, profile): &(EntryNo, super::Profile)| {
            profile.spans().iter().map(|span| u64::from(span.count)).max().unwrap_or(0)
        };
        let at_once: u64 = of.by.iter().map(most).sum();
        goes_between_rooms(of) && at_once > u64::from(of.there)
    };
    let scarce: Vec<&Contention> = all.iter().filter(scarce).collect();
    let meets = |one: EntryNo, other: EntryNo| {
        let slot = |number| week.entry(number).map(|e: &Entry| &e.slot);
        slot(one).zip(slot(other)).is_some_and(|(a, b)| a.meets(b))
    };
    loop {
        let before = found.len();
        for of in &scarce {
            let by = || of.by.iter().map(|(entry, _)| *entry);
            let hang: Vec<EntryNo> = by()
                .filter(|one| by().any(|other| found.contains(&other) && meets(*one, other)))
                .collect();
            found.extend(hang);
        }
        if found.len() == before {
            return found.into_iter().collect();
        }
    }
}
