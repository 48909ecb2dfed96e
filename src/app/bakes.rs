//! Bakes as they really went, between the window and the user's table.

use std::sync::Arc;

use super::shell::App;
use crate::file::outcomes::{load_outcomes, note_outcome};
use crate::model::PastBake;

impl App {
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
            self.message = Some("There is no folder here to keep bakes in.".to_owned());
            return;
        };
        if let Err(error) = note_outcome(&path, bake) {
            self.message = Some(format!("The bake is not noted in {}: {error}", path.display()));
            return;
        }
        self.message = Some(format!("Noted in {}.", path.display()));
        let (past, _) = self.past_bakes();
        if let Some(doc) = &mut self.doc {
            match doc.know(past) {
                Ok(()) => self.changed("noting a bake"),
                Err(findings) => {
                    let why = findings.first().map(|f| f.message.clone()).unwrap_or_default();
                    self.message = Some(format!("Noted, but the lesson cannot go by it: {why}"));
                }
            }
        }
    }
}
