//! Which hint of the first start is shown.

use super::App;
use crate::app::state::{Command, Hint, Place};

impl App {
    /// The hint to show now, if any.
    pub(super) fn hint(&self) -> Option<Hint> {
        let busy = self.view.help.is_some()
            || self.view.place != Place::Plan
            || self.session.broken().is_some();
        if !self.hinting.on || busy || self.session.planned().is_none() {
            return None;
        }
        let open = |hint: &Hint| !self.prefs.hints_gone.contains(hint);
        let here = |hint: &Hint| *hint != Hint::Board || !self.view.as_list;
        Hint::ALL.into_iter().find(|hint| open(hint) && here(hint))
    }

    /// Puts a hint away for good, or all of them.
    pub(super) fn put_away_hints(&mut self, which: Option<Hint>) {
        let go = Hint::ALL.into_iter().filter(|hint| which.is_none_or(|w| w == *hint));
        for hint in go {
            if !self.prefs.hints_gone.contains(&hint) {
                self.prefs.hints_gone.push(hint);
            }
        }
        self.prefs.keep();
    }

    /// Shows them again, from the first.
    pub(super) fn show_hints(&mut self) {
        self.prefs.hints_gone.clear();
        self.prefs.keep();
        self.hinting.on = true;
        self.view.help = None;
        self.view.place = Place::Plan;
    }

    /// Puts away the hints that invite to what a command does.
    pub(super) fn hints_followed(&mut self, command: &Command) {
        if !self.hinting.on {
            return;
        }
        for hint in Hint::ALL {
            if hint.is_done_by(command) && !self.prefs.hints_gone.contains(&hint) {
                self.put_away_hints(Some(hint));
            }
        }
    }
}
