//! Which file: by the system's dialog, or in a field.

use std::path::PathBuf;

use eframe::egui;

use super::App;
use super::open::{Dialog, DialogEnd, PathFor};
use crate::app::looks::say::say;
use crate::app::state::Commands;
use crate::session::{Command as LessonCommand, WeekCommand};

/// How a path is asked for.
pub(super) struct Dialogs {
    /// Paths are asked for in a field, never by the system's dialog.
    by_field: bool,
    /// The system's dialog, while it is open.
    open: Option<Dialog>,
    /// A field for a path: its text, and what for.
    typed: Option<(String, PathFor)>,
}

impl Dialogs {
    pub fn new(by_field: bool) -> Self {
        Self { by_field, open: None, typed: None }
    }

    /// Whether a path is being typed.
    pub fn is_typed(&self) -> bool {
        self.typed.is_some()
    }
}

impl App {
    /// Asks for a path.
    pub(super) fn ask(&mut self, path_for: PathFor) {
        if self.dialogs.by_field {
            self.ask_in_field(path_for);
            return;
        }
        let at = self.likely_path(path_for);
        let ctx = self.wake.clone();
        self.dialogs.open = Some(Dialog::show(path_for, &at, move || ctx.request_repaint()));
    }

    fn ask_in_field(&mut self, path_for: PathFor) {
        let at = self.likely_path(path_for);
        self.dialogs.typed = Some((at.display().to_string(), path_for));
    }

    /// A path to start from.
    fn likely_path(&self, path_for: PathFor) -> PathBuf {
        let last = self.prefs.recent.first().map(PathBuf::as_path);
        match path_for {
            PathFor::Open | PathFor::Recipe | PathFor::LessonOfWeek => {
                self.session.likely_path(false, last)
            }
            PathFor::Week => self.session.likely_week(false, last),
            PathFor::WeekAfter => self.session.likely_week(true, last),
            PathFor::Save => self.session.likely_path(true, last),
            PathFor::Print => self.session.likely_print(last),
        }
    }

    /// Takes in what came of the system's dialog.
    pub(super) fn hear_dialog(&mut self) {
        let Some(dialog) = self.dialogs.open.take() else { return };
        let path_for = dialog.path_for;
        match dialog.outcome() {
            DialogEnd::Waiting => self.dialogs.open = Some(dialog),
            // The dialog has asked whether it may be written over.
            DialogEnd::File(path) if path_for == PathFor::Save => {
                self.apply(LessonCommand::SaveAsOver(path, false));
            }
            DialogEnd::File(path) => self.apply(self.with_path(path_for, path)),
            DialogEnd::Nothing { at_once: true } => self.ask_in_field(path_for),
            DialogEnd::Nothing { at_once: false } => self.session.no_path_given(),
        }
    }

    /// What is done with a path.
    fn with_path(&self, path_for: PathFor, path: PathBuf) -> LessonCommand {
        match path_for {
            PathFor::Open => LessonCommand::Open(path),
            PathFor::Recipe => LessonCommand::ReadRecipe(path, None),
            PathFor::Save => LessonCommand::SaveAs(path),
            PathFor::Week => LessonCommand::Week(WeekCommand::Begin(path)),
            PathFor::WeekAfter => LessonCommand::Week(WeekCommand::BeginAfter(path)),
            PathFor::LessonOfWeek => LessonCommand::Week(WeekCommand::Add(vec![path])),
            PathFor::Print => {
                let papers = self.papers();
                LessonCommand::PrintSheets(path, papers.wanted(), papers.again)
            }
        }
    }

    /// Shows the field for a path, if one is asked for there.
    pub(super) fn dialogs(&mut self, ctx: &egui::Context, out: &mut Commands) {
        let Some((mut text, path_for)) = self.dialogs.typed.take() else { return };
        let mut keep = true;
        let mut cancelled = false;
        let by_field = self.dialogs.by_field;
        let modal = egui::Modal::new(egui::Id::unique("path")).show(ctx, |ui| {
            let (what, word) = path_for.words();
            let reason = if by_field { "" } else { " (this computer has no dialog for files)" };
            let label = ui.label(say(format!("{what}{reason}")));
            let field = ui.add(egui::TextEdit::singleline(&mut text).desired_width(420.0));
            let field = field.labelled_by(label.id);
            let entered = field.lost_focus() && ui.input(|i| i.key_pressed(egui::Key::Enter));
            // Asked after `lost_focus`, which it would answer otherwise.
            if !entered && ui.memory(|m| m.focused().is_none()) {
                field.request_focus();
            }
            ui.horizontal(|ui| {
                if (ui.button(say(word)).clicked() || entered) && !text.trim().is_empty() {
                    let path = PathBuf::from(text.trim());
                    out.push(self.with_path(path_for, path));
                    keep = false;
                }
                if ui.button(say("Cancel")).clicked() {
                    cancelled = true;
                }
            });
        });
        if cancelled || (keep && modal.should_close()) {
            self.session.no_path_given();
        } else if keep {
            self.dialogs.typed = Some((text, path_for));
        }
    }
}
