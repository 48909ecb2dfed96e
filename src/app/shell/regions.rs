//! F6: from region to region of the window.

use eframe::egui::{self, Rect};

use super::App;
use crate::app::state::{Command, Place, Region, WeekChoice};

/// Where the regions that are shown are.
pub(super) type Regions = Vec<(Region, Rect)>;

impl App {
    /// Gives the next region the keyboard, or the one before.
    pub(super) fn next_region(&mut self, on: bool) {
        let shown: Vec<Region> =
            Region::ALL.into_iter().filter(|r| self.regions.iter().any(|(s, _)| s == r)).collect();
        let here = focused(&self.wake).and_then(|rect| {
            let middle = rect.center();
            self.regions.iter().find(|(_, at)| at.contains(middle)).map(|(region, _)| *region)
        });
        let at = here.and_then(|here| shown.iter().position(|r| *r == here));
        let next = match (at, on) {
            (Some(at), true) => (at + 1) % shown.len(),
            (Some(at), false) => (at + shown.len() - 1) % shown.len(),
            (None, _) => 0,
        };
        let Some(&region) = shown.get(next) else { return };
        match self.within(region) {
            Some(command) => self.apply(command),
            None => self.view.region_now = Some(region),
        }
    }

    /// What gives the keyboard to what has it within a region that is one stop
    /// for the Tab key.
    fn within(&self, region: Region) -> Option<Command> {
        let board = || {
            let is_board = self.view.place == Place::Plan
                && self.view.help.is_none()
                && self.session.broken().is_none()
                && !self.view.as_list;
            let board = self.session.planned().filter(|_| is_board).map(|p| &p.board)?;
            let current = self.view.current.filter(|&bar| board.bar(bar).is_some());
            current.or_else(|| board.bars().next().map(|bar| bar.id)).map(Command::Focus)
        };
        let offers = || {
            let chips = self.session.chips();
            let is_there = |words: &String| chips.iter().any(|c| c.words == *words);
            let current = self.view.chip.clone().filter(is_there);
            let chip = current.or_else(|| chips.first().map(|c| c.words.clone()));
            chip.filter(|_| !self.view.folded).map(Command::FocusChip)
        };
        if self.session.week_on_screen().is_some() && self.view.help.is_none() {
            let current = self.view.week.current;
            let item = current.filter(|_| region == Region::Middle);
            return item.map(|item| Command::Week(WeekChoice::Focus(item)));
        }
        match region {
            Region::Middle => board(),
            Region::Offers => offers(),
            Region::Bar | Region::Choices | Region::Card => None,
        }
    }
}

/// Where what has the keyboard is.
fn focused(ctx: &egui::Context) -> Option<Rect> {
    let id = ctx.memory(|m| m.focused())?;
    Some(ctx.read_response(id)?.rect)
}
