//! Bakes as they really went, between the window and the user's table.

use std::sync::Arc;

use super::shell::App;
use crate::file::outcomes::{load_outcomes, note_outcome};
use crate::model::PastBake;

impl App {
    /// The bakes noted so far. What makes no sense in the table is left aside
    /// here; the command line tells of it line by line.
    pub(super) fn past_bakes(&self) -> Arc<[PastBake]> {
        let load = |path: &std::path::PathBuf| load_outcomes(path).0;
        self.outcomes.as_ref().map(load).unwrap_or_default().into()
    }

    /// Notes a bake, and goes by it from then on.
    pub(super) fn note(&mut self, bake: &PastBake) {
        let Some(path) = self.outcomes.clone() else {
            self.message = Some("There is no folder here to keep bakes in.".to_owned());
            return;
        };
        if let Err(error) = note_outcome(&path, bake) {
            self.message = Some(format!("The bake is not noted in {}: {error}", path.display()));
            return;
        }
        self.message = Some(format!("Noted in {}.", path.display()));
        let past = self.past_bakes();
        if let Some(doc) = &mut self.doc {
            match doc.know(past) {
                Ok(()) => self.replan(),
                Err(findings) => {
                    let why = findings.first().map(|f| f.message.clone()).unwrap_or_default();
                    self.message = Some(format!("Noted, but the lesson cannot go by it: {why}"));
                }
            }
        }
    }
}
