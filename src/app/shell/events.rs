//! What the session asks of the window.

use eframe::egui::ViewportCommand;

use super::App;
use crate::app::state::{Command, Page, Selection, page_of};
use crate::finding::Path;
use crate::session::Event;

impl App {
    /// Does what the session asks for.
    pub(super) fn heed_events(&mut self) {
        for event in self.session.events() {
            match event {
                Event::AnotherDocument => self.view = self.view.of_another_document(),
                Event::Demo => self.hinting.on |= self.hinting.wanted,
                Event::Broken => {
                    let any = self.session.broken().is_some_and(|b| !b.findings.is_empty());
                    self.view.show_finding(any.then_some(0));
                }
                Event::FileUsed(path) => self.prefs.opened(&path),
                Event::WhereToSave => self.ask(true),
                Event::SetUpNew => self.view.page = Some(Page::Start),
                Event::SetUpAgain => self.view.page = Some(Page::Lesson),
                Event::PutRight(at) => {
                    self.apply(at.map_or(Command::SetUp(Some(Page::Start)), Command::GoTo));
                }
                Event::ShowDay => {
                    self.view.page = None;
                    self.view.help = None;
                    self.view.selection = Selection::Today;
                }
                Event::OfferLaid(words) => {
                    self.view.chip = Some(words);
                    self.view.selection = Selection::Offer;
                }
                Event::OfferPutAway => {
                    self.view.chip_now = self.view.chip.is_some();
                    if self.view.selection == Selection::Offer {
                        self.view.selection = Selection::Nothing;
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

    /// Shows a page of setting up; `None` goes back to the plan.
    pub(super) fn set_up(&mut self, page: Option<Page>) {
        self.session.plan_typed();
        self.session.back_to_lesson();
        self.view.help = None;
        self.view.page = page;
    }

    /// Goes to the field that a finding is about.
    pub(super) fn go_to(&mut self, at: Path) {
        self.view.help = None;
        self.view.page = Some(page_of(&at));
        self.view.field_now = Some(at);
    }
}
