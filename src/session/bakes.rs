//! Bakes as they really went, and the user's table of them.

use std::sync::Arc;

use super::{Session, first_of};
use crate::file::outcomes::{forget_outcome, load_outcomes, note_outcome};
use crate::model::PastBake;

impl Session {
    /// The bakes noted so far, and what is wrong with their table, if anything
    /// is: such lines are left aside.
    pub(super) fn past_bakes(&self) -> (Arc<[PastBake]>, Option<String>) {
        let Some(path) = &self.outcomes else { return (Arc::from([]), None) };
        let (past, findings) = load_outcomes(path);
        let told = findings.first().map(|first| {
            let more = match findings.len() {
                1 => String::new(),
                n => format!(" ({n} such places; `ovenbell check` names them all)"),
            };
            format!("{}: {}{more}", path.display(), first.message)
        });
        (past.into(), told)
    }

    /// Notes a bake, and goes by it from then on.
    pub(super) fn note(&mut self, bake: &PastBake) {
        let Some(path) = self.outcomes.clone() else {
            self.tell("There is no folder here to keep bakes in.");
            return;
        };
        if let Err(error) = note_outcome(&path, bake) {
            self.tell(format!("The bake is not noted in {}: {error}", path.display()));
            return;
        }
        self.tell(format!("Noted in {}.", path.display()));
        self.know_bakes("noting a bake", "Noted");
    }

    /// Takes back what was noted of a bake, and goes without it from then on.
    pub(super) fn take_bake_back(&mut self, bake: &PastBake) {
        let Some(path) = self.outcomes.clone() else { return };
        if let Err(error) = forget_outcome(&path, bake) {
            self.tell(format!("The bake is still noted in {}: {error}", path.display()));
            return;
        }
        self.tell(format!("Taken out of {}.", path.display()));
        self.know_bakes("taking a bake back", "Taken back");
    }

    /// The user's table is another.
    fn know_bakes(&mut self, what: &str, done: &str) {
        let (past, _) = self.past_bakes();
        let Some(doc) = &mut self.doc else { return };
        match doc.know(past) {
            Ok(()) => self.changed(what),
            Err(findings) => {
                let why = first_of(&findings);
                self.tell(format!("{done}, but the lesson cannot go by it: {why}"));
            }
        }
    }
}
