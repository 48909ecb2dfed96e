//! What is laid out to be printed, and what is added up to be bought: of the lesson, or
//! of the week that is on screen.

use super::App;
use crate::app::state::{Papers, Place, WeekPlace};
use crate::session::WeekSheets;

impl App {
    /// What is to be printed of what is on screen.
    pub(super) fn papers(&self) -> &Papers {
        match self.session.week_on_screen() {
            Some(_) => &self.view.week.papers,
            None => &self.view.papers,
        }
    }

    /// The same, to be chosen.
    pub(super) fn papers_mut(&mut self) -> &mut Papers {
        match self.session.week_on_screen() {
            Some(_) => &mut self.view.week.papers,
            None => &mut self.view.papers,
        }
    }

    /// Has sheets laid out where they are looked at.
    pub(super) fn want_papers(&mut self) {
        let english = self.prefs.english;
        if let Some(week) = self.session.week_on_screen() {
            self.view.week.told_of = self.view.week.told_of.in_week(week.week());
            let week = &self.view.week;
            match week.place {
                WeekPlace::Papers => {
                    let wanted = WeekSheets { of: week.told_of, parts: week.papers.wanted() };
                    self.session.want_sheets_of_week(wanted, week.papers.print, english);
                }
                WeekPlace::Ingredients => self.session.want_week_needs(week.told_of, english),
                WeekPlace::Week => {}
            }
        } else if self.view.place == Place::Papers {
            self.session.want_sheets(self.view.papers.print, english);
        }
    }
}
