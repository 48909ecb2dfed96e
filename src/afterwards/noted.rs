//! What a day teaches, in the user's tables: bakes in one, parts of lessons in another
//! beside it.

use std::path::{Path, PathBuf};

use super::{Learned, Observed, Part, learned};
use crate::file::data_folders::minutes_beside;
use crate::file::outcomes::{load_outcomes, note_outcome};
use crate::file::past_minutes::{NoteError, load_minutes, note_minutes};
use crate::model::PastMinutes;

/// A table that could not be written, and why.
pub type NotNoted = (PathBuf, NoteError);

fn minutes(observed: &Observed) -> Vec<PastMinutes> {
    observed.parts.iter().map(|part| part.minutes.clone()).collect()
}

/// Notes what was observed in the user's table of bakes and in that of minutes beside
/// it; what they say already is not said again.
///
/// # Errors
/// If a table cannot be written; it is then as it was.
pub fn note(outcomes: &Path, observed: &Observed) -> Result<(), NotNoted> {
    let known = load_outcomes(outcomes).0;
    for bake in observed.bakes.iter().filter(|bake| !known.contains(bake)) {
        note_outcome(outcomes, bake).map_err(|error| (outcomes.to_owned(), error))?;
    }
    let path = minutes_beside(outcomes);
    note_minutes(&path, &minutes(observed)).map_err(|error| (path, error))
}

/// Whether the user's tables say all that was observed.
pub fn is_noted(outcomes: &Path, observed: &Observed) -> bool {
    let bakes = load_outcomes(outcomes).0;
    let known = load_minutes(&minutes_beside(outcomes)).0;
    observed.bakes.iter().all(|bake| bakes.contains(bake))
        && minutes(observed).iter().all(|minutes| known.contains(minutes))
}

/// What each part teaches, this day's with all lessons of the class that are noted.
pub fn taught(observed: &Observed, all: &[PastMinutes]) -> Vec<(Part, Learned)> {
    let of = |part: &Part| {
        let own = &part.minutes;
        let same = |m: &&PastMinutes| m.part == own.part && m.is_of(&own.class);
        let others = all.iter().filter(same).filter(|m| m.date != own.date);
        let all: Vec<&PastMinutes> = others.chain([own]).collect();
        (part.clone(), learned(part.spread, &all))
    };
    observed.parts.iter().map(of).collect()
}
