//! Setting up: pages, new lessons, and what is entered in fields.

use std::time::{Duration, Instant};

use chrono::NaiveDate;
use eframe::egui::{self, CentralPanel, Frame, Margin, Panel};

use super::care::Leaving;
use super::command::Command;
use super::document::Document;
use super::form::{Form, Refused, field_id};
use super::pages::{self, Page, page_of};
use super::shell::App;
use super::shelves::Shelves;
use super::theme::Palette;
use crate::edit::{Edit, FileChange};
use crate::finding::{Finding, Path};
use crate::setup::{again, starter};

/// Planning waits so long for the next letter.
const PAUSE: Duration = Duration::from_millis(350);

/// What setting up keeps beside the document.
#[derive(Default)]
pub struct Entering {
    /// What can be taken into a lesson.
    pub shelves: Shelves,
    /// What fields were refused, and why.
    refused: Refused,
    /// When to plan what is being typed, and what that is.
    due: Option<(Instant, String)>,
    /// The field to give the keyboard to.
    focus: Option<Path>,
}

impl Entering {
    /// With what is on the shelves now.
    pub fn new(shelves: Shelves) -> Self {
        Self { shelves, ..Self::default() }
    }
}

impl App {
    /// Whether something typed still waits to be planned.
    pub(super) fn is_typing(&self) -> bool {
        self.entering.due.is_some()
    }

    pub(super) fn today(&self) -> NaiveDate {
        self.day.unwrap_or_else(|| chrono::Local::now().date_naive())
    }

    /// Does what setting up asks for.
    pub(super) fn enter(&mut self, command: &Command) {
        match command {
            Command::New => self.leave(Leaving::New),
            Command::Again => self.leave(Leaving::Again),
            Command::SetUp(page) => {
                self.plan_typed();
                self.view.help = None;
                self.view.page = *page;
                self.broken = None;
            }
            Command::GoTo(path) => {
                self.view.help = None;
                self.view.page = Some(page_of(path));
                self.entering.focus = Some(path.clone());
            }
            Command::KeepInLibrary(what) => {
                let Some(doc) = &self.doc else { return };
                let kept = self.entering.shelves.keep(doc.file(), *what);
                self.message = Some(kept.unwrap_or_else(|why| why));
            }
            Command::RemoveFromLibrary(shelf, name) => {
                let removed = self.entering.shelves.remove(*shelf, name);
                self.message = Some(removed.unwrap_or_else(|why| why));
            }
            Command::Typed => {
                if let Some(doc) = &mut self.doc {
                    doc.typed();
                }
                self.plan_typed();
            }
            Command::Untype(at) => {
                self.entering.refused.remove(&at.to_string());
                self.untype(at);
            }
            _ => {}
        }
    }

    fn untype(&mut self, at: &Path) {
        if self.doc.as_mut().is_some_and(|doc| doc.untype(at)) {
            self.wait_for_more(format!("{at}"));
        }
    }

    /// A lesson with nothing in it yet.
    pub(super) fn new_lesson(&mut self) {
        match starter::new_lesson() {
            Ok(mut file) => {
                let say = &mut |word: &mut String| *word = super::say::name(word);
                crate::file::own_words::lesson(&mut file, say);
                self.take_file(file, Page::Start);
            }
            Err(error) => self.message = Some(error.to_string()),
        }
    }

    /// The lesson on screen for another day, as a lesson of its own.
    pub(super) fn lesson_again(&mut self) {
        let Some(doc) = &self.doc else { return };
        let file = again::again(doc.file(), self.today());
        self.take_file(file, Page::Lesson);
    }

    fn take_file(&mut self, file: crate::file::format::LessonFile, page: Page) {
        self.revision += 1000;
        let (past, told) = self.past_bakes();
        let doc = Document::new(file, self.revision, past);
        self.show_document(doc, told);
        self.view.page = Some(page);
    }

    /// Another document is on screen: nothing of the one before is typed.
    pub(super) fn forget_typed(&mut self) {
        self.entering.refused.clear();
        self.entering.due = None;
    }

    /// An edit was made, or refused.
    pub(super) fn edited(&mut self, edit: &Edit, made: Result<(), Vec<Finding>>) {
        let field = edit.field();
        match made {
            Ok(()) => {
                if let Some((at, typing)) = field {
                    self.entering.refused.remove(&at.to_string());
                    if typing {
                        self.wait_for_more(edit.label());
                        return;
                    }
                }
                self.entering.due = None;
                self.changed(&edit.label());
            }
            Err(findings) => {
                let why = findings.first().map(|f| f.message.clone()).unwrap_or_default();
                match field {
                    Some((at, true)) => {
                        self.entering.refused.insert(at.to_string(), why);
                        let at = at.clone();
                        self.untype(&at);
                    }
                    _ => self.message = Some(format!("Cannot: {}. {why}", edit.label())),
                }
            }
        }
    }

    fn wait_for_more(&mut self, what: String) {
        self.planner.stop();
        self.stop_looking();
        self.planning = self.doc.as_ref().is_some_and(|d| d.lesson().is_some());
        self.entering.due = Some((Instant::now() + PAUSE, what));
        self.wake.request_repaint_after(PAUSE);
    }

    /// Plans what was typed, once the typing pauses.
    pub(super) fn plan_when_due(&mut self) {
        if self.entering.due.as_ref().is_some_and(|(when, _)| *when <= Instant::now()) {
            self.plan_typed();
        } else if self.entering.due.is_some() {
            self.wake.request_repaint_after(PAUSE);
        }
    }

    fn plan_typed(&mut self) {
        if let Some((_, what)) = self.entering.due.take() {
            self.changed(&what);
        }
    }

    /// The pages of setting up, with their list along the left.
    pub(super) fn pages(&mut self, ui: &mut egui::Ui, page: Page, out: &mut Vec<Command>) {
        let Some(doc) = &self.doc else { return };
        let palette = Palette::of(ui.ctx());
        let findings: Vec<Finding> = doc.to_do.iter().chain(&doc.warnings).cloned().collect();
        let era = doc.revision / 1000;
        let today = self.day.unwrap_or_else(|| chrono::Local::now().date_naive());
        let entering = &self.entering;
        let mut form = Form {
            doc,
            file: doc.file(),
            findings: &findings,
            refused: &entering.refused,
            today,
            era,
            not_taken: Vec::new(),
            out,
        };
        let rail = Frame::new().inner_margin(Margin { left: 14, right: 10, top: 0, bottom: 8 });
        Panel::left("rail")
            .exact_size(206.0)
            .resizable(false)
            .frame(rail)
            .show_separator_line(false)
            .show(ui, |ui| pages::rail(ui, page, &mut form));
        let sheet = Frame::new()
            .fill(palette.card)
            .stroke(egui::Stroke::new(1.0, palette.line))
            .corner_radius(8)
            .inner_margin(Margin::same(12))
            .outer_margin(Margin { left: 0, right: 14, top: 0, bottom: 12 });
        CentralPanel::default().frame(sheet).show(ui, |ui| {
            pages::show(ui, page, &mut form, &entering.shelves);
        });
        if let Some(at) = self.entering.focus.take() {
            ui.memory_mut(|m| m.request_focus(field_id(era, &at)));
        }
    }
}
