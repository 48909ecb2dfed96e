//! What the session asks of the window.

use eframe::egui::ViewportCommand;

use super::App;
use super::open::PathFor;
use crate::app::state::{
    Column, Command, Page, Place, Selection, WeekChoice, WeekPlace, WeekView, page_of, place_of,
};
use crate::finding::Path;
use crate::session::Event;
use crate::view::bar_of_time::bar_of_time;

impl App {
    /// Does what the session asks for.
    pub(super) fn heed_events(&mut self) {
        for event in self.session.events() {
            match event {
                Event::AnotherDocument => self.view = self.view.of_another_document(),
                Event::AnotherWeek => {
                    self.view.week = WeekView::default();
                    self.view.help = None;
                }
                Event::Demo => self.hinting.on |= self.hinting.wanted,
                Event::Broken => {
                    let any = self.session.broken().is_some_and(|b| !b.findings.is_empty());
                    self.view.show_finding(any.then_some(0));
                }
                Event::FileUsed(path) => self.prefs.opened(&path),
                Event::WhereToSave => self.ask(PathFor::Save),
                Event::SetUpNew => self.page(Page::Start),
                Event::SetUpAgain => self.page(Page::Lesson),
                Event::PutRight(at) => {
                    self.apply(at.map_or(Command::SetUp(Page::Start), Command::GoTo));
                }
                Event::RecipeRead(place) => {
                    self.view.help = None;
                    self.page(Page::Review(place));
                }
                Event::ShowDay => {
                    self.view.place = Place::Day;
                    self.view.help = None;
                }
                Event::BellAhead(seconds) => {
                    self.prefs.bell_ahead = seconds;
                    self.prefs.keep();
                }
                Event::Odds(on) => {
                    (self.view.look, self.view.cause) = (None, None);
                    if on {
                        self.view.selection = Selection::Odds;
                    } else if self.view.selection == Selection::Odds {
                        self.view.selection = Selection::Nothing;
                    }
                }
                Event::OfferLaid(words) => {
                    self.view.chip = Some(words);
                    self.view.chosen_on = None;
                    self.view.selection = Selection::Offer;
                }
                Event::ChoiceLaid => {
                    self.view.chip = None;
                    self.view.chosen_on = Some(self.view.selection);
                    self.view.selection = Selection::Offer;
                }
                Event::OfferPutAway => {
                    self.view.chip_now = self.view.chip.is_some();
                    let before = self.view.chosen_on.take().unwrap_or_default();
                    if self.view.selection == Selection::Offer {
                        self.view.selection = before;
                    }
                }
                Event::OfferDropped(next) => self.view.chip = next,
                Event::Close => {
                    self.may_close = true;
                    self.wake.send_viewport_cmd(ViewportCommand::Close);
                }
            }
        }
    }

    /// Goes to a place of the lesson, or of the week if that is on screen and has one
    /// of this name.
    pub(super) fn go(&mut self, place: Place) {
        if let Some(beside) = WeekPlace::beside(place)
            && self.session.week_on_screen().is_some()
        {
            self.view.help = None;
            self.view.week.choose(WeekChoice::Go(beside));
            return;
        }
        // From a week a key leads to a lesson of it, not to whatever else is open.
        if self.session.week_on_screen().is_some() && self.session.of_week().is_none() {
            return;
        }
        if self.session.document().is_none() {
            return;
        }
        self.session.plan_typed();
        // Where one is already, its beginning is gone to.
        if place == Place::SetUp && self.view.place == place && self.view.help.is_none() {
            self.view.page = Page::Start;
        }
        self.session.back_to_lesson();
        self.session.leave_week();
        self.view.help = None;
        self.view.place = place;
        self.view.rehearsing.stop();
    }

    /// Goes to the bar of a time on paper, and puts the minute line there.
    pub(super) fn show_bar_of(&mut self, time: &str, beside: &str) {
        let Some(planned) = self.session.planned() else { return };
        let found = bar_of_time(&planned.lesson, &planned.board, (time, beside));
        let Some((minute, bar)) = found else { return };
        self.view.as_list = false;
        self.view.shown = None;
        self.apply(Command::Go(Place::Plan));
        self.apply(Command::Minute(Some(minute.get())));
        self.apply(Command::Focus(bar));
    }

    /// Shows a page of setting up.
    pub(super) fn set_up(&mut self, page: Page) {
        self.go(Place::SetUp);
        self.view.page = page;
    }

    /// Shows a page of setting up of a lesson that has just come on screen.
    fn page(&mut self, page: Page) {
        self.view.place = Place::SetUp;
        self.view.page = page;
    }

    /// Goes to the field that a finding is about.
    pub(super) fn go_to(&mut self, at: Path) {
        self.view.help = None;
        if place_of(&at) == Place::Rehearse {
            self.view.place = Place::Rehearse;
            self.view.rehearsing.column = Column::Notes;
        } else {
            self.page(page_of(&at));
        }
        self.view.field_now = Some(at);
    }
}
